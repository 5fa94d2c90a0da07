package svg

import (
	"math"
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
