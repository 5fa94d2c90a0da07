package wave

import (
	"fmt"
	"math"

	"evenbass/model"
)

// layer returns which faces a film hangs in, as the number of the cells below
// them; false if it is too near a wall to tell. A film against porous material
// within half a cell of a wall has no cell of its own behind it.
func (m *medium) layer(f Film) (axis, layer int, ok bool) {
	axis = f.axis()
	layer = int(math.Floor(vector(f.Min)[axis]/m.h[axis] - 0.5))
	return axis, layer, layer >= 0 && layer+1 < m.n[axis]
}

// moveFaces puts the faces in which films hang to where the films are, and gives
// the cells on both sides the volume that they then have.
func (m *medium) moveFaces(s *Scene) {
	for k, f := range s.Films {
		a, layer, ok := m.layer(f)
		if !ok && (f.Known || m.atWall(f)) {
			continue
		}
		if !ok {
			m.warnings = append(m.warnings, model.Warning(fmt.Sprintf(
				"%s is within half a cell of a wall and was left out", filmName(f, k))))
			continue
		}
		covers := func(c [3]int) bool { return m.covered(a, c, vector(f.Min), vector(f.Max)) > 0.5 }
		shift := vector(f.Min)[a]/m.h[a] - float64(layer+1)
		m.each(func(i int, c [3]int) {
			if c[a] != layer || m.open[a][i] == 0 || !covers(c) {
				return
			}
			m.moved[face{a, i}] = vector(f.Min)[a]
			m.moveVolume(a, i, shift, func(t int) bool {
				d := c
				d[t]++
				return d[t] < m.n[t] && covers(d)
			})
		})
	}
}

// atWall reports whether a film lies on a wall, where it does nothing.
func (m *medium) atWall(f Film) bool {
	const touching = 1e-3 // m
	a := f.axis()
	at := vector(f.Min)[a]
	return at <= touching || at >= m.h[a]*float64(m.n[a])-touching
}

func filmName(f Film, k int) string {
	if f.Name != "" {
		return "the film of " + f.Name
	}
	return fmt.Sprintf("film %d", k+1)
}

// moveVolume gives the lower cell of a face a volume in cells from the upper one,
// with the ways along the film to neighbours that do the same.
func (m *medium) moveVolume(a, i int, v float64, alike func(axis int) bool) {
	low, high := i, i+m.stride[a]
	// A cell that a wall has cut already keeps enough for its step in time.
	v = min(v, max(0, m.volume[high]-leastBehind))
	v = max(v, -max(0, m.volume[low]-leastBehind))
	m.volume[low] += v
	m.volume[high] -= v
	m.addMass(face{a, low - m.stride[a]}, v/2)
	m.addMass(face{a, high}, -v/2)
	b, c := others(a)
	for _, t := range [2]int{b, c} {
		if alike(t) && m.open[t][low] > 0 && m.open[t][high] > 0 {
			m.open[t][low] = max(0, m.open[t][low]+v)
			m.open[t][high] = max(0, m.open[t][high]-v)
		}
	}
}

// leastBehind is the least share of a cell that a film may leave of it.
const leastBehind = 0.45

// addMass gives a face the inertia of so many cells of air more.
func (m *medium) addMass(f face, cells float64) {
	if m.open[f.axis][f.cell] > 0 {
		air := m.h[f.axis] * m.air.Density
		l := &m.loads[f.axis][f.cell]
		l.film = max(l.film+cells*air, -0.4*air)
	}
}

// hangFilms loads the faces with their films.
func (m *medium) hangFilms(s *Scene) {
	for _, f := range s.Films {
		a, layer, ok := m.layer(f)
		if !ok {
			continue
		}
		m.each(func(i int, c [3]int) {
			if c[a] != layer || m.open[a][i] == 0 {
				return
			}
			if share := m.covered(a, c, vector(f.Min), vector(f.Max)); share > sliver {
				m.hangFilm(face{a, i}, f, share)
			}
		})
	}
}

// hangFilm loads a face with a film that covers a share of it. Beside a tight
// film the air flows on: the two inertances are in parallel.
func (m *medium) hangFilm(at face, f Film, share float64) {
	l := &m.loads[at.axis][at.cell]
	if f.Resistance > 0 {
		l.drag += share * f.Resistance
		l.skeleton += share * f.SurfaceMass
		l.below = min(1, l.below+share)
	} else {
		bare := m.air.Density*m.h[at.axis] + l.film
		l.film += 1/((1-share)/bare+share/(bare+f.SurfaceMass)) - bare
	}
}
