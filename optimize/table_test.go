package optimize

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// quiet is a progress function for whoever does not care.
func quiet(int, int) {}

// tableOf returns the table of a project's search and what it was made from.
func tableOf(t *testing.T, p *model.Project) (*problem, *banded, *table) {
	t.Helper()
	b, err := newBanded(newModal(p.Room.Size), p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	pr, err := newProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	tabulated, warnings, err := tabulate(context.Background(), b, pr.domain(0.05), p.Goal, quiet)
	if err != nil || len(warnings) > 0 {
		t.Fatal(err, warnings)
	}
	return pr, b, tabulated
}

// drawLayout decodes a genome drawn at random.
func drawLayout(t *rapid.T, pr *problem) model.Layout {
	x := make([]float64, pr.dim)
	for i := range x {
		x[i] = rapid.Float64Range(0, 1).Draw(t, "gene")
	}
	return pr.decode(&genes{x: x})
}

// The robust score read off the table is that of the engine itself to the
// accuracy promised, for a chair on the mid-line and for one that may leave it.
func TestTableAgreesWithEngine(t *testing.T) {
	t.Parallel()
	for name, p := range map[string]*model.Project{"mid-line": studio(), "free": freeStudio()} {
		pr, b, tabulated := tableOf(t, p)
		fast := newScorer(tabulated, p.Goal, 0.05, p.Room.Size)
		exact := newScorer(b, p.Goal, 0.05, p.Room.Size)
		rapid.Check(t, func(t *rapid.T) {
			l := drawLayout(t, pr)
			if p.Violation(l) > 0 {
				return
			}
			got, err := fast.robust(l)
			want, err2 := exact.robust(l)
			if err != nil || err2 != nil || math.Abs(float64(got-want)) > accuracy {
				t.Fatalf("%s: table %.4f dB, engine %.4f dB (%v, %v)", name, got, want, err, err2)
			}
		})
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
		exact, err := b.Field(c.seat)
		if err != nil {
			t.Fatal(err)
		}
		field, err := tabulated.Field(c.seat)
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
	pr, err := newProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	var rows [2][]float32
	for i, e := range []model.Engine{room, plainEngine{room}} {
		b, err := newBanded(e, p.Goal)
		if err != nil {
			t.Fatal(err)
		}
		tabulated := newTable(b, pr.domain(0.05), fineness{1e-2, 5e-2})
		if err := tabulated.fill(context.Background(), quiet); err != nil {
			t.Fatal(err)
		}
		rows[i] = tabulated.rows
	}
	if !slices.Equal(rows[0], rows[1]) {
		t.Error("the two tables differ")
	}
}

// A domain without bounds is refused before anything is computed.
func TestTableTooLarge(t *testing.T) {
	t.Parallel()
	p := studio()
	b, err := newBanded(newModal(p.Room.Size), p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	d := domain{sources: []area{{span{0, 40}, span{0, 40}}}, heights: []float64{1}, seats: area{span{0, 40}, span{0, 40}}, ears: 1.2}
	if _, _, err := tabulate(context.Background(), b, d, p.Goal, quiet); !errors.Is(err, errTooLarge) {
		t.Errorf("error %v", err)
	}
}

// Barycentric interpolation on n nodes is exact for polynomials of degree n-1
// (Berrut and Trefethen 2004, section 3).
func TestAxisReproducesPolynomials(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 20).Draw(t, "nodes")
		lo := rapid.Float64Range(-3, 3).Draw(t, "lo")
		a := newAxis(span{lo, lo + rapid.Float64Range(0.01, 4).Draw(t, "length")}, n)
		v := a.span.lo + a.span.length()*rapid.Float64Range(0, 1).Draw(t, "share")
		poly := func(x float64) float64 { // Legendre-like size: of order 1 on the span
			return math.Pow((2*x-a.span.lo-a.span.hi)/a.span.length(), float64(n-1))
		}
		var sum float64
		for i, w := range a.weights(make([]float64, maxNodes), v) {
			sum += w * poly(a.nodes[i])
		}
		if math.Abs(sum-poly(v)) > 1e-9 {
			t.Fatalf("interpolated %v, is %v", sum, poly(v))
		}
	})
}

// nodesFor keeps what it promises for a plane wave, whatever the length, within
// the growth of interpolation against truncation (at most 1 + Lebesgue constant,
// here below 4 for 48 nodes; Trefethen, Approximation Theory, ch. 15).
func TestNodesForPlaneWave(t *testing.T) {
	const k = 2 * math.Pi * 315 / 343.2
	for _, length := range []float64{0.1, 0.5, 1, 2, 3, 5} {
		for _, tolerance := range []float64{1e-2, 3e-4, 1e-6} {
			a := newAxis(span{0, length}, nodesFor(k, length, tolerance))
			worst := 0.0
			for i := range 101 {
				v := length * float64(i) / 100
				var sum complex128
				for j, w := range a.weights(make([]float64, maxNodes), v) {
					sum += complex(w, 0) * cmplx.Exp(complex(0, -k*a.nodes[j]))
				}
				worst = max(worst, cmplx.Abs(sum-cmplx.Exp(complex(0, -k*v))))
			}
			if worst > 4*tolerance {
				t.Errorf("%v m to %.0e: %d nodes leave %.1e", length, tolerance, len(a.nodes), worst)
			}
		}
	}
}

// The direct sound from the table is that of model.FreeField, with lossy air as
// well.
func TestDirectIsFreeField(t *testing.T) {
	grid := model.DefaultGrid()
	air := model.AirAt(0)
	air.Loss = 0.01
	d := newDirect(grid, air, 6)
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(directPitch, 6).Draw(t, "distance")
		got := make([]complex128, len(grid))
		d.add(got, r)
		for i, want := range model.FreeField(nil, grid, air, r) {
			if cmplx.Abs(got[i]-want) > 1e-7*cmplx.Abs(want) {
				t.Fatalf("%v Hz at %v m: %v, want %v", grid[i], r, got[i], want)
			}
		}
	})
}

func TestCombine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, stride := rapid.IntRange(1, 300).Draw(t, "length"), 301
		shares := make([]nodeWeight, rapid.IntRange(0, 11).Draw(t, "shares"))
		rows := make([]float32, 12*stride)
		for i := range rows {
			rows[i] = float32((i*7919)%101) / 101
		}
		dst, want := make([]float32, n), make([]float64, n)
		for i := range shares {
			shares[i] = nodeWeight{rapid.Float64Range(-2, 2).Draw(t, "weight"), rapid.IntRange(0, 11).Draw(t, "node")}
			for j := range want {
				want[j] += shares[i].weight * float64(rows[shares[i].node*stride+j])
			}
		}
		combine(dst, shares, rows, stride)
		for j := range want {
			if math.Abs(float64(dst[j])-want[j]) > 1e-4 {
				t.Fatalf("number %d is %v, want %v", j, dst[j], want[j])
			}
		}
	})
}

// A reader over the band alone gives the same spread as one over the whole grid.
func TestBandGivesSameSpread(t *testing.T) {
	room := newModal(studio().Room.Size)
	rapid.Check(t, func(t *rapid.T) {
		goal := model.Goal{From: rapid.Float64Range(26, 60).Draw(t, "from"), To: rapid.Float64Range(80, 220).Draw(t, "to"), Smoothing: rapid.SampledFrom([]int{1, 3, 12, 48}).Draw(t, "b")}
		b, err := newBanded(room, goal)
		if err != nil {
			t.Fatal(err)
		}
		seat, left, right := r3.Vec{X: 2, Y: 1.5, Z: 1.2}, r3.Vec{X: 0.5, Y: 0.8, Z: 1}, r3.Vec{X: 0.6, Y: 2.1, Z: 1}
		var spreads [2]model.Level
		for i, e := range []model.Engine{b, room} {
			p, err := (&scorer{engine: e}).pair(model.Layout{Left: left, Right: right, Seat: seat})
			if err != nil {
				t.Fatal(err)
			}
			spreads[i] = response.NewReader(e.Grid(), e.Air(), goal).Spread(p, new(response.Scratch))
		}
		if math.Abs(float64(spreads[0]-spreads[1])) > 1e-9 {
			t.Fatalf("%v: band %v dB, whole %v dB", goal, spreads[0], spreads[1])
		}
	})
}

func TestBandNeedsGrid(t *testing.T) {
	room := newModal(studio().Room.Size)
	for _, g := range []model.Goal{{}, {From: 30, To: 300, Smoothing: 12}, {From: 10, To: 200, Smoothing: 12}, {From: 100, To: 101, Smoothing: 12}, {From: 30, To: 200}} {
		if _, err := newBanded(room, g); err == nil {
			t.Errorf("goal %v was accepted", g)
		}
	}
}

// A value is made once while it is kept, and the one not asked for longest goes
// first.
func TestCacheKeepsTheLatest(t *testing.T) {
	c := newCache[int, int](2)
	made := 0
	for _, k := range []int{1, 2, 1, 3, 1, 2} {
		v, err := c.get(k, func() (int, error) { made++; return 10 * k, nil })
		if v != 10*k || err != nil {
			t.Errorf("value of %d is %v, %v", k, v, err)
		}
	}
	if made != 4 { // 1, 2, 3 and 2 again
		t.Errorf("made %d values, want 4", made)
	}
}
