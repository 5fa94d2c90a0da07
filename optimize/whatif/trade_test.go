package whatif

import (
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Trade: doubling a thin layer on the back wall shortens what rings along the room below 100 Hz.
// A layer over the whole wall keeps the wall uniform, so the box's own modes are exact.
func TestDoubledRearLayerShortensDecay(t *testing.T) {
	t.Parallel()
	p := &model.Project{Room: model.Room{Size: r3.Vec{X: 4.3, Y: 3.1, Z: 2.4}}}
	for _, f := range model.Faces {
		p.Room.Walls[f] = model.Surface{Impedance: 60}
	}
	thin := model.Treatment{
		Name: "rear layer", Patch: model.Patch{Face: model.Back, Width: 3.1, Height: 2.4},
		Layers: []model.Layer{{Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000}},
	}
	twice, why := thin.Doubled()
	if why != "" {
		t.Fatal(why)
	}
	decays := func(pieces ...model.Treatment) []ModeDecay {
		r := p.Room
		r.Treatments = pieces
		list, err := modeDecays(&r)
		if err != nil {
			t.Fatal(err)
		}
		return list
	}
	bare, one, two := decays(), decays(thin), decays(twice)
	along := 0
	for i, m := range one {
		if m.N[0] == 0 || m.Frequency >= 100 {
			continue
		}
		along++
		if !(two[i].Fall20 < 0.9*m.Fall20 && m.Fall20 < bare[i].Fall20) {
			t.Errorf("mode %v at %.0f Hz falls by 20 dB in %.2f s bare, %.2f s with 100 mm, %.2f s with 200 mm",
				m.N, m.Frequency, bare[i].Fall20, m.Fall20, two[i].Fall20)
		}
	}
	if along < 3 {
		t.Errorf("only %d modes along the room below 100 Hz", along)
	}
}
