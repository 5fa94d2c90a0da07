package absorber

import (
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/materialtest"

	"pgregory.net/rapid"
)

// Each layer becomes the piece that it is, in its order, with the figures of the
// library and the frame that the options say.
func TestPieces(t *testing.T) {
	t.Parallel()
	s, _, err := NewStack([]model.Layer{
		{Kind: model.FilmLayer, Thickness: 100e-6},
		{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000, Density: 20},
		{Kind: model.PorousLayer, Material: "stone wool batts", Thickness: 0.05, Frame: model.FrameFixed},
		{Kind: model.GapLayer, Thickness: 0.07},
		{Kind: model.PanelLayer, SurfaceMass: 8.8},
		{Kind: model.PerforatedLayer, Thickness: 0.006, HoleDiameter: 0.005, OpenArea: 0.03},
	}, &Options{Frame: model.FrameLimp})
	if err != nil {
		t.Fatal(err)
	}
	p := s.Pieces()
	kinds := []Form{Film, Wool, Wool, Air, Board, Pierced}
	for i, want := range kinds {
		if p[i].Form != want {
			t.Errorf("piece %d is of form %d, want %d", i, p[i].Form, want)
		}
	}
	if got := p[0].SurfaceMass; math.Abs(got-0.092) > 1e-12 { // 920 kg/m³
		t.Errorf("100 µm of film weigh %v kg/m²", got)
	}
	if v := p[1].Porous; v.Resistance != 6000 || v.Skeleton != 20 || p[1].Thickness != 0.1 {
		t.Errorf("limp wool %+v", p[1])
	}
	if v := p[2].Porous; v.Resistance != 10000 || v.Skeleton != 0 {
		t.Errorf("held batts %+v", p[2])
	}
	if p[4].SurfaceMass != 8.8 || p[3].Thickness != 0.07 {
		t.Errorf("panel %+v, gap %+v", p[4], p[3])
	}
}

// A piece of wool drawn as a volume takes up what its layer does: both are the same
// fluid within the 0.03 that PorousVolume promises.
func TestPiecesAreTheLayersFluids(t *testing.T) {
	t.Parallel()
	layers := []model.Layer{{Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 8000}}
	s, _, err := NewStack(layers, nil)
	if err != nil {
		t.Fatal(err)
	}
	v := s.Pieces()[0].Porous
	for _, f := range []float64{40, 80, 160, 300} {
		m := v.Fluid(f)
		kd := m.Wavenumber * complex(0.2, 0)
		zeta := m.Impedance / (1i * cmplx.Tan(kd) * complex(s.options.Air.Impedance(), 0)) // -j Z cot kd, on a rigid wall
		if got, want := material.AbsorptionAt(1/zeta, 1), s.NormalAbsorption(f); math.Abs(got-want) > 0.03 {
			t.Errorf("%v Hz: %.3f as a volume, %.3f as a layer", f, got, want)
		}
	}
}

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
