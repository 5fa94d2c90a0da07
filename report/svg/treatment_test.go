package svg

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
)

// The space of a piece lies in the room, touches its own wall, and is as large as
// its area times its depth.
func TestPatchBlock(t *testing.T) {
	size := r3.Vec{X: 5, Y: 3, Z: 2.4}
	room := &model.Room{Size: size}
	rapid.Check(t, func(t *rapid.T) {
		face := rapid.SampledFrom(model.Faces[:]).Draw(t, "face")
		along, up := room.Extent(face)
		p := model.Patch{Face: face, Along: rapid.Float64Range(0, along/2).Draw(t, "along"), Up: rapid.Float64Range(0, up/2).Draw(t, "up")}
		p.Width = rapid.Float64Range(0.1, along/2).Draw(t, "width")
		p.Height = rapid.Float64Range(0.1, up/2).Draw(t, "height")
		depth := rapid.Float64Range(0.02, 0.6).Draw(t, "depth")
		b := patchBlock(p, depth, size)
		s := r3.Sub(b.Max, b.Min)
		if got, want := s.X*s.Y*s.Z, p.Area()*depth; math.Abs(got-want) > 1e-9 {
			t.Fatalf("%v holds %v m³, want %v", b, got, want)
		}
		if !(model.Block{Max: size}).Contains(b.Min) || b.Max.X > size.X+1e-9 || b.Max.Y > size.Y+1e-9 || b.Max.Z > size.Z+1e-9 {
			t.Fatalf("%v is not in the room", b)
		}
		wall := [6]float64{b.Min.X, size.X - b.Max.X, b.Min.Y, size.Y - b.Max.Y, b.Min.Z, size.Z - b.Max.Z}[face]
		if math.Abs(wall) > 1e-9 {
			t.Fatalf("%v is %v m off the %v", b, wall, face.Wall())
		}
	})
	whole := patchBlock(model.Patch{Face: model.Back}, 0.2, size)
	if whole.Min != (r3.Vec{X: 4.8}) || whole.Max != size {
		t.Errorf("the whole back wall is %v", whole)
	}
}

// Seen from the side, layers on a wall along the room end at the slope that trims them: the drawing has a corner
// there, by hand 1 m and 1.6 m along, at 1.5 m and 2.1 m less 14 mm above the floor.
func TestTrimmedFromTheSide(t *testing.T) {
	p := &model.Project{Room: model.Room{
		Size:   r3.Vec{X: 5, Y: 3, Z: 2.4},
		Slopes: []model.Slope{{Through: [3]r3.Vec{{Z: 0.5}, {Y: 3, Z: 0.5}, {X: 1, Z: 1.5}}}}, // 45 degrees from the front wall
		Treatments: []model.Treatment{{
			Name: "layer", Patch: model.Patch{Face: model.Left, Along: 1, Width: 0.6, Height: 2.4},
			Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1}},
		}},
	}}
	v := View{Origin: XY(0, 300), Scale: 100, Side: true}
	d := &Drawing{}
	d.Treatments(p, v)
	var path string
	for _, s := range d.Shapes {
		if s.Kind == "path" {
			path = s.D
		}
	}
	clear := 0.01 * math.Sqrt2
	low, high := v.At(r3.Vec{X: 1, Z: 1.5 - clear}), v.At(r3.Vec{X: 1.6, Z: 2.1 - clear})
	for _, at := range []Point{low, high} {
		if words := Px(at.X).String() + " " + Px(at.Y).String(); !strings.Contains(path, words) {
			t.Errorf("the outline %q has no corner at %s", path, words)
		}
	}
}
