package cause

import (
	"cmp"
	"context"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
)

// Dip is a dip with its causes, as far as there is evidence.
type Dip struct {
	Feature response.Feature
	Causes  []Cause // the best cure first; empty if no single thing causes it
	Moves   Moves

	Remedy *Remedy // see [Remedies]; nil if none was looked for

	WallsOnly bool // no modes were suspected: in this room they are not known
}

// Cause is a suspect without which a dip shrinks: the evidence against it.
type Cause struct {
	Suspect
	Cure model.Level // how far the dip shrinks without it, dB
}

const (
	worstDips = 3
	leastDip  = 3.0 // least prominence of a dip, dB
)

// Explain returns the three deepest dips of a candidate within the goal's band, deepest
// first. It leaves out each of the six walls, each mode up to 200 Hz and the speakers' own roll-off in
// turn to see which cures the dip, and says what the dip moves with. A dip that several channels share
// appears once, in the channel where it is deepest. The candidate's Pair must be over the
// engine's grid.
func Explain(ctx context.Context, box model.Box, e model.Engine, p *model.Project, c *score.Candidate) ([]Dip, error) {
	return explain(ctx, box.Size, e, p, c, func() ([]suspect, error) { return suspects(ctx, box, e, c.Layout) })
}

// Walls is a room of any shape whose walls can be taken away.
type Walls struct {
	// Without returns an engine, good for one layout, of the same room in which one wall absorbs
	// all sound at normal incidence.
	Without func(model.Face, model.Layout) (model.Engine, error)

	// With, if set, is an engine as coarse as those of Without, with all walls present. The effect
	// of a wall is then the difference between the two, as the candidate's own engine is finer.
	With model.Engine
}

// ExplainWalls is [Explain] for a room of any shape, in which only walls and the speakers are
// suspected.
func ExplainWalls(ctx context.Context, e model.Engine, w Walls, p *model.Project, c *score.Candidate) ([]Dip, error) {
	e, err := score.Near(ctx, e, c.Layout)
	if err != nil {
		return nil, err
	}
	dips, err := explain(ctx, p.Room.Size, e, p, c, func() ([]suspect, error) { return w.suspects(ctx, c) })
	for i := range dips {
		dips[i].WallsOnly = true
	}
	return dips, err
}

// explain finds the dips of a candidate. For each it finds which suspects cure it and what
// it moves with.
func explain(ctx context.Context, size r3.Vec, e model.Engine, p *model.Project, c *score.Candidate, suspects func() ([]suspect, error)) ([]Dip, error) {
	reader := score.NewReader(e, p)
	dips := deepest(reader, c.Pair)
	if len(dips) == 0 {
		return nil, nil
	}
	all, err := suspects()
	if err != nil {
		return nil, err
	}
	if roll := p.Speakers.RollOff(); roll.Limit > 0 {
		all = append(all, flatSpeakers(e.Grid(), roll, c.Pair))
	}
	nudged, err := nudge(ctx, size, e, reader, c.Layout)
	if err != nil {
		return nil, err
	}
	list := make([]Dip, len(dips))
	for i, d := range dips {
		list[i] = Dip{Feature: d, Causes: causes(reader, d, all), Moves: nudged.verdict(d)}
	}
	return list, nil
}

// causes returns the suspects without which a dip is cured, the best cure first.
func causes(r *response.Reader, dip response.Feature, all []suspect) []Cause {
	able := slices.DeleteFunc(slices.Clone(all), func(s suspect) bool { return !s.mayCause(dip) })
	without := make([]response.Pair, len(able))
	for i, s := range able {
		without[i] = s.without
	}
	var list []Cause
	for _, cure := range r.Cures(dip, without) {
		list = append(list, Cause{Suspect: able[cure.Without].Suspect, Cure: cure.Gain})
	}
	return list
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
		seen := slices.ContainsFunc(kept, func(k response.Feature) bool { return octaves(k, d) < 1.0/12 })
		if !seen && len(kept) < worstDips {
			kept = append(kept, d)
		}
	}
	return kept
}

// octaves returns how far apart two features are.
func octaves(a, b response.Feature) float64 {
	return math.Abs(math.Log2(a.Frequency / b.Frequency))
}

// namedCauses is how many causes of one dip are named. Nobody treats more surfaces for one dip.
const namedCauses = 2

// worthNaming is the share of the best cure that a further one must have to be named.
const worthNaming = 0.5

// Named returns the causes to name to somebody who builds, the best cure first: the one or two
// boundaries that can be treated, if they cure at least half of what the best suspect cures; else
// that suspect alone. A floor is walked on, and modes and speakers are no surfaces, so these are
// named only where no other boundary is to blame.
func (d *Dip) Named() []Cause {
	if len(d.Causes) == 0 {
		return nil
	}
	best := d.Causes[0].Cure
	var list []Cause
	for _, c := range d.Causes {
		if len(list) < namedCauses && c.Treatable() && c.Cure >= model.Level(worthNaming)*best {
			list = append(list, c)
		}
	}
	if len(list) == 0 {
		return d.Causes[:1:1]
	}
	return list
}

// Treatable reports whether a builder can hang or stand something before the suspect.
func (s *Suspect) Treatable() bool {
	return s.Kind == BoundarySuspect && s.Boundary != model.Floor
}
