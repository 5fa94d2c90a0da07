package place

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/report/reporttest"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

func markupOf(t *testing.T, d *svg.Drawing) string {
	t.Helper()
	text, err := d.SVG()
	if err != nil {
		t.Fatal(err)
	}
	return string(text) + "\n"
}

func TestDrawingGoldens(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	reporttest.Golden(t, "plan.svg", markupOf(t, newPlan(&in, svg.Wide)))
	reporttest.Golden(t, "side.svg", markupOf(t, newSide(&in, svg.Wide)))
}

// The drawings are to scale: woofers and head stand where the layout says, read
// back from the marks by the room's own outline.
func TestDrawingsToScale(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	size, l := in.Project.Room.Size, in.best().Layout
	for _, d := range []*svg.Drawing{newPlan(&in, svg.Wide), newSide(&in, svg.Wide)} {
		var wall svg.Shape
		var dots []svg.Shape
		for _, s := range d.Shapes {
			switch s.Class {
			case "wall":
				wall = s
			case "mark":
				dots = append(dots, s)
			}
		}
		if len(dots) != 3 {
			t.Fatalf("%s: %d marks", d.ID, len(dots))
		}
		for i, at := range []r3.Vec{l.Left, l.Right, l.Seat} {
			want := [2]float64{at.Y / size.Y, at.X / size.X}
			if d.ID == "side" {
				want = [2]float64{at.X / size.X, 1 - at.Z/size.Z}
			}
			got := [2]float64{float64((dots[i].X - wall.X) / wall.X2), float64((dots[i].Y - wall.Y) / wall.Y2)}
			if math.Abs(got[0]-want[0]) > 1e-9 || math.Abs(got[1]-want[1]) > 1e-9 {
				t.Errorf("%s: mark %d stands at %v of the room, want %v", d.ID, i, got, want)
			}
		}
	}
}

// extent returns the space that a text takes.
func extent(s svg.Shape) svg.Rectangle {
	w, h := svg.TextWidth(s.Text), 11.0
	x, y := float64(s.X), float64(s.Y)
	along := -w / 2
	switch {
	case s.Left:
		along = 0
	case s.Right:
		along = -w
	}
	if s.Upright { // runs upwards
		return svg.RectAt(x-h/2, y-along-w, h, w)
	}
	return svg.RectAt(x+along, y-h/2, w, h)
}

// In any room and for any legal layout, no text of a drawing leaves it and no two
// tape distances cover one another.
func TestDrawingTexts(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	rapid.Check(t, func(t *rapid.T) {
		size := r3.Vec{
			X: rapid.Float64Range(2.2, 8).Draw(t, "length"), Y: rapid.Float64Range(2.0, 6).Draw(t, "width"),
			Z: rapid.Float64Range(2.0, 3.2).Draw(t, "height"),
		}
		x := rapid.Float64Range(0.3, size.X/2-0.4).Draw(t, "x")
		half := rapid.Float64Range(0.45, size.Y/2-0.25).Draw(t, "half")
		in.Style = rapid.SampledFrom([]unit.Style{unit.Metric, unit.Imperial, unit.Both}).Draw(t, "style")
		in.Project.Room.Size = size
		in.Result.Candidates[0].Layout = model.Layout{
			Left: r3.Vec{X: x, Y: size.Y/2 - half, Z: 1}, Right: r3.Vec{X: x, Y: size.Y/2 + half, Z: 1},
			Seat: r3.Vec{X: rapid.Float64Range(x+0.4, size.X-0.4).Draw(t, "seat"), Y: size.Y / 2, Z: 1.2},
		}
		for _, d := range []*svg.Drawing{newPlan(&in, svg.Wide), newSide(&in, svg.Wide)} {
			var tapes []svg.Shape
			for _, s := range d.Shapes {
				if s.Kind != "text" || s.Class != "dimtext" {
					continue
				}
				r := extent(s)
				if r.X < -1 || r.Y < -1 || r.X+r.W > float64(d.Width)+1 || r.Y+r.H > float64(d.Height)+1 {
					t.Fatalf("%s: %q leaves the drawing of %v x %v: %+v", d.ID, s.Text, d.Width, d.Height, r)
				}
				for _, o := range tapes {
					if r.Overlap(extent(o)) > 2 {
						t.Fatalf("%s: %q at %+v covers %q at %+v", d.ID, s.Text, r, o.Text, extent(o))
					}
				}
				tapes = append(tapes, s)
			}
		}
	})
}

// Letters and numbers cover neither one another nor a mark as long as there is
// room to dodge.
func TestLabelsDodge(t *testing.T) {
	d := &svg.Drawing{}
	about := svg.XY(100, 100)
	d.Keep(svg.RectAt(94, 94, 12, 12))
	for i := range 8 {
		d.Label("other", about, fmt.Sprint(i), svg.Around(10, 4))
	}
	for i, a := range d.Taken {
		for _, b := range d.Taken[:i] {
			if a.Overlap(b) > 0 {
				t.Errorf("%+v covers %+v", a, b)
			}
		}
	}
}

// A thing has the same letter in both drawings.
func TestLettersAgree(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Project.Room.Openings[1].Patch.Face = model.Right
	on := map[string]string{}
	for _, k := range newPlan(&in, svg.Wide).Key {
		on[k.Text] = k.Letter
	}
	shared := 0
	for _, k := range newSide(&in, svg.Wide).Key {
		if on[k.Text] != k.Letter {
			t.Errorf("%s is %q on the plan and %q in the side view", k.Text, on[k.Text], k.Letter)
		}
		shared++
	}
	if shared != 4 {
		t.Errorf("%d things in the side view, want 4", shared)
	}
}

func TestLetterName(t *testing.T) {
	for n, want := range map[int]string{0: "a", 25: "z", 26: "aa", 51: "az", 52: "ba", 701: "zz"} {
		if got := text.LetterName(n); got != want {
			t.Errorf("letter %d is %q, want %q", n, got, want)
		}
	}
}

// A door leaf ends in the room, a quarter turn from its gap; what a door that opens
// outward sweeps is no part of the room, and its key says so.
func TestDoorSwing(t *testing.T) {
	size := r3.Vec{X: 4, Y: 3, Z: 2.4}
	for face, inside := range map[model.Face]bool{model.Front: true, model.Back: true, model.Left: false, model.Right: false} {
		o := model.Opening{Kind: "door", Patch: model.Patch{Face: face, Along: 0.3, Width: 0.8, Height: 2}, Swing: "outward"}
		if inside {
			o.Swing = "inward"
		}
		p := &model.Project{Room: model.Room{Size: size, Openings: []model.Opening{o}}}
		d := &svg.Drawing{}
		d.Openings(p, svg.View{Scale: 1})
		if leaves := shapesOf(d, "leaf"); (len(leaves) == 1) != inside || strings.Contains(svg.OpeningKey(p, 0), "opens outward") == inside {
			t.Errorf("%v: %d leaves, key %q", face, len(leaves), svg.OpeningKey(p, 0))
		}
		for _, s := range shapesOf(d, "leaf") {
			in := s.X2 > 0 && float64(s.X2) < size.Y && s.Y2 > 0 && float64(s.Y2) < size.X
			length := math.Hypot(float64(s.X2-s.X), float64(s.Y2-s.Y))
			if !in || math.Abs(length-0.8) > 1e-9 {
				t.Errorf("%v: leaf ends at %v, %v and is %v m wide", face, s.X2, s.Y2, length)
			}
		}
	}
}

// Each piece is in both drawings, under one letter.
func TestTreatmentsDrawn(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Project.Room.Treatments = []model.Treatment{{
		Name: "rear layer", Patch: model.Patch{Face: model.Back, Along: 1, Width: 2, Height: 2},
		Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2}},
	}}
	for _, d := range []*svg.Drawing{newPlan(&in, svg.Wide), newSide(&in, svg.Wide)} {
		pieces, scale := 0, 0.0
		for _, s := range d.Shapes {
			switch s.Class {
			case "wall":
				scale = float64(s.X2) / map[string]float64{"plan": in.Project.Room.Size.Y, "side": in.Project.Room.Size.X}[d.ID]
			case "treatment":
				pieces++
			}
		}
		for _, s := range d.Shapes {
			if s.Class == "treatment" && math.Abs(min(float64(s.X2), float64(s.Y2))/scale-0.2) > 1e-9 {
				t.Errorf("%s: the piece is drawn %v by %v", d.ID, s.X2, s.Y2)
			}
		}
		last := d.Key[len(d.Key)-1]
		if pieces != 1 || last.Text != "rear layer, on the back wall" || last.Letter != "f" {
			t.Errorf("%s: %d pieces, the key ends in %+v", d.ID, pieces, last)
		}
	}
}
