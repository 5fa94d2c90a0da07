package model

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// sound is a project without a problem or a doubt, with something in every part.
func sound() *Project {
	p := &Project{
		Room: Room{
			Size: r3.Vec{X: 4.5, Y: 3.4, Z: 2.45},
			Openings: []Opening{{
				Kind: "door", Patch: Patch{Face: Back, Along: 0.2, Width: 0.8, Height: 2},
				Surface: Surface{Construction: "hollow door"}, Swing: "inward",
			}},
			Blocks: []Block{{Name: "pier", Min: r3.Vec{X: 2}, Max: r3.Vec{X: 2.4, Y: 0.3, Z: 2.45}}},
			Treatments: []Treatment{{
				Name: "slab", Patch: Patch{Face: Ceiling, Along: 1, Up: 1, Width: 1.2, Height: 1.2},
				Layers: []Layer{{Kind: PorousLayer, Thickness: 0.1, Resistivity: 6000}},
			}},
		},
		Speakers: Speakers{
			Placed: true, Left: r3.Vec{X: 0.6, Y: 1, Z: 1.08}, Right: r3.Vec{X: 0.6, Y: 2.4, Z: 1.08},
			Box: Dimensions{Depth: 0.28, Width: 0.2, Height: 0.34}, WooferBelow: 0.12, AxisHeights: []float64{1.2},
			RearClearance: 0.05, SideClearance: 0.1,
			Zones: []Zone{{X: Range{0.35, 1.5}}}, Apart: Range{1, 2},
		},
		Seats: []Seat{{
			Name: "chair", Placed: true, At: r3.Vec{X: 1.8, Y: 1.7, Z: 1.2}, Height: 1.2, Weight: 1,
			Zones: []Zone{{X: Range{1.3, 3}}},
		}},
		Listening: Listening{Distance: Range{0.9, 2}, Angle: Range{50 * math.Pi / 180, 70 * math.Pi / 180}, BackDistance: 0.6},
		Goal:      Goal{From: 30, To: 300, Smoothing: 12},
	}
	for _, f := range Faces {
		p.Room.Walls[f] = Surface{Construction: "concrete"}
	}
	return p
}

func TestSoundProject(t *testing.T) {
	t.Parallel()
	p := sound()
	if got := p.Validate(); got != nil {
		t.Errorf("problems of a sound project: %v", got)
	}
	if got := p.FindWarnings(); got != nil {
		t.Errorf("warnings of a sound project: %v", got)
	}
}

// Each spoilt project has one problem, at the path that a room file would show.
func TestValidate(t *testing.T) {
	t.Parallel()
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct {
		name  string
		spoil func(*Project)
		path  string
		text  string
	}{
		{"no length", func(p *Project) { p.Room.Size.X = 0 }, "room.length", "must be 1.2 to 25 m"},
		{"NaN width", func(p *Project) { p.Room.Size.Y = nan }, "room.width", "have NaN m"},
		{"negative height", func(p *Project) { p.Room.Size.Z = -2 }, "room.height", "have -2 m"},
		{"hall", func(p *Project) { p.Room.Size.X = 80 }, "room.length", "small rooms"},
		{"cold", func(p *Project) { p.Room.Temperature = 250 }, "room.temperature", "-10 to 45 °C"},
		{"no wall", func(p *Project) { p.Room.Walls[Left] = Surface{} }, "walls.left", "absorption table for the left wall"},
		{"two ways", func(p *Project) { p.Room.Walls[Floor].Impedance = 3 }, "walls.floor", "in 2 ways"},
		{"active wall", func(p *Project) { p.Room.Walls[Back] = Surface{Impedance: -1} }, "walls.back.impedance", "real part"},
		{"NaN wall", func(p *Project) { p.Room.Walls[Back] = Surface{Impedance: complex(1, nan)} }, "walls.back.impedance", "real part"},
		{"table falls", func(p *Project) {
			p.Room.Walls[Front] = Surface{Absorption: []Absorption{{125, 0.1}, {63, 0.1}}}
		}, "walls.front.absorption[1]", "must rise"},
		{"table above 1", func(p *Project) { p.Room.Walls[Front] = Surface{Absorption: []Absorption{{63, 1.1}}} }, "walls.front.absorption[0]", "0 to 1"},
		{"no kind", func(p *Project) { p.Room.Openings[0].Kind = "gate" }, "openings[0].kind", "door, window or hole"},
		{"door in floor", func(p *Project) { p.Room.Openings[0].Patch.Face = Floor }, "openings[0].wall", "upright"},
		{"nameless door", func(p *Project) { p.Room.Openings[0].Surface = Surface{} }, "openings[0]", "absorption table for the door"},
		{"door too wide", func(p *Project) { p.Room.Openings[0].Patch.Width = 3.3 }, "openings[0].width", "inside the back wall"},
		{"door too high", func(p *Project) { p.Room.Openings[0].Patch.Height = 2.6 }, "openings[0].height", "inside the back wall"},
		{"door before wall", func(p *Project) { p.Room.Openings[0].Patch.Along = -0.1 }, "openings[0].from", "0 or more"},
		{"flat door", func(p *Project) { p.Room.Openings[0].Patch.Height = 0 }, "openings[0].height", "above 0"},
		{"doors overlap", func(p *Project) { p.Room.Openings = append(p.Room.Openings, p.Room.Openings[0]) }, "openings[1]", "overlaps openings[0]"},
		{"no such wall", func(p *Project) { p.Room.Treatments[0].Patch.Face = 9 }, "treatments[0].wall", "six walls"},
		{"block outside", func(p *Project) { p.Room.Blocks[0].Max.Z = 3 }, "blocks[0]", "0.55 m beyond the ceiling"},
		{"block turned", func(p *Project) { p.Room.Blocks[0].Max.X = 1 }, "blocks[0].to", "beyond from in x"},
		{"block fills", func(p *Project) {
			p.Room.Blocks[0] = Block{Max: p.Room.Size}
			p.Speakers.Placed, p.Seats[0].Placed = false, false
		}, "blocks[0]", "four fifths"},
		{"clear outside", func(p *Project) { p.KeepClear = []Block{{Min: r3.Vec{X: -1}, Max: r3.Vec{X: 1, Y: 1, Z: 1}}} }, "keep_clear[0]", "1 m beyond the front wall"},
		{"no layers", func(p *Project) { p.Room.Treatments[0].Layers = nil }, "treatments[0].layers", "at least one"},
		{"thin layer", func(p *Project) { p.Room.Treatments[0].Layers[0].Thickness = -1 }, "treatments[0].layers[0]", "above 0"},
		{"deep layer", func(p *Project) { p.Room.Treatments[0].Layers[0].Thickness = 2.5 }, "treatments[0].layers", "thinner than the room"},
		{"speaker outside", func(p *Project) { p.Speakers.Left.Y = -1 }, "speakers.now.left", "1 m beyond the left wall"},
		{"speaker NaN", func(p *Project) { p.Speakers.Right.Z = nan }, "speakers.now.right", "NaN"},
		{"box in wall", func(p *Project) { p.Speakers.Right.X = 0.2 }, "speakers.now.right", "0.08 m beyond the front wall"},
		{"box in block", func(p *Project) { p.Speakers.Left = r3.Vec{X: 2.2, Y: 0.2, Z: 1} }, "speakers.now.left", `inside the block "pier"`},
		{"swapped", func(p *Project) { s := &p.Speakers; s.Left, s.Right = s.Right, s.Left }, "speakers.now.left", "on the left"},
		{"flat box", func(p *Project) { p.Speakers.Box.Width = 0 }, "speakers.box.width", "above 0"},
		{"no axis", func(p *Project) { p.Speakers.AxisHeights = nil }, "speakers.axis_height", "at least one"},
		{"axis in roof", func(p *Project) { p.Speakers.AxisHeights[0] = 2.4 }, "speakers.axis_height[0]", "between floor and ceiling"},
		{"axis NaN", func(p *Project) { p.Speakers.AxisHeights[0] = nan }, "speakers.axis_height[0]", "between floor and ceiling"},
		{"rear", func(p *Project) { p.Speakers.RearClearance = -1 }, "speakers.rear_clearance", "0 to 3 m"},
		{"side", func(p *Project) { p.Speakers.SideClearance = inf }, "speakers.side_clearance", "0 to 3 m"},
		{"low limit", func(p *Project) { p.Speakers.LowLimit = 5000 }, "speakers.low_limit", "5 to 500 Hz"},
		{"apart turned", func(p *Project) { p.Speakers.Apart = Range{2, 1} }, "speakers.apart", "low to high"},
		{"empty zone", func(p *Project) { p.Speakers.Zones[0] = Zone{} }, "speakers.may_stand[0]", "x, y or both"},
		{"NaN zone", func(p *Project) { p.Speakers.Zones[0].X.Min = nan }, "speakers.may_stand[0].x", "low to high"},
		{"no seats", func(p *Project) { p.Seats = nil }, "seats", "at least one"},
		{"lost seat", func(p *Project) { p.Seats[0].Placed, p.Seats[0].Zones = false, nil }, "seats[0]", "where"},
		{"seat outside", func(p *Project) { p.Seats[0].At.X = 9 }, "seats[0].at", "4.5 m beyond the back wall"},
		{"seat in block", func(p *Project) { p.Seats[0].At = r3.Vec{X: 2.2, Y: 0.1, Z: 1} }, "seats[0].at", `"pier"`},
		{"seat weight", func(p *Project) { p.Seats[0].Weight = -1 }, "seats[0].weight", "0 or more"},
		{"no weight", func(p *Project) { p.Seats[0].Weight = 0 }, "seats[0].weight", "above 0"},
		{"tall seat", func(p *Project) { p.Seats[0].Height = 3 }, "seats[0].height", "0 to 2.45 m"},
		{"distance", func(p *Project) { p.Listening.Distance = Range{-1, 2} }, "listening.distance", "not be below 0"},
		{"angle", func(p *Project) { p.Listening.Angle = Range{1, 4} }, "listening.angle", "180°"},
		{"back", func(p *Project) { p.Listening.BackDistance = nan }, "listening.back_distance", "0 to 25 m"},
		{"balance", func(p *Project) { p.Listening.Balance = -0.1 }, "listening.balance", "0 to 25 m"},
		{"goal from", func(p *Project) { p.Goal.From = 5 }, "goal.from", "20 to 315 Hz"},
		{"goal narrow", func(p *Project) { p.Goal.From, p.Goal.To = 100, 101 }, "goal.to", "126 Hz or more, a third of an octave"},
		{"goal turned", func(p *Project) { p.Goal.From, p.Goal.To = 200, 100 }, "goal.to", "above the 200 Hz"},
		{"smoothing", func(p *Project) { p.Goal.Smoothing = 0 }, "goal.smoothing", "1 to 96"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := sound()
			c.spoil(p)
			got := p.Validate()
			if len(got) != 1 || got[0].Path != c.path || !strings.Contains(got[0].Text, c.text) {
				t.Errorf("problems %v; want one at %s with %q", got, c.path, c.text)
			}
		})
	}
}

// Sums of decimal lengths may miss the wall by a rounding and are still inside.
func TestValidateForgivesRounding(t *testing.T) {
	t.Parallel()
	p := sound()
	p.Room.Size.Y = 0.1 + 0.2 + 2.9
	p.Room.Openings[0].Patch = Patch{Face: Back, Along: 2.4, Width: 0.8, Height: 2.45}
	p.Speakers.Right.Y = 2.2
	if got := p.Validate(); got != nil {
		t.Error(got)
	}
}

// Every layout that Breaches calls legal makes a project without problems, once it
// is how things stand: warnings and problems do not contradict each other.
func TestLegalLayoutsAreValid(t *testing.T) {
	t.Parallel()
	legal := 0
	rapid.Check(t, func(t *rapid.T) {
		p := sound()
		x := rapid.Float64Range(0.2, 1.7).Draw(t, "x")
		half := rapid.Float64Range(0.4, 1).Draw(t, "half")
		seat := x + half/rapid.Float64Range(0.4, 0.8).Draw(t, "slope") // 0.47 to 0.7 is 50° to 70°
		p.Speakers.Left, p.Speakers.Right = r3.Vec{X: x, Y: 1.7 - half, Z: 1.08}, r3.Vec{X: x, Y: 1.7 + half, Z: 1.08}
		p.Seats[0].At.X = seat
		now, ok := p.Now()
		if !ok || p.Violation(now) > 0 {
			return
		}
		legal++
		if got := p.Validate(); got != nil {
			t.Fatal(got)
		}
		if got := p.FindWarnings(); got != nil {
			t.Fatal(got)
		}
	})
	if legal == 0 {
		t.Error("no legal layout was drawn")
	}
}

// What the present places break is legal, so that a search may start from it.
func TestPresentBreaches(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		spoil func(*Project)
		want  Rule
		by    float64 // m; 0: not looked at
	}{
		{"too near", func(p *Project) { p.Seats[0].At.X = 1.2 }, Rule{Kind: SeatZone}, 0},
		{"rear", func(p *Project) {
			p.Speakers.Left.X, p.Speakers.Right.X, p.Speakers.Zones = 0.3, 0.3, nil
		}, Rule{Kind: SpeakerRear}, 0.03},
		{"keep clear", func(p *Project) {
			p.KeepClear = []Block{{Name: "desk", Max: r3.Vec{X: 0.5, Y: 2, Z: 1.1}}}
		}, Rule{Kind: SpeakerObstacle, Name: "desk"}, 0},
		{"door swing", func(p *Project) { p.Seats[0].At = r3.Vec{X: 3.8, Y: 0.6, Z: 1.2} }, Rule{Kind: SeatObstacle, Name: "door swing"}, 0},
	} {
		p := sound()
		c.spoil(p)
		if problems := p.Validate(); problems != nil {
			t.Errorf("%s: problems %v, want a breach only", c.name, problems)
		}
		if !slices.ContainsFunc(p.PresentBreaches(), func(b Breach) bool { return b.Rule == c.want && (c.by == 0 || math.Abs(b.Amount-c.by) < 1e-9) }) {
			t.Errorf("%s: breaches %v, want %v among them", c.name, p.PresentBreaches(), c.want)
		}
	}
	p := sound()
	p.Seats[0].At.X, p.Seats[0].Placed = 1.2, false
	if got := p.PresentBreaches(); got != nil {
		t.Errorf("without a present seat %v", got)
	}
}

func TestFindWarnings(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		spoil func(*Project)
		want  string
	}{
		{"no box", func(p *Project) { p.Speakers.Box = Dimensions{} }, "as if a speaker were a point"},
		{"too absorbing", func(p *Project) { p.Room.Walls[Left] = Surface{Absorption: []Absorption{{63, 0.5}, {125, 0.99}}} }, "model.AbsorbsTooMuch{the left wall 0.99 125 0.951}"},
		{"thick", func(p *Project) { p.Room.Treatments[0].Layers[0].Thickness = 2 }, "model.LayerThick{slab 2}"},
		{"past a wall", func(p *Project) { p.Seats[0].Zones[0].X.Max = p.Room.Size.X + 2 }, fmt.Sprintf("model.ZonePastWall{seats[0].may_move[0].x back wall 2 %v}", sound().Room.Size.X)},
		{"before a wall", func(p *Project) { p.Speakers.Zones[0].Y = Range{-0.5, 3.3} }, "model.ZonePastWall{speakers.may_stand[0].y left wall 0.5 0}"},
		{"over door", func(p *Project) {
			p.Room.Treatments[0] = Treatment{Patch: Patch{Face: Back, Width: 1, Height: 1}, Layers: p.Room.Treatments[0].Layers}
		}, "model.OpeningCovered{treatment 1 door back wall 0.8}"},
	} {
		p := sound()
		c.spoil(p)
		if problems := p.Validate(); problems != nil {
			t.Errorf("%s: problems %v, want warnings only", c.name, problems)
		}
		found := false
		for _, w := range p.FindWarnings() {
			found = found || strings.Contains(fmt.Sprintf("%T%v", w, w), c.want)
		}
		if !found {
			t.Errorf("%s: warnings %q, want %q among them", c.name, p.FindWarnings(), c.want)
		}
	}
}

// checkProblem wants a problem at a path with a text in it, or none at all if there is
// no path.
func checkProblem(t *testing.T, name string, got []Problem, path, want string) {
	t.Helper()
	if path == "" && len(got) == 0 {
		return
	}
	if !slices.ContainsFunc(got, func(q Problem) bool { return q.Path == path && strings.Contains(q.Text, want) }) {
		t.Errorf("%s: problems %v, want one at %q with %q", name, got, path, want)
	}
}

// Blocks may stand anywhere as long as the air hangs together: a gap of a centimetre is enough, one of a
// few millimetres is a slip of the tape.
func TestValidateAirInOnePiece(t *testing.T) {
	t.Parallel()
	wall := func(x, y, z, toX, toY, toZ float64) Block {
		return Block{Name: "wall", Min: r3.Vec{X: x, Y: y, Z: z}, Max: r3.Vec{X: toX, Y: toY, Z: toZ}}
	}
	length, width, height := sound().Room.Size.X, sound().Room.Size.Y, sound().Room.Size.Z
	slope := []Slope{{Through: [3]r3.Vec{{Z: 1.2}, {X: length, Z: 1.2}, {Y: 2, Z: height}}}}
	for _, c := range []struct {
		name   string
		slopes []Slope
		blocks []Block
		shut   float64 // m³, 0 for nothing
	}{
		{"whole", nil, nil, 0},
		{"across", nil, []Block{wall(3, 0, 0, 3.1, width, height)}, (length - 3.11) * (width - 0.01) * (height - 0.01)},
		{"door left open", nil, []Block{wall(3, 0.8, 0, 3.1, width, height)}, 0},
		{"slit of 2 cm", nil, []Block{wall(3, 0.02, 0, 3.1, width, height)}, 0},
		{"slit of 5 mm", nil, []Block{wall(3, 0.005, 0, 3.1, width, height)}, (length - 3.11) * (width - 0.01) * (height - 0.01)},
		{"over the top", nil, []Block{wall(3, 0, 0, 3.1, width, height-0.1)}, 0},
		{"cupboard", nil, []Block{wall(3.6, 2.9, 0, length, 2.95, height), wall(3.6, 2.95, 0, 3.65, width, height)}, (length - 3.66) * (width - 2.96) * (height - 0.01)},
		{"cupboard of blocks that miss each other by 3 mm", nil, []Block{wall(3.6, 2.9, 0, length, 2.947, height), wall(3.6, 2.95, 0, 3.65, width, height)}, (length - 3.66) * (width - 2.957) * (height - 0.01)},
		{"5 mm behind a chimney", nil, []Block{wall(0.005, 0, 0, 0.4, 0.6, height)}, 0},
		{"up to a slope", slope, []Block{wall(3, 0, 0, 3.1, width, height-0.3)}, 0},
		{"floor above", nil, []Block{wall(0, 0, 2.2, length, width, 2.3)}, (length - 0.01) * (width - 0.01) * (height - 2.31)},
	} {
		p := sound()
		p.Room.Treatments, p.Room.Openings, p.Room.Slopes, p.Room.Blocks = nil, nil, c.slopes, c.blocks
		var shut float64
		if pieces := p.Room.pieces(); len(pieces) > 1 {
			shut = pieces[1].volume
		}
		if math.Abs(shut-c.shut) > 1e-9 {
			t.Errorf("%s: %v m³ are shut off, want %v", c.name, shut, c.shut)
		}
	}
	// An outline that narrows: the block closes the neck.
	p := sound()
	p.Room.Outline = Polygon{{}, {X: length}, {X: length, Y: 1.5}, {X: 3.5, Y: 1.5}, {X: 3.5, Y: width}, {Y: width}}
	p.Room.Treatments, p.Room.Openings = nil, nil
	p.Room.Blocks = []Block{wall(3.6, 0, 0, 3.8, 1.5, height)}
	if pieces := p.Room.pieces(); len(pieces) != 2 || math.Abs(pieces[1].volume-(length-3.805)*1.5*height) > 0.1 {
		t.Errorf("behind the neck: %v", pieces)
	}
	p.Room.Blocks[0].Max.Z = 1.8
	if pieces := p.Room.pieces(); len(pieces) != 1 {
		t.Errorf("over the block in the neck: %v", pieces)
	}
}
