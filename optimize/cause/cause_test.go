package cause

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/image"
	"evenbass/model/mode"
	"evenbass/model/mode/modetest"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
)

// oneWall is a room whose front wall reflects all and whose other walls
// absorb all sound that meets them head on, with a pair 0.9 m from that wall.
func oneWall() (model.Box, model.Layout, model.Goal) {
	box := model.Box{Size: r3.Vec{X: 5, Y: 5, Z: 4}, Air: model.AirAt(0)}
	for _, f := range model.Faces {
		box.Walls[f] = model.Plain(1)
	}
	box.Walls[model.Front] = model.Rigid
	l := model.Layout{Left: r3.Vec{X: 0.9, Y: 2.2, Z: 2}, Right: r3.Vec{X: 0.9, Y: 2.8, Z: 2}, Seat: r3.Vec{X: 3, Y: 2.5, Z: 2}}
	return box, l, model.Goal{From: 40, To: 140, Smoothing: 12}
}

// A wall at a quarter of a wavelength behind a source makes a dip (image source; Allison, JAES
// 22(5), 1974, for the idea). Where the reflection's detour is half a wavelength the dip must be
// found and that wall named, whichever engine gives the evidence; and the dip must move with the
// speakers, not with the seat.
func TestExplainNamesTheOnlyWall(t *testing.T) {
	t.Parallel()
	box, l, goal := oneWall()
	grid := model.NewGrid(35, 160, 24, 0)
	modes := modetest.Engine(t, box, grid)
	images, err := image.New(box, grid, image.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	mirrored := l.Left
	mirrored.X = -mirrored.X
	detour := r3.Norm(r3.Sub(mirrored, l.Seat)) - r3.Norm(r3.Sub(l.Left, l.Seat))
	want := box.Air.Speed / (2 * detour)
	for _, e := range []model.Engine{modes, images} {
		p := &model.Project{Room: model.Room{Size: box.Size}, Goal: goal}
		c, err := score.Evaluate(t.Context(), p, e, l, 0)
		if err != nil {
			t.Fatal(err)
		}
		dips, err := Explain(context.Background(), box, e, p, &c)
		if err != nil || len(dips) == 0 {
			t.Fatalf("%s: %d dips, %v", e.Info().Kind, len(dips), err)
		}
		d := dips[0]
		if math.Abs(d.Feature.Frequency-want) > 0.05*want {
			t.Errorf("%s: deepest dip at %.1f Hz, want %.1f", e.Info().Kind, d.Feature.Frequency, want)
		}
		if len(d.Causes) != 1 || d.Causes[0].Suspect != (Suspect{Boundary: model.Front, Distances: [2]float64{0.9, 0.9}}) {
			t.Errorf("%s: causes %+v", e.Info().Kind, d.Causes)
		}
		if d.Moves != MovesWithSpeakers {
			t.Errorf("%s: the dip moves with %d", e.Info().Kind, d.Moves)
		}
	}
}

// The suspects are six walls and every resonance to 200 Hz; a mode's pair is the whole
// less that mode.
func TestSuspects(t *testing.T) {
	t.Parallel()
	p, e := testroom.ByModes(t)
	box := testroom.Walled(model.Box{Size: p.Room.Size, Air: model.AirAt(0)})
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 1, Z: 1}, Right: r3.Vec{X: 0.7, Y: 2.1, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.55, Z: 1.2}}
	list, err := suspects(context.Background(), box, e, l)
	if err != nil {
		t.Fatal(err)
	}
	modes, _ := mode.List(box, 200)
	modes = slices.DeleteFunc(modes, func(m mode.Mode) bool { return m.Quality() < leastQuality })
	if len(list) != 6+len(modes) || list[1].Boundary != model.Back || math.Abs(list[1].Distances[0]-2.2) > 1e-9 {
		t.Fatalf("%d suspects, want 6 walls and %d modes; the second is %+v", len(list), len(modes), list[1].Suspect)
	}
	field, err := e.Field(t.Context(), l.Seat)
	if err != nil {
		t.Fatal(err)
	}
	if dip := (response.Feature{Frequency: 60}); list[6].mayCause(dip) || !list[0].mayCause(dip) {
		t.Error("a mode more than half an octave away is suspected, or a wall is not")
	}
	first := list[6]
	if first.Kind != ModeSuspect || first.Mode.N != [3]int{1, 0, 0} || math.Abs(first.Mode.Frequency-343.2/8.4) > 0.05 { // c/2L
		t.Errorf("first mode is %+v", first.Suspect)
	}
	term, whole := field.(*mode.Field).Term(nil, l.Left, modes[0].N), field.Transfer(nil, l.Left)
	for i, v := range first.without.Left {
		if cmplx.Abs(v+term[i]-whole[i]) > 1e-9*cmplx.Abs(whole[i]) {
			t.Fatalf("at %v Hz the rest and the term do not make the whole", e.Grid()[i])
		}
	}
}

// A context that has ended ends the search for causes.
func TestExplainCancelled(t *testing.T) {
	t.Parallel()
	p, e := testroom.ByModes(t)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	l := model.Layout{Left: r3.Vec{X: 0.7, Y: 1, Z: 1}, Right: r3.Vec{X: 0.7, Y: 2.1, Z: 1}, Seat: r3.Vec{X: 2, Y: 1.55, Z: 1.2}}
	if _, err := suspects(ctx, testroom.Walled(model.Box{Size: p.Room.Size, Air: model.AirAt(0)}), e, l); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

// Dips come deepest first, at most three, none twice, and no peaks.
func TestDeepest(t *testing.T) {
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	reader := response.NewReader(e.Grid(), e.Air(), p.Goal)
	pair, err := score.PairAt(t.Context(), e, model.Layout{Left: r3.Vec{X: 0.3, Y: 0.6, Z: 1}, Right: r3.Vec{X: 0.5, Y: 2.3, Z: 1}, Seat: r3.Vec{X: 2.6, Y: 1.5, Z: 1.2}})
	if err != nil {
		t.Fatal(err)
	}
	dips := deepest(reader, pair)
	if len(dips) == 0 || len(dips) > worstDips {
		t.Fatalf("%d dips", len(dips))
	}
	for i, d := range dips {
		if d.Peak || i > 0 && (d.Level < dips[i-1].Level || octaves(d, dips[i-1]) < 1.0/12) {
			t.Errorf("%+v", dips)
		}
	}
}

// A boundary's distances are to what it acts on, and both where the speakers differ.
func TestBoundaryDistances(t *testing.T) {
	box, l, _ := oneWall()
	l.Right.X, l.Right.Z = 1.1, 2.1
	for f, want := range map[model.Face][2]float64{
		model.Front:   {0.9, 1.1},
		model.Back:    {2, 2},
		model.Left:    {2.2, 2.2},
		model.Right:   {2.2, 2.2},
		model.Floor:   {2, 2.1},
		model.Ceiling: {2, 2},
	} {
		got := boundary(box.Size, f, l)
		if got.Kind != BoundarySuspect || got.Boundary != f || math.Abs(got.Distances[0]-want[0])+math.Abs(got.Distances[1]-want[1]) > 1e-9 {
			t.Errorf("%v: %+v, want %v", f, got, want)
		}
	}
}

// At most two boundaries that can be treated are named, none that cures less than half of what the
// best suspect does; where there is none, the best suspect is.
func TestNamed(t *testing.T) {
	t.Parallel()
	wall := func(f model.Face, cure model.Level) Cause { return Cause{Suspect: Suspect{Boundary: f}, Cure: cure} }
	mode := Cause{Suspect: Suspect{Kind: ModeSuspect}, Cure: 8}
	for name, c := range map[string]struct {
		causes []Cause
		want   []model.Level // cures of those named
	}{
		"three walls":           {[]Cause{wall(model.Back, 9), wall(model.Left, 8), wall(model.Right, 7)}, []model.Level{9, 8}},
		"a weak second":         {[]Cause{wall(model.Back, 9), wall(model.Left, 4)}, []model.Level{9}},
		"a mode, then its wall": {[]Cause{mode, wall(model.Back, 7)}, []model.Level{7}},
		"a mode alone":          {[]Cause{mode, wall(model.Back, 2)}, []model.Level{8}},
		"the floor":             {[]Cause{wall(model.Floor, 6), wall(model.Ceiling, 5)}, []model.Level{5}},
		"the floor alone":       {[]Cause{wall(model.Floor, 6)}, []model.Level{6}},
		"none":                  {nil, nil},
	} {
		d := Dip{Causes: c.causes}
		var got []model.Level
		for _, n := range d.Named() {
			got = append(got, n.Cure)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: named those that cure %v dB, want %v", name, got, c.want)
		}
	}
}
