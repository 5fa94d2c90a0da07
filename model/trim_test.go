package model

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// onWall puts wool of a thickness on a rectangle of a wall.
func onWall(f Face, along, up, width, height, thickness float64) Treatment {
	return Treatment{Patch: Patch{Face: f, Along: along, Up: up, Width: width, Height: height}, Layers: []Layer{wool(thickness)}}
}

// diagonal is what a clearance straight away from a slope of 45 degrees takes off its height, m.
const diagonal = SlopeClearance * math.Sqrt2

// What slopes of 45 degrees leave of layers, by hand: a corner lies on z = 1.4 + y less the clearance.
func TestTrimmedFace(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4.5, Y: 3, Z: 2.9}
	shed := Room{Size: size, Slopes: []Slope{rising(size, 1.4, 4.4)}} // flat from y = 1.5 m
	roof := Room{Size: size, Slopes: ridge(size, 1.4, 2.9)}
	tall := Room{Size: r3.Vec{X: 4.5, Y: 3, Z: 4.4}, Slopes: []Slope{rising(size, 1.4, 4.4)}}
	steep := Room{Size: size, Slopes: []Slope{rising(size, 0, 3)}}
	for _, c := range []struct {
		name string
		r    Room
		t    Treatment
		want Polygon // nil for nothing
	}{
		{"far below", shed, onWall(Back, 0.2, 0.1, 2, 1, 0.2), Polygon{{X: 0.2, Y: 0.1}, {X: 2.2, Y: 0.1}, {X: 2.2, Y: 1.1}, {X: 0.2, Y: 1.1}}},
		{"touching", shed, onWall(Back, 0.2, 0, 2, 1.6, 0.2), Polygon{{X: 0.2}, {X: 2.2}, {X: 2.2, Y: 1.6}, {X: 0.2, Y: 1.6}}},
		{"quadrilateral", shed, onWall(Back, 0.2, 0, 1, 2.9, 0.2),
			Polygon{{X: 0.2}, {X: 1.2}, {X: 1.2, Y: 2.6 - diagonal}, {X: 0.2, Y: 1.6 - diagonal}}},
		{"corner cut off", shed, onWall(Front, 0.5, 1, 2, 1.2, 0.2),
			Polygon{{X: 0.5, Y: 1}, {X: 2.5, Y: 1}, {X: 2.5, Y: 2.2}, {X: 0.8 + diagonal, Y: 2.2}, {X: 0.5, Y: 1.9 - diagonal}}},
		{"pentagon under a ridge", roof, onWall(Back, 1, 0, 1, 2.9, 0.2),
			Polygon{{X: 1}, {X: 2}, {X: 2, Y: 2.4 - diagonal}, {X: 1.5, Y: 2.9 - diagonal}, {X: 1, Y: 2.4 - diagonal}}},
		{"ends at 10 cm", steep, onWall(Back, 0, 0, 1, 2, 0.2),
			Polygon{{X: 0.1 + diagonal}, {X: 1}, {X: 1, Y: 1 - diagonal}, {X: 0.1 + diagonal, Y: 0.1}}},
		{"low side", shed, onWall(Left, 1, 0, 2, 1.5, 0.2), Polygon{{X: 1}, {X: 3}, {X: 3, Y: 1.4 - diagonal}, {X: 1, Y: 1.4 - diagonal}}},
		{"high side", tall, onWall(Right, 1, 1, 2, 3.4, 0.2), Polygon{{X: 1, Y: 1}, {X: 3, Y: 1}, {X: 3, Y: 4.2 - diagonal}, {X: 1, Y: 4.2 - diagonal}}},
		{"sliver", shed, onWall(Back, 0, 1.9, 0.6, 1, 0.2), nil},
		{"above", shed, onWall(Left, 0, 1.5, 2, 1, 0.2), nil},
		{"ceiling", shed, onWall(Ceiling, 1, 0, 2, 3, 0.1), Polygon{{X: 1}, {X: 3}, {X: 3, Y: 3}, {X: 1, Y: 3}}},
	} {
		got := c.r.TrimmedFace(&c.t)
		if !sameCorners(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
		if cut := c.r.Trimmed(&c.t); cut != (c.want == nil || len(c.want) == 5 || c.name != "far below" && c.name != "touching" && c.name != "ceiling") {
			t.Errorf("%s: trimmed is %v", c.name, cut)
		}
		if c.want == nil {
			continue
		}
		x, y := c.want.Bounds()
		if p := c.r.FacePatch(&c.t); math.Abs(p.Along-x.Min)+math.Abs(p.Up-y.Min)+math.Abs(p.Along+p.Width-x.Max)+math.Abs(p.Up+p.Height-y.Max) > 1e-9 {
			t.Errorf("%s: the rectangle about it is %+v", c.name, p)
		}
	}
}

// sameCorners reports whether two polygons have the same corners, from whichever they begin.
func sameCorners(p, q Polygon) bool {
	if len(p) != len(q) {
		return false
	}
	for shift := range max(1, len(p)) {
		var off float64
		for i, v := range p {
			off = max(off, r2.Norm(r2.Sub(v, q[(i+shift)%len(q)])))
		}
		if off < 1e-5 {
			return true
		}
	}
	return false
}

// Under any roof what is left of layers is inside their rectangle and clear of the ceiling through all their
// depth, and misses nothing that would be clear and high enough: its area is that of narrow strips, each
// as high as the ceiling allows it.
func TestTrimmedFaceUnderAnyRoof(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		r := Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.5}}
		height := rapid.Float64Range(0, 2.4)
		r.Slopes = ridge(r.Size, height.Draw(t, "eaves"), 2.5)
		if rapid.Bool().Draw(t, "hip") {
			r.Slopes = append(r.Slopes, Slope{Through: [3]r3.Vec{{Z: 0.5}, {Y: 3, Z: 1.2}, {X: 1.1, Z: height.Draw(t, "hip's height") + 0.3}}})
		}
		f := Face(rapid.IntRange(0, 3).Draw(t, "wall"))
		piece := onWall(f, rapid.Float64Range(0, 2).Draw(t, "along"), rapid.Float64Range(0, 2).Draw(t, "up"),
			rapid.Float64Range(0.2, 1).Draw(t, "width"), rapid.Float64Range(0.2, 2).Draw(t, "height"), rapid.Float64Range(0.02, 0.4).Draw(t, "depth"))
		p, face := piece.Patch, r.TrimmedFace(&piece)
		if !r.Trimmed(&piece) {
			if a := face.Area(); math.Abs(a-p.Area()) > 1e-9 {
				t.Fatalf("%g m² of %g are left though nothing is cut", a, p.Area())
			}
			return
		}
		clear := func(along float64) float64 { // height up to which a strip is clear, seen at its far and near side
			top := p.Up + p.Height
			for _, depth := range []float64{0, piece.Depth() / 2, piece.Depth()} {
				s := r.stretchAt(Patch{Face: f, Along: along}, r.side(f))
				at := r2.Add(s.From, r2.Scale(depth, s.Inward))
				for _, slope := range r.Slopes {
					height, rise := slope.Plane()
					top = min(top, height+r2.Dot(rise, at)-SlopeClearance*math.Sqrt(1+r2.Norm2(rise)))
				}
			}
			return top
		}
		for _, v := range face {
			if v.X < p.Along-1e-9 || v.X > p.Along+p.Width+1e-9 || v.Y < p.Up-1e-9 || v.Y > clear(v.X)+1e-5 {
				t.Fatalf("%v is outside %+v or above %g m", v, p, clear(v.X))
			}
		}
		const strips = 4000
		var area, wide float64
		for i := range strips {
			if up := clear(p.Along+p.Width*(float64(i)+0.5)/strips) - p.Up; up >= LeastTrimmed {
				area += up * p.Width / strips
				wide += p.Width / strips
			}
		}
		if wide < LeastTrimmed+0.001 && face == nil {
			return
		}
		if math.Abs(face.Area()-area) > 0.002 {
			t.Fatalf("%g m² are left, want %g: %v", face.Area(), area, face)
		}
	})
}

// A room that is turned trims its layers to the same area.
func TestTrimmedFaceTurns(t *testing.T) {
	t.Parallel()
	p := sound()
	p.Room.Slopes = []Slope{rising(p.Room.Size, 1.4, 2.45)}
	p.Room.Treatments = []Treatment{onWall(Back, 0.3, 0, 2, 2.45, 0.2), onWall(Right, 0.3, 0, 2, 2.45, 0.2)}
	for _, f := range []Face{Left, Back, Right} {
		q := p.Facing(f)
		for i := range q.Room.Treatments {
			was, is := p.Room.TrimmedFace(&p.Room.Treatments[i]).Area(), q.Room.TrimmedFace(&q.Room.Treatments[i]).Area()
			if math.Abs(was-is) > 1e-9 || was > 0.99*p.Room.Treatments[i].Patch.Area() {
				t.Errorf("facing the %s: %g m², was %g", f.Wall(), is, was)
			}
		}
	}
}

// A rectangle to the ceiling ends where that is highest over it, to the millimetre below.
func TestToCeiling(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4.5, Y: 3.4, Z: 2.45}
	roof := Room{Size: size, Slopes: ridge(size, 1.3, 2.45)}
	for _, c := range []struct {
		p    Patch
		want float64
	}{
		{Patch{Face: Back, Width: 3.4, Height: 2.45}, 2.45},
		{Patch{Face: Back, Up: 0.2, Width: 1, Height: 2.25}, 1.776}, // 1.3 m + 1.15/1.7 of 1 m - 0.2 m
		{Patch{Face: Left, Width: 2, Height: 2.45}, 1.3},
		{Patch{Face: Left, Width: 2, Height: 1}, 1},
		{Patch{Face: Ceiling, Width: 2, Height: 3}, 3},
	} {
		if got := roof.ToCeiling(c.p); math.Abs(got.Height-c.want) > 1e-9 {
			t.Errorf("%+v: %g m high, want %g", c.p, got.Height, c.want)
		}
	}
}

// Layers of which a slope leaves next to nothing are refused, with the sill that helps if there is one.
func TestSliversAreRefused(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, want string
		t          Treatment
	}{
		{"gable", "write sill: 1.78 m or less, or move it to where the slope is higher", onWall(Back, 0, 2, 0.6, 0.4, 0.2)}, // 10 cm wide from 1.9 m - 14 mm down
		{"low side", "must end inside the left wall, which is 1.4 m there: 1.5 m + 0.5 m is 2 m", onWall(Left, 0, 1.5, 2, 0.5, 0.2)},
		{"tip", "", onWall(Back, 0, 1.7, 0.6, 0.7, 0.2)},
	} {
		p := sound()
		p.Room.Openings, p.Room.Blocks = nil, nil
		p.Room.Slopes = []Slope{{Through: [3]r3.Vec{{Z: 1.4}, {X: 1, Z: 1.4}, {Y: 1, Z: 2.4}}}}
		p.Room.Treatments = []Treatment{c.t}
		var found []string
		for _, q := range p.Validate() {
			if strings.HasPrefix(q.Path, "treatments[0]") {
				found = append(found, q.Text)
			}
		}
		if c.want == "" && found != nil || c.want != "" && (len(found) != 1 || !strings.Contains(found[0], c.want)) {
			t.Errorf("%s: %q, want %q", c.name, found, c.want)
		}
	}
}

func ExampleRoom_TrimmedFace() {
	size := r3.Vec{X: 4, Y: 3, Z: 2.5}
	r := Room{Size: size, Slopes: []Slope{{Through: [3]r3.Vec{{Z: 1}, {X: 4, Z: 1}, {Y: 1.2, Z: 1.9}}}}} // 3 up, 4 across
	t := Treatment{Patch: Patch{Face: Back, Along: 0.4, Width: 0.8, Height: 2.5}, Layers: []Layer{{Kind: PorousLayer, Thickness: 0.2}}}
	for _, v := range r.TrimmedFace(&t) {
		fmt.Printf("%.2f m from the left wall, %.4f m high\n", v.X, v.Y)
	}
	// Output:
	// 0.40 m from the left wall, 0.0000 m high
	// 1.20 m from the left wall, 0.0000 m high
	// 1.20 m from the left wall, 1.8875 m high
	// 0.40 m from the left wall, 1.2875 m high
}
