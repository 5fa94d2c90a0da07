package cause

import (
	"context"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/image"
	"evenbass/model/mode"
	"evenbass/model/response"
	"evenbass/optimize/score"
)

// Suspect is one thing that may cause a dip: a boundary of the room, a mode, or the speakers'
// roll-off.
type Suspect struct {
	Kind Kind

	// Boundary is the wall, floor or ceiling. Distances are from it to what it acts on,
	// m: the left and the right woofer for the front wall and the floor, the nearer woofer
	// (twice) for a side wall, the ears (twice) for the back wall and the ceiling. Both are
	// 0 in a room that is no box, where a boundary may stand inside the bounding box.
	Boundary  model.Face
	Distances [2]float64

	Mode mode.Mode // of a [ModeSuspect]

	Speakers model.RollOff // of a [SpeakerSuspect]
}

// Kind says what a suspect is.
type Kind int

// The kinds of suspects.
const (
	BoundarySuspect Kind = iota
	ModeSuspect
	SpeakerSuspect
)

// suspect is a suspect with the pair's transfers as they would be without it.
type suspect struct {
	Suspect
	without response.Pair
}

// Which modes are suspected: those up to suspectModes in Hz, above which so many overlap
// that no single one makes a dip; with a quality of at least leastQuality, below which a
// mode is a slope and no resonance; of dips within modeReach octaves. Our own limits, no
// source.
const (
	suspectModes = 200
	leastQuality = 3
	modeReach    = 0.5
)

// mayCause reports whether the suspect could have to do with a dip at all.
func (s *suspect) mayCause(dip response.Feature) bool {
	return s.Kind != ModeSuspect || math.Abs(math.Log2(s.Mode.Frequency/dip.Frequency)) <= modeReach
}

// boundary returns a wall of a box as a suspect for a layout.
func boundary(size r3.Vec, f model.Face, l model.Layout) Suspect {
	s := Suspect{Boundary: f}
	twice := func(v float64) [2]float64 { return [2]float64{v, v} }
	switch f {
	case model.Front:
		s.Distances = [2]float64{l.Left.X, l.Right.X}
	case model.Back:
		s.Distances = twice(size.X - l.Seat.X)
	case model.Left:
		s.Distances = twice(l.Left.Y)
	case model.Right:
		s.Distances = twice(size.Y - l.Right.Y)
	case model.Floor:
		s.Distances = [2]float64{l.Left.Z, l.Right.Z}
	case model.Ceiling:
		s.Distances = twice(size.Z - l.Seat.Z)
	}
	return s
}

// suspects returns what may cause the dips of a layout in a box: its six walls and its
// modes up to 200 Hz, each with the pair's transfers as they would be without it.
//
// The image engine leaves a wall out by dropping every image that met it. With any other engine,
// the box is solved by modes with that wall at β = 1, which absorbs all sound at normal incidence.
// What the wall adds in that box is subtracted from the engine's own transfers. A mode is left out by
// subtracting its term. The box must be the one of the engine.
func suspects(ctx context.Context, box model.Box, e model.Engine, l model.Layout) ([]suspect, error) {
	whole, err := score.PairAt(ctx, e, l)
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
	field, err := modes.Field(ctx, l.Seat)
	if err != nil {
		return nil, err
	}
	listed, _ := mode.List(box, min(suspectModes, e.Grid()[len(e.Grid())-1]))
	for _, m := range listed {
		if m.Quality() < leastQuality {
			continue
		}
		term := func(source r3.Vec) []complex128 { return field.(*mode.Field).Term(nil, source, m.N) }
		list = append(list, suspect{
			Suspect: Suspect{Kind: ModeSuspect, Mode: m},
			without: response.Pair{Left: less(whole.Left, term(l.Left)), Right: less(whole.Right, term(l.Right))},
		})
	}
	return list, nil
}

// suspectWalls returns the six walls of a box as suspects.
func suspectWalls(ctx context.Context, box model.Box, e model.Engine, modes *mode.Engine, whole response.Pair, l model.Layout) ([]suspect, error) {
	list := make([]suspect, len(model.Faces))
	err := concurrent.Each(len(list), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		face := model.Faces[i]
		list[i].Suspect = boundary(box.Size, face, l)
		var err error
		if images, ok := e.(*image.Engine); ok {
			list[i].without, err = withoutImages(ctx, images, face, l)
		} else {
			list[i].without, err = withoutEcho(ctx, box, modes, face, whole, l)
		}
		return err
	})
	return list, err
}

// suspects returns the walls of a room of any shape as suspects for a candidate.
func (w *Walls) suspects(ctx context.Context, c *score.Candidate) ([]suspect, error) {
	var with response.Pair
	if w.With != nil {
		var err error
		if with, err = score.PairAt(ctx, w.With, c.Layout); err != nil {
			return nil, err
		}
	}
	list := make([]suspect, len(model.Faces))
	return list, concurrent.Each(len(list), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		face := model.Faces[i]
		open, err := w.Without(face, c.Layout)
		if err != nil {
			return fmt.Errorf("looking for causes, without the %s: %w", face.Wall(), err)
		}
		list[i].Boundary = face
		p, err := score.PairAt(ctx, open, c.Layout)
		if w.With != nil && err == nil {
			p = lessPair(c.Pair, lessPair(with, p))
		}
		list[i].without = p
		return err
	})
}

// withoutImages returns the pair with a wall's images dropped.
func withoutImages(ctx context.Context, e *image.Engine, face model.Face, l model.Layout) (response.Pair, error) {
	f, err := e.Field(ctx, l.Seat)
	if err != nil {
		return response.Pair{}, err
	}
	field := f.(*image.Field)
	return response.Pair{Left: field.Without(nil, l.Left, face), Right: field.Without(nil, l.Right, face)}, nil
}

// withoutEcho returns the pair less what a wall adds to it in the box solved by modes.
func withoutEcho(ctx context.Context, box model.Box, modes *mode.Engine, face model.Face, whole response.Pair, l model.Layout) (response.Pair, error) {
	box.Walls[face] = model.Plain(1)
	open, err := mode.New(box, modes.Grid(), mode.Settings{})
	if err != nil {
		return response.Pair{}, fmt.Errorf("looking for causes, without the %s: %w", face.Wall(), err)
	}
	with, err := score.PairAt(ctx, modes, l)
	if err != nil {
		return response.Pair{}, err
	}
	without, err := score.PairAt(ctx, open, l)
	if err != nil {
		return response.Pair{}, err
	}
	return lessPair(whole, lessPair(with, without)), nil
}

// lessPair returns a - b.
func lessPair(a, b response.Pair) response.Pair {
	return response.Pair{Left: less(a.Left, b.Left), Right: less(a.Right, b.Right)}
}

// flatSpeakers returns the speakers' roll-off as a suspect: without it, they are flat to the lowest
// frequency. A reader multiplies by the roll-off, so this divides by it.
func flatSpeakers(grid model.Grid, roll model.RollOff, p response.Pair) suspect {
	s := suspect{Suspect: Suspect{Kind: SpeakerSuspect, Speakers: roll}}
	for i, f := range grid {
		gain := complex(math.Pow(10, -float64(roll.Level(f))/20), 0)
		s.without.Left = append(s.without.Left, gain*p.Left[i])
		s.without.Right = append(s.without.Right, gain*p.Right[i])
	}
	return s
}

// less returns a - b.
func less(a, b []complex128) []complex128 {
	d := make([]complex128, len(a))
	for i := range d {
		d[i] = a[i] - b[i]
	}
	return d
}
