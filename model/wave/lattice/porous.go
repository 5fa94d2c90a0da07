package lattice

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
)

// drawPorous fills cells and loads faces with porous material.
func (m *Medium) drawPorous(slants []scene.Slant) {
	if len(m.porous) == 0 {
		return
	}
	m.fill = make([]float64, m.Size)
	m.kind = make([]int, m.Size)
	for k, p := range m.porous {
		m.eachIn(p, func(i int, _ [4]r3.Vec, share float64) {
			if share > m.fill[i] {
				m.fill[i], m.kind[i] = share, k
			}
		})
	}
	for _, p := range m.porous {
		m.eachIn(p, func(i int, c [4]r3.Vec, share float64) {
			for a := range 3 {
				m.loadCell(a, i, p, [4]float64{
					scene.Components(c[0])[a], scene.Components(c[1])[a], scene.Components(c[2])[a], scene.Components(c[3])[a],
				}, share)
			}
		})
	}
	for _, s := range slants {
		m.loadSlant(s)
	}
	m.limitMass()
}

// eachIn calls f with each cell that a piece reaches: the low and high corners of the cell and of
// the piece's part in it, and that part's share of a whole cell.
func (m *Medium) eachIn(p scene.Porous, f func(i int, corners [4]r3.Vec, share float64)) {
	m.around(p.Min, p.Max, func(i int, c [3]int) {
		low, high := m.corners(c)
		from, to := scene.Overlap(low, high, p.Min, p.Max)
		if from.X >= to.X || from.Y >= to.Y || from.Z >= to.Z || m.volume[i] == 0 {
			return
		}
		d := r3.Sub(to, from)
		share := min(d.X*d.Y*d.Z/m.Cells.Volume(), m.volume[i])
		if share < negligible {
			return
		}
		switch m.sideOf(p, i) {
		case behindFilm: // which it fills
			f(i, [4]r3.Vec{low, high, low, high}, m.volume[i])
		case beforeFilm:
		default:
			f(i, [4]r3.Vec{low, high, from, to}, share)
		}
	})
}

// loadCell shares the material in a cell out to the cell's two faces on an axis. Velocity changes
// from one face to the other as the cell's compliance takes up flow, and changes faster in the
// material, which is softer than air. span holds the ends of the cell and of the material on that
// axis; share is the material's share of the volume.
func (m *Medium) loadCell(a, i int, p scene.Porous, span [4]float64, share float64) {
	length := span[1] - span[0]
	from, to := (span[2]-span[0])/length, (span[3]-span[0])/length
	// Covered share of the cross-section, where there is material.
	across := min(1, share*m.H[a]/(length*(to-from)))
	way := across * length
	f := newFilling(from, to, m.softness(p))
	mean, square := f.moments()
	high := way * (to - from) * mean
	low := way*(to-from) - high
	coupling, shift := (to-from)*(mean-square)*way, 0.0
	var lowExcess, highExcess float64
	if to-from > 1-negligible {
		share, move := m.dragShares(a, i)
		coupling, shift = share*way, move*way
		lowExcess = m.excessMass(p, a, share) * way
		highExcess = lowExcess
	} else {
		lowExcess, highExcess = m.partExcess(p, a, i, f, coupling, way)
	}
	if l := m.addMaterial(a, i-m.Stride[a], p, low, low-shift); l != nil {
		l.above += across
		l.mass -= lowExcess
	}
	if l := m.addMaterial(a, i, p, high, high+shift); l != nil {
		l.below += across
		l.mass -= highExcess
	}
	m.couplings[a][i] += p.Resistance * coupling
}

// How the drag of a full cell is shared. Where drag dominates, v” = q v with q = jωσ/P; let
// g = h√q. Inside the material a coupling of 1/12 makes the grid's wave exact to g⁴ (Numerov
// 1924); one of 1/6 would make it decay too fast. At the surface of the material the first
// cell must then give
//
//	1 - v1/v0 + g²(a + b v1/v0) = g + O(g⁵)
//
// for the velocities v0 and v1 of its two faces, which determines its three shares. A layer of
// one cell has a third of its resistance instead.
const (
	insideCoupling = 1.0 / 12
	frontCoupling  = 0.165
	frontShift     = 1.0 / 24 // from the face at the surface to the one inside
	aloneCoupling  = 1.0 / 6  // in a layer of one cell
)

// timeStep is the usual time step, in cells over the speed of sound.
const timeStep = 0.8

// excessMass returns the mass that the drag of a full cell appears to add to each of its faces, per
// length of cell, kg/m³, for a coupling as a share. The coupling acts half a step late and so like
// a mass of σT/2 times itself. A layer of one cell is also stiffer by -σ²h³/(45P), the next term of
// coth.
func (m *Medium) excessMass(p scene.Porous, a int, coupling float64) float64 {
	mass := m.lagMass(p, a, coupling)
	if coupling == aloneCoupling {
		mass += p.Resistance * p.Resistance / p.Modulus * m.H[a] * m.H[a] / 45
	}
	return mass
}

// minFilled is the filled share from which a cell counts as part of the material beyond a face. It
// is not a half, which the steps of a slant have.
const minFilled = 0.4

// dragShares returns how the drag of a full cell goes to its two faces on an axis: the coupling
// between them, and what the lower face gives to the upper one, both as shares of the whole.
func (m *Medium) dragShares(a, i int) (coupling, shift float64) {
	before, after := i-m.Stride[a], i
	bare := func(face, next int) bool { return m.open[a][face] > 0 && m.fill[next] < minFilled }
	low, high := bare(before, before), bare(after, after+m.Stride[a])
	switch {
	case low && high, low && m.open[a][after] == 0, high && m.open[a][before] == 0:
		return aloneCoupling, 0
	case low:
		return frontCoupling, frontShift
	case high:
		return frontCoupling, -frontShift
	}
	return insideCoupling, 0
}

// addMaterial puts a length of material on a face, and the drag of another length, and returns the
// face's load. It returns nil if no air can pass the face.
func (m *Medium) addMaterial(a, i int, p scene.Porous, way, drag float64) *load {
	if way <= negligible*m.H[a] || m.open[a][i] == 0 {
		return nil
	}
	l := &m.loads[a][i]
	l.mass += (p.Mass - m.Air.Density) * way
	l.drag += p.Resistance * drag
	l.skeleton += p.Skeleton * way
	return l
}

// maxPhase is the largest phase of a wave in porous material across a cell, rad; beyond it
// absorption is more than 0.03 off.
const maxPhase = 1.4

// Warnings reports films that were left out, and material too thin or too dense for the cells, up
// to a frequency in Hz.
func (m *Medium) Warnings(f float64) []model.Warning {
	var list []model.Warning
	for _, name := range m.omitted {
		list = append(list, model.FilmAtWall{Name: name})
	}
	for k, p := range m.porous {
		if p.Tested {
			continue
		}
		name := cmp.Or(p.Name, fmt.Sprintf("porous volume %d", k+1))
		thin, size := false, 0.0
		for a, d := range scene.Components(r3.Sub(p.Max, p.Min)) {
			thin = thin || d < m.H[a]*(1-negligible) && m.N[a] > 1
			size = max(size, m.H[a])
		}
		if thin && !p.Step {
			list = append(list, model.ThinForCells{Name: name, Cell: size, Near: min(f, 300)})
		}
		// |k| = sqrt(ωσ/P) where resistance dominates.
		if turn := math.Sqrt(2*math.Pi*f*p.Resistance/p.Modulus) * size; turn > maxPhase {
			list = append(list, model.DenseForCells{Name: name, Cell: size, Above: f * maxPhase * maxPhase / (turn * turn)})
		}
	}
	return slices.Compact(list)
}
