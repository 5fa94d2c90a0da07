package optimize

import (
	"context"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/image"
	"evenbass/model/mode"
	"evenbass/model/response"
	"gonum.org/v1/gonum/spatial/r3"
)

// Which modes are suspected: those up to suspectModes in Hz, above which so many
// overlap that no single one makes a dip; with a quality of leastQuality, below
// which it is a slope and no resonance; of dips within modeReach octaves. Our own
// limits, no source.
const (
	suspectModes = 200
	leastQuality = 3
	modeReach    = 0.5
)

// suspect is something that may cause a dip.
type suspect struct {
	response.Suspect
	frequency float64 // of a mode, Hz; 0 for a wall
}

// mayCause reports whether the suspect could have to do with a dip at all.
func (s *suspect) mayCause(dip response.Feature) bool {
	return s.frequency == 0 || math.Abs(math.Log2(s.frequency/dip.Frequency)) <= modeReach
}

// suspects returns what may cause the dips of a layout, each with the pair's
// transfers as they would be without it: the six walls of the box and its modes
// up to 200 Hz.
//
// With the image engine, a wall is left out by dropping every image that met it;
// with any other, by solving the box by modes with that wall at β = 1, which
// swallows what meets it head on, and taking the difference that this makes off
// the engine's own transfers. A mode is left out by subtracting its term. The box
// must be the one that the engine was made for.
func suspects(ctx context.Context, box model.Box, e model.Engine, l model.Layout) ([]suspect, error) {
	whole, err := (&scorer{engine: e}).pair(l)
	if err != nil {
		return nil, err
	}
	modes, ok := e.(*mode.Engine)
	if !ok {
		if modes, err = mode.New(box, e.Grid(), mode.Settings{}); err != nil {
			return nil, fmt.Errorf("looking for causes: %w", err)
		}
	}
	list, err := suspectWalls(ctx, box, e, modes, whole, l)
	if err != nil {
		return nil, err
	}
	field, err := modes.Field(l.Seat)
	if err != nil {
		return nil, err
	}
	for _, m := range mode.List(box, min(suspectModes, e.Grid()[len(e.Grid())-1])) {
		if m.Quality() < leastQuality {
			continue
		}
		s := suspect{frequency: m.Frequency}
		s.Name = fmt.Sprintf("mode (%d,%d,%d) at %.1f Hz, %v", m.N[0], m.N[1], m.N[2], m.Frequency, m.Kind())
		term := func(source r3.Vec) []complex128 { return field.(*mode.Field).Term(nil, source, m.N) }
		s.Pair = response.Pair{Left: less(whole.Left, term(l.Left)), Right: less(whole.Right, term(l.Right))}
		list = append(list, s)
	}
	return list, nil
}

// suspectWalls returns the six walls as suspects.
func suspectWalls(ctx context.Context, box model.Box, e model.Engine, modes *mode.Engine, whole response.Pair, l model.Layout) ([]suspect, error) {
	list := make([]suspect, len(model.Faces))
	err := parallel(len(list), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		face := model.Faces[i]
		list[i].Name = wallName(box, face, l)
		var err error
		if images, ok := e.(*image.Engine); ok {
			list[i].Pair, err = withoutImages(images, face, l)
		} else {
			list[i].Pair, err = withoutEcho(box, modes, face, whole, l)
		}
		return err
	})
	return list, err
}

// withoutImages returns the pair with a wall's images dropped.
func withoutImages(e *image.Engine, face model.Face, l model.Layout) (response.Pair, error) {
	f, err := e.Field(l.Seat)
	if err != nil {
		return response.Pair{}, err
	}
	field := f.(*image.Field)
	return response.Pair{Left: field.Without(nil, l.Left, face), Right: field.Without(nil, l.Right, face)}, nil
}

// withoutEcho returns the pair less what a wall adds to it in the box solved by
// modes.
func withoutEcho(box model.Box, modes *mode.Engine, face model.Face, whole response.Pair, l model.Layout) (response.Pair, error) {
	box.Walls[face] = model.Plain(1)
	open, err := mode.New(box, modes.Grid(), mode.Settings{})
	if err != nil {
		return response.Pair{}, fmt.Errorf("looking for causes, without the %s: %w", face.Wall(), err)
	}
	with, err := (&scorer{engine: modes}).pair(l)
	if err != nil {
		return response.Pair{}, err
	}
	without, err := (&scorer{engine: open}).pair(l)
	if err != nil {
		return response.Pair{}, err
	}
	return response.Pair{
		Left:  less(whole.Left, less(with.Left, without.Left)),
		Right: less(whole.Right, less(with.Right, without.Right)),
	}, nil
}

// less returns a - b.
func less(a, b []complex128) []complex128 {
	d := make([]complex128, len(a))
	for i := range d {
		d[i] = a[i] - b[i]
	}
	return d
}
