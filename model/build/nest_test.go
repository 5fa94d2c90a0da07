package build

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"pgregory.net/rapid"

	"evenbass/model"
)

func triangles(n int, leg float64) []Shape {
	return slices.Repeat([]Shape{{Width: leg, Height: leg, Triangle: true}}, n)
}

func rectangles(n int, w, h float64) []Shape { return slices.Repeat([]Shape{{Width: w, Height: h}}, n) }

// What a slab of 1200 x 600 mm gives: common practice, no source, and plain geometry.
func TestTrianglesOfASlab(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		leg       float64
		n, sheets int
	}{
		{0.600, 4, 1}, {0.600, 5, 2},
		{0.424, 8, 1}, {0.424, 9, 2}, // long side 600: both diagonals of two squares
		{0.300, 16, 1},
		{0.600, 24, 6}, {0.424, 24, 3}, // floor to 2.4 m in layers of 100 mm
	} {
		got, err := Nest(triangles(c.n, c.leg), 1.2, 0.6, 0)
		if err != nil || len(got.Sheets) != c.sheets {
			t.Errorf("%d triangles of %v m: %d slabs, want %d: %v", c.n, c.leg, len(got.Sheets), c.sheets, err)
		}
		if !got.Exact {
			t.Errorf("%d triangles of %v m: the bound of %d is met, not said", c.n, c.leg, got.Bound)
		}
		checkNesting(t, triangles(c.n, c.leg), got, 1.2, 0.6)
	}
}

// By hand: on 1200 x 600 mm, 800 x 600 leaves 400 x 600 for two of 400 x 300. Two of
// 700 x 350 can share neither the length (1400) nor the width (700).
func TestNestByHand(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		shapes []Shape
		kerf   float64
		sheets int
	}{
		{"nothing", nil, 0, 0},
		{"a whole slab", rectangles(1, 0.6, 1.2), 0, 1},
		{"no waste", append(rectangles(1, 0.8, 0.6), rectangles(2, 0.4, 0.3)...), 0, 1},
		{"no waste but for the saw", append(rectangles(1, 0.8, 0.6), rectangles(2, 0.4, 0.3)...), 0.003, 2},
		{"none share", rectangles(3, 0.7, 0.35), 0, 3},
		{"turned", append(rectangles(2, 0.6, 0.3), rectangles(1, 0.6, 0.6)...), 0, 1},
		{"thirds", rectangles(6, 0.4, 0.3), 0, 1},
		// A column of 350 + 250 beside rows of 850 over 425 + 425: no single order of
		// corner by corner need find it, the full search must.
		{"puzzle", append(append(rectangles(1, 0.35, 0.35), rectangles(1, 0.35, 0.25)...),
			append(rectangles(1, 0.85, 0.2), rectangles(2, 0.425, 0.4)...)...), 0, 1},
	} {
		got, err := Nest(c.shapes, 1.2, 0.6, c.kerf)
		if err != nil || len(got.Sheets) != c.sheets {
			t.Errorf("%s: %d slabs, want %d: %v", c.name, len(got.Sheets), c.sheets, err)
		}
		if !got.Exact {
			t.Errorf("%s: not said to be the least", c.name)
		}
		checkNesting(t, c.shapes, got, 1.2, 0.6)
	}
	if _, err := Nest(rectangles(1, 1.3, 0.2), 1.2, 0.6, 0); err == nil || !strings.Contains(err.Error(), "1.3 x 0.2 m does not fit on a sheet of 1.2 x 0.6 m") {
		t.Errorf("too long a part: %v", err)
	}
	if _, err := Nest(triangles(1, 0.7), 1.2, 0.6, 0); err == nil {
		t.Error("a triangle taller than the slab was taken")
	}
}

// checkNesting reports what is against the rules: every shape once and whole, inside
// its sheet, over no other; no fewer sheets than the bound; offcuts that are free.
func checkNesting(t interface{ Errorf(string, ...any) }, shapes []Shape, n Nesting, width, height float64) {
	seen := make([]int, len(shapes))
	for i, s := range n.Sheets {
		for j, p := range s.Places {
			seen[p.Shape]++
			if math.Abs(p.Area()-shapes[p.Shape].Area()) > 1e-9 {
				t.Errorf("sheet %d: shape %d of %v m² lies as %v m²", i, p.Shape, shapes[p.Shape].Area(), p.Area())
			}
			for _, c := range p.Corners {
				if c.X < -slack || c.Y < -slack || c.X > width+slack || c.Y > height+slack {
					t.Errorf("sheet %d: shape %d sticks out at %v", i, p.Shape, c)
				}
			}
			for _, q := range s.Places[:j] {
				if overlap(p.Corners, q.Corners) {
					t.Errorf("sheet %d: shapes %d and %d overlap", i, p.Shape, q.Shape)
				}
			}
			for _, o := range s.Offcuts {
				if overlap(p.Corners, o.corners()) {
					t.Errorf("sheet %d: shape %d lies on an offcut", i, p.Shape)
				}
			}
		}
	}
	for i, k := range seen {
		if k != 1 {
			t.Errorf("shape %d is cut %d times", i, k)
		}
	}
	if len(n.Sheets) < n.Bound || len(n.Sheets) > len(shapes) {
		t.Errorf("%d sheets for %d shapes, bound %d", len(n.Sheets), len(shapes), n.Bound)
	}
}

// overlap reports whether two convex polygons share more than a line, by the axes that
// part them.
func overlap(a, b []r2.Vec) bool {
	for _, poly := range [][]r2.Vec{a, b} {
		for i, p := range poly {
			e := r2.Sub(poly[(i+1)%len(poly)], p)
			axis := r2.Scale(1/r2.Norm(e), r2.Vec{X: e.Y, Y: -e.X})
			aLow, aHigh := along(a, axis)
			bLow, bHigh := along(b, axis)
			if aHigh <= bLow+1e-5 || bHigh <= aLow+1e-5 {
				return false
			}
		}
	}
	return true
}

func along(poly []r2.Vec, axis r2.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range poly {
		d := r2.Dot(p, axis)
		low, high = min(low, d), max(high, d)
	}
	return low, high
}

// Whatever the shapes: the rules hold, and what is said to be the least is no more than
// any order of first fit needs.
func TestNestProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		width, height := rapid.Float64Range(0.9, 1.3).Draw(t, "width"), rapid.Float64Range(0.5, 0.7).Draw(t, "height")
		side := rapid.Float64Range(0.05, 0.5)
		var shapes []Shape
		for range rapid.IntRange(1, 9).Draw(t, "sorts") {
			s := Shape{Width: side.Draw(t, "w"), Height: side.Draw(t, "h"), Triangle: rapid.Bool().Draw(t, "triangle")}
			if s.Triangle {
				s.Height = s.Width
			} else if rapid.Bool().Draw(t, "slanting") {
				low, cut := s.Height*rapid.Float64Range(0, 0.9).Draw(t, "low"), s.Width*rapid.Float64Range(0.2, 1).Draw(t, "cut")
				s.Outline = model.Polygon{{}, {X: s.Width}, {X: s.Width, Y: s.Height}, {X: cut, Y: s.Height}, {Y: low}}.Simplified()
			} else if rapid.Bool().Draw(t, "long") {
				s.Width += 0.4
			}
			shapes = append(shapes, slices.Repeat([]Shape{s}, rapid.IntRange(1, 6).Draw(t, "count"))...)
		}
		kerf := 0.0
		if !slices.ContainsFunc(shapes, func(s Shape) bool { return s.slanting() }) {
			kerf = rapid.SampledFrom([]float64{0, 0.003}).Draw(t, "kerf")
		}
		n, err := Nest(shapes, width, height, kerf)
		if err != nil {
			t.Fatal(err)
		}
		checkNesting(t, shapes, n, width, height)
		if n.Waste < -1e-9 || n.Waste > 1 {
			t.Fatalf("waste %v", n.Waste)
		}
		for _, s := range n.Sheets {
			for _, c := range s.Cuts {
				if r2.Norm(r2.Sub(c[0], c[1])) < 1e-6 {
					t.Fatalf("a cut of no length: %v", c)
				}
			}
		}
	})
}

// Cut at random into pieces by cuts right across, a slab must go together again: the
// full search finds the way.
func TestNestTakesASlabApart(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		parts := []Rect{{Width: 1.2, Height: 0.6}}
		for range rapid.IntRange(1, 6).Draw(t, "cuts") {
			i := rapid.IntRange(0, len(parts)-1).Draw(t, "part")
			at, r := rapid.Float64Range(0.25, 0.75).Draw(t, "at"), parts[i]
			if rapid.Bool().Draw(t, "upright") {
				parts = append(parts, Rect{Width: r.Width * (1 - at), Height: r.Height})
				parts[i].Width *= at
			} else {
				parts = append(parts, Rect{Width: r.Width, Height: r.Height * (1 - at)})
				parts[i].Height *= at
			}
		}
		var shapes []Shape
		for _, p := range parts {
			shapes = append(shapes, Shape{Width: p.Width, Height: p.Height})
		}
		n, err := Nest(shapes, 1.2, 0.6, 0)
		if err != nil || len(n.Sheets) != 1 || n.Waste > 1e-6 {
			t.Fatalf("%d sheets, waste %v, %v", len(n.Sheets), n.Waste, err)
		}
		checkNesting(t, shapes, n, 1.2, 0.6)
	})
}

func TestUnroll(t *testing.T) {
	t.Parallel()
	// By hand: on a roll 2 m wide, two of 0.9 x 1.3 lie side by side in 1.3 m (long side
	// along) or in 0.9 m each (across): 1.3 m is less.
	u, err := Unroll(rectangles(2, 0.9, 1.3), 2, 25)
	if err != nil || math.Abs(u.Length()-1.3) > 1e-9 || math.Abs(u.Bound-2*0.9*1.3/2) > 1e-9 {
		t.Errorf("length %v, bound %v, %v", u.Length(), u.Bound, err)
	}
	// A roll too short for all of it.
	u, err = Unroll(rectangles(3, 1.9, 1.3), 2, 3)
	if err != nil || len(u.Rolls) != 2 {
		t.Errorf("%d rolls, %v", len(u.Rolls), err)
	}
	if _, err := Unroll(rectangles(1, 2.1, 2.2), 2, 25); err == nil {
		t.Error("a sheet wider than the roll was taken")
	}
}

func TestUnrollProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(0.1, 1.4)
		var shapes []Shape
		for range rapid.IntRange(0, 20).Draw(t, "count") {
			shapes = append(shapes, Shape{Width: side.Draw(t, "w"), Height: side.Draw(t, "h")})
		}
		length := rapid.SampledFrom([]float64{0, 3, 10}).Draw(t, "length")
		u, err := Unroll(shapes, 1.5, length)
		if err != nil {
			t.Fatal(err)
		}
		checkNesting(t, shapes, Nesting{Sheets: u.Rolls}, endless(length), 1.5)
		for i, r := range u.Rolls {
			for _, p := range r.Places {
				if _, high := along(p.Corners, r2.Vec{X: 1}); high > u.Used[i]+slack {
					t.Fatalf("shape %d beyond the length used", p.Shape)
				}
			}
		}
		var trivial float64
		for _, s := range shapes {
			trivial += max(s.Width, s.Height)
		}
		if got := u.Length(); got < u.Bound-slack || got > trivial+slack {
			t.Fatalf("length %v, bound %v, one by one %v", got, u.Bound, trivial)
		}
	})
}

func TestSaw(t *testing.T) {
	t.Parallel()
	// By hand: 1.3 + 1.0 and 1.2 + 1.1, each with a cut of 4 mm; the one of 2.5 m is too long.
	sticks, tooLong, bound := Saw([]float64{1.2, 1.0, 1.3, 2.5, 1.1}, 2.4, 0.004)
	if len(sticks) != 2 || bound != 2 || fmt.Sprint(sticks[0].Members, sticks[1].Members, tooLong) != "[2 1] [0 4] [3]" {
		t.Errorf("%+v, too long %v, bound %d", sticks, tooLong, bound)
	}
	rapid.Check(t, func(t *rapid.T) {
		members := rapid.SliceOfN(rapid.Float64Range(0.05, 2.4), 0, 30).Draw(t, "members")
		sticks, tooLong, bound := Saw(members, 2.4, 0.004)
		seen := make([]int, len(members))
		for _, s := range sticks {
			var sum float64
			for j, i := range s.Members {
				seen[i]++
				if sum += members[i]; j > 0 {
					sum += 0.004
				}
			}
			if sum > 2.4+slack {
				t.Fatalf("a batten gives %v m", sum)
			}
		}
		for i, k := range seen {
			if k != 1 {
				t.Fatalf("member %d is cut %d times", i, k)
			}
		}
		if len(tooLong) > 0 || len(sticks) < bound || len(sticks) > 2*bound {
			t.Fatalf("%d battens, bound %d", len(sticks), bound)
		}
	})
}
