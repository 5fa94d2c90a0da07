package mode

import (
	"sync"

	"evenbass/model/concurrent"
)

// numbers are made when first asked for: by frequency, then by mode or pair.
type numbers struct {
	mutex  sync.Mutex
	values [][]complex128
}

// first returns the first n numbers at frequency i. value makes those that are missing.
func (s *numbers) first(i, n int, value func(j int) complex128) []complex128 {
	s.mutex.Lock()
	defer s.mutex.Unlock()
	list := s.values[i]
	if list == nil {
		list = make([]complex128, 0, n)
	}
	for j := len(list); j < n; j++ {
		list = append(list, value(j))
	}
	s.values[i] = list
	return list[:n]
}

// coordinate is one coordinate of places on an axis.
type coordinate struct {
	axis     int
	x        float64 // m
	mirrored bool    // of waves: the places are beyond the seat
}

// shared is what all places of one coordinate share.
type shared struct {
	engine *Engine
	coordinate
	numbers
}

// shapes are ψ of every mode of an axis at one coordinate.
type shapes struct{ shared }

// waves are those of every pair along an axis at one coordinate.
type waves struct{ shared }

// coordinates keeps what the places asked for last share: speakers stand side by side, and seats are
// tried with the same speakers.
type coordinates struct {
	shapes *concurrent.Cache[coordinate, *shapes]
	waves  *concurrent.Cache[coordinate, *waves]
}

// How many coordinates are kept: shapes take some 100 kB each, waves 1 MB.
const (
	shapesKept = 64
	wavesKept  = 24
)

func newCoordinates() coordinates {
	return coordinates{concurrent.NewCache[coordinate, *shapes](shapesKept), concurrent.NewCache[coordinate, *waves](wavesKept)}
}

func (e *Engine) shared(at coordinate) shared {
	return shared{engine: e, coordinate: at, numbers: e.numbers()}
}

// numbers returns numbers of which none is made.
func (e *Engine) numbers() numbers { return numbers{values: make([][]complex128, len(e.grid))} }

// shapesAt returns the shapes at x on axis d.
func (e *Engine) shapesAt(d int, x float64) *shapes {
	at := coordinate{axis: d, x: x}
	s, _ := e.coordinates.shapes.Get(at, func() (*shapes, error) {
		return &shapes{e.shared(at)}, nil
	})
	return s
}

// first returns ψ of the first n modes at frequency i.
func (s *shapes) first(i, n int) []complex128 {
	modes := s.engine.axes[i][s.axis].modes
	return s.numbers.first(i, n, func(m int) complex128 { return modes[m].at(s.x) })
}

// wavesAt returns the waves at x on axis d, for places beyond the seat or before it.
func (e *Engine) wavesAt(d int, x float64, mirrored bool) *waves {
	at := coordinate{d, x, mirrored}
	w, _ := e.coordinates.waves.Get(at, func() (*waves, error) {
		return &waves{e.shared(at)}, nil
	})
	return w
}

// first returns the waves of the first n pairs at frequency i.
func (w *waves) first(i, n int) []complex128 {
	ax, pairs := &w.engine.axes[i][w.axis], w.engine.pairsAlong(w.axis)[i]
	return w.numbers.first(i, n, func(j int) complex128 { return ax.before(pairs[j].kappa, w.x, w.mirrored) })
}
