package cause

import (
	"context"
	"math"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
)

// The engine confirms each move: the spread after it, and a dip shrunk by at least half.
func TestRemediesAreEvidence(t *testing.T) {
	t.Parallel()
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	reader := response.NewReader(e.Grid(), e.Air(), p.Goal)
	found := 0
	for _, x := range []float64{1.6, 1.9, 2.2} {
		l := model.Layout{Left: r3.Vec{X: 0.5, Y: 0.8, Z: 0.98}, Right: r3.Vec{X: 0.5, Y: 2.3, Z: 0.98}, Seat: r3.Vec{X: x, Y: 1.55, Z: 1.2}, AxisHeight: 1.1}
		c, err := score.Evaluate(t.Context(), p, e, l, 0)
		if err != nil {
			t.Fatal(err)
		}
		var dips []Dip
		for _, f := range deepest(reader, c.Pair) {
			dips = append(dips, Dip{Feature: f})
		}
		if err := Remedies(context.Background(), p, e, &c, dips); err != nil {
			t.Fatal(err)
		}
		for _, d := range dips {
			if d.Remedy == nil || d.Remedy.Wall != nil {
				t.Fatalf("dip at %.0f Hz: %+v", d.Feature.Frequency, d.Remedy)
			}
			m := d.Remedy.Move
			if m == nil {
				continue
			}
			found++
			moved, err := score.Evaluate(t.Context(), p, e, m.To, 0)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(float64(moved.Judgement.Spread()-m.After)) > 1e-9 || m.Before != c.Judgement.Spread() {
				t.Errorf("said %.2f to %.2f dB, is %.2f to %.2f", m.Before, m.After, c.Judgement.Spread(), moved.Judgement.Spread())
			}
			if p.Violation(m.To) > p.Violation(l)+1e-9 {
				t.Errorf("a move breaks rules: %+v", m.To)
			}
			for _, f := range reader.Features(d.Feature.Channel, moved.Pair.Of(d.Feature.Channel), 0.5) {
				if !f.Peak && octaves(f, d.Feature) < 0.15 && f.Level < d.Feature.Level/2-0.5 {
					t.Errorf("the dip of %.1f dB at %.0f Hz is said to be cured, one of %.1f dB is left at %.0f Hz",
						d.Feature.Level, d.Feature.Frequency, f.Level, f.Frequency)
				}
			}
		}
	}
	if found == 0 {
		t.Fatal("no move cured any dip, so nothing was tested")
	}
}

// Of the moves that cure, the one with the least spread is taken; of the walls, the treatable one
// that cures most; a mode is no wall.
func TestRemedyPicks(t *testing.T) {
	t.Parallel()
	moves := []Move{{Step: optimize.Step{Parts: []optimize.Part{optimize.SeatAlong}, After: 9}}, {Step: optimize.Step{Parts: []optimize.Part{optimize.SpeakersAlong}, After: 7}}, {Step: optimize.Step{Parts: []optimize.Part{optimize.SeatAcross}, After: 5}}}
	cause := func(f model.Face, cure model.Level) Cause { return Cause{Suspect: Suspect{Boundary: f}, Cure: cure} }
	dip := Dip{Feature: response.Feature{Width: response.Width{Octaves: 0.1}}, Causes: []Cause{
		{Suspect: Suspect{Kind: ModeSuspect}, Cure: 12}, cause(model.Back, 6), cause(model.Floor, 9), cause(model.Left, 8),
	}}
	r := remedy(dip, moves, []response.Cure{{Without: 0, Gain: 6}, {Without: 1, Gain: 4}})
	if r.Move.Parts[0] != optimize.SpeakersAlong || r.Move.Lift != 4 || r.Wall == nil || *r.Wall != cause(model.Left, 8) || !r.Narrow {
		t.Errorf("%+v", r)
	}
	dip.Feature.Width.Octaves = 0.3
	if r := remedy(Dip{Feature: dip.Feature}, moves, nil); r.Move != nil || r.Wall != nil || r.Narrow {
		t.Errorf("%+v", r)
	}
}

// Only what may move is moved, within the reach, and no rule is broken.
func TestMoves(t *testing.T) {
	t.Parallel()
	p := testroom.Small()
	found, err := optimize.Place(context.Background(), p, testroom.New(p.Room.Size), optimize.Settings{Seed: 3, Population: 32, Generations: 12, Layouts: 1})
	if err != nil {
		t.Fatal(err)
	}
	l := found.Candidates[0].Layout
	count := func() map[optimize.Part]int {
		n := map[optimize.Part]int{}
		for _, tr := range movesOf(p, l) {
			n[tr.Parts[0]]++
			if d := max(r3.Norm(r3.Sub(tr.To.Left, l.Left)), r3.Norm(r3.Sub(tr.To.Right, l.Right)), r3.Norm(r3.Sub(tr.To.Seat, l.Seat))); d < remedyStep-1e-9 || d > RemedyReach+1e-9 {
				t.Errorf("a move by %g m", d)
			}
			if p.Violation(tr.To) > 1e-9 {
				t.Errorf("a move breaks rules: %+v", tr)
			}
		}
		return n
	}
	if n := count(); n[optimize.SeatAlong] == 0 || n[optimize.SpeakersAlong] == 0 || n[optimize.SpeakersAcross] == 0 {
		t.Errorf("moves %v", n)
	}
	p.Speakers.Fixed = true
	if n := count(); n[optimize.SpeakersAlong]+n[optimize.SpeakersAcross] > 0 || n[optimize.SeatAlong] == 0 {
		t.Errorf("moves of speakers that stay: %v", n)
	}
	p.Seats[0].Placed, p.Seats[0].At, p.Seats[0].Zones = true, l.Seat, nil
	if n := count(); len(n) > 0 {
		t.Errorf("moves where all stays: %v", n)
	}
}

// A context that ends ends the moves; without dips nothing is tried.
func TestRemediesStop(t *testing.T) {
	t.Parallel()
	p := testroom.Small()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	c := score.Candidate{Layout: model.Layout{Left: r3.Vec{X: 0.5, Y: 0.95, Z: 0.98}, Right: r3.Vec{X: 0.5, Y: 2.15, Z: 0.98}, Seat: r3.Vec{X: 1.8, Y: 1.55, Z: 1.2}}}
	if err := Remedies(ctx, p, testroom.New(p.Room.Size), &c, make([]Dip, 1)); err == nil || !strings.Contains(err.Error(), "canceled") {
		t.Errorf("%v", err)
	}
	if err := Remedies(ctx, p, nil, &c, nil); err != nil {
		t.Errorf("%v", err)
	}
}
