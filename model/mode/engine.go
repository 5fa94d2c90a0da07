package mode

import (
	"fmt"
	"math"
	"runtime"

	"evenbass/model"
	"evenbass/model/concurrent"

	"gonum.org/v1/gonum/spatial/r3"
)

// Settings says how far the sums go. The zero value serves.
type Settings struct {
	// Accuracy bounds what the cut sum leaves out, relative to the direct sound;
	// 0 means 1e-4. The bound is that of all omitted terms in step; they are not,
	// so the error is far smaller: levels hold to 0.001 dB in the deepest dips.
	Accuracy float64

	// Near is the separation of source and seat in m, on the axis where it is
	// greatest, down to which Accuracy is kept; 0 means 0.4 m. The work and the
	// memory of an axis grow with 1/Near².
	Near float64
}

func (s Settings) withDefaults() Settings {
	if s.Accuracy == 0 {
		s.Accuracy = 1e-4
	}
	if s.Near == 0 {
		s.Near = 0.4
	}
	return s
}

// reach returns the product γ·separation from which on terms are left out. With
// modes of density LyLz/(2π) γdγ and terms 4/(LyLz) e^{-γs}/(2γ) at most, those
// beyond γ sum to e^{-γs}/(πs), which is 4e^{-γs} times the free field at s.
func (s Settings) reach() float64 { return math.Log(4 / s.Accuracy) }

// Engine is the exact modal field of one box over a frequency grid. It implements
// [model.Engine].
type Engine struct {
	box      model.Box
	grid     model.Grid
	settings Settings
	k        []complex128    // by frequency, 1/m
	walls    [][6]complex128 // by frequency and face: specific admittance
	axes     [][3]axis       // by frequency
	pairs    [3]pairTable    // by the axis of the closed form
	warnings []model.Warning
	coordinates
}

var _ model.Engine = (*Engine)(nil)

// New finds the axis modes of a box at every frequency of the grid, on all processors. It returns an error if
// the box, the grid or the settings are invalid, if a wall gives out energy (Re β < 0), or if the set of
// modes found is not complete.
func New(box model.Box, grid model.Grid, settings Settings) (*Engine, error) {
	settings = settings.withDefaults()
	if err := check(box, grid, settings); err != nil {
		return nil, err
	}
	e := &Engine{
		box: box, grid: grid, settings: settings,
		k:     make([]complex128, len(grid)),
		walls: make([][6]complex128, len(grid)),
		axes:  make([][3]axis, len(grid)),

		coordinates: newCoordinates(),
	}
	for i, f := range grid {
		e.k[i] = box.Air.Wavenumber(f)
		for _, face := range model.Faces {
			e.walls[i][face] = box.Admittance(face, f)
		}
	}
	if err := e.checkWalls(); err != nil {
		return nil, err
	}
	if err := e.solve(); err != nil {
		return nil, err
	}
	e.warnings = e.doubts()
	return e, nil
}

// solve fills in the axis modes, one frequency after the other on each processor.
func (e *Engine) solve() error {
	errs := make([]error, len(e.grid))
	parallel(len(e.grid), func(i int) {
		for d := range 3 {
			if e.axes[i][d], errs[i] = e.axisAt(i, d); errs[i] != nil {
				return
			}
		}
	})
	for i, err := range errs {
		if err != nil {
			return fmt.Errorf("at %.4g Hz: %w", e.grid[i], err)
		}
	}
	return nil
}

func (e *Engine) axisAt(i, d int) (axis, error) {
	length, k, walls := component(e.box.Size, d), e.k[i], &e.walls[i]
	q := math.Hypot(real(k), e.greatest())
	return newAxis(length, k*walls[2*d], k*walls[2*d+1], int(math.Ceil(q*length/math.Pi))+2)
}

// greatest returns the largest γ that any sum goes to, 1/m. It keeps e^{γL} within
// float64 whatever the room.
func (e *Engine) greatest() float64 {
	s := e.box.Size
	return min(e.settings.reach()/e.settings.Near, 600/max(s.X, s.Y, s.Z))
}

// Name implements [model.Engine].
func (e *Engine) Info() model.EngineInfo { return model.EngineInfo{Kind: model.ModeEngine} }

// Grid implements [model.Engine].
func (e *Engine) Grid() model.Grid { return e.grid }

// Air implements [model.Engine].
func (e *Engine) Air() model.Air { return e.box.Air }

// Warnings implements [model.Engine].
func (e *Engine) Warnings() []model.Warning { return e.warnings }

// component returns v.X, v.Y or v.Z.
func component(v r3.Vec, d int) float64 { return [3]float64{v.X, v.Y, v.Z}[d] }

// parallel calls f for 0..n-1 on all processors.
func parallel(n int, f func(i int)) {
	workers := min(runtime.GOMAXPROCS(0), n)
	var wait concurrent.Group
	for w := range workers {
		wait.Go(func() {
			for i := w; i < n; i += workers {
				f(i)
			}
		})
	}
	wait.Wait()
}
