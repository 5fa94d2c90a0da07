package lattice

import (
	"math"

	"evenbass/model/wave/scene"
)

// filling is material in a part of a cell. Positions are given as ξ, the share of the cell's
// compliance below them: flow changes in proportion to ξ from one face to the other.
type filling struct {
	from, to float64 // ξ where the material begins and ends
	rate     float64 // of ξ inside the material, per cell
	whole    float64 // compliance of the cell, relative to a cell of air
}

// newFilling returns the filling between two positions in cells, of material with a given
// compliance relative to air.
func newFilling(from, to, softness float64) filling {
	whole := 1 + (to-from)*(softness-1)
	return filling{from / whole, (from + softness*(to-from)) / whole, softness / whole, whole}
}

// moments returns the means of ξ and ξ² in the material.
func (f filling) moments() (mean, square float64) {
	return (f.from + f.to) / 2, (f.from*f.from + f.from*f.to + f.to*f.to) / 3
}

// softness returns the compliance of material at low frequencies, relative to air.
func (m *Medium) softness(p scene.Porous) float64 {
	return m.Air.Density * m.Air.Speed * m.Air.Speed / p.Modulus
}

// partExcess returns the masses in kg/m² that the drag in a partly filled cell appears to take from
// its lower and its upper face. As a series in frequency the cell is
//
//	Z = 1/(jωC) + R - jωX,   X = C (σh/r)² var p,   dp/dξ = v in the material
//
// for a velocity v that changes in proportion to ξ, the rate r of ξ, and the variance over ξ of a
// pressure p that stays constant beside the material. If one face is shut, the other has all of X,
// and the coupling acts late. If both are open, they are assumed to have the same velocity: each
// takes its own part and half of the common part, and the coupling does nothing.
func (m *Medium) partExcess(p scene.Porous, a, i int, f filling, coupling, way float64) (low, high float64) {
	var mean, square [2]float64 // of p for a velocity of 1 at the lower and at the upper face
	var common float64
	add := func(x, weight float64) {
		u, v := (x-f.from)-(x*x-f.from*f.from)/2, (x*x-f.from*f.from)/2
		mean[0], mean[1] = mean[0]+weight*u, mean[1]+weight*v
		square[0], square[1] = square[0]+weight*u*u, square[1]+weight*v*v
		common += weight * u * v
	}
	// Three Gauss points, exact for polynomials of the fourth degree, and the part above.
	mid, off, part := (f.from+f.to)/2, (f.to-f.from)/2*math.Sqrt(0.6), (f.to-f.from)/18
	add(mid-off, 5*part)
	add(mid, 8*part)
	add(mid+off, 5*part)
	add(f.to, 1-f.to)
	drag := m.H[a] * p.Resistance / f.rate
	scale := f.whole * drag * drag / (m.Air.Density * m.Air.Speed * m.Air.Speed) * way
	low, high = scale*(square[0]-mean[0]*mean[0]), scale*(square[1]-mean[1]*mean[1])
	if m.open[a][i-m.Stride[a]] > 0 && m.open[a][i] > 0 {
		common = scale * (common - mean[0]*mean[1])
		return low + common, high + common
	}
	late := m.lagMass(p, a, coupling)
	return low + late, high + late
}

// lagMass returns the mass that drag appears to have because it acts half a step late.
func (m *Medium) lagMass(p scene.Porous, a int, coupling float64) float64 {
	return p.Resistance * coupling * timeStep / 2 * m.H[a] / m.Air.Speed
}

// minFaceMass is the least mass of a face with material, relative to its air. The time step would
// have to shrink with it.
const minFaceMass = 0.45

// limitMass restores the mass of faces that excess and moved films have made too light.
func (m *Medium) limitMass() {
	for a := range m.loads {
		air := m.Air.Density * m.H[a]
		for i := range m.loads[a] {
			if l := &m.loads[a][i]; l.drag > 0 {
				l.mass = max(l.mass, (minFaceMass*air-air-l.film)*l.cross())
			}
		}
	}
}
