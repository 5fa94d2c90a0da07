package build

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/optimize/testroom"
)

// planned reads the example and lets the caller change it.
func planned(t testing.TB, change func(*model.Project)) (*model.Project, *Plan) {
	t.Helper()
	p := testProject(t, change)
	plan, err := Make(p)
	if err != nil {
		t.Fatal(err)
	}
	return p, plan
}

// testProject reads the example and lets the caller change it.
func testProject(t testing.TB, change func(*model.Project)) *model.Project {
	t.Helper()
	p := testroom.Read(t, "planned-room")
	if change != nil {
		change(p)
	}
	return p
}

func pieces(p *Plan, treatment int) []Piece {
	var list []Piece
	for _, q := range p.Pieces {
		if q.Treatment == treatment {
			list = append(list, q)
		}
	}
	return list
}

// By hand, from the example's sizes: a back layer of 1.8 x 2.4 m is 3 x 2 frames of two
// batts; a corner of 2.4 m is 24 triangles of 42 cm, eight to a batt; the cloud three
// batts, each side panel two, the bag two.
func TestPlannedRoom(t *testing.T) {
	t.Parallel()
	p, plan := planned(t, nil)
	for i, want := range []struct {
		kind          Kind
		pieces, slabs int
	}{{WallPiece, 6, 12}, {CornerFill, 1, 24}, {CornerFill, 1, 24}, {CloudPiece, 3, 3}, {WallPiece, 2, 2}, {WallPiece, 2, 2}, {Bag, 1, 2}} {
		got := pieces(plan, i)
		slabs := 0
		for _, q := range got {
			slabs += q.Slabs
		}
		if len(got) != want.pieces || got[0].Kind != want.kind || slabs != want.slabs {
			t.Errorf("%s: %d pieces (%v) of %d slabs, want %+v", p.Room.Treatments[i].Name, len(got), got[0].Kind, slabs, want)
		}
	}
	batts := plan.Batts[0]
	if n := len(batts.Nesting.Sheets); n != 12+6+3+2+2+2 || batts.Whole != 21 {
		t.Errorf("%d batts, %d of them whole, want 27 and 21", n, batts.Whole)
	}
	it := plan.Items[0]
	// 27 and 5 % are 29 batts; 24 are in hand; a pack of 8 for 31 to 36 leaves 5.
	if it.Need != 29 || it.Packs != 1 || it.Left != 5 || it.Price != (model.Range{Min: 31, Max: 36}) {
		t.Errorf("%+v", it)
	}
	if want := 8 * 0.072 * 14.0; math.Abs(it.Weight-want) > 1e-9 || math.Abs(it.Volume-8*0.072) > 1e-9 {
		t.Errorf("bought %v kg, %v m³, want %v kg", it.Weight, it.Volume, want)
	}
	if w := pieces(plan, 6)[0].Wrapping; w == nil || w.Bag != 0 || plan.Bags[0].Used != 1 {
		t.Errorf("the bag is wrapped in %+v", w)
	}
	for _, n := range plan.Notes {
		if !strings.Contains(n.Words.Text(millimetres), "soft wool settles") {
			t.Errorf("an unexpected note: %+v", n)
		}
	}
}

// A frame of the back layer, by hand: 1.2 x 0.6 x 0.2 m of 14 kg/m³ is 2.02 kg. Film of
// 0.1 mm polyethylene at 920 kg/m³ over 1.3 x 0.7 m, 0.08 kg. Cloth of 250 g/m² over
// 1.72 x 1.12 m, 0.48 kg. Two rings of 2 x 1.2 and 2 x 0.562 m and four posts of 0.2 m are
// 7.85 m of 44 x 19 mm softwood at 480 kg/m³, 3.15 kg.
func TestWeightByHand(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, nil)
	q := plan.Pieces[0]
	if want := 2.016 + 0.084 + 0.482 + 3.149; math.Abs(q.Weight.Typical-want) > 0.01 {
		t.Errorf("%v kg, want %v", q.Weight.Typical, want)
	}
	if !(q.Weight.Low < q.Weight.Typical && q.Weight.Typical < q.Weight.High) || q.Persons != 1 || !q.Passes {
		t.Errorf("%+v", q)
	}
	for _, q := range pieces(plan, 3) {
		if q.Persons != 2 {
			t.Errorf("a cloud is lifted by %d", q.Persons)
		}
	}
}

// Where pieces are: the second of the back layer's lower row begins 60 cm further, the
// fourth is 1.2 m up.
func TestPlaces(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, nil)
	second, fourth := plan.Pieces[1].Space, plan.Pieces[3].Space
	near := func(a, b float64) bool { return math.Abs(a-b) < 1e-9 }
	if !near(second.Min.Y, 0.8) || !near(second.Max.Y, 1.4) || second.Min.Z != 0 {
		t.Errorf("second at %+v", second)
	}
	if !near(fourth.Min.Y, 0.2) || !near(fourth.Min.Z, 1.2) || !near(plan.Pieces[3].Lower(), 1.2) {
		t.Errorf("fourth at %+v", fourth)
	}
	if cloud := pieces(plan, 3)[0].Space; !near(cloud.Max.Z, 2.25) || !near(cloud.Max.X-cloud.Min.X, 1.2) {
		t.Errorf("cloud at %+v", cloud)
	}
}

func TestNoStock(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, func(p *model.Project) { p.Stock = nil })
	if len(plan.Batts) == 0 || !plan.Batts[0].Assumed || plan.Batts[0].Batt.Length != 1.2 {
		t.Fatalf("%+v", plan.Batts)
	}
	notes := texts(plan)
	for _, want := range []string{"no batts: planned with batts of 1200 mm × 600 mm", "no film by the roll", "the stock has no bags"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no word of %q in\n%s", want, notes)
		}
	}
	cost, unpriced := plan.Cost()
	if cost != (model.Range{}) || unpriced != len(plan.Items) {
		t.Errorf("cost %v of unpriced things, %d of %d unpriced", cost, unpriced, len(plan.Items))
	}
	if plan.Timber != nil || len(plan.Cloths) != 0 {
		t.Error("timber and cloth out of nothing")
	}
}

func millimetres(m float64) string { return fmt.Sprintf("%.4g mm", 1000*m) }

func texts(p *Plan) string {
	var all []string
	for _, n := range p.Notes {
		all = append(all, n.Words.Text(millimetres))
	}
	return strings.Join(all, "\n")
}

// Thicknesses that batts make or do not.
func TestThickness(t *testing.T) {
	t.Parallel()
	batt := func(thickness, sigma float64, have int) model.Batt {
		return model.Batt{
			Name: "batt", Length: 1.2, Width: 0.6, Have: have,
			Layer: model.Layer{Kind: model.PorousLayer, Thickness: thickness, Resistivity: sigma, Density: 14},
		}
	}
	for _, c := range []struct {
		name  string
		asked float64 // m, of 6 kPa·s/m²
		batts []model.Batt
		depth float64
		slabs int
		note  string
	}{
		{"two of one", 0.2, []model.Batt{batt(0.1, 6000, 9)}, 0.2, 2, ""},
		{"imperial, 4 in for 100 mm", 0.1, []model.Batt{batt(0.1016, 6000, 9)}, 0.1016, 1, ""},
		{"two sorts", 0.17, []model.Batt{batt(0.1, 6000, 9), batt(0.07, 6500, 9)}, 0.17, 2, ""},
		{"one sort before two", 0.2, []model.Batt{batt(0.05, 6000, 9), batt(0.1, 6000, 9)}, 0.2, 2, ""},
		{"in hand before to be bought", 0.1, []model.Batt{batt(0.1, 6000, 0), batt(0.1, 5000, 4)}, 0.1, 1, ""},
		{"cannot be made", 0.15, []model.Batt{batt(0.1, 6000, 9)}, 0.1, 1, "makes 100 mm or 200 mm, not the 150 mm asked for; planned as"},
		{"too thick", 0.05, []model.Batt{batt(0.1, 6000, 9)}, 0.1, 1, "makes 100 mm, not the 50 mm asked for"},
		{"another wool", 0.1, []model.Batt{batt(0.1, 20000, 9)}, 0.1, 1, "no batt has the 6 kPa·s/m² asked for; batt has 20 kPa·s/m²"},
		{"the like wool, though not in hand", 0.1, []model.Batt{batt(0.1, 20000, 9), batt(0.1, 7000, 0)}, 0.1, 1, ""},
	} {
		_, plan := planned(t, func(p *model.Project) {
			p.Stock.Batts = c.batts
			p.Room.Treatments = p.Room.Treatments[4:5]
			p.Room.Treatments[0].Layers[0].Thickness = c.asked
		})
		q := plan.Pieces[0]
		if math.Abs(q.Depth-c.depth) > 1e-9 || q.Slabs != c.slabs {
			t.Errorf("%s: %v m of %d slabs, want %v m of %d", c.name, q.Depth, q.Slabs, c.depth, c.slabs)
		}
		if got := texts(plan); c.note == "" && got != "" || !strings.Contains(got, c.note) {
			t.Errorf("%s: notes %q, want %q", c.name, got, c.note)
		}
	}
}

// By geometry: 1.2 x 0.6 x 0.2 m is 1.6 m round, so a bag of 0.81 m lying flat slips
// over it; along it takes 1.2 + 0.2 m and a seam of 0.1 m.
func TestBags(t *testing.T) {
	t.Parallel()
	stack := r3.Vec{X: 0.6, Y: 1.2, Z: 0.2}
	for _, c := range []struct {
		width, length float64
		want          bool
		lacks         string
	}{
		{0.81, 1.5, true, ""},
		{0.80, 1.5, false, "20 mm too narrow round"},
		{0.81, 1.4, false, "100 mm too short"},
		{0.6, 1, false, "420 mm too narrow round and 500 mm too short"},
	} {
		ok, lacks := Closes(model.Roll{Width: c.width, Length: c.length}, stack)
		if ok != c.want || lacks.Text(millimetres) != c.lacks {
			t.Errorf("%v x %v: %v, %q", c.width, c.length, ok, lacks)
		}
	}
	slab := model.Batt{Length: 1.2, Width: 0.6, Layer: model.Layer{Thickness: 0.1}}
	for _, c := range []struct {
		width, length float64
		want          int
	}{{0.85, 1.7, 2}, {0.95, 1.7, 3}, {0.95, 1.5, 2}, {0.6, 1, 0}} {
		if got := Holds(model.Roll{Width: c.width, Length: c.length}, slab); got != c.want {
			t.Errorf("a bag of %v x %v holds %d, want %d", c.width, c.length, got, c.want)
		}
	}
	_, plan := planned(t, func(p *model.Project) { p.Stock.Bags[0].Width = 0.7 })
	w := pieces(plan, 6)[0].Wrapping
	if w.Bag != -1 || w.Why.Text(millimetres) != "film bag is 220 mm too narrow round" || plan.Bags[0].Used != 0 {
		t.Errorf("%+v", w)
	}
	// From the roll, closed at both ends: 1.6 m along the seam, and 0.6 + 2 x 0.2 across
	// each end.
	if math.Abs(w.Length-1.6) > 1e-9 || math.Abs(w.Tape-3.6) > 1e-9 {
		t.Errorf("%+v", w)
	}
}

func TestTerms(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, func(p *model.Project) {
		p.Stock.Rental = true
		p.Stock.Passage = model.Passage{Width: 0.55, Height: 0.15}
	})
	notes := texts(plan)
	for _, want := range []string{"hangs from holes", "6 of its 6 pieces do not pass"} {
		if !strings.Contains(notes, want) {
			t.Errorf("no word of %q in\n%s", want, notes)
		}
	}
	for _, q := range plan.Pieces {
		for _, f := range q.Fixings {
			if strings.Contains(f.Text, "screw") || strings.Contains(f.Text, "plug") {
				t.Errorf("in a rented room, %v has a %s", q.Kind, f.Text)
			}
		}
	}
}

// Blocked surfaces are said, one by one.
func TestBlocked(t *testing.T) {
	t.Parallel()
	p, plan := planned(t, func(p *model.Project) {
		p.Stock.Cover = []model.Cover{{Patch: model.Patch{Face: model.Front, Width: 0.1, Height: 0.1}}}
	})
	blocked := map[int]bool{}
	for _, n := range plan.Notes {
		if n.Obstruction.Kind == model.BeyondCover {
			blocked[n.Treatment] = true
		}
	}
	if want := len(p.Room.Treatments) - 1; len(blocked) != want { // the bag lies on the floor
		t.Errorf("%d treatments said to be blocked, want %d", len(blocked), want)
	}
}

// A wall wider than the roll is joined; a triangle taller than the batt is put together.
func TestLargeParts(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, func(p *model.Project) {
		p.Room.Treatments = p.Room.Treatments[1:2]
		c := &p.Room.Treatments[0]
		c.Corner.Leg = 0.9
		c.Layers = append([]model.Layer{p.Stock.Films[0].Layer}, c.Layers...)
		p.Stock.Films[0].Width = 0.8
	})
	var area float64
	for _, s := range plan.Batts[0].Shapes {
		area += s.Area()
	}
	if want := 24 * 0.9 * 0.9 / 2; math.Abs(area-want) > 1e-9 {
		t.Errorf("%v m² of wool, want %v", area, want)
	}
	if n := len(plan.Films[0].Shapes); n != 2 || math.Abs(plan.Tape-2.4) > 1e-9 {
		t.Errorf("%d lengths of film, %v m of tape: the face is 1.27 m wide, a roll 0.8 m", n, plan.Tape)
	}
}

// What is left at an end: a strip of 10 cm goes with its neighbour, one of 30 cm is a
// piece, two centimetres are nothing.
func TestEnds(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		width  float64
		pieces int // across, of 60 cm
		last   float64
	}{{1.8, 3, 0.6}, {1.9, 3, 0.7}, {2.1, 4, 0.3}, {1.82, 3, 0.6}, {1.79, 3, 0.59}, {0.3, 1, 0.3}} {
		_, plan := planned(t, func(p *model.Project) {
			p.Room.Treatments = p.Room.Treatments[:1]
			p.Room.Treatments[0].Patch.Width, p.Room.Treatments[0].Patch.Height = c.width, 1.2
		})
		last := plan.Pieces[len(plan.Pieces)-1]
		if len(plan.Pieces) != c.pieces || math.Abs(last.Width-c.last) > 1e-9 {
			t.Errorf("%v m: %d pieces, the last of %v m; want %d and %v", c.width, len(plan.Pieces), last.Width, c.pieces, c.last)
		}
	}
}

// A leg 0.4 mm longer than a batt is wide, 61 cm of 24 in, is one triangle a layer: a tip of 0.4 mm is not cut.
func TestNarrowTip(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, func(p *model.Project) {
		p.Stock.Batts[0].Length, p.Stock.Batts[0].Width = 1.2192, 0.6096
		p.Room.Treatments = p.Room.Treatments[1:2]
		p.Room.Treatments[0].Corner.Leg = 0.61
	})
	if q := plan.Pieces[0]; q.Slabs != 24 || len(plan.Batts[0].Shapes) != 24 {
		t.Errorf("%d parts, want 24", q.Slabs)
	}
}

// A wall one batt high, by hand: three frames of 80 cm and one of 60 cm, where two batts side by side would
// make frames of 78 cm, 2 cm narrower than the batt that lies in them.
func TestOneBattHigh(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, func(p *model.Project) {
		p.Stock.Batts = p.Stock.Batts[:1]
		p.Stock.Batts[0].Length, p.Stock.Batts[0].Width = 0.8, 0.390625
		p.Room.Treatments = p.Room.Treatments[:1]
		p.Room.Treatments[0].Patch.Width, p.Room.Treatments[0].Patch.Height = 3, 0.375
	})
	if len(plan.Pieces) != 4 {
		t.Fatalf("%d pieces, want 4", len(plan.Pieces))
	}
	for i, want := range []float64{0.8, 0.8, 0.8, 0.6} {
		if q := plan.Pieces[i]; math.Abs(q.Width-want) > 1e-9 || q.Height != 0.375 || q.Slabs != 2 {
			t.Errorf("piece %d: %v × %v m of %d batts, want %v × 0.375 m of 2", i+1, q.Width, q.Height, q.Slabs, want)
		}
	}
	// Whole batts weigh what they do, however far they are pressed in: 2 of 0.8 × 0.390625 × 0.1 m, 14 kg/m³.
	_, bare := planned(t, func(p *model.Project) {
		p.Stock.Batts = p.Stock.Batts[:1]
		p.Stock.Batts[0].Length, p.Stock.Batts[0].Width = 0.8, 0.390625
		p.Stock.Timber, p.Stock.Cloths = nil, nil
		p.Room.Treatments = p.Room.Treatments[:1]
		p.Room.Treatments[0].Layers = p.Room.Treatments[0].Layers[1:]
		p.Room.Treatments[0].Patch.Width, p.Room.Treatments[0].Patch.Height = 0.8, 0.375
	})
	if _, exact := planned(t, nil); exact.Pieces[0].Pressed || !bare.Pieces[0].Pressed {
		t.Error("wool is pressed into frames of its size, or into smaller ones not")
	}
	if got, want := bare.Pieces[0].Weight.Typical, 2*0.8*0.390625*0.1*14; math.Abs(got-want) > 1e-9 {
		t.Errorf("%v kg of wool, want %v", got, want)
	}
	if use := plan.Batts[0]; use.Whole != 6 || len(use.Nesting.Sheets) != 8 {
		t.Errorf("%d batts, %d of them whole, want 8 and 6", len(use.Nesting.Sheets), use.Whole)
	}
}

func TestTooSmallBatts(t *testing.T) {
	t.Parallel()
	p, _ := planned(t, nil)
	p.Stock.Batts = p.Stock.Batts[:1]
	p.Stock.Batts[0].Length, p.Stock.Batts[0].Width = 0.1, 0.1
	if _, err := Make(p); err == nil || !strings.Contains(err.Error(), "are the batts of the right size?") {
		t.Errorf("%v", err)
	}
}

// A denser wool in the bag with film on it takes up another share, by the same stack.
func TestSubstitutes(t *testing.T) {
	t.Parallel()
	_, plan := planned(t, nil)
	subs := plan.Items[0].Substitutes
	if len(subs) == 0 || len(subs) > mostSubstitutes || subs[0].Name.Text(millimetres) != "stone wool batt" || subs[0].Resistivity != 12000 {
		t.Fatalf("%+v", subs)
	}
	for _, s := range subs {
		if len(s.Was) != len(s.Frequencies) || len(s.Is) != len(s.Was) || slices.Equal(s.Was, s.Is) {
			t.Errorf("%+v", s)
		}
	}
}

// Whatever the sizes: every part is nested, the wool in the pieces is that of the
// treatment, and what is bought with what is in hand suffices.
func TestPlanProperties(t *testing.T) {
	t.Parallel()
	base, _ := planned(t, nil)
	rapid.Check(t, func(t *rapid.T) {
		p := *base
		stock := *base.Stock
		p.Stock = &stock
		m := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		b := base.Stock.Batts[0]
		b.Length, b.Width, b.Have = m(0.8, 1.5, "length"), m(0.3, 0.7, "width"), rapid.IntRange(0, 40).Draw(t, "have")
		stock.Batts = []model.Batt{b}
		width, height := m(0.3, 3, "w"), m(0.3, 2.4, "h")
		wall := base.Room.Treatments[0]
		wall.Patch.Width, wall.Patch.Height = width, height
		corner := base.Room.Treatments[1]
		corner.Corner.Leg, corner.Corner.Square = m(0.1, 0.9, "leg"), rapid.Bool().Draw(t, "square")
		p.Room.Treatments = []model.Treatment{wall, corner}
		plan, err := Make(&p)
		if err != nil {
			t.Fatal(err)
		}
		use := plan.Batts[0]
		checkNesting(t, use.Shapes, use.Nesting, b.Length, b.Width)
		wool, corners := make([]float64, len(plan.Pieces)), 0.0 // m², by piece of the wall; of the corner
		for _, s := range use.Shapes {
			if plan.Pieces[s.Piece].Kind == WallPiece {
				wool[s.Piece] += s.Area()
			} else {
				corners += s.Area()
			}
		}
		checkWall(t, plan, wool, width, height)
		want, play := corner.Corner.Leg*corner.Corner.Leg*24, 24*2*squeeze*1.5
		if !corner.Corner.Square {
			want /= 2
		}
		uncut := 24 * 2 * sliver * corner.Corner.Leg // m²: strips beyond the last batt that are too narrow to cut
		if corners < want-uncut-1e-6 || corners > want+play {
			t.Fatalf("%v m² in the corner, want %v", corners, want)
		}
		it := plan.Items[0]
		if got := it.Have + float64(it.Packs*b.Pack()); got < it.Need || float64((it.Packs-1)*b.Pack())+it.Have >= it.Need && it.Packs > 0 {
			t.Fatalf("%+v", it)
		}
	})
}

// checkWall checks that pieces cover a wall of a size but for their play, and that each holds the wool of its face,
// twice, but for a [sliver] each way, whose batts are pressed in by at most [squeeze] each way. wool is by piece, m².
func checkWall(t *rapid.T, plan *Plan, wool []float64, width, height float64) {
	t.Helper()
	var faces float64
	for i, q := range plan.Pieces {
		if q.Kind != WallPiece {
			continue
		}
		faces += q.Area()
		if face := q.Width * q.Height; wool[i] < 2*(q.Width-sliver)*(q.Height-sliver)-1e-6 || wool[i] > 2*(q.Width+squeeze)*(q.Height+squeeze)+1e-6 {
			t.Fatalf("%v m² of wool in piece %d, want %v", wool[i], q.Number, 2*face)
		}
	}
	if faces > width*height+1e-6 || faces < (width-squeeze)*(height-squeeze)-1e-6 {
		t.Fatalf("%v m² of pieces on the wall, want %v", faces, width*height)
	}
}

// A batt without a name is called by its material and its thickness, in the reader's units.
func TestBattTitle(t *testing.T) {
	t.Parallel()
	b := model.Batt{Layer: model.Layer{Text: "stone wool", Thickness: 0.1016}}
	for want, length := range map[string]func(m float64) string{
		"stone wool, 101.6 mm batts": millimetres,
		"stone wool, 4 in batts":     func(m float64) string { return fmt.Sprintf("%.3g in", m/0.0254) },
	} {
		if got := BattTitle(b).Text(length); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	b.Name = "attic batt"
	if got := BattTitle(b).Text(millimetres); got != "attic batt" {
		t.Errorf("%q", got)
	}
}
