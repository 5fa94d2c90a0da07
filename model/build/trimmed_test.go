package build

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
)

// roofed gives the example a ridge over its middle line, of the height of its room, and layers alone.
func roofed(eaves float64, layers ...model.Treatment) func(*model.Project) {
	return func(p *model.Project) {
		r := &p.Room
		half := r.Size.Y / 2
		r.Slopes = []model.Slope{
			{Through: [3]r3.Vec{{Z: eaves}, {X: 1, Z: eaves}, {Y: half, Z: r.Size.Z}}},
			{Through: [3]r3.Vec{{Y: r.Size.Y, Z: eaves}, {X: 1, Y: r.Size.Y, Z: eaves}, {Y: half, Z: r.Size.Z}}},
		}
		r.Treatments = layers
	}
}

// layer is wool of 200 mm on a rectangle of a wall.
func layer(f model.Face, along, up, width, height float64) model.Treatment {
	return model.Treatment{
		Name: "layer", Patch: model.Patch{Face: f, Along: along, Up: up, Width: width, Height: height},
		Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000}},
	}
}

// Whatever the roof, the pieces of a wall together are the face that the slopes leave, each below them, and
// their wool is as much as their faces hold.
func TestTrimmedPiecesCoverTheFace(whole *testing.T) {
	whole.Parallel()
	rapid.Check(whole, func(t *rapid.T) {
		l := layer(model.Face(rapid.IntRange(0, 3).Draw(t, "wall")), rapid.Float64Range(0, 1).Draw(t, "along"), 0,
			rapid.Float64Range(0.6, 2.4).Draw(t, "width"), rapid.Float64Range(0.5, 2.4).Draw(t, "height"))
		eaves := rapid.Float64Range(0.3, 2.2).Draw(t, "eaves")
		project := testProject(whole, roofed(eaves, l))
		face := project.Room.TrimmedFace(&l)
		if face == nil {
			return
		}
		plan, err := Make(project)
		if err != nil {
			t.Fatal(err)
		}
		var area, wool float64
		for _, p := range plan.Pieces {
			area += p.Area()
			for _, v := range p.Outline {
				if v.X < -slack || v.Y < -slack || v.X > p.Width+slack || v.Y > p.Height+slack {
					t.Fatalf("%v is outside %g by %g m", v, p.Width, p.Height)
				}
			}
			if p.Outline == nil && p.Space.Max.Z > project.Room.CeilingOver(p.Space)+1e-5 {
				t.Fatalf("piece %d is a rectangle up to %g m, above the ceiling", p.Number, p.Space.Max.Z)
			}
		}
		x, y := face.Bounds() // a strip of 2 cm goes with no piece
		if lost := face.Area() - area; lost < -slack || lost > squeeze*(x.Max-x.Min+y.Max-y.Min)+slack {
			t.Fatalf("the pieces are %g m², the face %g", area, face.Area())
		}
		for _, b := range plan.Batts {
			for _, s := range b.Shapes {
				wool += s.Area() * b.Batt.Layer.Thickness
			}
			checkNesting(t, b.Shapes, b.Nesting, b.Batt.Length, b.Batt.Width)
		}
		if off := wool/(0.2*area) - 1; off < -0.02 || off > 0.08 { // batts are pressed in up to 2 cm of their sides
			t.Fatalf("%g m³ of wool for %g m² of pieces", wool, area)
		}
	})
}

// By hand, with sides of 3, 4 and 5: a slope of 3 in 4 over 0.8 m, battens 2 cm thick.
func TestMitredFrames(t *testing.T) {
	t.Parallel()
	theta := math.Atan(0.75)
	bar := func(name string, length, from, to float64) Member {
		return Member{Name: name, Length: length, Ends: [2]float64{from, to}}
	}
	for _, c := range []struct {
		name    string
		outline model.Polygon
		want    []Member
	}{
		{"quadrilateral", model.Polygon{{}, {X: 0.8}, {X: 0.8, Y: 1.1}, {Y: 0.5}}, []Member{
			bar("rail", 0.76, 0, 0),
			bar("upright", 1.1, 0, theta),             // its outer side is the longer
			bar("sloped rail", 0.965, theta, theta),   // 0.76/0.8 + 0.02·0.75
			bar("upright", 0.5+0.02*0.75, theta, 0)}}, // its inner side is the longer
		{"ridge", model.Polygon{{}, {X: 0.8}, {X: 0.8, Y: 0.5}, {X: 0.4, Y: 0.8}, {Y: 0.5}}, []Member{
			bar("rail", 0.76, 0, 0), bar("upright", 0.515, 0, theta),
			bar("sloped rail", 0.49, theta, theta), bar("sloped rail", 0.49, theta, theta), // 0.5 - 0.02/0.8 + 0.02·0.75
			bar("upright", 0.515, theta, 0)}},
		{"corner cut off", model.Polygon{{}, {X: 0.8}, {X: 0.8, Y: 0.8}, {X: 0.4, Y: 0.8}, {Y: 0.5}}, []Member{
			bar("rail", 0.76, 0, 0), bar("upright", 0.8, 0, 0),
			bar("rail", 0.38, 0, theta/2), bar("sloped rail", 0.49, theta/2, theta),
			bar("upright", 0.515, theta, 0)}},
		{"steep, 4 in 3", model.Polygon{{}, {X: 0.3}, {X: 0.3, Y: 0.9}, {Y: 0.5}}, []Member{
			bar("rail", 0.26, 0, 0), bar("upright", 0.9, 0, math.Pi/2-theta),
			bar("sloped rail", 0.5-0.02/0.6, math.Pi/2-theta, theta/2), // from the mitre to the upright's inner face
			bar("upright", 0.5, theta/2, 0)}},
	} {
		got := mitred(c.outline, 0.02)
		if len(got) != len(c.want) {
			t.Errorf("%s: %d parts, want %d", c.name, len(got), len(c.want))
			continue
		}
		for i, m := range got {
			w := c.want[i]
			if off := math.Abs(m.Length-w.Length) + math.Abs(m.Ends[0]-w.Ends[0]) + math.Abs(m.Ends[1]-w.Ends[1]); m.Name != w.Name || off > 1e-9 {
				t.Errorf("%s, part %d: %+v, want %+v", c.name, i, m, w)
			}
		}
	}
}

// Two parts that one slanting cut parts share a batt: 0.4 and 0.8 m high they are 1.2 m together. A mirrored
// one is turned over; one with another rise has a batt of its own, and leaves a wedge.
func TestSlantsShareABatt(t *testing.T) {
	t.Parallel()
	up := Shape{Width: 0.6, Height: 0.8, Outline: model.Polygon{{}, {X: 0.6}, {X: 0.6, Y: 0.8}, {Y: 0.4}}}
	down := Shape{Width: 0.6, Height: 0.8, Outline: model.Polygon{{}, {X: 0.6}, {X: 0.6, Y: 0.4}, {Y: 0.8}}}
	steep := Shape{Width: 0.6, Height: 0.8, Outline: model.Polygon{{}, {X: 0.6}, {X: 0.6, Y: 0.8}, {Y: 0.3}}}
	for _, c := range []struct {
		name           string
		shapes         []Shape
		sheets, wedges int
	}{
		{"alike", []Shape{up, up}, 1, 0},
		{"mirrored", []Shape{up, down}, 1, 0},
		{"three", []Shape{up, down, up}, 2, 1},
		{"other rise", []Shape{up, steep}, 2, 2},
	} {
		n, err := Nest(c.shapes, 1.2, 0.6, 0)
		if err != nil {
			t.Fatal(err)
		}
		checkNesting(t, c.shapes, n, 1.2, 0.6)
		wedges := 0
		for _, s := range n.Sheets {
			wedges += len(s.Wedges)
			for _, w := range s.Wedges {
				if slices.ContainsFunc(s.Places, func(p Place) bool { return overlap(p.Corners, w) }) {
					t.Errorf("%s: a wedge lies on a part", c.name)
				}
			}
		}
		if len(n.Sheets) != c.sheets || wedges != c.wedges {
			t.Errorf("%s: %d batts with %d wedges, want %d with %d", c.name, len(n.Sheets), wedges, c.sheets, c.wedges)
		}
	}
}

// On a sloped ceiling pieces are as long as the slope. With sides of 3, 4 and 5, 0.8 m of plan are 1 m;
// where two planes meet in a ridge, layers of 0.2 m end 0.2·3/4 m short of it, and at a level ceiling, where
// the bend is 2·atan(1/3), 0.2/3 m.
func TestPiecesOnASlopedCeiling(t *testing.T) {
	t.Parallel()
	const gone = 0.2 * 0.75
	ridge := func(along, up, width, height float64) func(*model.Project) {
		return func(p *model.Project) {
			p.Room.Size.Y, p.Room.Size.Z = 3.2, 2.4
			roofed(1.2, layer(model.Ceiling, along, up, width, height))(p)
		}
	}
	flat := func(p *model.Project) {
		ridge(1, 0.4, 0.6, 1.6)(p)
		p.Room.Size.Z = 2.1 // level from 1.2 m on; the ridge is cut off
		p.Room.Slopes = p.Room.Slopes[:1]
	}
	for _, c := range []struct {
		name    string
		change  func(*model.Project)
		lengths []float64
	}{
		{"one plane", ridge(1, 0.2, 0.6, 0.8), []float64{1}},
		{"past the ridge", ridge(1, 1.2, 0.6, 0.8), []float64{0.5 - gone, 0.5 - gone}},
		{"past the knee", flat, []float64{1 - 0.2/3, 0.8 - 0.2/3}},
	} {
		project := testProject(t, c.change)
		plan, err := Make(project)
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Pieces) != len(c.lengths) {
			t.Errorf("%s: %d pieces, want %d", c.name, len(plan.Pieces), len(c.lengths))
			continue
		}
		for i, p := range plan.Pieces {
			if p.Kind != CeilingPiece || p.Persons != 2 || p.Outline != nil || math.Abs(p.Height-c.lengths[i]) > 1e-6 || math.Abs(p.Width-0.6) > 1e-9 {
				t.Errorf("%s: %+v, want a ceiling panel of 0.6 by %g m for two people", c.name, p, c.lengths[i])
			}
			middle := r2.Vec{X: (p.Space.Min.X + p.Space.Max.X) / 2, Y: (p.Space.Min.Y + p.Space.Max.Y) / 2}
			if top := project.Room.CeilingAt(middle); p.Space.Min.Z > top-0.2 || p.Space.Max.Z < top {
				t.Errorf("%s: it stands in %v, the ceiling is at %g m", c.name, p.Space, top)
			}
		}
	}
}

// A piece that ends a centimetre below a slope cannot be lifted onto a hook.
func TestTrimmedPiecesAreHeldByAngles(t *testing.T) {
	t.Parallel()
	plan, err := Make(testProject(t, roofed(1.3, layer(model.Back, 0, 0, 1.2, 2.4))))
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range plan.Pieces {
		hooked := slices.ContainsFunc(p.Fixings, func(f Fixing) bool { return f.Text == "hook with a plug or screw that suits the wall" })
		if hooked == (p.Outline != nil) {
			t.Errorf("piece %d with outline %v is held by %v", p.Number, p.Outline, p.Fixings)
		}
	}
	if !told(plan, "cut along the slope") {
		t.Errorf("notes %v do not say that it is cut", plan.Notes)
	}
}

// Planes that rise aslant, and meet, are covered too: the pieces lie within their faces and leave out strips alone
// that no frame is made for, and their wool fits the batts.
func TestPiecesOnOddCeilings(whole *testing.T) {
	whole.Parallel()
	rapid.Check(whole, func(t *rapid.T) {
		height := rapid.Float64Range(1.4, 2.2)
		l := layer(model.Ceiling, rapid.Float64Range(0, 2).Draw(t, "along"), rapid.Float64Range(0, 1.5).Draw(t, "up"),
			rapid.Float64Range(0.5, 2).Draw(t, "width"), rapid.Float64Range(0.5, 1.5).Draw(t, "height"))
		project := testProject(whole, func(p *model.Project) {
			roofed(height.Draw(t, "eaves"), l)(p)
			p.Room.Slopes = append(p.Room.Slopes, model.Slope{Through: [3]r3.Vec{{Z: height.Draw(t, "left")}, {Y: 3, Z: height.Draw(t, "right")}, {X: 1.5, Z: 2.4}}})
		})
		plan, err := Make(project)
		if err != nil {
			t.Fatal(err)
		}
		var area float64
		for _, p := range plan.Pieces {
			area += p.Area()
			if p.Outline != nil && (p.Area() > p.Width*p.Height+slack || p.Area() <= 0) {
				t.Fatalf("a piece of %g m² in %g by %g m", p.Area(), p.Width, p.Height)
			}
			for _, v := range []r2.Vec{{X: p.Space.Min.X, Y: p.Space.Min.Y}, {X: p.Space.Max.X, Y: p.Space.Max.Y}} {
				if v.X < -slack || v.Y < -slack || v.X > project.Room.Size.X+slack || v.Y > project.Room.Size.Y+slack {
					t.Fatalf("piece %d stands in %v, outside the room", p.Number, p.Space)
				}
			}
		}
		if faces := project.Room.FaceArea(&l); area > faces+slack || area < 0.9*faces-0.1 {
			t.Fatalf("the pieces are %g m², the faces %g", area, faces)
		}
		for _, b := range plan.Batts {
			checkNesting(t, b.Shapes, b.Nesting, b.Batt.Length, b.Batt.Width)
		}
		for _, m := range plan.Timber.Members {
			if !(m.Length > 0 && m.Length < 6 && m.Ends[0] < sharpest+slack && m.Ends[1] < sharpest+slack) {
				t.Fatalf("a part of a frame is %+v", m)
			}
		}
	})
}
