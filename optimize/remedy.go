package optimize

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"gonum.org/v1/gonum/spatial/r3"
)

// Remedy is what was found to cure a dip among what was tried: single moves within the
// rules, up to [RemedyReach], and what its causes say. A cure takes away at least half
// of the dip, and at least 3 dB.
type Remedy struct {
	Move *Trial // of the moves that cure it the one that leaves the least spread; nil for none

	// Wall is the wall without whose sound the dip heals best, and WallLift by how
	// much, dB; "" if there is none.
	Wall     string
	WallLift model.Level

	Narrow bool // narrower than [NarrowDip]
}

// Trial is a single move with what it does.
type Trial struct {
	Step             // the spreads before and after it are plain ones
	Lift model.Level // how much the dip shrinks, dB
}

// How far moves are tried, and by which steps, m.
const (
	RemedyReach = 0.35
	remedyPace  = 0.05
)

// NarrowDip is the width in octaves below which a dip may be left alone: hardly
// any note falls into it. Common practice, no source.
const NarrowDip = 1.0 / 6

// Remedies looks for a cure of each dip of a candidate, and notes it there. It tries
// moves by the engine, which must be that of the candidate's figures, and reads the
// walls off the causes. It fails if the engine refuses a place.
func Remedies(ctx context.Context, p *model.Project, e model.Engine, c *Candidate, dips []Explained) error {
	if len(dips) == 0 {
		return nil
	}
	e, err := near(e, c.Layout)
	if err != nil {
		return err
	}
	s := newScorer(e, p.Goal, 0, p.Room.Size)
	trials := trialsOf(p, c.Layout)
	pairs := make([]response.Pair, len(trials))
	err = parallel(len(trials), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		var err error
		if pairs[i], err = s.pair(trials[i].To); err != nil {
			return err
		}
		trials[i].Before = c.Judgement.Spread()
		trials[i].After, err = checked(s.reader.Spread(pairs[i], new(response.Scratch)), trials[i].To)
		return err
	})
	if err != nil {
		return err
	}
	suspects := make([]response.Suspect, len(trials))
	for i := range trials {
		suspects[i] = response.Suspect{Name: strconv.Itoa(i), Pair: pairs[i]}
	}
	for i := range dips {
		dips[i].Remedy = remedy(dips[i], trials, s.reader.Explain(dips[i].Feature, suspects))
	}
	return nil
}

// remedy picks the cure of one dip; cures are named by the number of their trial.
func remedy(dip Explained, trials []Trial, cures []response.Cause) *Remedy {
	r := &Remedy{Narrow: dip.Feature.Width < NarrowDip}
	for _, cure := range cures {
		i, err := strconv.Atoi(cure.Name)
		if err != nil {
			panic("optimize: a trial without number: " + cure.Name)
		}
		t := trials[i]
		t.Lift = cure.Cure
		if r.Move == nil || t.After < r.Move.After {
			r.Move = &t
		}
	}
	for _, cause := range dip.Causes {
		if wall, ok := wallOf(cause.Name); ok && cause.Cure > r.WallLift {
			r.Wall, r.WallLift = wall, cause.Cure
		}
	}
	return r
}

// wallOf returns the wall that a cause is, if it is one.
func wallOf(cause string) (string, bool) {
	i := slices.IndexFunc(model.Faces[:], func(f model.Face) bool {
		return cause == f.Wall() || strings.HasPrefix(cause, f.Wall()+" ")
	})
	if i < 0 {
		return "", false
	}
	return model.Faces[i].Wall(), true
}

// trialsOf lists single moves of what may move in a project that break no rule, or none
// worse than it is broken. Short moves come first.
func trialsOf(p *model.Project, l model.Layout) []Trial {
	x, y := r3.Vec{X: 1}, r3.Vec{Y: 1}
	var ways []Trial
	if seat := &p.Seats[0]; len(seat.Zones) > 0 || !seat.Placed {
		ways = append(ways, Trial{Step: Step{Part: SeatAlong, To: model.Layout{Seat: x}}}, Trial{Step: Step{Part: SeatAcross, To: model.Layout{Seat: y}}})
	}
	if !p.Speakers.Fixed {
		ways = append(ways,
			Trial{Step: Step{Part: SpeakersAlong, To: model.Layout{Left: x, Right: x}}},
			Trial{Step: Step{Part: SpeakersAcross, To: model.Layout{Left: r3.Scale(-1, y), Right: y}}})
	}
	most := p.Violation(l) + 1e-9
	var list []Trial
	for n := 1; float64(n)*remedyPace <= RemedyReach+1e-9; n++ {
		for _, w := range ways {
			for _, by := range []float64{-remedyPace, remedyPace} {
				t := w
				t.From, t.To = l, shifted(l, w.To, float64(n)*by)
				if v := p.Violation(t.To); v <= most {
					t.Breaks = v > 0
					list = append(list, t)
				}
			}
		}
	}
	return list
}
