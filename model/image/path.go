package image

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Path is one way of the sound from a source to the seat.
type Path struct {
	Walls   []model.Face // in the order in which they are met; none for the direct sound
	Length  float64      // m
	Arrival float64      // s after the source

	// Level is relative to the direct sound: spreading, reflection and air.
	Level model.Level

	// From is the unit vector from the seat to where the sound comes from.
	From r3.Vec
}

// Hits returns how often the path meets a face.
func (p *Path) Hits(face model.Face) int {
	n := 0
	for _, w := range p.Walls {
		if w == face {
			n++
		}
	}
	return n
}

// Paths lists all paths from a source to the seat that are at most longest (m)
// long, the shortest first, with their levels at the given frequency in Hz. Their
// number grows with the cube of the length. It panics as [Field.Transfer] does.
func (f *Field) Paths(source r3.Vec, frequency, longest float64) []Path {
	box := &f.engine.box
	f.engine.mustContain(source)
	source = box.Clamp(source)
	l := newLattice(box.Size, source, f.seat, longest)
	w := wallsAt(box, frequency)
	loss := -imag(box.Air.Wavenumber(frequency))
	direct := max(r3.Norm(r3.Sub(source, f.seat)), closest)
	var paths []Path
	l.columns(func(x, y *axisImage, zs []axisImage) {
		for i := range zs {
			z := &zs[i]
			r := math.Sqrt(x.sq + y.sq + z.sq)
			ratio := cmplx.Abs(w.amplitude(x, y, z, r)) * direct / r * math.Exp(-loss*(r-direct))
			to := f.image(source, x.cell, y.cell, z.cell)
			paths = append(paths, Path{
				Walls:   wallsMet(box.Size, f.seat, to, [3]int{x.cell, y.cell, z.cell}),
				Length:  r,
				Arrival: r / box.Air.Speed,
				Level:   model.LevelOf(ratio),
				From:    r3.Scale(1/r, r3.Sub(to, f.seat)),
			})
		}
	})
	slices.SortStableFunc(paths, func(a, b Path) int {
		return cmp.Or(cmp.Compare(a.Length, b.Length), slices.Compare(a.Walls, b.Walls))
	})
	return paths
}

// image returns where the image of a source in a cell of the lattice is.
func (f *Field) image(source r3.Vec, i, j, k int) r3.Vec {
	size := f.engine.box.Size
	return r3.Vec{
		X: mirrored(i, source.X, size.X),
		Y: mirrored(j, source.Y, size.Y),
		Z: mirrored(k, source.Z, size.Z),
	}
}

// wallsMet follows the straight line from the seat to an image through the lattice
// of mirrored rooms. Every plane that it crosses is a wall met, the last one first.
func wallsMet(size, seat, to r3.Vec, cells [3]int) []model.Face {
	type crossing struct {
		at   float64 // share of the line, from the seat
		face model.Face
	}
	var met []crossing
	s, p, l := components(seat), components(to), components(size)
	for axis, n := range cells {
		first, last := 1, n
		if n < 0 {
			first, last = n+1, 0
		}
		for m := first; m <= last; m++ {
			// Planes at even multiples are the near wall, at odd ones the far wall.
			face := model.Face(2 * axis)
			if m%2 != 0 {
				face++
			}
			met = append(met, crossing{(float64(m)*l[axis] - s[axis]) / (p[axis] - s[axis]), face})
		}
	}
	slices.SortStableFunc(met, func(a, b crossing) int { return cmp.Compare(b.at, a.at) })
	var faces []model.Face
	for _, c := range met {
		faces = append(faces, c.face)
	}
	return faces
}
