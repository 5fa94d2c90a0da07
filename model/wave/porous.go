package wave

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// drawPorous fills cells and loads faces with porous material.
func (m *medium) drawPorous() {
	if len(m.porous) == 0 {
		return
	}
	m.fill = make([]float64, m.size)
	m.kind = make([]int, m.size)
	for k, p := range m.porous {
		m.each(func(i int, c [3]int) {
			low, high := m.corners(c)
			from, to := overlap(low, high, p.Min, p.Max)
			if from.X >= to.X || from.Y >= to.Y || from.Z >= to.Z || m.volume[i] == 0 {
				return
			}
			d := r3.Sub(to, from)
			share := min(d.X*d.Y*d.Z/m.lattice.volume(), m.volume[i])
			if share < sliver {
				return
			}
			if share > m.fill[i] {
				m.fill[i], m.kind[i] = share, k
			}
			for a := range 3 {
				m.loadCell(a, i, p, [4]float64{
					vector(low)[a], vector(high)[a], vector(from)[a], vector(to)[a],
				}, share)
			}
		})
	}
}

// loadCell shares the material in a cell out to the two faces on an axis, in the
// way of a velocity that changes evenly from one to the other. span holds the
// cell's ends and the material's ends on that axis, share is the material's of
// the volume.
func (m *medium) loadCell(a, i int, p Porous, span [4]float64, share float64) {
	length := span[1] - span[0]
	from, to := (span[2]-span[0])/length, (span[3]-span[0])/length
	// Share of the cross-section that is covered where there is material.
	across := share * m.h[a] / (length * (to - from))
	high := across * length * (to*to - from*from) / 2
	low := across*length*(to-from) - high
	tie := across * length * ((to*to-from*from)/2 - (to*to*to-from*from*from)/3)
	if l := m.lay(a, i-m.stride[a], p, low); l != nil {
		l.above += across
	}
	if l := m.lay(a, i, p, high); l != nil {
		l.below += across
	}
	m.ties[a][i] += p.Resistance * tie
}

// lay puts a length of material on a face and returns its load; nil if no air can
// pass it.
func (m *medium) lay(a, i int, p Porous, way float64) *load {
	if way <= sliver*m.h[a] || m.open[a][i] == 0 {
		return nil
	}
	l := &m.loads[a][i]
	l.mass += (p.Mass - m.air.Density) * way
	l.drag += p.Resistance * way
	l.skeleton += p.Skeleton * way
	return l
}

// coarsest is the most that a wave in porous material may turn within a cell, rad:
// beyond, absorption is more than 0.03 off.
const coarsest = 1.25

// doubts returns warnings of material that is too thin or too dense for the cells,
// up to a frequency in Hz.
func (m *medium) doubts(f float64) []model.Warning {
	var list []model.Warning
	for k, p := range m.porous {
		name := cmp.Or(p.Name, fmt.Sprintf("porous volume %d", k+1))
		thin, size := false, 0.0
		for a, d := range vector(r3.Sub(p.Max, p.Min)) {
			thin = thin || d < m.h[a]*(1-sliver) && m.n[a] > 1
			size = max(size, m.h[a])
		}
		if thin && !p.Step {
			list = append(list, model.Warning(fmt.Sprintf(
				"%s is thinner than a cell of %.0f mm; how it lies within the cell is not resolved", name, 1000*size)))
		}
		// |k| = sqrt(ωσ/P) where resistance rules.
		if turn := math.Sqrt(2*math.Pi*f*p.Resistance/p.Modulus) * size; turn > coarsest {
			list = append(list, model.Warning(fmt.Sprintf(
				"%s is too dense for cells of %.0f mm above %.0f Hz; its absorption there is some hundredths too high",
				name, 1000*size, f*coarsest*coarsest/(turn*turn))))
		}
	}
	return slices.Compact(list)
}
