package model

import (
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Each kind has a word, a clause that says what it does and a source; what is stuffed has a filling.
func TestFurnitureKindsAreComplete(t *testing.T) {
	seen := map[string]bool{}
	for _, r := range FurnitureKinds() {
		if r.Word == "" || seen[r.Word] || r.Does == "" || r.Source == "" || r.Kind.String() != r.Word {
			t.Errorf("%v: %+v", r.Kind, r)
		}
		seen[r.Word] = true
		if stuffed := r.Effect == Stuffed; stuffed != (r.Filling.Resistivity > 0) {
			t.Errorf("%s: effect %v with filling %+v", r.Word, r.Effect, r.Filling)
		}
	}
}

// Furniture becomes a solid, a treatment that stands or a box that is kept clear, and is found again in its order.
func TestFurnishAndFind(t *testing.T) {
	var p Project
	at := Block{Min: r3.Vec{X: 1, Y: 1}, Max: r3.Vec{X: 3, Y: 1.9, Z: 0.8}}
	kinds := []FurnitureKind{Curtain, Sofa, Cupboard, Screen, Rug}
	for i, k := range kinds {
		b := at
		b.Furniture = Furniture{Kind: k, Item: i + 1}
		p.Furnish(Furnishing{Block: b})
	}
	if len(p.Room.Blocks) != 1 || len(p.Room.Treatments) != 2 || len(p.KeepClear) != 2 {
		t.Fatalf("%d solids, %d treatments, %d kept clear", len(p.Room.Blocks), len(p.Room.Treatments), len(p.KeepClear))
	}
	var found []FurnitureKind
	for _, f := range p.Furnishings() {
		found = append(found, f.Kind)
		if f.Name != f.Kind.String() || f.Filling.Kind != 0 && !f.Usual() {
			t.Errorf("%v is called %q, filled with %+v", f.Kind, f.Name, f.Filling)
		}
	}
	if !slices.Equal(found, kinds) {
		t.Errorf("found %v, want %v", found, kinds)
	}
	sofa, screen := &p.Room.Treatments[0], &p.Room.Treatments[1]
	if got := sofa.Filled(); got.Max.Z != 0.15 || got.Min != at.Min || got.Max.X != at.Max.X {
		t.Errorf("a sofa's cushion is %v", got)
	}
	if got := screen.Filled(); got.Max != at.Max || screen.Depth() != 0.8 {
		t.Errorf("a screen is filled in %v, %v m deep", got, screen.Depth())
	}
	if _, lacks := sofa.Missing(); lacks {
		t.Error("a sofa is to be built")
	}
	for b := range p.Obstacles() {
		if b.Kind == Rug {
			t.Error("a rug is in the way")
		}
	}
}
