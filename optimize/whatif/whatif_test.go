package whatif

import (
	"context"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
	"evenbass/model/mode/modetest"
	"evenbass/model/response"
	"evenbass/model/wave"
)

// A mode of a box alone in its band: what is read off the response of the exact modal
// field falls as fast as its eigenvalue says, of the driven pole of the box, which
// model/mode holds to published pressures.
func TestDecayOfABox(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: r3.Vec{X: 4.0, Y: 2.2, Z: 2.0}, Air: model.AirAt(0)}
	for i := range box.Walls {
		box.Walls[i] = model.Plain(1.0 / 60)
	}
	engine := modetest.Engine(t, box, response.DecayGrid())
	field, err := engine.Field(t.Context(), r3.Vec{X: 3.9, Y: 1.1, Z: 1.0}) // between the ends the next modes have a node
	if err != nil {
		t.Fatal(err)
	}
	lowest, err := mode.FreeDecay(box, [3]int{1, 0, 0})
	if err != nil {
		t.Fatal(err)
	}
	want := 20 * math.Ln10 / 20 / lowest.Rate // e^{-δt} is 20 dB down
	got := response.NewDecayReader().Read(field.Transfer(nil, r3.Vec{X: 0.1, Y: 1.1, Z: 1.0}))[1]
	if got.Band != 40 || !got.Resolved() || math.Abs(got.Fall20/want-1) > 0.10 {
		t.Errorf("mode at %.1f Hz: 20 dB in %.3f s (filter alone %.3f s), the eigenvalue gives %.3f s", lowest.Frequency, got.Fall20, got.Filter, want)
	}
}

// closet is a room that the wave solver solves in a moment.
func closet() *model.Project {
	p := &model.Project{Goal: model.Goal{From: 50, To: 200, Smoothing: 12}}
	p.Room.Size = r3.Vec{X: 2.0, Y: 1.8, Z: 1.7}
	for i := range p.Room.Walls {
		p.Room.Walls[i].Impedance = 25
	}
	p.Speakers = model.Speakers{
		Placed: true, Left: r3.Vec{X: 0.35, Y: 0.4, Z: 0.9}, Right: r3.Vec{X: 0.35, Y: 1.4, Z: 0.9}, AxisHeights: []float64{0.9},
	}
	p.Seats = []model.Seat{{Placed: true, At: r3.Vec{X: 1.2, Y: 0.9, Z: 1.0}, Height: 1.0}}
	return p
}

func closetSolver(p *model.Project, grid model.Grid, progress model.Progress) (model.Engine, error) {
	l, r := p.Speakers.Left, p.Speakers.Right
	return wave.NewRoom(&p.Room, material.Typical, grid, wave.Settings{Zones: []model.Block{{Min: l, Max: l}, {Min: r, Max: r}}, Progress: progress})
}

// Against physics without a source: wool on a wall makes the sound fall faster. A
// layer doubled does not make it slower. Both are common practice, no source.
func TestCompareDepth(t *testing.T) {
	t.Parallel()
	p := closet()
	options, err := ReadyMade("depth", p)
	if err != nil {
		t.Fatal(err)
	}
	var shares []float64
	w, err := Compare(context.Background(), p, options, model.DefaultGrid(), closetSolver, func(_ string, share float64) { shares = append(shares, share) })
	if err != nil {
		t.Fatal(err)
	}
	if !slices.IsSorted(shares) || len(shares) < 2*len(options) || shares[len(shares)-1] != 1 {
		t.Errorf("progress %v", shares)
	}
	if w.Now.Modes != nil || w.States[0].Modes != nil {
		t.Error("the wave solver lists modes")
	}
	single, double := &w.States[0], &w.States[1]
	if !(single.MeanFall() < w.Now.MeanFall() && double.MeanFall() < single.MeanFall()) {
		t.Errorf("20 dB in %.3f s bare, %.3f s with 100 mm, %.3f s with 200 mm", w.Now.MeanFall(), single.MeanFall(), double.MeanFall())
	}
	t.Logf("spread %.1f dB bare, %.1f dB with 100 mm, %.1f dB with 200 mm", float64(w.Now.Judgement.Spread()), float64(single.Judgement.Spread()), float64(double.Judgement.Spread()))
	if want := 1.8 * 0.2; math.Abs(double.Floor-want) > 1e-9 || double.Build == nil || double.Build.Weight().Typical <= single.Build.Weight().Typical {
		t.Errorf("floor %v m², want %v; weights %v", double.Floor, want, double.Build)
	}
	if len(p.Room.Treatments) != 0 {
		t.Error("the project itself has changed")
	}
}

// The decay of each mode of a box whose walls change: against the eigenvalues of the
// coupled problem, which model/mode holds to published values. A softer wall
// makes every mode faster.
func TestCompareModes(t *testing.T) {
	t.Parallel()
	p := closet()
	boxes := func(p *model.Project, grid model.Grid, progress model.Progress) (model.Engine, error) {
		box, _, err := surface.Box(&p.Room, material.Typical)
		if err != nil {
			return nil, err
		}
		return mode.New(box, grid, mode.Settings{})
	}
	soft := model.Option{Name: "softer", Walls: map[model.Face]model.Surface{model.Back: {Impedance: 12.5}}}
	w, err := Compare(context.Background(), p, []model.Option{soft}, model.DefaultGrid(), boxes, nil)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range []*State{&w.Now, &w.States[0]} {
		box, _, err := surface.Box(&v.Project.Room, material.Typical)
		if err != nil {
			t.Fatal(err)
		}
		if len(v.Modes) < 5 {
			t.Fatalf("state %d has %d modes", i, len(v.Modes))
		}
		for k, m := range v.Modes {
			exact, err := mode.FreeDecay(box, m.N)
			if err != nil {
				t.Fatal(err)
			}
			if want := math.Ln10 / exact.Rate; math.Abs(m.Fall20/want-1) > 1e-9 {
				t.Errorf("state %d, mode %v: 20 dB in %.4f s, the eigenvalue gives %.4f s", i, m.N, m.Fall20, want)
			}
			if was := w.Now.Modes[k]; was.N != m.N || i == 1 && m.Fall20 >= was.Fall20 {
				t.Errorf("mode %v falls in %.4f s with a softer wall, mode %v in %.4f s without", m.N, m.Fall20, was.N, was.Fall20)
			}
		}
	}
}

// An option that takes away nothing that is there, or is stopped, is an error.
func TestCompareRefuses(t *testing.T) {
	t.Parallel()
	p := closet()
	if _, err := Compare(context.Background(), p, []model.Option{{Name: "a", Remove: []string{"rug"}}}, model.DefaultGrid(), closetSolver, nil); err == nil {
		t.Error("removing what is not there went through")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Compare(ctx, p, nil, model.DefaultGrid(), closetSolver, nil); err == nil {
		t.Error("a stopped comparison went through")
	}
	p.Speakers.Placed = false
	if _, err := Compare(context.Background(), p, nil, model.DefaultGrid(), closetSolver, nil); err == nil {
		t.Error("speakers nowhere went through")
	}
}

// By hand: a dip of 10 dB at 100 Hz that is gone, and one of 6 dB at 150 Hz that comes.
func TestDipChanges(t *testing.T) {
	t.Parallel()
	grid := model.Grid{50, 100, 125, 150, 200}
	var before, after response.Judgement
	for c := range before.Curves {
		before.Curves[c] = []model.Level{0, -10, 0, -1, 0}
		after.Curves[c] = []model.Level{0, -1, 0, -6, 0}
	}
	healed, made := dipChanges(grid, model.Goal{From: 50, To: 200, Smoothing: 12}, &before, &after)
	if len(healed) != 1 || healed[0].Frequency != 100 || healed[0].Before != -10 || healed[0].After != -1 {
		t.Errorf("healed %+v", healed)
	}
	if len(made) != 1 || made[0].Frequency != 150 || made[0].After != -6 {
		t.Errorf("made %+v", made)
	}
}

// By hand: a layer of 0.3 m on 2 m, half a square of 0.4 m, a cloud that takes none.
func TestFloorTaken(t *testing.T) {
	t.Parallel()
	wool := func(m float64) []model.Layer {
		return []model.Layer{{Kind: model.PorousLayer, Thickness: m, Resistivity: 6000}}
	}
	r := &model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}, Treatments: []model.Treatment{
		{Layers: wool(0.3), Patch: model.Patch{Face: model.Back, Width: 2, Height: 2.4}},
		{Form: model.InCorner, Layers: wool(0), Corner: model.Corner{Walls: [2]model.Face{model.Front, model.Left}, Leg: 0.4, To: 2.4}},
		{Form: model.UnderCeiling, Layers: wool(0.1), Gap: 0.1, Box: model.Block{Min: r3.Vec{X: 1, Y: 1}, Max: r3.Vec{X: 2, Y: 2}}},
	}}
	if got, want := floorTaken(r), 0.6+0.08; math.Abs(got-want) > 1e-9 {
		t.Errorf("%v m², want %v", got, want)
	}
}

// Every study can be carried out in a room with a door in the back wall, and none where
// the door leaves too little.
func TestStudies(t *testing.T) {
	t.Parallel()
	p := closet()
	door := model.Opening{Kind: "door", Patch: model.Patch{Face: model.Back, Along: 1.1, Width: 0.7, Height: 1.6}}
	p.Room.Openings = []model.Opening{door}
	for _, name := range ReadyMadeNames() {
		options, err := ReadyMade(name, p)
		if err != nil || len(options) < 2 {
			t.Errorf("%s: %d options, %v", name, len(options), err)
		}
		for _, o := range options {
			for _, add := range o.Add {
				if add.Form == model.OnWall && add.Patch.Overlap(door.Patch) > 0 {
					t.Errorf("%s: %s covers the door", name, o.Name)
				}
			}
			if _, err := p.With(&o); err != nil {
				t.Errorf("%s: %s: %v", name, o.Name, err)
			}
		}
	}
	size := p.Room.Size
	p.Room.Outline = model.Polygon{{}, {X: size.X}, {X: size.X, Y: 1.2}, {X: size.X - 0.5, Y: 1.2}, {X: size.X - 0.5, Y: size.Y}, {Y: size.Y}}
	p.Room.Openings = nil
	if options, err := ReadyMade("corners", p); err != nil || len(options) != 2 || options[1].Add[0].Patch.Along+options[1].Add[0].Patch.Width > 1.2 {
		t.Errorf("round a corner: %+v, %v", options, err)
	}
	p.Room.Outline, p.Room.Openings = nil, []model.Opening{door}
	p.Room.Openings[0].Patch.Along, p.Room.Openings[0].Patch.Width = 0.3, 1.2
	if _, err := ReadyMade("gap", p); err == nil {
		t.Error("a study on 0.3 m of wall went through")
	}
}
