package mode

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// TransferGrid returns the transfers from sources at all places (x, y, z) of a
// grid, one spectrum after the other: the spectrum of (xs[i], ys[j], zs[k]) begins
// at ((i·len(ys) + j)·len(zs) + k)·len(grid). A nil dst is allocated, any other
// must have that length. The values are those of [Field.Transfer] but for rounding;
// they cost far less, because all places of one coordinate share their waves along
// that axis.
//
// It panics if a place is outside the box.
func (f *Field) TransferGrid(dst []complex128, xs, ys, zs []float64) []complex128 {
	n := len(f.engine.grid)
	xs, ys, zs = f.inside(xs, ys, zs)
	g := lattice{at: [3][]float64{xs, ys, zs}, step: [3]int{len(ys) * len(zs) * n, len(zs) * n, n}}
	g.axis = make([]int8, len(xs)*len(ys)*len(zs))
	for i, x := range xs {
		for j, y := range ys {
			for k, z := range zs {
				p := r3.Vec{X: x, Y: y, Z: z}
				f.mustContain(p)
				g.axis[g.offset(i, j, k)/n] = int8(along(p, f.seat))
			}
		}
	}
	if dst == nil {
		dst = make([]complex128, len(g.axis)*n)
	} else if len(dst) != len(g.axis)*n {
		panic(fmt.Sprintf("mode: transfers of %d places into %d values", len(g.axis), len(dst)))
	}
	for d := range 3 {
		f.planes(dst, &g, d)
	}
	return dst
}

// inside returns the coordinates of a grid of places with those beyond a wall moved to the wall, if
// the box takes them at all.
func (f *Field) inside(xs, ys, zs []float64) (x, y, z []float64) {
	box := &f.engine.box
	if box.Tape == (r3.Vec{}) {
		return xs, ys, zs
	}
	at := [3][]float64{slices.Clone(xs), slices.Clone(ys), slices.Clone(zs)}
	for d, list := range at {
		for i, v := range list {
			if size := component(box.Size, d); v <= max(size, component(box.Tape, d)) {
				list[i] = min(v, size)
			}
		}
	}
	return at[0], at[1], at[2]
}

// lattice is a grid of places with the axis of the closed form for each.
type lattice struct {
	at   [3][]float64 // coordinates on each axis, m
	step [3]int       // in the result, per axis
	axis []int8       // by place
}

func (g *lattice) offset(i, j, k int) int { return i*g.step[0] + j*g.step[1] + k*g.step[2] }

// place is one place of a plane: its positions on the plane's two axes and where
// its spectrum begins.
type place struct{ b, c, offset int }

// plane lists the places at position i on axis d that use that axis.
func (g *lattice) plane(d, i int) []place {
	var ps []place
	b, c := (d+1)%3, (d+2)%3
	for j := range g.at[b] {
		for k := range g.at[c] {
			offset := i*g.step[d] + j*g.step[b] + k*g.step[c]
			if int(g.axis[offset/g.step[2]]) == d {
				ps = append(ps, place{j, k, offset})
			}
		}
	}
	return ps
}

// sheet is a plane of the grid with its places that use the closed form across it.
type sheet struct {
	side   side
	places []place
}

// planes fills in the places that use axis d, plane by plane.
func (f *Field) planes(dst []complex128, g *lattice, d int) {
	var sheets []sheet
	for i, x := range g.at[d] {
		if ps := g.plane(d, i); len(ps) > 0 {
			sheets = append(sheets, sheet{f.side(d, x), ps})
		}
	}
	if len(sheets) == 0 {
		return
	}
	w := weave{b: f.strands(g, (d+1)%3), c: f.strands(g, (d+2)%3)}
	for i := range f.engine.grid {
		for j := range sheets {
			t := sheets[j].side.terms(i)
			w.gather(i, &t)
			for _, p := range sheets[j].places {
				dst[p.offset+i] = f.engine.pressure(i) * w.sum(p.b, p.c)
			}
		}
	}
}

// strands returns the shapes at each coordinate of a grid on axis d.
func (f *Field) strands(g *lattice, d int) []strand {
	list := make([]strand, len(g.at[d]))
	for i, x := range g.at[d] {
		list[i].shapes = f.engine.shapesAt(d, x)
	}
	return list
}

// strand is ψ at one coordinate, and of the modes in use at one frequency.
type strand struct {
	shapes *shapes
	psi    []complex128
}

// weave sums the terms of a plane at one frequency in two steps: over the modes of
// the third axis for each coordinate there, then over those of the second.
type weave struct {
	b, c   []strand     // by coordinate
	rows   int          // modes of the second axis in use
	partly []complex128 // by coordinate on c, then mode on b
}

// gather takes the terms of one plane at frequency i and sums them over the third axis.
func (w *weave) gather(i int, t *terms) {
	w.rows = t.second
	for k := range w.b {
		w.b[k].psi = w.b[k].shapes.first(i, t.second)
	}
	for k := range w.c {
		w.c[k].psi = w.c[k].shapes.first(i, t.third)
	}
	w.partly = lend(&w.partly, w.rows*len(w.c))
	clear(w.partly)
	for j := range t.pairs {
		p := &t.pairs[j]
		v := t.factor(j)
		for k := range w.c {
			w.partly[k*w.rows+int(p.m)] += v * w.c[k].psi[p.n]
		}
	}
}

// sum returns the whole sum at one place of the plane.
func (w *weave) sum(b, c int) complex128 {
	var sum complex128
	psi := w.b[b].psi
	for m, v := range w.partly[c*w.rows : (c+1)*w.rows] {
		sum += v * psi[m]
	}
	return sum
}
