package model

import (
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

func wool(thickness float64) Layer {
	return Layer{Kind: PorousLayer, Thickness: thickness, Resistivity: 6000}
}

func TestSpaces(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4.5, Y: 3.4, Z: 2.45}
	room := Room{Size: size}
	shed := Room{Size: size, Slopes: []Slope{rising(size, 1.4, 2.45)}}
	for _, c := range []struct {
		name  string
		r     Room
		t     Treatment
		want  Block
		where string
	}{
		{
			"on a wall", room,
			Treatment{Patch: Patch{Face: Back, Along: 0.5, Up: 0.2, Width: 2, Height: 1.5}, Layers: []Layer{wool(0.2), {Kind: GapLayer, Thickness: 0.1}}},
			Block{Min: r3.Vec{X: 4.2, Y: 0.5, Z: 0.2}, Max: r3.Vec{X: 4.5, Y: 2.5, Z: 1.7}}, "on the back wall",
		},
		{
			"upright corner", room,
			Treatment{Form: InCorner, Corner: Corner{Walls: [2]Face{Front, Right}, Leg: 0.4, To: 2.45}, Layers: []Layer{wool(0)}},
			Block{Min: r3.Vec{Y: 3}, Max: r3.Vec{X: 0.4, Y: 3.4, Z: 2.45}}, "where front wall and right wall meet",
		},
		{
			"level corner", room,
			Treatment{Form: InCorner, Corner: Corner{Walls: [2]Face{Ceiling, Back}, Leg: 0.5, From: 0.3, To: 3}, Layers: []Layer{wool(0)}},
			Block{Min: r3.Vec{X: 4, Y: 0.3, Z: 1.95}, Max: r3.Vec{X: 4.5, Y: 3, Z: 2.45}}, "where ceiling and back wall meet",
		},
		{
			"cloud", room,
			Treatment{Form: UnderCeiling, Gap: 0.15, Box: Block{Min: r3.Vec{X: 1, Y: 1}, Max: r3.Vec{X: 2, Y: 2.4}}, Layers: []Layer{wool(0.1)}},
			Block{Min: r3.Vec{X: 1, Y: 1, Z: 2.2}, Max: r3.Vec{X: 2, Y: 2.4, Z: 2.3}}, "under the ceiling",
		},
		{
			"cloud under a slope", shed, // which is 1.4 + 1.05/3.4 m high at y = 1 m
			Treatment{Form: UnderCeiling, Gap: 0.1, Box: Block{Min: r3.Vec{X: 1, Y: 1}, Max: r3.Vec{X: 2, Y: 2}}, Layers: []Layer{wool(0.1)}},
			Block{Min: r3.Vec{X: 1, Y: 1, Z: 1.2 + 1.05/3.4}, Max: r3.Vec{X: 2, Y: 2, Z: 1.3 + 1.05/3.4}}, "under the ceiling",
		},
		{
			"panel", room,
			Treatment{Form: FreeStanding, Box: Block{Min: r3.Vec{X: 3, Y: 1}, Max: r3.Vec{X: 3.1, Y: 2, Z: 1.2}}, Layers: []Layer{wool(0.1)}},
			Block{Min: r3.Vec{X: 3, Y: 1}, Max: r3.Vec{X: 3.1, Y: 2, Z: 1.2}}, "free in the room",
		},
	} {
		got := c.r.Space(&c.t)
		if r3.Norm(r3.Sub(got.Min, c.want.Min))+r3.Norm(r3.Sub(got.Max, c.want.Max)) > 1e-12 {
			t.Errorf("%s: from %v to %v, want %v to %v", c.name, got.Min, got.Max, c.want.Min, c.want.Max)
		}
		if where := c.t.Where(); where != c.where {
			t.Errorf("%s: it is %q, want %q", c.name, where, c.where)
		}
	}
}

func TestTreatmentDepth(t *testing.T) {
	t.Parallel()
	corner := Treatment{Form: InCorner, Corner: Corner{Leg: 0.4}}
	if got := corner.Depth(); math.Abs(got-0.2*math.Sqrt2) > 1e-12 { // height of the right triangle
		t.Errorf("a triangle of 0.4 m is %v m deep", got)
	}
	corner.Corner.Square = true
	if got := corner.Depth(); math.Abs(got-0.4*math.Sqrt2) > 1e-12 { // diagonal of the square
		t.Errorf("a square of 0.4 m is %v m deep", got)
	}
	if got := (Treatment{Layers: []Layer{wool(0.2), wool(0.05)}}).Depth(); math.Abs(got-0.25) > 1e-12 {
		t.Errorf("200 mm and 50 mm are %v m deep", got)
	}
}

// Each room or piece that cannot be is refused at its place in the file.
func TestValidateShape(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	piece := func(change func(*Treatment)) func(*Project) {
		return func(p *Project) { change(&p.Room.Treatments[0]) }
	}
	corner := func(change func(*Treatment)) func(*Project) {
		return piece(func(t *Treatment) {
			t.Form, t.Corner = InCorner, Corner{Walls: [2]Face{Back, Right}, Leg: 0.3, To: 2.45}
			change(t)
		})
	}
	notch := Polygon{{}, {X: 4.5}, {X: 4.5, Y: 2}, {X: 3, Y: 2}, {X: 3, Y: 3.4}, {Y: 3.4}}
	for _, c := range []struct {
		name       string
		change     func(*Project)
		path, want string
	}{
		{"two corners", func(p *Project) { p.Room.Outline = Polygon{{}, {X: 1}} }, "room.outline", "at least three"},
		{"far corner", func(p *Project) { p.Room.Outline[2].X = 5 }, "room.outline[2]", "within the length of 4.5 m"},
		{"corner that is none", func(p *Project) { p.Room.Outline[2].X = nan }, "room.outline[2]", "within the length"},
		{"same corner", func(p *Project) { p.Room.Outline[3] = p.Room.Outline[2] }, "room.outline[2]", "1 cm from the next"},
		{"crossing", func(p *Project) { o := p.Room.Outline; o[1], o[3] = o[3], o[1] }, "room.outline[3]", "in order round the room"},
		{"too short", func(p *Project) { p.Room.Outline = Polygon{{}, {X: 4}, {X: 4, Y: 3.4}, {Y: 3.4}} }, "room.outline", "reaches from 0 to 4 m"},
		{"sliver", func(p *Project) { p.Room.Outline = Polygon{{}, {X: 0.1}, {X: 4.5, Y: 3.4}, {X: 4.4, Y: 3.4}} }, "room.outline", "floor of at least"},
		{"edge that gives", func(p *Project) { p.Room.Edges = []Edge{1: {Surface: Surface{Impedance: -1}}} }, "room.outline[1].impedance", "cannot supply energy"},
		{"no plane", func(p *Project) { p.Room.Slopes = []Slope{{}} }, "ceiling.planes[0]", "not above one line"},
		{"cliff", func(p *Project) { p.Room.Slopes = []Slope{rising(p.Room.Size, 0, 30)} }, "ceiling.planes[0]", "80°"},
		{"below the floor", func(p *Project) { p.Room.Slopes = []Slope{rising(p.Room.Size, -0.2, 2.45)} }, "ceiling", "0.2 m below it"},
		{"not so high", func(p *Project) { p.Room.Slopes = []Slope{rising(p.Room.Size, 1.4, 2.3)} }, "room.height", "under the slopes, 2.3 m"},
		{"door in the notch", func(p *Project) { p.Room.Openings[0].Patch.Along = 1.5 }, "openings[0]", "whole in one of the walls that face like the back wall: from 0 to 2 m the one 4.5 m from the front wall, from 2 to 3.4 m the one 3 m"},
		{"slab over the notch", func(p *Project) { p.Room.Treatments[0].Patch.Along, p.Room.Treatments[0].Patch.Up = 2.9, 1.5 }, "treatments[0]", "within the outline"},
		{"block in the notch", func(p *Project) { p.Room.Blocks[0].Min.X, p.Room.Blocks[0].Max = 3.5, r3.Vec{X: 4, Y: 2.5, Z: 1} }, "blocks[0]", "0.5 m beyond the outline"},
		{"zone in the notch", func(p *Project) { p.Seats[0].Zones = []Zone{{X: Range{3.2, 3.7}, Y: Range{2.4, 3}}} }, "seats[0].may_move[0]", "inside the outline"},
		{"speaker in the notch", func(p *Project) {
			p.Room.Outline = Polygon{{}, {X: 4.5}, {X: 4.5, Y: 3.4}, {X: 0.9, Y: 3.4}, {X: 0.9, Y: 2.2}, {Y: 2.2}}
		}, "speakers.now.right", "beyond the outline"},
		{"head above the slope", func(p *Project) { p.Room.Slopes = []Slope{rising(p.Room.Size, 0.2, 2.45)} }, "speakers.now.left", "above the sloped ceiling"},
		{"low zone", func(p *Project) {
			p.Room.Slopes = []Slope{rising(p.Room.Size, 0.9, 2.45)}
			p.Room.Treatments, p.Room.Blocks, p.Room.Openings = nil, nil, nil
			p.Speakers.Placed, p.Seats[0].Placed = false, false
			p.Seats[0].Zones = []Zone{{X: Range{1, 3}, Y: Range{0.1, 0.5}}}
		}, "seats[0].may_move[0]", "a listener's ears need 1.2 m"},
		{"form", piece(func(t *Treatment) { t.Form = 9 }), "treatments[0].form", "layer, corner, cloud or panel"},
		{"parallel walls", corner(func(t *Treatment) { t.Corner.Walls[1] = Front }), "treatments[0].edge", "two walls that meet"},
		{"no leg", corner(func(t *Treatment) { t.Corner.Leg = 0 }), "treatments[0].leg", "0.02 to"},
		{"long", corner(func(t *Treatment) { t.Corner.To = 3 }), "treatments[0].to", "at most 2.45 m"},
		{"gap in a corner", corner(func(t *Treatment) { t.Layers = []Layer{wool(0.1), {Kind: GapLayer, Thickness: 0.1}} }), "treatments[0].layers", "film and then the fill"},
		{"film for fill", corner(func(t *Treatment) { t.Layers = []Layer{{Kind: FilmLayer, Thickness: 1e-4}} }), "treatments[0].layers", "porous"},
		{"flat cloud", piece(func(t *Treatment) { t.Form = UnderCeiling }), "treatments[0].to", "beyond from"},
		{"low cloud", piece(func(t *Treatment) {
			t.Form, t.Gap, t.Box = UnderCeiling, 2.4, Block{Min: r3.Vec{X: 1, Y: 1}, Max: r3.Vec{X: 2, Y: 2}}
		}), "treatments[0]", "beyond the floor"},
		{"thick panel", piece(func(t *Treatment) {
			t.Form, t.Box = FreeStanding, Block{Min: r3.Vec{X: 3, Y: 1}, Max: r3.Vec{X: 3.2, Y: 2, Z: 1}}
		}), "treatments[0].layers", "thinnest side of the box, 0.2 m"},
		{"panel outside", piece(func(t *Treatment) {
			t.Form, t.Box = FreeStanding, Block{Min: r3.Vec{X: 4.45, Y: 1}, Max: r3.Vec{X: 4.55, Y: 2, Z: 1}}
		}), "treatments[0]", "beyond the back wall"},
	} {
		p := sound()
		if c.name != "too short" {
			p.Room.Outline = append(Polygon(nil), notch...)
		}
		p.Room.Treatments[0].Patch.Up = 0.5
		if got := p.Validate(); got != nil {
			t.Fatalf("to begin with: %v", got)
		}
		c.change(p)
		got := p.Validate()
		if !slices.ContainsFunc(got, func(q Problem) bool { return q.Path == c.path && strings.Contains(q.Text, c.want) }) {
			t.Errorf("%s: problems %v; want one at %s with %q", c.name, got, c.path, c.want)
		}
	}
}

// An outline in any sense, with straight or slanted edges, is a room.
func TestValidateGoodShapes(t *testing.T) {
	t.Parallel()
	bay := Polygon{{X: 0.5}, {X: 4, Y: 0}, {X: 4.5, Y: 0.6}, {X: 4.5, Y: 3.4}, {X: 0, Y: 3.4}, {X: 0, Y: 1}}
	clockwise := Polygon{{}, {Y: 3.4}, {X: 4.5, Y: 3.4}, {X: 4.5}}
	for _, outline := range []Polygon{bay, clockwise} {
		p := sound()
		p.Room.Outline = outline
		p.Room.Openings[0].Patch.Along = 1
		if got := p.Validate(); got != nil {
			t.Errorf("%v: %v", outline, got)
		}
	}
	p := sound()
	p.Room.Slopes = ridge(p.Room.Size, 1.6, 2.45)
	p.Room.Openings[0].Patch.Along, p.Room.Blocks = 1.3, nil
	if got := p.Validate(); got != nil {
		t.Errorf("under a ridge: %v", got)
	}
	if got := p.Room.CeilingAt(r2.Vec{X: 1, Y: 1.7}); math.Abs(got-2.45) > 1e-12 {
		t.Errorf("the ridge is %v m high", got)
	}
}

// Of sides that are equal but for rounding, the first is the thin one.
func TestThinOfEqualSides(t *testing.T) {
	t.Parallel()
	curtain := Block{Min: r3.Vec{X: 6.9, Y: 0.8}, Max: r3.Vec{X: 7.3, Y: 1.2, Z: 1}} // 0.39999999999999947 by 0.3999999999999999
	moved := Block{Min: r3.Vec{X: 0.8, Y: 6.9}, Max: r3.Vec{X: 1.2, Y: 7.3, Z: 1}}
	if curtain.Thin() != 0 || moved.Thin() != 0 {
		t.Errorf("thin along %d and %d, want 0 and 0", curtain.Thin(), moved.Thin())
	}
}
