package surface

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
)

// A box leaves out what does not cover a wall, and whatever makes the room no box; it
// says so.
func TestBoxOfARoomThatIsNone(t *testing.T) {
	t.Parallel()
	wool := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000}}
	room := model.Room{
		Size:    r3.Vec{X: 4, Y: 3, Z: 2.4},
		Outline: model.Polygon{{}, {X: 4}, {X: 4, Y: 2}, {X: 3, Y: 3}, {Y: 3}},
		Treatments: []model.Treatment{
			{Name: "cloud", Form: model.UnderCeiling, Layers: wool},
			{Form: model.InCorner, Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.3, To: 2.4}, Layers: wool},
			{Name: "slab", Patch: model.Patch{Face: model.Back, Width: 1, Height: 1}, Layers: wool},
		},
	}
	bare := room
	bare.Treatments = nil
	with, warnings, err := Box(&room, material.Typical)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []model.Warning{
		model.Simplified{How: model.FreeOmitted, Names: "cloud and treatment where front wall and left wall meet"},
		model.Remark("this engine models plain boxes only: the room is replaced by the box around it"),
		model.Simplified{How: model.TreatmentsSpread, Names: "slab"},
	} {
		if !slices.Contains(warnings, want) {
			t.Errorf("%v is not said in %v", want, warnings)
		}
	}
	without, _, err := Box(&bare, material.Typical)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range model.Faces {
		same := with.Admittance(f, 100) == without.Admittance(f, 100)
		if same == (f == model.Back) {
			t.Errorf("the %s: changed %v by the slab on the back wall", f, !same)
		}
	}
}

// A surface is taken by itself as it is in a box, with the same doubts.
func TestSurfaces(t *testing.T) {
	t.Parallel()
	s := NewResolver(material.Typical)
	wall, err := s.Boundary("back wall", model.Surface{Construction: "plasterboard on studs"})
	if err != nil {
		t.Fatal(err)
	}
	room := model.Room{}
	room.Size.X, room.Size.Y, room.Size.Z = 4, 3, 2.4
	room.Walls[model.Back] = model.Surface{Construction: "plasterboard on studs"}
	box, _, err := Box(&room, material.Typical)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := wall.Admittance(80), box.Walls[model.Back].Admittance(80); got != want {
		t.Errorf("β %v, in a box %v", got, want)
	}
	hole, err := s.Opening(model.Opening{Kind: "hole", Name: "arch"})
	if err != nil || real(hole.Admittance(80)) < 0.2 {
		t.Errorf("a hole is %v, %v", hole, err)
	}
	if len(s.Warnings()) == 0 {
		t.Error("no doubts about a light wall")
	}
	if _, err := s.Boundary("front wall", model.Surface{Construction: "reed"}); err == nil {
		t.Error("a wall of reed was taken")
	}
}
