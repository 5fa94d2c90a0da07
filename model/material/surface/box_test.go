package surface

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/materialtest"
)

// livingRoom is a plain room of 4.3 x 3.6 x 2.4 m with a door and a window.
func livingRoom() *model.Room {
	room := &model.Room{Size: r3.Vec{X: 4.3, Y: 3.6, Z: 2.4}}
	for i, name := range []string{
		"brick plastered", "plasterboard on studs empty", "brick plastered", "brick plastered",
		"carpet on joists", "plasterboard on joists",
	} {
		room.Walls[i].Construction = name
	}
	room.Openings = []model.Opening{
		{Kind: "door", Patch: model.Patch{Face: model.Back, Along: 0.2, Width: 0.8, Height: 2},
			Surface: model.Surface{Construction: "hollow door"}},
		{Kind: "window", Name: "street window", Patch: model.Patch{Face: model.Left, Along: 1, Up: 0.9, Width: 1.5, Height: 1.2},
			Surface: model.Surface{Construction: "double glazing"}},
	}
	return room
}

func mustBox(t testing.TB, room *model.Room, e material.Estimate) (model.Box, []model.Warning) {
	t.Helper()
	box, warnings, err := Box(room, e)
	if err != nil {
		t.Fatal(err)
	}
	return box, warnings
}

// said reports whether the warnings tell of a simplification of all that is named.
func said(warnings []model.Warning, how model.Simplification, names ...string) bool {
	return slices.ContainsFunc(warnings, func(w model.Warning) bool {
		s, ok := w.(model.Simplified)
		for _, name := range names {
			ok = ok && strings.Contains(s.Names, name)
		}
		return ok && s.How == how
	})
}

func TestTypicalRoomDecays(t *testing.T) {
	t.Parallel()
	// Fifty British living rooms: 0.69 s at 125 Hz on average (Jackson & Leventhall,
	// quoted in Everest, Master Handbook of Acoustics). Those have furniture, which
	// this one has not; so the typical estimate may be longer, not shorter than
	// two thirds, and the range must hold it.
	time := func(e material.Estimate) float64 {
		box, _ := mustBox(t, livingRoom(), e)
		sabine, _ := material.ReverberationTime(&box, 125)
		return sabine
	}
	low, typical, high := time(material.Low), time(material.Typical), time(material.High)
	t.Logf("at 125 Hz: %.2f s, range %.2f to %.2f s", typical, high, low)
	if !(high <= 0.69 && 0.69 <= low) {
		t.Errorf("0.69 s is outside %.2f to %.2f s", high, low)
	}
	if typical < 0.69*2/3 || typical > 1.4 {
		t.Errorf("typical %.2f s is no living room", typical)
	}
}

func TestOpeningIsMixedByArea(t *testing.T) {
	t.Parallel()
	room := livingRoom()
	box, warnings := mustBox(t, room, material.Typical)
	stud, _ := material.Lookup("plasterboard on studs empty")
	door, _ := material.Lookup("hollow door")
	for _, f := range []float64{30, 63, 125, 250} {
		share := 0.8 * 2 / (3.6 * 2.4)
		want := complex(share, 0)*door.At(material.Typical).Admittance(f) + complex(1-share, 0)*stud.At(material.Typical).Admittance(f)
		materialtest.Near(t, fmt.Sprintf("back wall at %v Hz", f), real(box.Admittance(model.Back, f)), real(want), 1e-15)
	}
	if !said(warnings, model.OpeningsSpread, "door in the back wall and street window") {
		t.Errorf("no word on the door and the window in %q", warnings)
	}
}

func TestOpeningOfTheWallsOwnKindChangesNothing(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		room := livingRoom()
		room.Openings = room.Openings[:1]
		room.Openings[0].Surface = room.Walls[model.Back]
		room.Openings[0].Patch.Width = rapid.Float64Range(0.1, 3.4).Draw(t, "width")
		f := rapid.Float64Range(20, 315).Draw(t, "f")
		box, _, err := Box(room, material.High)
		if err != nil {
			t.Fatal(err)
		}
		room.Openings = nil
		bare, _, _ := Box(room, material.High)
		got, want := real(box.Admittance(model.Back, f)), real(bare.Admittance(model.Back, f))
		if math.Abs(got-want) > 1e-14 {
			t.Fatalf("β %v with a door of the wall's own kind, %v without", got, want)
		}
	})
}

func TestEstimatesAreInOrder(t *testing.T) {
	t.Parallel()
	var last [6]float64
	for _, e := range []material.Estimate{material.Low, material.Typical, material.High} {
		box, _ := mustBox(t, livingRoom(), e)
		for _, face := range model.Faces {
			b := real(box.Admittance(face, 63))
			if b <= last[face] {
				t.Errorf("%v: %v estimate %v is not above %v", face, e, b, last[face])
			}
			last[face] = b
		}
	}
}

func TestImpedanceAndTableWalls(t *testing.T) {
	t.Parallel()
	room := livingRoom()
	room.Walls[model.Front] = model.Surface{Impedance: 3 - 5i}
	room.Walls[model.Right] = model.Surface{Absorption: []model.Absorption{{Frequency: 63, Coefficient: 0.2}, {Frequency: 250, Coefficient: 0.1}}}
	box, warnings := mustBox(t, room, material.Low)
	if got := box.Admittance(model.Front, 50); got != 1/(3-5i) {
		t.Errorf("β = %v", got)
	}
	materialtest.Near(t, "table", material.RandomAbsorption(1/box.Admittance(model.Right, 63)), 0.2, 1e-9)
	if !slices.Contains(warnings, model.Warning(model.About{Name: "right wall", Warning: model.TableBegins{Frequency: 63}})) {
		t.Errorf("no word on the table's end in %q", warnings)
	}
}

func TestBoxSaysWhatItLeavesOut(t *testing.T) {
	t.Parallel()
	room := livingRoom()
	room.Walls[model.Floor] = model.Surface{}
	room.Blocks = []model.Block{{Name: "chimney breast"}, {}}
	_, warnings := mustBox(t, room, material.Typical)
	for how, names := range map[model.Simplification][]string{
		model.BlocksOmitted:      {"chimney breast and a block"},
		model.WallsUnset:         {"floor"},
		model.TablesExtrapolated: {"front wall", "street window"},
		model.LightWallsRigid:    {"back wall and ceiling"},
	} {
		if !said(warnings, how, names...) {
			t.Errorf("no warning of kind %d with %q in %v", how, names, warnings)
		}
	}
	for i := range room.Walls {
		room.Walls[i] = model.Surface{Impedance: 20}
	}
	room.Blocks, room.Openings = nil, nil
	if _, warnings := mustBox(t, room, material.Typical); len(warnings) != 0 {
		t.Errorf("plain impedances give warnings %q", warnings)
	}
}

func TestHoleIsOpen(t *testing.T) {
	t.Parallel()
	room := livingRoom()
	room.Walls[model.Back] = model.Surface{Construction: "rigid"}
	room.Openings = []model.Opening{{Kind: "hole", Patch: model.Patch{Face: model.Back, Width: 1.8, Height: 2.4}}}
	box, _ := mustBox(t, room, material.Typical)
	materialtest.Near(t, "half of the wall is open", real(box.Admittance(model.Back, 80)), 0.5, 1e-14)
}

func TestTreatmentIsMixedByArea(t *testing.T) {
	t.Parallel()
	layers := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000}}
	room := livingRoom()
	room.Walls[model.Back] = model.Surface{Construction: "rigid"}
	// It hides half of the door.
	room.Treatments = []model.Treatment{{Name: "rear layer", Layers: layers,
		Patch: model.Patch{Face: model.Back, Along: 0.6, Width: 1.8, Height: 2.4}}}
	box, warnings := mustBox(t, room, material.Typical)
	stack, _, err := absorber.NewStack(layers, nil)
	if err != nil {
		t.Fatal(err)
	}
	door, _ := material.Lookup("hollow door")
	want := 0.5*stack.Admittance(63) + complex(0.4*2/(3.6*2.4), 0)*door.At(material.Typical).Admittance(63)
	got := box.Admittance(model.Back, 63)
	materialtest.Near(t, "Re β", real(got), real(want), 1e-9)
	materialtest.Near(t, "Im β", imag(got), imag(want), 1e-9)
	if !said(warnings, model.TreatmentsSpread, "rear layer") {
		t.Errorf("no word on the treatment in %q", warnings)
	}
}

func TestTreatmentFollowsTheEstimate(t *testing.T) {
	t.Parallel()
	room := livingRoom()
	room.Walls[model.Back] = model.Surface{Construction: "rigid"}
	room.Openings = nil
	room.Treatments = []model.Treatment{{
		Patch:  model.Patch{Face: model.Back, Width: 3.6, Height: 2.4},
		Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000}},
	}}
	var last float64
	for _, e := range []material.Estimate{material.Low, material.Typical, material.High} {
		box, _ := mustBox(t, room, e)
		alpha := material.AbsorptionAt(box.Admittance(model.Back, 80), 1)
		if alpha <= last {
			t.Errorf("%v estimate %v is not above %v", e, alpha, last)
		}
		last = alpha
	}
}

func TestBoxErrors(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change func(*model.Room)
		want   []string
	}{
		{"unknown wall", func(r *model.Room) { r.Walls[model.Left].Construction = "brick plasterd" },
			[]string{"left wall", `"brick plasterd"`, `did you mean "brick plastered"`}},
		{"unknown door", func(r *model.Room) { r.Openings[0].Surface.Construction = "hollo door" },
			[]string{"door in the back wall", `"hollow door"`}},
		{"active wall", func(r *model.Room) { r.Walls[model.Floor] = model.Surface{Impedance: -1 + 2i} },
			[]string{"floor", "produce energy"}},
		{"not a number", func(r *model.Room) { r.Walls[model.Floor] = model.Surface{Impedance: complex(1, math.NaN())} },
			[]string{"floor", "impedance"}},
		{"bad table", func(r *model.Room) {
			r.Walls[model.Ceiling] = model.Surface{Absorption: []model.Absorption{{Frequency: 63, Coefficient: 20}}}
		},
			[]string{"ceiling", "20"}},
		{"no height", func(r *model.Room) { r.Size.Z = 0 }, []string{"height"}},
		{"empty treatment", func(r *model.Room) {
			r.Treatments = []model.Treatment{{Name: "panel", Patch: model.Patch{Width: 1, Height: 1}}}
		}, []string{"panel", "layer"}},
	} {
		room := livingRoom()
		c.change(room)
		_, _, err := Box(room, material.Typical)
		if err == nil {
			t.Errorf("%s: no error", c.name)
			continue
		}
		for _, w := range c.want {
			if !strings.Contains(err.Error(), w) {
				t.Errorf("%s: %q says nothing of %q", c.name, err, w)
			}
		}
	}
}

func ExampleBox() {
	room := &model.Room{Size: r3.Vec{X: 5, Y: 4, Z: 2.5}}
	for i := range room.Walls {
		room.Walls[i].Construction = "plaster on concrete"
	}
	box, warnings, err := Box(room, material.Typical)
	if err != nil {
		fmt.Println(err)
		return
	}
	sabine, eyring := material.ReverberationTime(&box, 125)
	fmt.Printf("T at 125 Hz: %.1f s (Sabine), %.1f s (Eyring)\n", sabine, eyring)
	fmt.Println(len(warnings), "warning")
	// Output:
	// T at 125 Hz: 4.7 s (Sabine), 4.7 s (Eyring)
	// 1 warning
}

func BenchmarkBoxAdmittance(b *testing.B) {
	box, _ := mustBox(b, livingRoom(), material.Typical)
	for b.Loop() {
		for _, face := range model.Faces {
			box.Admittance(face, 63)
		}
	}
}
