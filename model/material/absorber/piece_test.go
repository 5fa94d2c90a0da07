package absorber

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
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
