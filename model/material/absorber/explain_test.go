package absorber

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/materialtest"
)

func ExampleExplain() {
	layers := []model.Layer{
		{Kind: model.PorousLayer, Text: "wool 50 mm 10 kPa·s/m²", Thickness: 0.05, Resistivity: 10000, Frame: model.FrameFixed},
		{Kind: model.FilmLayer, Text: "film 200 µm", Thickness: 200e-6},
		{Kind: model.PorousLayer, Text: "wool 200 mm 5 kPa·s/m²", Thickness: 0.2, Resistivity: 5000, Frame: model.FrameFixed},
	}
	sentences, err := Explain(layers, nil)
	if err != nil {
		panic(err)
	}
	for _, s := range sentences {
		fmt.Println(s)
	}
	// Output:
	// Of sound from all directions it absorbs 62 % (57 to 64) at 63 Hz, 72 % (68 to 73) at 80 Hz, 79 % (77 to 79) at 100 Hz.
	// The film 200 µm raises head-on absorption at 63, 80 and 100 Hz from 48, 59 and 67 % to 51, 62 and 71 %; it resonates at 249 Hz.
	// Thin film adds little; deep bass needs depth or mass.
	// What is in front of the film 200 µm restores the mids and highs: head-on absorption at 500, 1000 and 2000 Hz is 74, 71 and 98 %, and 77, 39 and 12 % without it.
}

func explained(t *testing.T, layers ...model.Layer) []string {
	t.Helper()
	s, err := Explain(layers, &Options{Air: checkAir, Gas: checkGas, Law: MikiLaw, Frame: model.FrameFixed})
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// The sentences carry the figures of the check values: computed from Miki's law
// for a film of 0.2 kg/m² on 100 mm of 5 kPa·s/m², with 50 mm of 10 kPa·s/m² in
// front, and with a second such bag behind.
func TestExplainFigures(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		layers []model.Layer
		want   string
	}{
		{
			[]model.Layer{foil(.2), wool(5000, .1)},
			"The film 0.2 kg/m² raises head-on absorption at 63, 80 and 100 Hz from 7, 10 and 14 % to 7, 11 and 16 %; it resonates at 338 Hz.",
		},
		{
			[]model.Layer{wool(10000, .05), foil(.2), wool(5000, .1)},
			"What is in front of the film 0.2 kg/m² restores the mids and highs: head-on absorption at 500, 1000 and 2000 Hz is 71, 77 and 99 %, and 69, 32 and 10 % without it.",
		},
		{
			[]model.Layer{foil(.2), wool(5000, .1)},
			"50 mm of wool of 10 kPa·s/m² in front would absorb 71, 77 and 99 % at 500, 1000 and 2000 Hz instead of 69, 32 and 10 %.",
		},
		{
			[]model.Layer{foil(.2), wool(5000, .1), foil(.2), wool(5000, .1)},
			"The second bag, from the film 0.2 kg/m² (layer 3) on, raises head-on absorption at 63, 80 and 100 Hz from 7, 11 and 16 % to 30, 44 and 60 %; one bag of the same depth would absorb 29, 42 and 57 %.",
		},
		{
			[]model.Layer{wool(10000, .1), air(.1)},
			"The air 100 mm behind the wool 100 mm raises head-on absorption at 63, 80 and 100 Hz from 9, 13 and 19 % to 26, 37 and 48 %; filled with the same wool it would be 35, 46 and 56 %.",
		},
	} {
		if got := explained(t, test.layers...); !slices.Contains(got, test.want) {
			t.Errorf("have\n\t%s\nwant among them\n\t%s", strings.Join(got, "\n\t"), test.want)
		}
	}
}

// A film on the wall has no air to move on.
func TestExplainIdleFilm(t *testing.T) {
	t.Parallel()
	got := explained(t, wool(5000, .1), foil(.2))
	if want := "The film 0.2 kg/m² has nothing behind it, so it does nothing."; !slices.Contains(got, want) {
		t.Errorf("have %q, want %q among them", got, want)
	}
}

// Bare wool reflects at no frequency, and no sentence is about films.
func TestExplainBareWool(t *testing.T) {
	t.Parallel()
	for _, s := range explained(t, wool(5000, .2)) {
		if strings.Contains(s, "reflects") || strings.Contains(s, "film") {
			t.Errorf("bare wool: %q", s)
		}
	}
}

// The sentence on loose wool appears only where the wool is not said to be held.
func TestExplainSkeleton(t *testing.T) {
	t.Parallel()
	held := explained(t, wool(5000, .3))
	free, err := Explain([]model.Layer{wool(5000, .3)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	loose := func(s string) bool { return strings.HasPrefix(s, "Loose wool") }
	if slices.ContainsFunc(held, loose) || !slices.ContainsFunc(free, loose) {
		t.Errorf("held: %q\nfree: %q", held, free)
	}
}

// Whatever can be built gets its sentences.
func TestExplainAnything(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		layers := rapid.SliceOfN(anyLayer(), 1, 5).Draw(rt, "layers")
		s, err := Explain(layers, nil)
		if err != nil || len(s) == 0 {
			rt.Fatalf("%q, error %v", s, err)
		}
		for _, line := range s {
			if strings.Contains(line, "NaN") || strings.Contains(line, "Inf") || strings.Contains(line, "%!") {
				rt.Errorf("%q", line)
			}
		}
	})
}

func TestExplainTheDeepestStack(t *testing.T) {
	t.Parallel()
	layers := []model.Layer{foil(.1)}
	for len(layers) < maxLayers {
		layers = append(layers, wool(5000, .02))
	}
	if s := explained(t, layers...); len(s) < 3 {
		t.Errorf("only %q", s)
	}
}

func TestExplainRefuses(t *testing.T) {
	t.Parallel()
	if _, err := Explain(nil, nil); err == nil {
		t.Error("no layers: no error")
	}
}

// Every ordinary build-up can be explained, in sentences without holes.
func TestExplainAll(t *testing.T) {
	t.Parallel()
	for _, e := range materialtest.BuildUps() {
		s, err := Explain(e.Layers, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range s {
			if strings.Contains(line, "NaN") || strings.Contains(line, "%!") || !strings.HasSuffix(line, ".") {
				t.Errorf("%s: %q", e.Name, line)
			}
		}
	}
}
