package place

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/reporttest"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// shapesOf returns the shapes of a class in a drawing.
func shapesOf(d *svg.Drawing, class string) []svg.Shape {
	var list []svg.Shape
	for _, s := range d.Shapes {
		if s.Class == class {
			list = append(list, s)
		}
	}
	return list
}

// pathCorners counts the corners of a path.
func pathCorners(path string) int { return strings.Count(path, "M") + strings.Count(path, "L") }

// The walls follow the outline on the plan, and the section through the seat from the
// side.
func TestOutlineDrawn(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	size := in.Project.Room.Size
	seat := in.best().Layout.Seat
	notch := r3.Vec{X: seat.X + 0.6, Y: seat.Y - 0.4} // the room ends 0.6 m behind the head
	in.Project.Room.Outline = model.Polygon{{}, {X: size.X}, {X: size.X, Y: notch.Y}, {X: notch.X, Y: notch.Y}, {X: notch.X, Y: size.Y}, {Y: size.Y}}
	plan := newPlan(&in, svg.Wide)
	walls := shapesOf(plan, "wall")
	if len(walls) != 1 || walls[0].Kind != "path" || pathCorners(walls[0].D) != 6 {
		t.Fatalf("walls on the plan %+v, want one path of six corners", walls)
	}
	v := svg.View{Origin: svg.XY(svg.MarginSide, svg.MarginTop), Scale: min(svg.RoomWidth/size.Y, svg.PlanHeight/size.X)}
	at := v.At(notch)
	if want := fmt.Sprintf("L %v %v", svg.Px(at.X), svg.Px(at.Y)); !strings.Contains(walls[0].D, want) {
		t.Errorf("the notch's corner %q is not in %q", want, walls[0].D)
	}
	side := shapesOf(newSide(&in, svg.Wide), "wall")
	scale := min(svg.RoomWidth/size.X, svg.SideHeight/size.Z)
	if want := fmt.Sprintf(" %v ", svg.Px(svg.MarginSide+notch.X*scale)); len(side) != 1 || !strings.Contains(side[0].D, want) {
		t.Errorf("from the side the walls %+v do not end at %s", side, want)
	}
}

// A sloped ceiling shows as folds on the plan and as a bent line from the side, and the
// note says how low it comes.
func TestSlopeDrawn(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	size := in.Project.Room.Size
	in.Project.Room.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 1.2}, {Y: size.Y, Z: 1.2}, {X: 2, Z: size.Z}}}}
	if folds := shapesOf(newPlan(&in, svg.Wide), "fold"); len(folds) != 2 {
		t.Errorf("%d parts of the ceiling on the plan, want the slope and the flat part", len(folds))
	}
	low := 0
	for _, s := range shapesOf(newPlan(&in, svg.Wide), "othertext") {
		if s.Text == "120 cm high" {
			low++
		}
	}
	if low != 2 {
		t.Errorf("%d low corners say how high they are, want both at the front", low)
	}
	side := shapesOf(newSide(&in, svg.Wide), "wall")
	if len(side) != 1 || pathCorners(side[0].D) != 5 { // floor, low end, fold, high end, floor
		t.Errorf("walls from the side %+v, want five corners", side)
	}
	note := drawingNote(&in)
	for _, want := range []string{"folds of the ceiling, which is " + in.Style.Length(1.2), "cut through the seat"} {
		if !strings.Contains(note, want) {
			t.Errorf("%q is not in the note %q", want, note)
		}
	}
	if text := assumed(&in); !strings.Contains(text, "drawn shape") {
		t.Errorf("assumed is %q", text)
	}
}

// A box is drawn and described as before: no folds, no word of its shape.
func TestBoxDrawnPlainly(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	for _, d := range []*svg.Drawing{newPlan(&in, svg.Wide), newSide(&in, svg.Wide)} {
		if walls := shapesOf(d, "wall"); len(walls) != 1 || walls[0].Kind != "rect" || len(shapesOf(d, "fold")) > 0 {
			t.Errorf("%s: walls %+v", d.ID, walls)
		}
	}
	if note := svg.ShapeNote(&in.Project.Room, unit.Metric); note != "" {
		t.Errorf("note %q", note)
	}
}

// A triangular fill is a triangle in the view along its edge, with its right angle in
// the corner, and a rectangle in the other.
func TestCornerDrawn(t *testing.T) {
	for _, c := range []struct {
		walls  [2]model.Face
		id     string
		corner r3.Vec // of the room, where the right angle is
	}{
		{[2]model.Face{model.Front, model.Left}, "plan", r3.Vec{}},
		{[2]model.Face{model.Back, model.Right}, "plan", r3.Vec{X: 1, Y: 1}},
		{[2]model.Face{model.Front, model.Right}, "plan", r3.Vec{Y: 1}},
		{[2]model.Face{model.Back, model.Ceiling}, "side", r3.Vec{X: 1, Z: 1}},
		{[2]model.Face{model.Floor, model.Front}, "side", r3.Vec{}},
	} {
		in := fixtureInput(reporttest.CoarseGrid())
		size := in.Project.Room.Size
		fill := model.Corner{Walls: c.walls, Leg: 0.4}
		fill.To = [3]float64{size.X, size.Y, size.Z}[fill.Axis()]
		in.Project.Room.Treatments = []model.Treatment{{Name: "fill", Form: model.InCorner, Corner: fill, Layers: []model.Layer{{Kind: model.PorousLayer}}}}
		for _, d := range []*svg.Drawing{newPlan(&in, svg.Wide), newSide(&in, svg.Wide)} {
			pieces := shapesOf(d, "treatment")
			if len(pieces) != 1 {
				t.Fatalf("%v: %d pieces in the %s", c.walls, len(pieces), d.ID)
			}
			if d.ID != c.id {
				if pieces[0].Kind != "rect" {
					t.Errorf("%v: %+v in the %s, want a rectangle", c.walls, pieces[0], d.ID)
				}
				continue
			}
			v := svg.View{Origin: svg.XY(svg.MarginSide, svg.MarginTop), Scale: min(svg.RoomWidth/size.Y, svg.PlanHeight/size.X)}
			if c.id == "side" {
				scale := min(svg.RoomWidth/size.X, svg.SideHeight/size.Z)
				v = svg.View{Origin: svg.XY(svg.MarginSide, 42+size.Z*scale), Scale: scale, Side: true}
			}
			at := v.At(r3.Vec{X: c.corner.X * size.X, Y: c.corner.Y * size.Y, Z: c.corner.Z * size.Z})
			if want := fmt.Sprintf("M %v %v", svg.Px(at.X), svg.Px(at.Y)); pathCorners(pieces[0].D) != 3 || !strings.HasPrefix(pieces[0].D, want) {
				t.Errorf("%v: %q in the %s, want a triangle from %q", c.walls, pieces[0].D, d.ID, want)
			}
		}
	}
}

func TestTrustSaysWhy(t *testing.T) {
	if got := text.Trust(model.EngineInfo{Kind: model.WaveEngine}, "the room has an outline"); !strings.Contains(got, " The wave engine was chosen because the room has an outline.") {
		t.Errorf("trust %q", got)
	}
}

// A door in a wall that stands inside the bounding rectangle shows there on the plan, with
// its leaf, and from the side if it faces like a side wall; the key says which wall it is
// in.
func TestInnerDoorDrawn(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	r := &in.Project.Room
	r.Openings = nil
	size := r.Size
	r.Outline = model.Polygon{{}, {X: size.X}, {X: size.X, Y: 1}, {X: size.X - 1, Y: 1}, {X: size.X - 1, Y: size.Y}, {Y: size.Y}}
	r.Edges = []model.Edge{2: {Name: "niche"}}
	for _, c := range []struct {
		o        model.Opening
		from, to r3.Vec
		key      string
		side     bool
	}{
		{
			model.Opening{Kind: "door", Swing: "inward", Patch: model.Patch{Face: model.Back, Along: 1.2, Width: 0.8, Height: 2}},
			r3.Vec{X: size.X - 1, Y: 1.2}, r3.Vec{X: size.X - 1, Y: 2}, "door in the back wall", false,
		},
		{
			model.Opening{Kind: "window", Name: "hatch", Edge: 3, Patch: model.Patch{Face: model.Right, Along: 0.1, Up: 1, Width: 0.5, Height: 0.7}},
			r3.Vec{X: size.X - 0.1, Y: 1}, r3.Vec{X: size.X - 0.6, Y: 1}, `hatch in the wall "niche"`, true,
		},
	} {
		r.Openings = []model.Opening{c.o}
		v := svg.View{Origin: svg.XY(svg.MarginSide, svg.MarginTop), Scale: min(svg.RoomWidth/size.Y, svg.PlanHeight/size.X)}
		plan, a, b := newPlan(&in, svg.Wide), v.At(c.from), v.At(c.to)
		drawn := shapesOf(plan, "opening "+c.o.Kind)
		if len(drawn) != 1 || drawn[0].X != svg.Px(a.X) || drawn[0].Y != svg.Px(a.Y) || drawn[0].X2 != svg.Px(b.X) || drawn[0].Y2 != svg.Px(b.Y) {
			t.Errorf("%s: %+v on the plan, want a line from %v to %v", c.key, drawn, a, b)
		}
		if leaves := len(shapesOf(plan, "leaf")); leaves == 1 != (c.o.Swing != "") {
			t.Errorf("%s: %d leaves", c.key, leaves)
		}
		told := func(d *svg.Drawing) bool {
			return strings.Contains(fmt.Sprint(d.Key), c.key)
		}
		if !told(plan) || told(newSide(&in, svg.Wide)) != c.side {
			t.Errorf("%s: told on the plan %v, from the side %v, want %v", c.key, told(plan), told(newSide(&in, svg.Wide)), c.side)
		}
	}
}

// A fill that follows a slope shows from the side as the section that it has.
func TestFillAlongASlopeDrawn(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	r := &in.Project.Room
	size := r.Size
	r.Slopes = []model.Slope{{Through: [3]r3.Vec{{Z: 1.2}, {Y: size.Y, Z: 1.2}, {X: 1, Z: 2.2}}}} // 45 degrees from the front wall
	fill := model.Corner{Walls: [2]model.Face{model.Front, model.Ceiling}, Leg: 0.5, To: size.Y}
	r.Treatments = []model.Treatment{{Name: "fill", Form: model.InCorner, Corner: fill, Layers: []model.Layer{{Kind: model.PorousLayer}}}}
	pieces := shapesOf(newSide(&in, svg.Wide), "treatment")
	scale := min(svg.RoomWidth/size.X, svg.SideHeight/size.Z)
	v := svg.View{Origin: svg.XY(svg.MarginSide, 42+size.Z*scale), Scale: scale, Side: true}
	want := ""
	for i, p := range []r3.Vec{{Z: 0.7}, {Z: 1.2}, {X: 0.35355339, Z: 1.55355339}} {
		at := v.At(p)
		want += fmt.Sprintf("%s %v %v", [2]string{"M", "L"}[min(i, 1)], svg.Px(at.X), svg.Px(at.Y))
	}
	if len(pieces) != 1 || pieces[0].D != want+"Z" {
		t.Errorf("%+v, want one path %q", pieces, want+"Z")
	}
}
