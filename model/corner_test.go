package model

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// lean is a room whose ceiling rises at 45 degrees from 1 m at the left wall and is flat
// from y = 1.5 m on.
func lean() Room {
	size := r3.Vec{X: 4, Y: 3, Z: 2.5}
	return Room{Size: size, Slopes: []Slope{rising(size, 1, 4)}}
}

// Sections of fills along the ceiling, worked by hand.
func TestSections(t *testing.T) {
	t.Parallel()
	r := lean()
	half := math.Sqrt2 / 2
	for _, c := range []struct {
		name string
		c    Corner
		at   float64
		want []r3.Vec
	}{
		{
			"triangle at the eaves", Corner{Walls: [2]Face{Left, Ceiling}, Leg: 0.6, To: 4}, 1.2,
			[]r3.Vec{{X: 1.2, Z: 0.4}, {X: 1.2, Z: 1}, {X: 1.2, Y: 0.6 * half, Z: 1 + 0.6*half}},
		},
		{
			"square at the eaves", Corner{Walls: [2]Face{Ceiling, Left}, Square: true, Leg: 0.6, To: 4}, 0,
			[]r3.Vec{{Z: 0.4}, {Z: 1}, {Y: 0.6 * half, Z: 1 + 0.6*half}, {Y: 0.6 * half, Z: 0.4 + 0.6*half}},
		},
		{
			"up the gable", Corner{Walls: [2]Face{Back, Ceiling}, Leg: 0.5, To: 3}, 0.8,
			[]r3.Vec{{X: 4, Y: 0.8, Z: 1.3}, {X: 4, Y: 0.8, Z: 1.8}, {X: 3.5, Y: 0.8, Z: 1.8}},
		},
		{ // from the flat part, 1.5 m long, over the bend and 0.5 m down the slope
			"over the bend", Corner{Walls: [2]Face{Right, Ceiling}, Leg: 2, To: 4}, 2,
			[]r3.Vec{{X: 2, Y: 3, Z: 0.5}, {X: 2, Y: 3, Z: 2.5}, {X: 2, Y: 1.5, Z: 2.5}, {X: 2, Y: 1.5 - 0.5*half, Z: 2.5 - 0.5*half}},
		},
	} {
		got := r.Section(c.c, c.at)
		if len(got) != len(c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
			continue
		}
		for i := range got {
			if r3.Norm(r3.Sub(got[i], c.want[i])) > 1e-12 {
				t.Errorf("%s: corner %d at %v, want %v", c.name, i, got[i], c.want[i])
			}
		}
	}
}

// The depth of a fill in an obtuse edge, by hand: half of its 135 degrees is 67.5.
func TestFillDepths(t *testing.T) {
	t.Parallel()
	r := lean()
	cos := math.Cos(67.5 * math.Pi / 180)
	for _, c := range []struct {
		c    Corner
		want float64
	}{
		{Corner{Walls: [2]Face{Left, Ceiling}, Leg: 0.6, To: 4}, 0.6 * cos},
		{Corner{Walls: [2]Face{Left, Ceiling}, Square: true, Leg: 0.6, To: 4}, 2 * 0.6 * cos},
		{Corner{Walls: [2]Face{Back, Ceiling}, Leg: 0.6, To: 3}, 0.6 / math.Sqrt2},
		{Corner{Walls: [2]Face{Left, Floor}, Leg: 0.6, To: 4}, 0.6 / math.Sqrt2},
	} {
		if got := r.Depth(&Treatment{Form: InCorner, Corner: c.c}); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%+v is %g m deep, want %g", c.c, got, c.want)
		}
	}
}

// The space of a fill ends at the slope, and follows it along the ceiling.
func TestFillSpaces(t *testing.T) {
	t.Parallel()
	half := math.Sqrt2 / 2
	for _, c := range []struct {
		name string
		c    Corner
		want Block
	}{
		{"low corner", Corner{Walls: [2]Face{Front, Left}, Leg: 0.4, To: 2.5}, Block{Max: r3.Vec{X: 0.4, Y: 0.4, Z: 1.4}}},
		{"low corner that ends lower", Corner{Walls: [2]Face{Front, Left}, Leg: 0.4, To: 0.9}, Block{Max: r3.Vec{X: 0.4, Y: 0.4, Z: 0.9}}},
		{"high corner", Corner{Walls: [2]Face{Back, Right}, Leg: 0.4, To: 2.5}, Block{Min: r3.Vec{X: 3.6, Y: 2.6}, Max: r3.Vec{X: 4, Y: 3, Z: 2.5}}},
		{"eaves", Corner{Walls: [2]Face{Left, Ceiling}, Leg: 0.6, From: 1, To: 3}, Block{Min: r3.Vec{X: 1, Z: 0.4}, Max: r3.Vec{X: 3, Y: 0.6 * half, Z: 1 + 0.6*half}}},
		{"gable", Corner{Walls: [2]Face{Back, Ceiling}, Leg: 0.5, From: 0.2, To: 1}, Block{Min: r3.Vec{X: 3.5, Y: 0.2, Z: 0.7}, Max: r3.Vec{X: 4, Y: 1, Z: 2}}},
		{"floor", Corner{Walls: [2]Face{Left, Floor}, Leg: 1.2, To: 4}, Block{Max: r3.Vec{X: 4, Y: 1.2, Z: 1.2}}},
	} {
		r := lean()
		got := r.Space(&Treatment{Form: InCorner, Corner: c.c})
		if r3.Norm(r3.Sub(got.Min, c.want.Min))+r3.Norm(r3.Sub(got.Max, c.want.Max)) > 1e-12 {
			t.Errorf("%s: from %v to %v, want %v to %v", c.name, got.Min, got.Max, c.want.Min, c.want.Max)
		}
	}
}

// On its walls a fill takes what there is of them under the slope.
func TestFillFootprints(t *testing.T) {
	t.Parallel()
	r := lean()
	for _, c := range []struct {
		c    Corner
		want [2]Patch
	}{
		{Corner{Walls: [2]Face{Front, Left}, Leg: 0.4, To: 2.5}, [2]Patch{{Face: Front, Width: 0.4, Height: 1.4}, {Face: Left, Width: 0.4, Height: 1}}},
		{Corner{Walls: [2]Face{Left, Ceiling}, Leg: 0.5, From: 1, To: 3}, [2]Patch{{Face: Left, Along: 1, Up: 0.5, Width: 2, Height: 0.5}, {Face: Ceiling, Along: 1, Width: 2, Height: 0.5 / math.Sqrt2}}},
	} {
		got := r.Footprints(&Treatment{Form: InCorner, Corner: c.c})
		for i, want := range c.want {
			p := got[i]
			if p.Face != want.Face || math.Abs(p.Along-want.Along)+math.Abs(p.Up-want.Up)+math.Abs(p.Width-want.Width)+math.Abs(p.Height-want.Height) > 1e-12 {
				t.Errorf("%+v lies on %+v, want %+v", c.c, p, want)
			}
		}
	}
}

// What cannot be filled is refused with what would be right; what is cut at the slope is
// not.
func TestFillsUnderSlopes(t *testing.T) {
	t.Parallel()
	toFloor := lean()
	toFloor.Slopes = []Slope{rising(toFloor.Size, 0, 2.5)}
	for _, c := range []struct {
		name       string
		r          Room
		c          Corner
		path, want string // no path: no problem
	}{
		{"cut", lean(), Corner{Walls: [2]Face{Front, Left}, Leg: 0.4, To: 2.5}, "", ""},
		{"eaves", lean(), Corner{Walls: [2]Face{Left, Ceiling}, Leg: 0.6, To: 4}, "", ""},
		{"whole low wall", lean(), Corner{Walls: [2]Face{Left, Ceiling}, Leg: 1, To: 4}, "", ""},
		{"above the slope", lean(), Corner{Walls: [2]Face{Front, Left}, Leg: 0.4, From: 1.5, To: 2.5}, "t.from", "which is at most 1.4 m high there, have 1.5 m"},
		{"longer than the low wall", lean(), Corner{Walls: [2]Face{Left, Ceiling}, Leg: 1.1, To: 4}, "t.leg", "at most 1 m, as high as the left wall is under the slope there, have 1.1 m; or fill the edge along the floor"},
		{"low end of a gable", lean(), Corner{Walls: [2]Face{Back, Ceiling}, Leg: 1.5, From: 0.2, To: 3}, "t.leg", "at most 1.2 m"},
		{"no wall", toFloor, Corner{Walls: [2]Face{Left, Floor}, Leg: 0.4, To: 4}, "t.edge", "the slope comes down to the floor there"},
	} {
		p := &Project{Room: c.r}
		v := validator{p: p}
		v.cornerThere("t", &Treatment{Form: InCorner, Corner: c.c})
		checkProblem(t, c.name, v.problems, c.path, c.want)
	}
}

// Whatever the roof: the legs of a section have their length, no part of it is above the
// ceiling or outside the fill's space, and its lower side is that of Underside.
func TestSectionsFollowAnyRoof(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.5}}
		height := rapid.Float64Range(0.8, 2.5)
		r.Slopes = ridge(r.Size, height.Draw(t, "eaves"), 2.5)
		if rapid.Bool().Draw(t, "hip") {
			r.Slopes = append(r.Slopes, Slope{Through: [3]r3.Vec{{Z: 1}, {Y: 3, Z: 1}, {X: 1.1, Z: height.Draw(t, "hip's height") + 0.3}}})
		}
		c := Corner{
			Walls: [2]Face{Face(rapid.IntRange(0, 3).Draw(t, "wall")), Ceiling}, Square: rapid.Bool().Draw(t, "square"),
			Leg: rapid.Float64Range(0.1, 0.8).Draw(t, "leg"), From: 0.3, To: 2.9,
		}
		at := rapid.Float64Range(0.3, 2.9).Draw(t, "at")
		section := r.Section(c, at)
		if got := section[1].Z - section[0].Z; math.Abs(got-c.Leg) > 1e-9 {
			t.Fatalf("the leg on the wall is %g m, want %g", got, c.Leg)
		}
		end, far := 1, 0.0
		for ; end+1 < len(section) && math.Abs(far-c.Leg) > 1e-9; end++ {
			far += r3.Norm(r3.Sub(section[end+1], section[end]))
		}
		if math.Abs(far-c.Leg) > 1e-9 {
			t.Fatalf("the leg on the ceiling is %g m, want %g", far, c.Leg)
		}
		foot := section[0]
		for _, v := range section {
			if top := r.CeilingAt(r2.Vec{X: v.X, Y: v.Y}); v.Z > top+1e-9 {
				t.Fatalf("%v is above the ceiling at %g m", v, top)
			}
			distance := math.Hypot(v.X-foot.X, v.Y-foot.Y)
			reach, low := r.Underside(c, at, distance)
			if v.Z < low-1e-9 || distance > reach+1e-9 {
				t.Fatalf("%v is below %g m or beyond %g m", v, low, reach)
			}
		}
		if _, low := r.Underside(c, at, 0); math.Abs(low-foot.Z) > 1e-9 {
			t.Fatalf("the lower side begins at %g m, want %g", low, foot.Z)
		}
	})
}

func ExampleRoom_Section() {
	size := r3.Vec{X: 4, Y: 3, Z: 2.5}
	r := Room{Size: size, Slopes: []Slope{{Through: [3]r3.Vec{{Z: 1}, {X: 4, Z: 1}, {Y: 1.2, Z: 1.9}}}}} // 3 up, 4 across
	for _, v := range r.Section(Corner{Walls: [2]Face{Left, Ceiling}, Leg: 0.5, To: 4}, 2) {
		fmt.Printf("%.1f m from the left wall, %.1f m high\n", v.Y, v.Z)
	}
	// Output:
	// 0.0 m from the left wall, 0.5 m high
	// 0.0 m from the left wall, 1.0 m high
	// 0.4 m from the left wall, 1.3 m high
}
