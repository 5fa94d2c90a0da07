package lattice

import (
	"math"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model/wave/scene"
)

// side tells on which side of a slanted film a cell is that the film cuts or that lies behind it.
type side int8

const (
	beforeFilm side = iota + 1
	behindFilm
)

// cutSlant gives the cells before a slanted film, and the faces between them, their shares in front of
// it. The rest of their volume goes to the cells behind, and the front of a cell behind to those before.
// So the film meets the air as a sloped wall does. Stairs of whole cells would hold up what flows along
// it, an error of the first order in the cell.
func (m *Medium) cutSlant(s scene.Slant) {
	a, b := scene.OtherAxes(s.Axis)
	gain := map[int]float64{}
	m.Each(func(i int, c [3]int) {
		if middle := (float64(c[s.Axis]) + 0.5) * m.H[s.Axis]; middle < s.From || middle > s.To || m.volume[i] == 0 {
			return
		}
		low, high := m.rectangle(c, a, b)
		front, behind := s.Front(low, high), s.Behind(low, high)
		if front == 1 {
			return
		}
		lost := 1 - front
		m.sides[i] = beforeFilm
		if behind {
			lost, m.sides[i] = front, behindFilm
		}
		var across []int // neighbours on the other side
		for _, t := range [2]int{a, b} {
			for _, way := range [2]int{-1, 1} {
				n := c
				n[t] += way
				at := i + way*m.Stride[t]
				if n[t] >= 0 && n[t] < m.N[t] && m.volume[at] > 0 && s.Behind(m.rectangle(n, a, b)) != behind {
					across = append(across, at)
				}
			}
		}
		for _, n := range across {
			gain[n] += lost / float64(len(across))
			gain[i] -= lost / float64(len(across))
		}
	})
	for i, v := range gain {
		m.volume[i] += v
	}
	m.Each(func(i int, c [3]int) {
		if middle := (float64(c[s.Axis]) + 0.5) * m.H[s.Axis]; middle < s.From || middle > s.To {
			return
		}
		_, high := m.rectangle(c, a, b)
		for _, t := range [2]int{a, b} {
			n := c
			n[t]++
			if n[t] >= m.N[t] || s.Behind(m.rectangle(c, a, b)) || s.Behind(m.rectangle(n, a, b)) {
				continue
			}
			from, _ := m.rectangle(n, a, b) // the line between both, from their lower corner
			m.open[t][i] *= s.FrontOf(from, high)
		}
	})
}

// rectangle returns the corners of a cell on two axes.
func (m *Medium) rectangle(c [3]int, a, b int) (low, high r2.Vec) {
	return r2.Vec{X: float64(c[a]) * m.H[a], Y: float64(c[b]) * m.H[b]},
		r2.Vec{X: float64(c[a]+1) * m.H[a], Y: float64(c[b]+1) * m.H[b]}
}

// sideOf returns on which side of a slanted film a cell is that a step of a slanted piece reaches, 0
// where no film divides the piece.
func (m *Medium) sideOf(p scene.Porous, i int) side {
	if m.sides == nil || !p.Step {
		return 0
	}
	return m.sides[i]
}

// loadSlant gives the faces of a slanted film the material between the border of the cells and the
// film itself, which is up to a cell further on. A flow takes one of two such ways through endless
// stairs under 45 degrees, and more of them in parallel where stairs are short for their slope.
func (m *Medium) loadSlant(s scene.Slant) {
	a, b := scene.OtherAxes(s.Axis)
	rise := [3]float64{}
	rise[a], rise[b] = s.Rise.X, s.Rise.Y
	m.Each(func(i int, c [3]int) {
		if m.sides[i] != beforeFilm {
			return
		}
		low, high := m.rectangle(c, a, b)
		ahead := s.Height + r2.Dot(s.Rise, r2.Scale(0.5, r2.Add(low, high))) // of the film, at the middle
		for _, t := range [2]int{a, b} {
			for _, way := range [2]int{-1, 1} {
				next, at := i+way*m.Stride[t], i
				if way < 0 {
					at = next
				}
				if m.sides[next] == behindFilm && m.fill[next] > 0 && m.open[t][at] > 0 {
					// Of the way from the middle of the cell behind, half a cell has its material already.
					way := (m.H[t]-ahead/math.Abs(rise[t]))*s.Stretch/math.Sqrt2 - m.H[t]/2
					m.addMaterial(t, at, m.porous[m.kind[next]], way, way)
				}
			}
		}
	})
}
