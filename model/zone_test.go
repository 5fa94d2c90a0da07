package model

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// The search for a free place agrees with trying places one by one: a place found by
// trial must be seen, and where trial on a fine grid finds none there is no room for
// more than a sliver.
func TestSpotsAgreeWithTrial(t *testing.T) {
	t.Parallel()
	full, empty := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		p := sound()
		p.Speakers.Placed, p.Seats[0].Placed = false, false
		p.Speakers.Free = rapid.Bool().Draw(t, "free")
		p.Speakers.Apart = Range{}
		corner := rapid.IntRange(0, 30)
		p.Speakers.Zones = []Zone{{X: drawRange(t, "zone x"), Y: drawRange(t, "zone y")}}
		if !p.Speakers.Free { // a zone that is its own mirror image
			y := &p.Speakers.Zones[0].Y
			y.Max = max(y.Max, p.Room.Size.Y-y.Min)
			y.Min = p.Room.Size.Y - y.Max
		}
		for range rapid.IntRange(0, 5).Draw(t, "boxes") {
			b := Block{Min: r3.Vec{X: float64(corner.Draw(t, "x")) / 10, Y: float64(corner.Draw(t, "y")) / 10}}
			b.Max = r3.Add(b.Min, r3.Vec{X: 0.4 + rapid.Float64Range(0, 1).Draw(t, "w"), Y: 0.3 + rapid.Float64Range(0, 2).Draw(t, "d"), Z: 2})
			p.KeepClear = append(p.KeepClear, b)
		}
		found := false
		for _, s := range p.speakerPlaces(p.Speakers.Zones[0]) {
			found = found || s.any()
		}
		if tried := trySpots(p); tried && !found {
			t.Fatal("a legal place was found by trial, none by search")
		} else if found && !tried {
			shrink(p, 0.06) // twice the step of the trial: a wide place would have been met
			for _, s := range p.speakerPlaces(p.Speakers.Zones[0]) {
				if s.any() {
					t.Fatal("the search finds more than a sliver, the trial nothing")
				}
			}
		}
		if found {
			full++
		} else {
			empty++
		}
	})
	if full == 0 || empty == 0 {
		t.Errorf("drawn %d zones with a place and %d without, want both", full, empty)
	}
}

func drawRange(t *rapid.T, label string) Range {
	from := rapid.Float64Range(0.1, 3).Draw(t, label)
	return Range{from, from + rapid.Float64Range(0, 0.8).Draw(t, label)}
}

// trySpots looks for a legal place for the left speaker, and for its mirror image if
// the pair is symmetric, in steps of 3 cm.
func trySpots(p *Project) bool {
	const step = 0.03
	z := p.Speakers.Zones[0]
	height := p.Speakers.AxisHeights[0] - p.Speakers.WooferBelow
	for x := z.X.Min; x <= z.X.Max; x += step {
		for y := z.Y.Min; y <= z.Y.Max; y += step {
			var c breaches
			l := Layout{Left: r3.Vec{X: x, Y: y, Z: height}, Right: r3.Vec{X: x, Y: p.Room.Size.Y - y, Z: height}}
			c.speaker(p, LeftSide, l)
			if !p.Speakers.Free {
				c.speaker(p, RightSide, l)
			}
			if len(c) == 0 {
				return true
			}
		}
	}
	return false
}

// shrink makes everything that is in the way larger by d all round, and the zone
// smaller.
func shrink(p *Project, d float64) {
	for i := range p.KeepClear {
		b := &p.KeepClear[i]
		b.Min, b.Max = r3.Sub(b.Min, r3.Vec{X: d, Y: d}), r3.Add(b.Max, r3.Vec{X: d, Y: d})
	}
	for i := range p.Room.Blocks {
		b := &p.Room.Blocks[i]
		b.Min, b.Max = r3.Sub(b.Min, r3.Vec{X: d, Y: d}), r3.Add(b.Max, r3.Vec{X: d, Y: d})
	}
	z := &p.Speakers.Zones[0]
	z.X, z.Y = Range{z.X.Min + d, z.X.Max - d}, Range{z.Y.Min + d, z.Y.Max - d}
	p.Speakers.RearClearance += d
	p.Speakers.SideClearance += d
}

// What stands in the way of a zone is named.
func TestZonesWithoutPlace(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		spoil func(*Project)
		path  string
		text  string
	}{
		{"block over the left", func(p *Project) {
			p.Room.Blocks = []Block{{Name: "breast", Max: r3.Vec{X: 0.8, Y: 1.7, Z: 2.45}}}
			p.Speakers.Zones = []Zone{{X: Range{0.4, 0.7}}}
		}, "speakers.may_stand[0]", `collides with "breast"`},
		{"mirror image blocked", func(p *Project) {
			p.KeepClear = []Block{{Name: "way out", Min: r3.Vec{Y: 1.7}, Max: r3.Vec{X: 2, Y: 3.4, Z: 2.45}}}
		}, "speakers.may_stand[0]", `collides with "way out"`},
		{"too small", func(p *Project) { p.Speakers.Zones = []Zone{{X: Range{0.1, 0.3}}} }, "speakers.may_stand[0]", "leaves x from 0.33 to 4.5 m and y from 0.2 to 3.2 m"},
		{"one side", func(p *Project) { p.Speakers.Zones = []Zone{{X: Range{0.4, 1}, Y: Range{0.3, 1.2}}} }, "speakers.may_stand[0]", "both sides"},
		{"apart", func(p *Project) { p.Speakers.Apart = Range{3.2, 3.3} }, "speakers.may_stand[0]", "the distance apart"},
		{"whole floor", func(p *Project) {
			p.Speakers.Zones = nil
			p.KeepClear = []Block{{Name: "cables", Max: r3.Vec{X: 4.5, Y: 3.4, Z: 2}}}
			p.Seats[0].Zones = nil
		}, "speakers", `"cables"`},
		{"seat in swing", func(p *Project) {
			p.Speakers.Free = true
			p.Seats[0].Zones = []Zone{{X: Range{3.75, 3.85}, Y: Range{0.4, 0.8}}}
		}, "seats[0].may_move[0]", `"door swing"`},
		{"seat at back", func(p *Project) { p.Seats[0].Zones = []Zone{{X: Range{4, 4.4}}} }, "seats[0].may_move[0]", "x from 0 to 3.9 m"},
		{"seat on mid-line", func(p *Project) {
			p.KeepClear = []Block{{Name: "table", Min: r3.Vec{X: 1.2, Y: 1.5}, Max: r3.Vec{X: 3.1, Y: 1.9, Z: 1.4}}}
		}, "seats[0].may_move[0]", `"table"`},
	} {
		p := sound()
		p.Speakers.Placed, p.Seats[0].Placed = false, len(p.Seats[0].Zones) == 0
		c.spoil(p)
		p.Seats[0].Placed = len(p.Seats[0].Zones) == 0
		got := p.Validate()
		if len(got) != 1 || got[0].Path != c.path || !strings.Contains(got[0].Text, c.text) {
			t.Errorf("%s: problems %v; want one at %s with %q", c.name, got, c.path, c.text)
		}
	}
}

// Two zones that mirror each other do for a symmetric pair, and a free pair needs no
// mirror image.
func TestZonesOnBothSides(t *testing.T) {
	t.Parallel()
	p := sound()
	p.Speakers.Zones = []Zone{{X: Range{0.4, 1}, Y: Range{0.3, 1.2}}, {X: Range{0.4, 1}, Y: Range{2.2, 3.1}}}
	if got := p.Validate(); got != nil {
		t.Errorf("two sides: %v", got)
	}
	p.Speakers.Free, p.Speakers.Zones = true, p.Speakers.Zones[:1]
	if got := p.Validate(); got != nil {
		t.Errorf("free: %v", got)
	}
}

// A door that opens inwards keeps a square of its width clear, in front of the wall
// that it is in; the file's own boxes come first.
func TestClearanceBeforeDoors(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4.5, Y: 3.4, Z: 2.45}
	for _, c := range []struct {
		face     Face
		min, max r3.Vec
	}{
		{Front, r3.Vec{Y: 0.5}, r3.Vec{X: 0.8, Y: 1.3, Z: 2.45}},
		{Back, r3.Vec{X: 3.7, Y: 0.5}, r3.Vec{X: 4.5, Y: 1.3, Z: 2.45}},
		{Left, r3.Vec{X: 0.5}, r3.Vec{X: 1.3, Y: 0.8, Z: 2.45}},
		{Right, r3.Vec{X: 0.5, Y: 2.6}, r3.Vec{X: 1.3, Y: 3.4, Z: 2.45}},
	} {
		p := &Project{KeepClear: []Block{{Name: "desk"}}, Room: Room{Size: size, Openings: []Opening{
			{Kind: "door", Name: "exit", Swing: "inward", Patch: Patch{Face: c.face, Along: 0.5, Width: 0.8, Height: 2}},
			{Kind: "door", Swing: "outward", Patch: Patch{Face: c.face, Along: 1.5, Width: 0.8, Height: 2}},
			{Kind: "window", Swing: "inward", Patch: Patch{Face: c.face, Along: 2.5, Width: 0.8, Height: 1}},
		}}}
		got := slices.Collect(p.Obstacles())
		if len(got) != 2 || got[0].Name != "desk" || got[1].Name != "swing of exit" {
			t.Fatalf("%v: clearances %v", c.face, got)
		}
		if r3.Norm(r3.Sub(got[1].Min, c.min)) > 1e-12 || r3.Norm(r3.Sub(got[1].Max, c.max)) > 1e-12 {
			t.Errorf("%v: swing %v, want %v to %v", c.face, got[1], c.min, c.max)
		}
		if len(p.KeepClear) != 1 {
			t.Error("the project's own boxes have changed")
		}
	}
}

func TestOverlapOfRanges(t *testing.T) {
	t.Parallel()
	a, b, none := Range{1, 3}, Range{2, 5}, Range{}
	for _, c := range []struct{ got, want Range }{
		{overlap(a, b), Range{2, 3}}, {overlap(none, b), b}, {overlap(a, none), a},
		{overlap(Range{1, 2}, Range{3, 4}), Range{3, 2}}, {overlap(a, Range{math.Inf(-1), math.Inf(1)}), a},
	} {
		if c.got != c.want {
			t.Errorf("overlap %v, want %v", c.got, c.want)
		}
	}
}
