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

// A sofa under a seat that may move is named, by where the seat is or by what it is on; one elsewhere, or under a seat
// that stays, is not.
func TestFurnitureThatStays(t *testing.T) {
	sofa := Block{Name: "settee", Min: r3.Vec{X: 2.6, Y: 0.7}, Max: r3.Vec{X: 3.5, Y: 2.7, Z: 0.85}, Furniture: Furniture{Kind: Sofa, Item: 2}}
	moves := []Zone{{X: Range{Min: 2.5, Max: 3.2}}}
	for _, c := range []struct {
		name string
		seat Seat
		want bool
	}{
		{"on it", Seat{Placed: true, At: r3.Vec{X: 2.9, Y: 1.7, Z: 1}, Zones: moves}, true},
		{"beside it", Seat{Placed: true, At: r3.Vec{X: 2.3, Y: 1.7, Z: 1}, Zones: moves}, false},
		{"on it by name", Seat{Placed: true, At: r3.Vec{X: 2.3, Y: 1.7, Z: 1}, Zones: moves, On: "settee"}, true},
		{"on it and staying", Seat{Placed: true, At: r3.Vec{X: 2.9, Y: 1.7, Z: 1}}, false},
		{"nowhere yet", Seat{Zones: moves, On: "settee"}, false},
	} {
		p := Project{Seats: []Seat{c.seat}}
		p.Furnish(Furnishing{Block: sofa})
		want := FurnitureStays{Name: "settee", Path: "furniture[1]"}
		if got := slices.Contains(p.FindWarnings(), Warning(want)); got != c.want {
			t.Errorf("%s: warned %v", c.name, got)
		}
	}
}
