package absorber

import (
	"testing"

	"evenbass/model"
	"evenbass/model/material/materialtest"
)

// A film-wrapped bag that faces the seat reflects the mids, and wool before it mends
// that. Common practice, no source. That the film does it is the mass law; what the
// layers do is by transfer matrices, which other tests hold to published values.
func TestBagFacingTheSeat(t *testing.T) {
	t.Parallel()
	film := model.Layer{Kind: model.FilmLayer, SurfaceMass: 0.2}
	bag := []model.Layer{film, materialtest.Wool(5000, 0.1)}
	reflected := func(layers []model.Layer, f float64) float64 {
		s, _, err := NewStack(layers, nil)
		if err != nil {
			t.Fatal(err)
		}
		return 1 - s.NormalAbsorption(f)
	}
	fronted := append([]model.Layer{materialtest.Wool(10e3, 0.05)}, bag...)
	for _, f := range []float64{500, 700, 1000} {
		bare, mended := reflected(bag, f), reflected(fronted, f)
		t.Logf("%g Hz: of the energy the bag throws back %.2f, with 50 mm of wool before it %.2f", f, bare, mended)
		if mended >= bare {
			t.Errorf("%g Hz: wool before the bag makes it reflect %.2f instead of %.2f", f, mended, bare)
		}
	}
	if bare, mended := reflected(bag, 1000), reflected(fronted, 1000); bare < 0.5 || mended > bare/2 {
		t.Errorf("1 kHz: reflected %.2f bare, %.2f with wool before it", bare, mended)
	}
}
