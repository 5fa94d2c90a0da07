package absorber

import (
	"testing"

	"evenbass/model"
)

// Every kind of the model has a row, and every row is whole: it makes a layer from what
// it needs, refuses one without it, and can be drawn and weighed.
func TestKinds(t *testing.T) {
	t.Parallel()
	sample := map[Quantity]float64{
		Thickness: 0.05, FlowResistivity: 8000, Density: 600, SurfaceMass: 4, HoleDiameter: 0.005, SlotWidth: 0.004, OpenArea: 0.05,
	}
	words, keys := map[string]bool{}, map[string]bool{"": false}
	for i, k := range Kinds() {
		if k.Kind != model.LayerKind(i+1) || KindOf(k.Kind).Word != k.Word {
			t.Errorf("row %d is of kind %d", i, k.Kind)
		}
		if k.Word == "" || words[k.Word] || keys[k.Key] || k.Name == "" {
			t.Errorf("%+v: a word, key or name is missing or there twice", k)
		}
		words[k.Word], keys[k.Key] = true, k.Key != ""
		l := model.Layer{Kind: k.Kind}
		for _, need := range k.Missing(l) {
			if _, _, err := NewStack([]model.Layer{l, {Kind: model.GapLayer, Thickness: 0.1}}, nil); err == nil {
				t.Errorf("%s without %v is taken", k.Word, need)
			}
			*need[0].Of(&l) = sample[need[0]]
			if !k.May(need[0]) {
				t.Errorf("%s must give what it may not", k.Word)
			}
		}
		if missing := k.Missing(l); len(missing) > 0 {
			t.Errorf("%s still misses %v", k.Word, missing)
		}
		s := stackOf(t, Options{}, l, model.Layer{Kind: model.GapLayer, Thickness: 0.1})
		kg, _ := s.Weights()
		if p := s.Pieces()[0]; p.Form != k.Form || k.Form == 0 || (kg[0] > 0) == (k.Form == Air) {
			t.Errorf("%s: piece %+v weighs %v kg/m²", k.Word, p, kg[0])
		}
	}
	if len(words) != int(model.PanelLayer) {
		t.Errorf("%d rows for %d kinds", len(words), model.PanelLayer)
	}
	if k := KindOf(0); k.make != nil || k.Form != 0 {
		t.Errorf("no kind has the row %+v", k)
	}
}
