package lattice

import (
	"fmt"
	"math"

	"evenbass/model/wave/scene"
)

// layer returns the axis of a film and the number of the cells below the faces that it hangs in. It
// returns false within half a cell of a wall, where no cell would be left behind the film.
func (m *Medium) layer(f scene.Film) (axis, layer int, ok bool) {
	axis = f.Axis()
	layer = int(math.Floor(scene.Components(f.Min)[axis]/m.H[axis] - 0.5))
	return axis, layer, layer >= 0 && layer+1 < m.N[axis]
}

// moveFaces moves the faces that carry films to where the films are, and gives the cells on both
// sides the resulting volumes.
func (m *Medium) moveFaces(s *scene.Scene) {
	for k, f := range s.Films {
		a, layer, ok := m.layer(f)
		if !ok && (f.Tested || m.atWall(f)) {
			continue
		}
		if !ok {
			m.omitted = append(m.omitted, filmName(f, k))
			continue
		}
		covers := func(c [3]int) bool { return m.covered(a, c, scene.Components(f.Min), scene.Components(f.Max)) > 0.5 }
		shift := scene.Components(f.Min)[a]/m.H[a] - float64(layer+1)
		m.Each(func(i int, c [3]int) {
			if c[a] != layer || m.open[a][i] == 0 || !covers(c) {
				return
			}
			m.moved[face{a, i}] = scene.Components(f.Min)[a]
			m.moveVolume(a, i, shift, func(t int) bool {
				d := c
				d[t]++
				return d[t] < m.N[t] && covers(d)
			})
		})
	}
}

// atWall reports whether a film lies on a wall, where it has no effect.
func (m *Medium) atWall(f scene.Film) bool {
	const touching = 1e-3 // m
	a := f.Axis()
	at := scene.Components(f.Min)[a]
	return at <= touching || at >= m.H[a]*float64(m.N[a])-touching
}

// filmName names film k in warnings.
func filmName(f scene.Film, k int) string {
	if f.Name != "" {
		return "the film of " + f.Name
	}
	return fmt.Sprintf("film %d", k+1)
}

// moveVolume moves a volume, in cells, from the upper cell of a face to the lower one. Openings
// along the film change too, towards neighbours that are moved alike.
func (m *Medium) moveVolume(a, i int, v float64, alike func(axis int) bool) {
	low, high := i, i+m.Stride[a]
	// A cell that a wall has cut keeps enough volume for the time step.
	v = min(v, max(0, m.volume[high]-minFilmVolume))
	v = max(v, -max(0, m.volume[low]-minFilmVolume))
	m.volume[low] += v
	m.volume[high] -= v
	m.addMass(face{a, low - m.Stride[a]}, v/2)
	m.addMass(face{a, high}, -v/2)
	b, c := scene.OtherAxes(a)
	for _, t := range [2]int{b, c} {
		if alike(t) && m.open[t][low] > 0 && m.open[t][high] > 0 {
			m.open[t][low] = max(0, m.open[t][low]+v)
			m.open[t][high] = max(0, m.open[t][high]-v)
		}
	}
}

// minFilmVolume is the least share of a cell that a film may leave of it.
const minFilmVolume = 0.45

// addMass gives a face the inertia of so many more cells of air.
func (m *Medium) addMass(f face, cells float64) {
	if m.open[f.axis][f.cell] > 0 {
		air := m.H[f.axis] * m.Air.Density
		l := &m.loads[f.axis][f.cell]
		l.film = max(l.film+cells*air, -0.4*air)
	}
}

// addFilms loads the faces with their films.
func (m *Medium) addFilms(s *scene.Scene) {
	for _, f := range s.Films {
		a, layer, ok := m.layer(f)
		if !ok {
			continue
		}
		m.Each(func(i int, c [3]int) {
			if c[a] != layer || m.open[a][i] == 0 {
				return
			}
			if share := m.covered(a, c, scene.Components(f.Min), scene.Components(f.Max)); share > negligible {
				m.addFilm(face{a, i}, f, share)
			}
		})
	}
}

// addFilm loads a face with a film that covers a share of it. Air flows on beside an airtight film:
// the two inertances are in parallel.
func (m *Medium) addFilm(at face, f scene.Film, share float64) {
	l := &m.loads[at.axis][at.cell]
	if f.Resistance > 0 {
		l.drag += share * f.Resistance
		l.skeleton += share * f.SurfaceMass
		l.below = min(1, l.below+share)
	} else {
		bare := m.Air.Density*m.H[at.axis] + l.film
		l.film += 1/((1-share)/bare+share/(bare+f.SurfaceMass)) - bare
	}
}
