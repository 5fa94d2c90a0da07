package march

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
)

// lengths of rows that a kernel of eight lanes may stumble on.
var lengths = []int{1, 2, 7, 8, 9, 15, 16, 17, 24, 47}

// Both row kernels against the stencil's definition, in double precision: every
// neighbour by its offset. Beside the row at most ghosts may change.
func TestRow(t *testing.T) {
	t.Parallel()
	for _, vectors := range []bool{false, vector.Available()} {
		rng := rand.New(rand.NewPCG(5, 6))
		for _, n := range lengths {
			l := lattice.NewCells(r3.Vec{X: float64(n) * 0.1, Y: 0.36, Z: 0.33}, 0.1)
			s := newStencil(&l, 0.0049)
			now, next := make([]float32, l.Size), make([]float32, l.Size)
			for i := range now {
				now[i], next[i] = float32(rng.NormFloat64()), float32(rng.NormFloat64())
			}
			old := append([]float32(nil), next...)
			from := l.At(0, 1, 1)
			s.march(vectors, next, now, []span{{int32(from), int32(from + n)}}, s.newScratch())
			l.Each(func(i int, _ [3]int) {
				want := float64(old[i])
				if i >= from && i < from+n {
					want = defined(&s, old, now, i)
				}
				if math.Abs(float64(next[i])-want) > 2e-6 {
					t.Fatalf("vectors %v, row of %d: cell %d is %v, want %v", vectors, n, i-from, next[i], want)
				}
			})
		}
	}
}

// A plane of whole rows, rows without some of their groups, and none: joined where the
// kernel takes it, their cells are marched as defined and all others but ghosts stay.
func TestRowsEndToEnd(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.SampledFrom(lengths).Draw(t, "n")
		l := lattice.NewCells(r3.Vec{X: float64(n) * 0.1, Y: 0.7, Z: 0.33}, 0.1)
		s := newStencil(&l, 0.0049)
		now, next := noise(t, l.Size), noise(t, l.Size)
		old := slices.Clone(next)
		var rows []span
		groups := (n + vector.Lanes - 1) / vector.Lanes
		for y := range l.N[1] {
			from := rapid.SampledFrom([]int{0, 0, 0, groups / 2, groups}).Draw(t, "from") * vector.Lanes
			to := rapid.SampledFrom([]int{groups, groups, groups - 1}).Draw(t, "to") * vector.Lanes
			if !vector.Available() {
				to = min(n, to)
			}
			if from < to {
				rows = append(rows, span{int32(l.At(from, y, 1)), int32(l.At(to, y, 1))})
			}
		}
		if vector.Available() {
			s.march(true, next, now, s.joined(rows, groups*vector.Lanes), s.newScratch())
		} else {
			s.march(false, next, now, rows, s.newScratch())
		}
		l.Each(func(i int, c [3]int) {
			want := float64(old[i])
			if slices.ContainsFunc(rows, func(r span) bool { return r.from <= int32(i) && int32(i) < r.to }) {
				want = defined(&s, old, now, i)
			}
			if math.Abs(float64(next[i])-want) > 3e-6 {
				t.Fatalf("of rows %v cell %v is %v, want %v", rows, c, next[i], want)
			}
		})
	})
}

// noise returns n values at random.
func noise(t *rapid.T, n int) []float32 {
	rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
	p := make([]float32, n)
	for i := range p {
		p[i] = float32(rng.NormFloat64())
	}
	return p
}

// The portable kernel over a plane with any cells left out: those that it marches are as
// defined, the others stay.
func TestRowsWithGaps(t *testing.T) {
	t.Parallel()
	l := lattice.NewCells(r3.Vec{X: 1.3, Y: 0.7, Z: 0.3}, 0.1)
	s := newStencil(&l, 0.0049)
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		now, next := make([]float32, l.Size), make([]float32, l.Size)
		for i := range now {
			now[i], next[i] = float32(rng.NormFloat64()), float32(rng.NormFloat64())
		}
		old := slices.Clone(next)
		y := System{}
		marched := map[int]bool{}
		density := rapid.Float64Range(0, 1).Draw(t, "density")
		l.Each(func(i int, c [3]int) {
			if c[2] == 1 && rng.Float64() < density {
				y.addUniform(int32(i))
				marched[i] = true
			}
		})
		s.portable(next, now, y.uniform, s.newScratch())
		for i := range next {
			want := float64(old[i])
			if marched[i] {
				want = defined(&s, old, now, i)
			}
			if math.Abs(float64(next[i])-want) > 3e-6 {
				t.Fatalf("cell %v is %v, want %v", i, next[i], want)
			}
		}
	})
}

// defined is one cell's march, term by term.
func defined(s *stencil, old, now []float32, i int) float64 {
	sum := float64(s.self)*float64(now[i]) - float64(old[i])
	for dz := -1; dz <= 1; dz++ {
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				c := map[[3]int]float32{
					{1, 0, 0}: s.x, {0, 1, 0}: s.y, {0, 0, 1}: s.z,
					{1, 1, 0}: s.xy, {1, 0, 1}: s.xz, {0, 1, 1}: s.yz,
				}[[3]int{dx * dx, dy * dy, dz * dz}]
				sum += float64(c) * float64(now[i+dx+dy*s.sy+dz*s.sz])
			}
		}
	}
	return sum
}

// BenchmarkRows marches all cells of a room, plane by plane.
func BenchmarkRows(b *testing.B) {
	l := lattice.NewCells(r3.Vec{X: 4.7, Y: 3.4, Z: 2.5}, 0.1)
	s := newStencil(&l, 0.0036)
	now, next := make([]float32, l.Size), make([]float32, l.Size)
	seven := func(rows []span) {
		for _, r := range rows {
			for i := int(r.from); i < int(r.to); i++ {
				next[i] = 0.5*now[i] - next[i] + 0.25*(now[i-1]+now[i+1]+now[i-s.sy]+now[i+s.sy]+now[i-s.sz]+now[i+s.sz])
			}
		}
	}
	t := s.newScratch()
	march := func(vectors bool) func([]span) {
		return func(rows []span) { s.march(vectors, next, now, rows, t) }
	}
	planes := make([][]span, l.N[2])
	for k := range planes {
		for j := range l.N[1] {
			row := int32(l.At(0, j, k))
			planes[k] = append(planes[k], span{row, row + int32(l.N[0])})
		}
	}
	for _, kernel := range []struct {
		name string
		rows func([]span)
	}{{"seven points, plain", seven}, {"portable", march(false)}, {"this build", march(vector.Available())}} {
		b.Run(kernel.name, func(b *testing.B) {
			for b.Loop() {
				for _, rows := range planes {
					kernel.rows(rows)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(l.Count()), "ns/cell")
		})
	}
}
