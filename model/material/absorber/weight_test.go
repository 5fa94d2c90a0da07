package absorber

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/materialtest"
)

// What wool and film of common kinds weigh: 100 mm of loft roll about 1.1 kg/m²,
// 100 mm of stone wool batts 3.5 kg/m², 100 µm of polyethylene 0.092 kg/m², 12.5 mm of
// plasterboard 8.8 kg/m². Common practice, no source, but for the film, which is
// 0.92 g/cm³ times its thickness.
func TestWeightOfMaterials(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		layer model.Layer
		kg    float64
	}{
		{model.Layer{Kind: model.PorousLayer, Material: "glass wool roll", Thickness: 0.1}, 1.1},
		{model.Layer{Kind: model.PorousLayer, Material: "stone wool batts", Thickness: 0.1}, 3.5},
		{model.Layer{Kind: model.FilmLayer, Thickness: 100e-6}, 0.092},
		{model.Layer{Kind: model.FilmLayer, Material: "vinyl cloth"}, 0.5},
		{model.Layer{Kind: model.PanelLayer, Material: "plasterboard", Thickness: 0.0125}, 8.8},
		{model.Layer{Kind: model.PerforatedLayer, Thickness: 0.01, Density: 700, HoleDiameter: 0.005, OpenArea: 0.1}, 6.3},
		{model.Layer{Kind: model.GapLayer, Thickness: 0.1}, 0},
	} {
		kg, guesses := stackOf(t, Options{}, test.layer).Weights()
		materialtest.Near(t, layerName(test.layer), kg[0], test.kg, 1e-9)
		if len(guesses) > 0 {
			t.Errorf("%s is said to be guessed: %q", layerName(test.layer), guesses)
		}
	}
}

// A density that nobody gave is guessed aloud, and within a factor of two of what
// makers sell as glass wool of 5-8 kPa·s/m² (13-18 kg/m³).
func TestWeightGuesses(t *testing.T) {
	t.Parallel()
	sheet := model.Layer{Kind: model.PerforatedLayer, Thickness: 0.01, HoleDiameter: 0.005, OpenArea: 0.1}
	kg, guesses := stackOf(t, Options{}, sheet, wool(6500, 1)).Weights()
	if len(guesses) != 2 || guesses[0].(model.About).Warning != model.Warning(model.DensityAssumed{Density: 700, Material: "board"}) || !strings.Contains(fmt.Sprint(guesses[1]), "mineral wool") {
		t.Errorf("guesses %q", guesses)
	}
	if kg[1] < 13.0/2 || kg[1] > 18*2 {
		t.Errorf("a metre of wool of 6.5 kPa·s/m² is weighed as %.1f kg/m²", kg[1])
	}
}

// A layer weighs the same in any company, and never less than nothing.
func TestWeightOfEachLayer(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(rt *rapid.T) {
		layers := rapid.SliceOfN(anyLayer(), 1, 5).Draw(rt, "layers")
		whole, _, err := NewStack(layers, nil)
		if err != nil {
			rt.Fatal(err)
		}
		together, _ := whole.Weights()
		if len(together) != len(layers) {
			rt.Fatalf("%d layers have %d weights", len(layers), len(together))
		}
		for i, l := range layers {
			part, _, err := NewStack([]model.Layer{l}, nil)
			if err != nil {
				rt.Fatal(err)
			}
			if alone, _ := part.Weights(); alone[0] != together[i] || together[i] < 0 {
				rt.Errorf("layer %d weighs %v, alone %v", i+1, together[i], alone[0])
			}
		}
	})
}
