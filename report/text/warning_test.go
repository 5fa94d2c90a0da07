package text

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/report/unit"
)

// Every warning with a length or an area is told in the reader's units, and in no other.
func TestWarningText(t *testing.T) {
	for _, c := range []struct {
		w                model.Warning
		metric, imperial string
	}{
		{model.Remark("the door is guessed"), "the door is guessed", "the door is guessed"},
		{model.About{Name: "layer 2 (film)", Warning: model.FilmThick{Thickness: 0.004}}, "layer 2 (film): 4 mm is thick", "layer 2 (film): 0.16 in is thick"},
		{model.LayerThick{Name: "slab", Thickness: 2}, "slab has a layer 2.00 m thick", "slab has a layer 6 ft 6 3/4 in thick"},
		{model.WoolThick{Thickness: 2}, "2.00 m of wool", "6 ft 6 3/4 in of wool"},
		{model.BuildUpDeep{Depth: 1.3}, "is 1.30 m deep", "is 4 ft 3 1/8 in deep"},
		{model.OpeningCovered{Name: "slab", Opening: "door", Wall: "back wall", Area: 0.8}, "covers 0.80 m² of a door in the back wall", "covers 8.6 sq ft of a door"},
		{model.ImageSumEnds{Length: 40, Remaining: -26, Wanted: -60}, "a path of 40.00 m, where the energy still to come is -26 dB", "a path of 131 ft"},
		{model.CellsUsed{Fine: 0.1, Coarse: 0.14}, "cells of 10 cm. A search first tries layouts on cells of 14 cm", "cells of 3 7/8 in. A search"},
		{model.AbsorptionOff{Name: "bag", Cell: 0.1, Off: -0.05, Near: 63}, "on cells of 100 mm its absorption is up to 0.05 too low, most near 63 Hz", "on cells of 3 7/8 in its"},
		{model.ThinForCells{Name: "mat", Cell: 0.1, Near: 300}, "thinner than a cell of 100 mm", "a cell of 3 7/8 in"},
		{model.DenseForCells{Name: "mat", Cell: 0.1, Above: 90}, "too dense for cells of 100 mm above 90 Hz", "cells of 3 7/8 in above 90 Hz"},
		{model.TapeOff{Sound: 0.27, Taped: 0.57}, "is 0.27 m farther than the left one, by the room file 0.57 m", "is 10 5/8 in farther"},
	} {
		metric, imperial := WarningText(c.w, unit.Metric), WarningText(c.w, unit.Imperial)
		if !strings.Contains(metric, c.metric) || !strings.Contains(imperial, c.imperial) {
			t.Errorf("%T reads %q and %q", c.w, metric, imperial)
		}
		for _, leak := range []string{" m ", " cm", " mm", " m²"} {
			if strings.Contains(imperial, leak) {
				t.Errorf("%T prints%s in imperial output: %q", c.w, leak, imperial)
			}
		}
	}
}
