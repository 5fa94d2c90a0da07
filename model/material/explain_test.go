package material

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
	// Of the sound that comes from all directions the build-up takes up 62 % (57-64) at 63 Hz, 72 % (68-73) at 80 Hz, 79 % (77-79) at 100 Hz.
	// Head on it takes up half or more from 62 Hz.
	// The film 200 µm turns 48, 59 and 67 % at 63, 80 and 100 Hz head on into 51, 62 and 71 %; it swings on what is behind it at 249 Hz.
	// That is little: deep bass is bought by depth and mass, not by a thin cover.
	// What is in front of the film 200 µm restores the mids and highs: 74, 71 and 98 % at 500, 1000 and 2000 Hz instead of 77, 39 and 12 %.
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
			"The film 0.2 kg/m² turns 7, 10 and 14 % at 63, 80 and 100 Hz head on into 7, 11 and 16 %; it swings on what is behind it at 338 Hz.",
		},
		{
			[]model.Layer{wool(10000, .05), foil(.2), wool(5000, .1)},
			"What is in front of the film 0.2 kg/m² restores the mids and highs: 71, 77 and 99 % at 500, 1000 and 2000 Hz instead of 69, 32 and 10 %.",
		},
		{
			[]model.Layer{foil(.2), wool(5000, .1)},
			"50 mm of wool of 10 kPa·s/m² in front would give 71, 77 and 99 % at 500, 1000 and 2000 Hz instead of 69, 32 and 10 %.",
		},
		{
			[]model.Layer{foil(.2), wool(5000, .1), foil(.2), wool(5000, .1)},
			"The second bag, from the film 0.2 kg/m² (layer 3) on, turns 7, 11 and 16 % of the first alone at 63, 80 and 100 Hz into 30, 44 and 60 %; as one bag of the same depth it would be 29, 42 and 57 %.",
		},
		{
			[]model.Layer{wool(10000, .1), air(.1)},
			"The air 100 mm behind the wool 100 mm turns 9, 13 and 19 % at 63, 80 and 100 Hz head on into 26, 37 and 48 %; the same depth filled with that wool would give 35, 46 and 56 %.",
		},
	} {
		if got := explained(t, test.layers...); !slices.Contains(got, test.want) {
			t.Errorf("have\n\t%s\nwant among them\n\t%s", strings.Join(got, "\n\t"), test.want)
		}
	}
}

// A film on the wall has nothing to swing on.
func TestExplainIdleFilm(t *testing.T) {
	t.Parallel()
	got := explained(t, wool(5000, .1), foil(.2))
	if want := "The film 0.2 kg/m² has nothing behind it and changes nothing."; !slices.Contains(got, want) {
		t.Errorf("have %q, want %q among them", got, want)
	}
}

// Bare wool is no mirror at any frequency, and nothing is said about films.
func TestExplainBareWool(t *testing.T) {
	t.Parallel()
	for _, s := range explained(t, wool(5000, .2)) {
		if strings.Contains(s, "throws back") || strings.Contains(s, "film") {
			t.Errorf("bare wool: %q", s)
		}
	}
}

// A skeleton that may move is spoken of only where it is not said to be held.
func TestExplainSkeleton(t *testing.T) {
	t.Parallel()
	held := explained(t, wool(5000, .3))
	free, err := Explain([]model.Layer{wool(5000, .3)}, nil)
	if err != nil {
		t.Fatal(err)
	}
	loose := func(s string) bool { return strings.HasPrefix(s, "Wool that hangs loose") }
	if slices.ContainsFunc(held, loose) || !slices.ContainsFunc(free, loose) {
		t.Errorf("held: %q\nfree: %q", held, free)
	}
}

// Nothing that can be built leaves it without words.
func TestExplainAnything(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		layers := rapid.SliceOfN(anyLayer(), 1, 5).Draw(rt, "layers")
		s, err := Explain(layers, nil)
		if err != nil || len(s) < 2 {
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
