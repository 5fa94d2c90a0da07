package build

import (
	"math"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
)

// Substitute is another wool for a sort of batts, and what it would change.
type Substitute struct {
	Name        Words
	Resistivity float64 // Pa·s/m²
	Density     material.Span
	Frequencies []float64 // Hz
	Was, Is     []float64 // absorption at random incidence, by frequency
}

// substituteBands are where a substitute is compared, Hz.
var substituteBands = []float64{63, 125, 250}

// mostSubstitutes is how many are named.
const mostSubstitutes = 3

// substitutes computes what other wool would do in the largest treatment that has
// batts of a sort: first the other batts of the stock, then classes of the trade.
func (m *maker) substitutes(batt int) []Substitute {
	t := m.largest(batt)
	if t == nil {
		return nil
	}
	was, err := absorption(t.Layers, 0)
	if err != nil {
		return nil // the layers were refused, which has been said
	}
	var list []Substitute
	add := func(name Words, w wool) {
		for _, r := range append([]float64{m.wools[batt].resistivity}, resistivities(list)...) {
			if math.Abs(math.Log(w.resistivity/r)) < math.Log(1.25) {
				return // hardly another
			}
		}
		if len(list) == mostSubstitutes {
			return
		}
		if is, err := absorption(t.Layers, w.resistivity); err == nil {
			list = append(list, Substitute{name, w.resistivity, w.density, substituteBands, was, is})
		}
	}
	for i, b := range m.stock.Batts {
		if i != batt {
			add(BattTitle(b), m.wools[i])
		}
	}
	for _, c := range []string{"glass wool roll", "stone wool batts", "polyester slab"} {
		if c != m.plan.Batts[batt].Batt.Layer.Material {
			c, _ := absorber.Lookup(c)
			add(Words{c.Name}, wool{c.Resistivity.Typical, c.Density})
		}
	}
	return list
}

func resistivities(list []Substitute) []float64 {
	var out []float64
	for _, s := range list {
		out = append(out, s.Resistivity)
	}
	return out
}

// largest returns the treatment with most wool of a sort; nil if there is none. A corner
// is taken as the flat layer that its wool would make on both of its walls.
func (m *maker) largest(batt int) *model.Treatment {
	area := make([]float64, len(m.project.Room.Treatments))
	best := -1
	for _, s := range m.plan.Batts[batt].Shapes {
		i := m.plan.Pieces[s.Piece].Treatment
		if area[i] += s.Area(); best < 0 || area[i] > area[best] {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	t := m.project.Room.Treatments[best]
	if t.Form == model.InCorner {
		t.Layers = append([]model.Layer(nil), t.Layers...)
		t.Layers[len(t.Layers)-1].Thickness = t.Corner.Leg / 4
		if t.Corner.Square {
			t.Layers[len(t.Layers)-1].Thickness = t.Corner.Leg / 2
		}
	}
	return &t
}

// absorption is that of layers at random incidence, with their wool of another flow
// resistivity unless it is zero.
func absorption(layers []model.Layer, resistivity float64) ([]float64, error) {
	if resistivity > 0 {
		layers = append([]model.Layer(nil), layers...)
		for i := range layers {
			if l := &layers[i]; absorber.FormOf(*l) == absorber.Wool {
				*l = model.Layer{Kind: l.Kind, Thickness: l.Thickness, Resistivity: resistivity, Frame: l.Frame}
			}
		}
	}
	s, _, err := absorber.NewStack(layers, nil)
	if err != nil {
		return nil, err
	}
	var a []float64
	for _, f := range substituteBands {
		a = append(a, s.RandomAbsorption(f))
	}
	return a, nil
}
