package model

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// ellRoom is the L of ell, 2.5 m high.
func ellRoom() Room { return Room{Size: r3.Vec{X: 5, Y: 4, Z: 2.5}, Outline: ell()} }

// rising is a ceiling that rises from the left wall to the right one.
func rising(size r3.Vec, from, to float64) Slope {
	return Slope{Through: [3]r3.Vec{{Z: from}, {X: size.X, Z: from}, {Y: size.Y, Z: to}}}
}

// ridge is a roof with its ridge along x in the middle.
func ridge(size r3.Vec, eaves, height float64) []Slope {
	half := size.Y / 2
	return []Slope{
		{Through: [3]r3.Vec{{Z: eaves}, {X: size.X, Z: eaves}, {Y: half, Z: height}}},
		{Through: [3]r3.Vec{{Y: half, Z: height}, {X: size.X, Y: half, Z: height}, {Y: size.Y, Z: eaves}}},
	}
}

// tent has four planes that rise from the floor at the walls to one point.
func tent() Room {
	r := Room{Size: r3.Vec{X: 4, Y: 4, Z: 3}}
	apex := r3.Vec{X: 2, Y: 2, Z: 3}
	corners := [4]r3.Vec{{}, {X: 4}, {X: 4, Y: 4}, {Y: 4}}
	for i := range corners {
		r.Slopes = append(r.Slopes, Slope{Through: [3]r3.Vec{corners[i], corners[(i+1)%4], apex}})
	}
	return r
}

func TestVolumesAndAreas(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4.5, Y: 3.4, Z: 2.45}
	shed := Room{Size: size, Slopes: []Slope{rising(size, 1.4, 2.45)}}
	roof := Room{Size: size, Slopes: ridge(size, 1.3, 2.45)}
	partly := Room{Size: size, Slopes: []Slope{rising(size, 1.4, 3.5)}} // flat from y = 1.7 m
	walls := func(of ...float64) (a [6]float64) { copy(a[:], of); return a }
	for _, c := range []struct {
		name   string
		r      Room
		volume float64
		areas  [6]float64 // front, back, left, right, floor, ceiling
	}{
		{"box", Room{Size: size}, 4.5 * 3.4 * 2.45,
			walls(3.4*2.45, 3.4*2.45, 4.5*2.45, 4.5*2.45, 4.5*3.4, 4.5*3.4)},
		{"ell", ellRoom(), 17 * 2.5, walls(4*2.5, (2.5+1.5)*2.5, 5*2.5, (2+3)*2.5, 17, 17)},
		{"shed", shed, 4.5 * 3.4 * 1.925,
			walls(3.4*1.925, 3.4*1.925, 4.5*1.4, 4.5*2.45, 4.5*3.4, 4.5*math.Hypot(3.4, 1.05))},
		{"roof", roof, 4.5 * 3.4 * 1.875,
			walls(3.4*1.875, 3.4*1.875, 4.5*1.3, 4.5*1.3, 4.5*3.4, 2*4.5*math.Hypot(1.7, 1.15))},
		{"partly flat", partly, 4.5 * 1.7 * (1.925 + 2.45),
			walls(1.7*(1.925+2.45), 1.7*(1.925+2.45), 4.5*1.4, 4.5*2.45, 4.5*3.4, 4.5*(1.7+math.Hypot(1.7, 1.05)))},
		// A pyramid has a third of its box; each face is half its base times its slant height.
		{"tent", tent(), 16, walls(0, 0, 0, 0, 16, 8*math.Hypot(2, 3))},
	} {
		if got := c.r.Volume(); math.Abs(got-c.volume) > 1e-9 {
			t.Errorf("%s: volume %v m³, want %v", c.name, got, c.volume)
		}
		for _, f := range Faces {
			if got := c.r.Area(f); math.Abs(got-c.areas[f]) > 1e-9 {
				t.Errorf("%s: %s has %v m², want %v", c.name, f, got, c.areas[f])
			}
		}
	}
}

// The areas of a closed surface, each times its normal, add to nothing (Gauss).
func TestSurfaceIsClosed(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		height := rapid.Float64Range(1, 2)
		r := ellRoom()
		for range rapid.IntRange(1, 3).Draw(t, "slopes") {
			r.Slopes = append(r.Slopes, Slope{Through: [3]r3.Vec{
				{Z: height.Draw(t, "z0")}, {X: 5, Z: height.Draw(t, "z1")}, {Y: 4, Z: height.Draw(t, "z2")},
			}})
		}
		var sum r3.Vec
		plan := r.Plan()
		for i := range plan {
			a, b := plan.Edge(i)
			in := plan.Inward(i)
			sum = r3.Add(sum, r3.Scale(r.wallArea(a, b), r3.Vec{X: in.X, Y: in.Y}))
		}
		sum.Z += r.Area(Floor)
		r.ceilings(plan, func(p plane, part Polygon) {
			sum = r3.Add(sum, r3.Scale(part.Area(), r3.Vec{X: p.rise.X, Y: p.rise.Y, Z: -1}))
		})
		if r3.Norm(sum) > 1e-9 {
			t.Fatalf("%v m² are left over", sum)
		}
	})
}

func TestEdgeFaces(t *testing.T) {
	t.Parallel()
	r := ellRoom()
	for i, want := range []Face{Left, Back, Right, Back, Right, Front} {
		if got := r.EdgeFace(i); got != want {
			t.Errorf("edge %d faces like the %s, want %s", i, got, want)
		}
	}
	r.Walls[Back] = Surface{Construction: "concrete"}
	r.Edges = []Edge{3: {Surface: Surface{Construction: "glass"}}}
	if got := edgeSurface(&r, 3).Construction; got != "glass" {
		t.Errorf("edge 3 is %q", got)
	}
	if got := edgeSurface(&r, 1).Construction; got != "concrete" {
		t.Errorf("edge 1 is %q, want that of the back wall", got)
	}
}

func TestCeilingAt(t *testing.T) {
	t.Parallel()
	r := tent()
	for _, c := range []struct{ x, y, want float64 }{{2, 2, 3}, {1, 2, 1.5}, {2, 3.5, 0.75}, {0, 0, 0}} {
		if got := r.CeilingAt(r2.Vec{X: c.x, Y: c.y}); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("ceiling at %v, %v is %v m, want %v", c.x, c.y, got, c.want)
		}
	}
	if got := r.highest(r.Plan()); math.Abs(got-3) > 1e-12 {
		t.Errorf("highest place %v m", got)
	}
	if got := r.wallTop(Left); got != 0 {
		t.Errorf("the left wall is %v m high", got)
	}
}

func TestBeyondPlan(t *testing.T) {
	t.Parallel()
	r := ellRoom()
	box := func(x0, y0, x1, y1 float64) Block {
		return Block{Min: r3.Vec{X: x0, Y: y0}, Max: r3.Vec{X: x1, Y: y1, Z: 1}}
	}
	for _, c := range []struct {
		name string
		b    Block
		want float64
	}{
		{"inside", box(1, 1, 2, 2), 0},
		{"against two walls", box(0, 0, 1, 1), 0},
		{"in the short leg", box(2, 3, 3, 4), 0},
		{"in the notch", box(4, 3, 4.4, 3.4), 0.9},
		{"over the edge", box(4, 2, 4.4, 2.6), 0.1},
		{"about the corner", box(2.8, 2.3, 3.2, 2.7), 0.2},
	} {
		if got := r.beyondPlan(c.b); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %v m, want %v", c.name, got, c.want)
		}
	}
}

// What is out of the plan or above a slope breaks a constraint.
func TestBreachesOfShape(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		rule   Rule
		change func(*Project, *Layout)
	}{
		{"speaker in the notch", Rule{Kind: SpeakerPlan, Side: RightSide}, func(p *Project, _ *Layout) {
			p.Room.Outline = Polygon{{}, {X: 4.5}, {X: 4.5, Y: 3.4}, {X: 0.9, Y: 3.4}, {X: 0.9, Y: 2.3}, {Y: 2.3}}
		}},
		{"head in the notch", Rule{Kind: SeatPlan}, func(p *Project, l *Layout) {
			p.Room.Outline = Polygon{{}, {X: 4.5}, {X: 4.5, Y: 3.4}, {X: 2, Y: 3.4}, {X: 2, Y: 3}, {X: 1.5, Y: 3}, {X: 1.5, Y: 3.4}, {Y: 3.4}}
			l.Seat.Y = 3.3
		}},
		{"wall behind", Rule{Kind: SeatWallBehind}, func(p *Project, l *Layout) {
			p.Room.Outline = Polygon{{}, {X: 4.5}, {X: 4.5, Y: 1}, {X: l.Seat.X + 0.3, Y: 1}, {X: l.Seat.X + 0.3, Y: 3.4}, {Y: 3.4}}
		}},
		{"box above", Rule{Kind: SpeakerSlope}, func(p *Project, _ *Layout) {
			p.Room.Slopes = []Slope{rising(p.Room.Size, 0.3, 2.45)}
		}},
		{"head above", Rule{Kind: SeatSlope}, func(p *Project, _ *Layout) {
			p.Room.Slopes = []Slope{{Through: [3]r3.Vec{{Z: 1.9}, {Y: 3.4, Z: 1.9}, {X: 4.5, Z: 0.1}}}}
		}},
		{"treatment", Rule{Kind: SpeakerObstacle, Name: "side"}, func(p *Project, l *Layout) {
			p.Room.Treatments = []Treatment{{
				Name: "side", Patch: Patch{Face: Left, Width: 2, Height: 2.4},
				Layers: []Layer{{Kind: PorousLayer, Thickness: l.Left.Y}},
			}}
		}},
	} {
		p, l := rehearsal()
		if b := p.Breaches(l); len(b) > 0 {
			t.Fatalf("legal to begin with: %v", b)
		}
		c.change(p, &l)
		found := false
		for _, b := range p.Breaches(l) {
			found = found || b.Rule == c.rule
		}
		if !found {
			t.Errorf("%s: breaches %v, want %v", c.name, p.Breaches(l), c.rule)
		}
	}
}

func TestCeilingLineAndParts(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4.5, Y: 3.4, Z: 2.45}
	r := Room{Size: size, Slopes: []Slope{rising(size, 1.4, 3.5)}} // flat from y = 1.7 m
	line := r.CeilingLine(r2.Vec{X: 1}, r2.Vec{X: 1, Y: 3.4})
	want := []r3.Vec{{X: 1, Z: 1.4}, {X: 1, Y: 1.7, Z: 2.45}, {X: 1, Y: 3.4, Z: 2.45}}
	for i := range want {
		if len(line) != len(want) || r3.Norm(r3.Sub(line[i], want[i])) > 1e-9 {
			t.Fatalf("ceiling %v, want %v", line, want)
		}
	}
	parts := r.CeilingParts()
	if len(parts) != 2 || math.Abs(parts[0].Area()-4.5*1.7) > 1e-9 || math.Abs(parts[1].Area()-4.5*1.7) > 1e-9 {
		t.Errorf("parts of the ceiling on plan: %v", parts)
	}
}

// edgeSurface returns what edge i of the plan is made of: its own surface, or that
// of the wall that it faces like.
func edgeSurface(r *Room, i int) Surface {
	if i < len(r.Edges) && r.Edges[i].Set() {
		return r.Edges[i].Surface
	}
	return r.Walls[r.EdgeFace(i)]
}

// Blocks that touch do not overlap, whatever the last digit of a sum says.
func TestTouchingBlocks(t *testing.T) {
	t.Parallel()
	a := Block{Max: r3.Vec{X: 1, Y: math.Nextafter(2.03, 3), Z: 1}}
	b := Block{Min: r3.Vec{Y: 2.03}, Max: r3.Vec{X: 1, Y: 3, Z: 1}}
	if a.Overlaps(b) || b.Overlaps(a) {
		t.Error("blocks that touch overlap")
	}
	if b.Min.Y = 2.029; !a.Overlaps(b) || !b.Overlaps(a) {
		t.Error("a millimetre of overlap is none")
	}
}
