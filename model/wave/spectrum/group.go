package spectrum

import (
	"context"
	"math"
)

// groupCells is how many cells are transformed side by side: one vector of real parts and one of
// imaginary parts.
const groupCells = 16

// point is one place of a group's transform: the first eight cells as real part, the others as
// imaginary part, or sums of these. It fills a cache line.
type point [groupCells]float32

// grouper turns the records of a group of cells at once into their spectra at real phases: the
// non-uniform transform of [transformer], but with a fast transform in single precision over
// two real records at a time. Those come apart at the end, since the transform of a real record at
// -φ is the conjugate of that at φ.
type grouper struct {
	window []float32 // the record's weights, by time: its end faded out, over the kernel's transform
	turns  [][]turn  // by pass
	place  []int32   // by bin: where the transform leaves it
	first  []int     // by frequency: first bin
	kernel [][taps]float32
	factor []complex64 // by frequency: gain, and the turn of the record's middle
	points []point     // working memory
}

// turn is e^{-jθ}, e^{-2jθ} and e^{-3jθ}: cosine and sine of θ, 2θ and 3θ.
type turn [6]float32

// newGrouper prepares transforms of records that end as the weights say, at real phases, with a factor each.
func newGrouper(phases, gain []complex128, end []float32) *grouper {
	length := len(end)
	size := 1
	for float64(size) < padding*float64(max(length, taps)) {
		size *= 2
	}
	k := newKernel(length, size)
	g := &grouper{window: make([]float32, length), turns: turnsFor(size), place: places(size), points: make([]point, size)}
	for n, weight := range k.window {
		g.window[n] = float32(weight * float64(end[n]))
	}
	for i, p := range phases {
		first, values, middle := k.at(real(p))
		g.first = append(g.first, first)
		var row [taps]float32
		for j, v := range values {
			row[j] = float32(v)
		}
		g.kernel = append(g.kernel, row)
		g.factor = append(g.factor, complex64(gain[i]*middle))
	}
	return g
}

// turnsFor lists the turns of each pass over four quarters, for blocks of size, size/4 and so on.
func turnsFor(size int) (list [][]turn) {
	for n := size; n >= 4; n /= 4 {
		pass := make([]turn, n/4)
		for j := range pass {
			for m := range 3 {
				sin, cos := math.Sincos(2 * math.Pi * float64((m+1)*j) / float64(n))
				pass[j][2*m], pass[j][2*m+1] = float32(cos), float32(sin)
			}
		}
		list = append(list, pass)
	}
	return list
}

// places lists where [grouper.transform] leaves each bin.
func places(size int) []int32 {
	list := make([]int32, size)
	for k := range list {
		at, rest, n := 0, k, size
		for ; n >= 4; n /= 4 {
			at += rest % 4 * (n / 4)
			rest /= 4
		}
		list[k] = int32(at + rest)
	}
	return list
}

// transform fills values, cell after cell, from frames by time. It stops early when ctx ends.
func (g *grouper) transform(ctx context.Context, values []complex64, frames [][]float32) {
	cells := len(frames[0])
	for first := 0; first < cells && ctx.Err() == nil; first += groupCells {
		g.load(frames, first)
		g.passes(g.points, 0)
		g.read(values, first, min(groupCells, cells-first))
	}
}

// load fills the points with the weighted records of the cells from the first one on. Time counts
// from the middle of the record, so that the kernels are real.
func (g *grouper) load(frames [][]float32, first int) {
	middle, size := len(g.window)/2, len(g.points)
	clear(g.points)
	for n, w := range g.window {
		at := n - middle
		if at < 0 {
			at += size
		}
		frame := frames[n][first:]
		if len(frame) >= groupCells {
			scale(&g.points[at], frame, w)
			continue
		}
		for i, x := range frame {
			g.points[at][i] = w * x
		}
	}
}

// passes transforms a block in place, decimating in frequency: one pass over its quarters, then each
// quarter by itself, which soon fits into the nearest cache.
func (g *grouper) passes(block []point, depth int) {
	switch n := len(block); {
	case n >= 4:
		quarters(block, g.turns[depth])
		for i := 0; i < n; i += n / 4 {
			g.passes(block[i:i+n/4], depth+1)
		}
	case n == 2:
		a, b := &block[0], &block[1]
		for i := range a {
			a[i], b[i] = a[i]+b[i], a[i]-b[i]
		}
	}
}

// read sums the bins about each frequency, takes the two halves of the group apart and stores the
// spectra of the first count cells.
func (g *grouper) read(values []complex64, first, count int) {
	size := len(g.points)
	for f, k := range g.kernel {
		var bins, mirrored [taps]int32
		for i := range k {
			at := g.first[f] + i
			bins[i], mirrored[i] = g.place[at&(size-1)], g.place[-at&(size-1)]
		}
		var above, below point
		sumPoints(&above, g.points, &bins, &k)
		sumPoints(&below, g.points, &mirrored, &k)
		factor := g.factor[f] / 2
		for cell := range count {
			i := cell % 8
			x := complex(above[i]+below[i], above[8+i]-below[8+i])
			if cell >= 8 {
				x = complex(above[8+i]+below[8+i], below[i]-above[i])
			}
			values[(first+cell)*len(g.kernel)+f] = x * factor
		}
	}
}

// portableScale fills a point with w times a group of cells.
func portableScale(p *point, cells []float32, w float32) {
	for i, x := range cells[:groupCells] {
		p[i] = w * x
	}
}

// portableSumPoints fills a point with the sum of those at some places by their weights.
func portableSumPoints(sum *point, points []point, places *[taps]int32, weights *[taps]float32) {
	*sum = point{}
	for j, at := range places {
		for i, x := range points[at] {
			sum[i] += weights[j] * x
		}
	}
}

// portableQuarters is one pass: of the points a, b, c, d at the same place j of a block's quarters,
//
//	a + b + c + d,  (a - jb - c + jd) e^{-jθ},  (a - b + c - d) e^{-2jθ},  (a + jb - c - jd) e^{-3jθ}
func portableQuarters(block []point, turns []turn) {
	q := len(turns)
	for j, t := range turns {
		pa, pb, pc, pd := &block[j], &block[j+q], &block[j+2*q], &block[j+3*q]
		for i := range 8 {
			a, b := complex(pa[i], pa[8+i]), complex(pb[i], pb[8+i])
			c, d := complex(pc[i], pc[8+i]), complex(pd[i], pd[8+i])
			even, odd, across, along := a+c, b+d, a-c, b-d
			along = complex(imag(along), -real(along)) // -j(b - d)
			pa[i], pa[8+i] = real(even+odd), imag(even+odd)
			for m, v := range [3]complex64{across + along, even - odd, across - along} {
				v *= complex(t[2*m], -t[2*m+1])
				p := [3]*point{pb, pc, pd}[m]
				p[i], p[8+i] = real(v), imag(v)
			}
		}
	}
}
