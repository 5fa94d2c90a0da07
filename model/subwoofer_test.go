package model

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// subRoom is a bare room of 4 x 3 x 2.4 m with boxes of 0.4 x 0.3 x 0.4 m.
func subRoom(where Stand) *Project {
	return &Project{
		Room: Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}},
		Subwoofers: &Subwoofers{
			Count: 2, Box: Dimensions{Depth: 0.4, Width: 0.3, Height: 0.4}, Height: 0.25, Where: where,
			LowPass: Range{50, 100}, Gain: Range{-12, 6}, Delay: Range{0, 0.02},
		},
	}
}

func hasPlace(list []SubwooferPlace, x, y float64) bool {
	for _, q := range list {
		if math.Abs(q.Driver.X-x) < 1e-9 && math.Abs(q.Driver.Y-y) < 1e-9 {
			return true
		}
	}
	return false
}

// By hand: a box of 0.4 m depth with its back 5 cm off the front wall has its middle
// at 0.25 m; beside a side wall it is turned, and in a corner the width counts too.
func TestSubwooferPlaces(t *testing.T) {
	t.Parallel()
	walls := subRoom(AlongWalls).SubwooferPlaces(0.1)
	for _, v := range [][2]float64{{0.25, 1.5}, {3.75, 1.5}, {2, 0.25}, {2, 2.75}} {
		if !hasPlace(walls, v[0], v[1]) {
			t.Errorf("no place at the midpoint %v of a wall", v)
		}
	}
	corners := subRoom(InCorners).SubwooferPlaces(0.1)
	if len(corners) != 4 {
		t.Fatalf("%d corners: %+v", len(corners), corners)
	}
	for _, q := range corners {
		dx, dy := min(q.Driver.X, 4-q.Driver.X), min(q.Driver.Y, 3-q.Driver.Y)
		want := [2]float64{0.25, 0.20}
		if q.Turned {
			want = [2]float64{0.20, 0.25}
		}
		if math.Abs(dx-want[0]) > 1e-9 || math.Abs(dy-want[1]) > 1e-9 || !q.Corner {
			t.Errorf("corner at %v, turned %v", q.Driver, q.Turned)
		}
		if !hasPlace(walls, q.Driver.X, q.Driver.Y) {
			t.Errorf("the corner at %v is not along the walls", q.Driver)
		}
	}
	if n := len(subRoom(Anywhere).SubwooferPlaces(0.1)); n != 35*27 { // 0.3..3.7 by 0.2..2.8, the middle among them
		t.Errorf("%d places on the floor", n)
	}
}

// Of an L every convex corner and every wall counts; nothing stands in the notch.
func TestSubwooferPlacesInL(t *testing.T) {
	t.Parallel()
	p := subRoom(AlongWalls)
	p.Room.Outline = Polygon{{}, {X: 4}, {X: 4, Y: 1.8}, {X: 2.5, Y: 1.8}, {X: 2.5, Y: 3}, {Y: 3}}
	list := p.SubwooferPlaces(0.1)
	if !hasPlace(list, 3.25, 1.55) { // middle of the wall at y = 1.8
		t.Errorf("no place along the inner wall: %+v", list)
	}
	for _, q := range list {
		if q.Driver.X > 2.5 && q.Driver.Y > 1.8 {
			t.Errorf("a place in the notch: %v", q.Driver)
		}
	}
}

// Whatever the room and the box: every place is free of fault, and its box is in the
// room and off the walls by the gap.
func TestSubwooferPlacesAreLegal(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := subRoom(Stand(rapid.IntRange(0, 2).Draw(t, "stand")))
		p.Room.Size = r3.Vec{X: rapid.Float64Range(2, 7).Draw(t, "x"), Y: rapid.Float64Range(2, 5).Draw(t, "y"), Z: 2.4}
		s := p.Subwoofers
		s.Box.Depth, s.Box.Width = rapid.Float64Range(0.2, 0.9).Draw(t, "depth"), rapid.Float64Range(0.2, 0.9).Draw(t, "width")
		p.KeepClear = []Block{{Name: "shelf", Min: r3.Vec{X: 0.5}, Max: r3.Vec{X: 1.6, Y: 0.6, Z: 1}}}
		list := p.SubwooferPlaces(0.15)
		if len(list) == 0 {
			t.Fatal("no place")
		}
		for _, q := range list {
			box := s.Cabinet(q)
			if p.SubwooferPlaceFault(q) != "" || box.Overlaps(p.KeepClear[0]) {
				t.Fatalf("fault at %v", q)
			}
			gap := min(box.Min.X, box.Min.Y, p.Room.Size.X-box.Max.X, p.Room.Size.Y-box.Max.Y)
			if s.Where != Anywhere && math.Abs(gap-SubwooferGap) > 1.1e-3 {
				t.Fatalf("%v stands %v m off the nearest wall", q, gap)
			}
		}
	})
}

// A wall from (4, 2) to (3, 3) is the line x + y = 6. A box of 0.4 x 0.3 m whose sides
// stay along the room, grown by the gap, reaches 0.45/√2 m towards it.
func TestSubwooferPlacesAtObliqueWall(t *testing.T) {
	t.Parallel()
	p := subRoom(AlongWalls)
	p.Room.Outline = Polygon{{}, {X: 4}, {X: 4, Y: 2}, {X: 3, Y: 3}, {Y: 3}}
	least := math.Inf(1)
	for _, q := range p.SubwooferPlaces(0.1) {
		least = min(least, (6-q.Driver.X-q.Driver.Y)/math.Sqrt2)
	}
	if want := 0.45 / math.Sqrt2; math.Abs(least-want) > 2e-3 {
		t.Errorf("the nearest box is %v m from the oblique wall, want %v m", least, want)
	}
}

func TestSubwooferProblems(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		spoil func(*Project)
		want  string
	}{
		{func(p *Project) { p.Subwoofers.Count = 5 }, "subwoofers.count: must be 1 to 4"},
		{func(p *Project) { p.Subwoofers.Box.Width = 0 }, "subwoofers.box.width: must be above 0"},
		{func(p *Project) { p.Subwoofers.Height = 3 }, "subwoofers.driver_height: must be 0 to 2.4 m"},
		{func(p *Project) { p.Subwoofers.LowPass = Range{100, 50} }, "subwoofers.low_pass: must go from low to high"},
		{func(p *Project) { p.Subwoofers.Delay.Max = 0.03 }, "within 0 to 20 ms, have 0 to 30 ms"},
		{func(p *Project) { p.Subwoofers.Gain.Max = math.NaN() }, "subwoofers.gain"},
		{func(p *Project) { p.Subwoofers.HighPass = 5 }, "subwoofers.mains_high_pass: must be 20 to 250 Hz"},
		{func(p *Project) { p.Subwoofers.LowLimit = 1 }, "subwoofers.low_limit"},
		{func(p *Project) { p.Subwoofers.Zones = []Zone{{X: Range{1, 2}, Y: Range{1, 2}}} }, "subwoofers.may_stand: must have a place for a box along the walls: the zones leave none"},
		{func(p *Project) { p.Subwoofers.Zones = []Zone{{}} }, "must give x, y or both"},
		{func(p *Project) { p.Subwoofers.Box.Height = 2.45 }, "must have a place for a box along the walls"},
		{func(p *Project) { p.Subwoofers.Placed = []r3.Vec{{X: 5, Y: 1, Z: 0.2}} }, "subwoofers.now[0]: must be inside the room, is 1 m beyond the back wall"},
		{func(p *Project) { p.Subwoofers.Placed = []r3.Vec{{X: 0.1, Y: 0.1, Z: 0.2}} }, "subwoofers.now[0]: the box at this place must be inside the room"},
	} {
		p := subRoom(AlongWalls)
		c.spoil(p)
		v := validator{p: p}
		v.subwoofers()
		if got := v.problems.Error(); !strings.Contains(got, c.want) {
			t.Errorf("want %q, have %q", c.want, got)
		}
	}
	for _, where := range []Stand{AlongWalls, InCorners, Anywhere} {
		v := validator{p: subRoom(where)}
		if v.subwoofers(); v.problems != nil {
			t.Errorf("%v: %v", where, v.problems)
		}
	}
}
