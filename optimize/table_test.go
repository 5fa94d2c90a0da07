package optimize

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// tableOf returns the table of a project's search and what it was made from.
func tableOf(t *testing.T, p *model.Project) (*search.Problem, *score.Band, *table.Engine) {
	t.Helper()
	b, err := score.NewBand(newModal(p.Room.Size), p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	tabulated, err := table.Tabulate(context.Background(), b, pr.Domain(0.05, score.LeanDistance), p.Goal, nil)
	if err != nil {
		t.Fatal(err)
	}
	return pr, b, tabulated
}

// The robust score read off the table is that of the engine itself to the accuracy promised, for a chair on the
// mid-line and for one that may leave it. The promise is checked at a few dozen places, so that a pocket can break it:
// of layouts in corners of the zones two in a thousand do, by 2.6 at most. See MEASURED.md.
func TestTableAgreesWithEngine(t *testing.T) {
	t.Parallel()
	corners := []float64{0, 1.0 / 64, 1.0 / 16, 1.0 / 8, 0.25, 0.375, 0.5, 0.625, 0.75, 1}
	for name, p := range map[string]*model.Project{"mid-line": studio(), "free": freeStudio()} {
		pr, b, tabulated := tableOf(t, p)
		fast := score.NewScorer(tabulated, p, 0.05)
		exact := score.NewScorer(b, p, 0.05)
		rng := rand.New(rand.NewPCG(7, 8))
		for _, c := range []struct {
			draw     func() float64
			layouts  int
			beyond   int     // layouts that may be farther off than promised
			farthest float64 // share of the promise
		}{
			{rng.Float64, 1000, 0, 1},
			{func() float64 { return corners[rng.IntN(len(corners))] }, 2000, 6, 3},
		} {
			legal, beyond := 0, 0
			for legal < c.layouts {
				l := pr.Random(c.draw)
				if p.Violation(l) > 0 {
					continue
				}
				legal++
				got, err := fast.Robust(t.Context(), l)
				want, err2 := exact.Robust(t.Context(), l)
				promise := float64(table.Accuracy * max(1, want/10)) // a spread beyond 10 dB may be off in proportion
				off := math.Abs(float64(got-want)) / promise
				if off > 1 {
					beyond++
				}
				if err != nil || err2 != nil || off > c.farthest || beyond > c.beyond {
					t.Fatalf("%s, %+v: table %.4f dB, engine %.4f dB (%v, %v), number %d of %d beyond the promise", name, l, got, want, err, err2, beyond, legal)
				}
			}
		}
	}
}

// A place that is not in the table is the engine's own answer, digit by digit.
func TestTableAsksEngineOutside(t *testing.T) {
	t.Parallel()
	_, b, tabulated := tableOf(t, studio())
	for _, c := range []struct{ seat, source r3.Vec }{
		{r3.Vec{X: 3.9, Y: 1.55, Z: 1.2}, r3.Vec{X: 0.6, Y: 0.8, Z: 0.98}},
		{r3.Vec{X: 2, Y: 1.23, Z: 1.2}, r3.Vec{X: 0.6, Y: 0.8, Z: 0.98}},
		{r3.Vec{X: 2, Y: 1.55, Z: 1.2}, r3.Vec{X: 3, Y: 0.8, Z: 0.98}},
		{r3.Vec{X: 2, Y: 1.55, Z: 1.2}, r3.Vec{X: 0.6, Y: 0.8, Z: 0.5}},
	} {
		exact, err := b.Field(t.Context(), c.seat)
		if err != nil {
			t.Fatal(err)
		}
		field, err := tabulated.Field(t.Context(), c.seat)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(exact.Transfer(nil, c.source), field.Transfer(nil, c.source)); d != "" {
			t.Errorf("seat %v, source %v: %s", c.seat, c.source, d)
		}
	}
}

// A field that can fill a lattice at once and one that cannot give the same
// table.
func TestTableFillsEitherWay(t *testing.T) {
	t.Parallel()
	p := studio()
	room := newModal(p.Room.Size)
	pr, err := search.NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	var transfers [2][]complex128
	for i, e := range []model.Engine{room, plainEngine{room}} {
		b, err := score.NewBand(e, p.Goal)
		if err != nil {
			t.Fatal(err)
		}
		tabulated := table.New(b, pr.Domain(0.05, score.LeanDistance), table.Fineness{Grid: 1e-2, Side: 5e-2})
		if err := tabulated.Fill(context.Background(), nil); err != nil {
			t.Fatal(err)
		}
		field, err := tabulated.Field(t.Context(), r3.Vec{X: 2.03, Y: 1.55, Z: 1.2})
		if err != nil {
			t.Fatal(err)
		}
		transfers[i] = field.Transfer(nil, r3.Vec{X: 0.61, Y: 0.83, Z: 0.98})
	}
	if !slices.Equal(transfers[0], transfers[1]) {
		t.Error("the two tables differ")
	}
}

// A domain without bounds is refused before anything is computed.
func TestTableTooLarge(t *testing.T) {
	t.Parallel()
	p := studio()
	b, err := score.NewBand(newModal(p.Room.Size), p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	d := table.Domain{Sources: []geometry.Area{{X: geometry.Span{Lo: 0, Hi: 40}, Y: geometry.Span{Lo: 0, Hi: 40}}}, Heights: []float64{1}, Seats: geometry.Area{X: geometry.Span{Lo: 0, Hi: 40}, Y: geometry.Span{Lo: 0, Hi: 40}}, Ears: 1.2}
	if _, err := table.Tabulate(context.Background(), b, d, p.Goal, nil); !errors.Is(err, table.ErrTooLarge) {
		t.Errorf("error %v", err)
	}
}
