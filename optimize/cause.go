package optimize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
)

// Explained is a dip with what causes it, as far as there is evidence.
type Explained struct {
	Feature response.Feature
	Causes  []response.Cause // the best cure first; empty if no single thing causes it
	Moves   Moves

	Remedy *Remedy // see Remedies; nil if none was looked for

	WallsOnly bool // no modes were suspected: in this room they are not known
}

// Moves tells what a dip goes along with: whether moving that by 10 cm shifts the
// dip's frequency by more than 1/24 octave, or makes an end of it.
type Moves string

// What a dip may move with.
const (
	MovesWithSeat     Moves = "moves with the seat"
	MovesWithSpeakers Moves = "moves with the speakers"
	MovesWithBoth     Moves = "moves with seat and speakers"
	Stays             Moves = "stays where it is"
)

const (
	worstDips   = 3
	leastDip    = 3.0      // dB of prominence that make a dip
	nudge       = 0.10     // m
	nearlyStill = 1.0 / 24 // octave
)

// Explain returns the three deepest dips of a candidate within the goal's band,
// deepest first, and finds for each what cures it, of the six walls and the modes
// up to 200 Hz left out one by one, and what it moves with. A dip that several channels share is told once, where it is deepest.
// The candidate's Pair must be over the engine's grid.
func Explain(ctx context.Context, box model.Box, e model.Engine, goal model.Goal, c *Candidate) ([]Explained, error) {
	return explain(box.Size, e, goal, c, func() ([]suspect, error) { return suspects(ctx, box, e, c.Layout) })
}

// Walls is a room of any shape whose walls can be taken away.
type Walls struct {
	// Without returns an engine for the same room in which one wall swallows what
	// meets it, good for one layout.
	Without func(model.Face, model.Layout) (model.Engine, error)

	// With, if set, is an engine like those with all walls there, coarser than that of
	// the candidate: what a wall does is the difference from it.
	With model.Engine
}

// ExplainWalls is Explain for a room of any shape, in which walls alone are suspected.
// The size is that of the room's bounding box in m.
func ExplainWalls(ctx context.Context, size r3.Vec, e model.Engine, w Walls, goal model.Goal, c *Candidate) ([]Explained, error) {
	e, err := near(e, c.Layout)
	if err != nil {
		return nil, err
	}
	dips, err := explain(size, e, goal, c, func() ([]suspect, error) { return w.suspects(ctx, c) })
	for i := range dips {
		dips[i].WallsOnly = true
	}
	return dips, err
}

// suspects returns the walls with a candidate's transfers as they would be without
// each.
func (w *Walls) suspects(ctx context.Context, c *Candidate) ([]suspect, error) {
	var with response.Pair
	if w.With != nil {
		var err error
		if with, err = (&scorer{engine: w.With}).pair(c.Layout); err != nil {
			return nil, err
		}
	}
	list := make([]suspect, len(model.Faces))
	return list, parallel(len(list), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		open, err := w.Without(model.Faces[i], c.Layout)
		if err != nil {
			return fmt.Errorf("looking for causes, without the %s: %w", model.Faces[i].Wall(), err)
		}
		list[i].Name = model.Faces[i].Wall()
		p, err := (&scorer{engine: open}).pair(c.Layout)
		if w.With != nil && err == nil {
			p.Left = less(c.Pair.Left, less(with.Left, p.Left))
			p.Right = less(c.Pair.Right, less(with.Right, p.Right))
		}
		list[i].Pair = p
		return err
	})
}

// explain finds the dips of a candidate, and for each which suspects cure it and what
// it moves with.
func explain(size r3.Vec, e model.Engine, goal model.Goal, c *Candidate, suspects func() ([]suspect, error)) ([]Explained, error) {
	reader := response.NewReader(e.Grid(), e.Air(), goal)
	dips := deepest(reader, c.Pair)
	if len(dips) == 0 {
		return nil, nil
	}
	all, err := suspects()
	if err != nil {
		return nil, err
	}
	nudged, err := nudges(size, e, reader, c.Layout)
	if err != nil {
		return nil, err
	}
	list := make([]Explained, len(dips))
	for i, d := range dips {
		var able []response.Suspect
		for _, s := range all {
			if s.mayCause(d) {
				able = append(able, s.Suspect)
			}
		}
		list[i] = Explained{Feature: d, Causes: reader.Explain(d, able), Moves: nudged.verdict(d)}
	}
	return list, nil
}

// deepest returns the deepest dips of all channels, each once.
func deepest(r *response.Reader, p response.Pair) []response.Feature {
	var dips []response.Feature
	for _, c := range response.Channels {
		for _, f := range r.Features(c, p.Of(c), leastDip) {
			if !f.Peak {
				dips = append(dips, f)
			}
		}
	}
	slices.SortStableFunc(dips, func(a, b response.Feature) int { return cmp.Compare(a.Level, b.Level) })
	var kept []response.Feature
	for _, d := range dips {
		known := slices.ContainsFunc(kept, func(k response.Feature) bool { return octaves(k, d) < 1.0/12 })
		if !known && len(kept) < worstDips {
			kept = append(kept, d)
		}
	}
	return kept
}

// octaves returns how far apart two features are.
func octaves(a, b response.Feature) float64 {
	return math.Abs(math.Log2(a.Frequency / b.Frequency))
}

// nudged is what is left of the dips of a layout after small moves of the seat
// and of the speakers.
type nudged struct{ seat, speakers [][3][]response.Feature }

// nudges moves the seat and the pair to the front and to the back, and the pair
// apart and together.
func nudges(size r3.Vec, e model.Engine, r *response.Reader, l model.Layout) (nudged, error) {
	var n nudged
	s := scorer{engine: e, reader: r, size: size}
	for _, d := range []float64{-nudge, nudge} {
		seat, along, across := l, l, l
		seat.Seat.X += d
		along.Left.X += d
		along.Right.X += d
		across.Left.Y -= d
		across.Right.Y += d
		for i, m := range []model.Layout{seat, along, across} {
			m.Left, m.Right, m.Seat = inside(m.Left, size), inside(m.Right, size), inside(m.Seat, size)
			p, err := s.pair(m)
			if err != nil {
				return n, err
			}
			var found [3][]response.Feature
			for _, c := range response.Channels {
				found[c] = r.Features(c, p.Of(c), leastDip/2)
			}
			if i == 0 {
				n.seat = append(n.seat, found)
			} else {
				n.speakers = append(n.speakers, found)
			}
		}
	}
	return n, nil
}

// verdict says what a dip moves with.
func (n *nudged) verdict(dip response.Feature) Moves {
	seat, speakers := moved(dip, n.seat), moved(dip, n.speakers)
	switch {
	case seat && speakers:
		return MovesWithBoth
	case seat:
		return MovesWithSeat
	case speakers:
		return MovesWithSpeakers
	}
	return Stays
}

// moved reports whether a dip is gone from where it was in any of the trials.
func moved(dip response.Feature, trials [][3][]response.Feature) bool {
	return slices.ContainsFunc(trials, func(found [3][]response.Feature) bool {
		return !slices.ContainsFunc(found[dip.Channel], func(f response.Feature) bool {
			return !f.Peak && octaves(f, dip) <= nearlyStill
		})
	})
}

// wallName says where a wall is as seen from what it acts on.
func wallName(box model.Box, f model.Face, l model.Layout) string {
	var d [2]float64
	var from string
	switch f {
	case model.Front:
		d, from = [2]float64{l.Left.X, l.Right.X}, "from the woofers"
	case model.Back:
		v := box.Size.X - l.Seat.X
		d, from = [2]float64{v, v}, "behind the head"
	case model.Left:
		d, from = [2]float64{l.Left.Y, l.Left.Y}, "from the left woofer"
	case model.Right:
		v := box.Size.Y - l.Right.Y
		d, from = [2]float64{v, v}, "from the right woofer"
	case model.Floor:
		d, from = [2]float64{l.Left.Z, l.Right.Z}, "below the woofers"
	default:
		v := box.Size.Z - l.Seat.Z
		d, from = [2]float64{v, v}, "above the head"
	}
	if math.Abs(d[0]-d[1]) < 0.005 {
		return fmt.Sprintf("%s %.2f m %s", f.Wall(), d[0], from)
	}
	return fmt.Sprintf("%s %.2f and %.2f m %s", f.Wall(), d[0], d[1], from)
}
