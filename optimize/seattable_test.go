package optimize

import (
	"context"
	"errors"
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode/modetest"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"

	"gonum.org/v1/gonum/spatial/r3"
)

// basement returns the plain basement, whose other two seats are where speakers may stand.
func basement(t *testing.T) (*model.Project, *score.Band) {
	t.Helper()
	p := readProject(t, "plain-basement")
	box, _, err := surface.Box(&p.Room, material.Typical)
	if err != nil {
		t.Fatal(err)
	}
	e := modetest.Engine(t, box, model.DefaultGrid())
	b, err := score.NewBand(e, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	return p, b
}

// near reports whether a woofer is too close to some ears for a legal layout.
func near(l model.Layout, ears r3.Vec) bool {
	return min(r3.Norm(r3.Sub(l.Left, ears)), r3.Norm(r3.Sub(l.Right, ears))) < 0.5
}

// A seat where woofers may be has a table too, of one filling, and the spreads read off it are
// as accurate as promised, however deep the dips: at places other than those that the table
// checks itself.
func TestTableOfSeatAmongSpeakers(t *testing.T) {
	t.Parallel()
	p, b := basement(t)
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	for _, seat := range p.Seats[1:] {
		d := pr.Domain(score.Displacement, score.LeanDistance)
		d.Seats, d.Line, d.Ears = geometry.PointArea(seat.At), nil, seat.At.Z
		fillings := 0
		tabulated, err := table.Tabulate(context.Background(), b, d, p.Goal, func(_ string, share float64) {
			if share == 1 {
				fillings++
			}
		})
		if err != nil {
			t.Fatalf("%s: %v", seat.Name, err)
		}
		if fillings > 1 {
			t.Errorf("%s: the table was filled %d times", seat.Name, fillings)
		}
		fast, exact := score.NewScorer(tabulated, p, 0), score.NewScorer(b, p, 0)
		for i := range 12 {
			x, y := 0.36+0.15*float64(i), 0.41+0.83*math.Mod(0.618*float64(i), 1) // scattered
			l := model.Layout{Left: r3.Vec{X: x, Y: y, Z: 1.06}, Right: r3.Vec{X: x, Y: p.Room.Size.Y - y, Z: 1.06}}
			if near(l, seat.At) {
				continue
			}
			got, err := fast.PlainAt(t.Context(), seat.At, l)
			want, err2 := exact.PlainAt(t.Context(), seat.At, l)
			if may := table.Accuracy * max(1, float64(want)/10); errors.Join(err, err2) != nil || math.Abs(float64(got-want)) > may {
				t.Errorf("%s, woofers at %.2f, %.2f: table %.3f dB, engine %.3f dB (%v, %v)", seat.Name, x, y, got, want, err, err2)
			}
		}
	}
}
