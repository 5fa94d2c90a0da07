package subwoofer

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/svg"
)

// The plan is to scale: pair, heads and subwoofers stand where they are, read back from
// the marks by the room's own outline; every box is as large as it is.
func TestSubPlanToScale(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	plan := &m.Result.Plans[2]
	sofa := plan.Seats[0]
	sofa.Name, sofa.At = "sofa", r3.Vec{X: 3.4, Y: 2.4, Z: 1}
	plan.Seats = append(plan.Seats, sofa)
	for i := range m.Result.Plans[:2] {
		m.Result.Plans[i].Seats = append(m.Result.Plans[i].Seats, sofa)
	}
	size, l := m.Project.Room.Size, m.Result.Layout
	d := m.newPlan(plan, svg.Wide)
	var wall svg.Shape
	var dots, boxes []svg.Shape
	for _, s := range d.Shapes {
		switch s.Class {
		case "wall":
			wall = s
		case "mark":
			dots = append(dots, s)
		case "sub":
			boxes = append(boxes, s)
		}
		if s.X < 0 || s.Y < 0 || s.X > d.Width || s.Y > d.Height {
			t.Errorf("%+v is off the drawing of %v by %v", s, d.Width, d.Height)
		}
	}
	want := []r3.Vec{plan.Units[0].Place.Driver, plan.Units[1].Place.Driver, l.Left, l.Right, l.Seat, sofa.At}
	if len(dots) != len(want) || len(boxes) != 2 {
		t.Fatalf("%d marks and %d boxes", len(dots), len(boxes))
	}
	for i, at := range want {
		x, y := float64((dots[i].X-wall.X)/wall.X2), float64((dots[i].Y-wall.Y)/wall.Y2)
		if math.Abs(x-at.Y/size.Y) > 1e-9 || math.Abs(y-at.X/size.X) > 1e-9 {
			t.Errorf("mark %d is at %.4f, %.4f of the room, want %.4f, %.4f", i, x, y, at.Y/size.Y, at.X/size.X)
		}
	}
	scale := float64(wall.X2) / size.Y
	for i, box := range boxes { // the second is turned
		across, along := m.Project.Subwoofers.Box.Width, m.Project.Subwoofers.Box.Depth
		if i == 1 {
			across, along = along, across
		}
		if math.Abs(float64(box.X2)/scale-across) > 1e-9 || math.Abs(float64(box.Y2)/scale-along) > 1e-9 {
			t.Errorf("box %d is %.3f by %.3f m", i, float64(box.X2)/scale, float64(box.Y2)/scale)
		}
	}
	markup, err := d.SVG()
	if err != nil {
		t.Fatal(err)
	}
	text := string(markup)
	for _, tape := range []string{">120 cm<", ">25 cm<", ">407 cm<", ">S1<", ">S2<", ">L<", ">R<", ">H1<", ">H2<"} {
		if !strings.Contains(text, tape) {
			t.Errorf("the plan lacks %s", tape)
		}
	}
}

// Two subwoofers as far from a wall have one tape distance.
func TestTapeStops(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	plan := m.Result.Plans[2]
	stops := tapeStops(&plan, func(v r3.Vec) float64 { return v.X })
	if len(stops) != 2 || stops[0].metres != 0.25 || stops[1].metres != 4.07 {
		t.Errorf("%+v", stops)
	}
	plan.Units[1].Place.Driver.X = 0.252
	if stops = tapeStops(&plan, func(v r3.Vec) float64 { return v.X }); len(stops) != 1 || len(stops[0].at) != 2 {
		t.Errorf("%+v", stops)
	}
}

// The parts add up: speakers and subwoofers, both channels playing, are the sum that is
// judged at every frequency.
func TestSubPartsAddUp(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	for n := range m.Result.Plans {
		seat := &m.Result.Plans[n].Seats[0]
		subs, mains, sum := subsAlone(seat), seat.Mains.Of(response.BothTogether), seat.Pair.Of(response.BothTogether)
		for i := range sum {
			if cmplx.Abs(mains[i]+subs[i]-sum[i]) > 1e-9*cmplx.Abs(mains[i]) {
				t.Fatalf("%d subwoofers at %g Hz: %v and %v make %v", n, m.Grid[i], mains[i], subs[i], sum[i])
			}
		}
	}
}

// Every graph has its curves in lines of their own, the parts against one mean, and a table of
// third octaves beside it.
func TestSubGraphs(t *testing.T) {
	t.Parallel()
	m := fixtureSubs()
	for id, d := range map[string]*svg.Drawing{"sums": m.sumsGraph(0, svg.Wide), "parts": m.partsGraph(0, svg.Wide)} {
		lines := map[string]bool{}
		for _, s := range d.Shapes {
			if s.Kind == "path" && strings.HasPrefix(s.Class, "curve ") {
				lines[s.Class] = true
			}
		}
		if len(lines) != 3 || !strings.HasSuffix(d.Frame, "20 300 -30 20") {
			t.Errorf("%s: lines %v on axes %s", id, lines, d.Frame)
		}
	}
	if got := strings.Join(m.octavesTable(0).Head, "|"); got != "Hz|without|with 1|present" {
		t.Errorf("the table compares %s", got)
	}
	reader := response.NewReader(m.Grid, model.AirAt(m.Project.Room.Temperature), m.Result.Goal)
	seat := &m.Result.Plans[1].Seats[0]
	mean := seat.Judgement.Figures[response.BothTogether].Mean
	for i, pair := range map[int]response.Pair{0: seat.Mains, 2: seat.Pair} {
		curve, smooth := m.parts(0)[i], reader.Smooth(pair.Of(response.BothTogether))
		for k, y := range curve.Y {
			if want := float64(smooth[k] - mean); y != want {
				t.Fatalf("%s: %v dB at %g Hz against the mean of the sum, want %v dB", curve.Class, y, curve.X[k], want)
			}
		}
	}
}
