package build

import (
	"cmp"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
)

// ply is how many batts of one sort lie on one another in a layer of wool.
type ply struct {
	batt  int // index into the plan's batts
	count int
}

// wool is what is known of a sort of batts.
type wool struct {
	resistivity float64       // Pa·s/m²
	density     material.Span // kg/m³
}

// alike is how far the flow resistivity of a batt may be from what a layer asks for, as a ratio, before it
// counts as a substitute: the scatter of batches and makers' figures.
const alike = 1 + absorber.ResistivitySpread

// The range of the density of wool where it is given, where the library has it, and
// where it is only taken from the flow resistivity. Common practice, no source.
const (
	densityGiven   = 0.10
	densityGuessed = 0.35
)

// woolOf completes a layer of wool.
func woolOf(l model.Layer) (wool, error) {
	if l.Thickness == 0 {
		l.Thickness = 0.1
	}
	s, _, err := absorber.NewStack([]model.Layer{l}, nil)
	if err != nil {
		return wool{}, err
	}
	whole := s.Layers()[0]
	w := wool{resistivity: whole.Resistivity}
	kg, guesses := s.Weights()
	rho := kg[0] / whole.Thickness
	named, known := absorber.Lookup(l.Material)
	switch {
	case l.Density == 0 && known && named.Density.Typical > 0:
		w.density = named.Density
	case len(guesses) > 0:
		w.density = about(rho, densityGuessed)
	default:
		w.density = about(rho, densityGiven)
	}
	return w, nil
}

// about returns a figure with a range of a share to either side.
func about(v, share float64) material.Span {
	return material.Span{Low: v * (1 - share), Typical: v, High: v * (1 + share)}
}

// plies chooses batts for a layer of wool. A layer without thickness, as in a corner, takes one sort of batt.
// note says what differs from the request, or is nil.
func (m *maker) plies(l model.Layer) (list []ply, note Words, err error) {
	asked, err := woolOf(l)
	if err != nil {
		return nil, nil, err
	}
	if len(m.stock.Batts) == 0 {
		return m.assumed(l, asked), nil, nil
	}
	sorts, foreign := m.like(asked.resistivity)
	if foreign {
		note = append(Words{fmt.Sprintf("no batt has the %.3g kPa·s/m² asked for; ", asked.resistivity/1000)}, BattTitle(m.stock.Batts[sorts[0]])...)
		note = append(note, fmt.Sprintf(" has %.3g kPa·s/m²", m.wools[sorts[0]].resistivity/1000))
	}
	if l.Thickness == 0 {
		return []ply{{m.fullest(sorts), 1}}, note, nil
	}
	list, made := m.thick(sorts, l.Thickness)
	if math.Abs(made-l.Thickness) > tolerance(l.Thickness) {
		if note != nil {
			note = append(note, "; ")
		}
		note = append(note, m.misfit(list, l.Thickness, made)...)
	}
	return list, note, nil
}

// tolerance is how far batts may miss a thickness without a note: less than they vary.
func tolerance(thickness float64) float64 { return max(0.005, 0.04*thickness) }

// like returns the batts whose resistivity is near what is asked for; if none is, the
// nearest, and foreign is true.
func (m *maker) like(resistivity float64) (sorts []int, foreign bool) {
	nearest := math.Inf(1)
	for i := range m.stock.Batts {
		off := math.Abs(math.Log(m.wools[i].resistivity / resistivity))
		if nearest = min(nearest, off); off <= math.Log(alike)+1e-9 {
			sorts = append(sorts, i)
		}
	}
	if len(sorts) > 0 {
		return sorts, false
	}
	for i := range m.stock.Batts {
		if math.Abs(math.Log(m.wools[i].resistivity/resistivity)) <= nearest+0.01 {
			sorts = append(sorts, i)
		}
	}
	return sorts, true
}

// fullest returns the batt of which most volume is in hand, the first of equals.
func (m *maker) fullest(sorts []int) int {
	best := sorts[0]
	for _, i := range sorts {
		if b, c := m.stock.Batts[i], m.stock.Batts[best]; float64(b.Have)*b.Volume() > float64(c.Have)*c.Volume() {
			best = i
		}
	}
	return best
}

// thick puts batts of one sort, or of two, on one another as near to a thickness as they
// come: within the tolerance the fewest sorts, then those in hand, then the fewest batts.
func (m *maker) thick(sorts []int, thickness float64) (best []ply, made float64) {
	least := math.Inf(1)
	try := func(list ...ply) {
		var d, count, missing float64
		for _, p := range list {
			b := m.stock.Batts[p.batt]
			d += float64(p.count) * b.Layer.Thickness
			count += float64(p.count)
			if b.Have == 0 {
				missing++
			}
		}
		cost := 1e-3*float64(len(list)) + 1e-4*missing + 1e-6*count
		if off := math.Abs(d - thickness); off > tolerance(thickness) {
			cost += 1 + off
		}
		if cost < least {
			best, made, least = list, d, cost
		}
	}
	for _, i := range sorts {
		t := m.stock.Batts[i].Layer.Thickness
		most := int(thickness/t) + 1
		for n := max(1, most-1); n <= most; n++ {
			try(ply{i, n})
		}
		for _, j := range sorts {
			u := m.stock.Batts[j].Layer.Thickness
			for n := 1; j != i && n < most; n++ {
				if k := int(math.Round((thickness - float64(n)*t) / u)); k >= 1 {
					try(ply{i, n}, ply{j, k})
				}
			}
		}
	}
	return best, made
}

// misfit says what thicknesses the batts make.
func (m *maker) misfit(list []ply, thickness, made float64) Words {
	b := m.stock.Batts[list[0].batt]
	t := b.Layer.Thickness
	below := math.Floor(thickness/t) * t
	words := append(BattTitle(b), " makes ")
	if below > 0 {
		words = append(words, Metres(below), " or ")
	}
	return append(words, Metres(below+t), ", not the ", Metres(thickness), " asked for; planned as ", Metres(made))
}

// assumed plans with slabs of a usual size where the stock has none.
func (m *maker) assumed(l model.Layer, asked wool) []ply {
	count := 1
	if l.Thickness > 0 {
		count = int(math.Ceil(l.Thickness/0.1 - 1e-9))
		l.Thickness /= float64(count)
	} else {
		l.Thickness = 0.1
	}
	for i := range m.plan.Batts {
		if b := m.plan.Batts[i].Batt.Layer; b.Thickness == l.Thickness && m.wools[i].resistivity == asked.resistivity {
			return []ply{{i, count}}
		}
	}
	if len(m.plan.Batts) == 0 {
		m.note(-1, "the stock has no batts: planned with batts of ", Metres(1.2), " × ", Metres(0.6), ", which is common")
	}
	l.Text = cmp.Or(l.Material, fmt.Sprintf("wool of %.3g kPa·s/m²", asked.resistivity/1000))
	m.plan.Batts = append(m.plan.Batts, BattUse{Batt: model.Batt{Layer: l, Length: 1.2, Width: 0.6}, Assumed: true})
	m.wools = append(m.wools, asked)
	return []ply{{len(m.plan.Batts) - 1, count}}
}
