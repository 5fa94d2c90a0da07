package wave

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// lengths of rows that a kernel of eight lanes may stumble on.
var lengths = []int{1, 2, 7, 8, 9, 15, 16, 17, 24, 47}

// Both row kernels against the stencil's definition, in double precision: every
// neighbour by its offset. Beside the row at most ghosts may change.
func TestRow(t *testing.T) {
	t.Parallel()
	for _, vectors := range []bool{false, hasVectors()} {
		rng := rand.New(rand.NewPCG(5, 6))
		for _, n := range lengths {
			l := newLattice(r3.Vec{X: float64(n) * 0.1, Y: 0.36, Z: 0.33}, 0.1)
			s := newStencil(&l, 0.0049)
			now, next := make([]float32, l.size), make([]float32, l.size)
			for i := range now {
				now[i], next[i] = float32(rng.NormFloat64()), float32(rng.NormFloat64())
			}
			old := append([]float32(nil), next...)
			from := l.at(0, 1, 1)
			s.march(vectors, next, now, []span{{int32(from), int32(from + n)}}, s.newScratch())
			l.each(func(i int, _ [3]int) {
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
		l := newLattice(r3.Vec{X: float64(n) * 0.1, Y: 0.7, Z: 0.33}, 0.1)
		s := newStencil(&l, 0.0049)
		now, next := noise(t, l.size), noise(t, l.size)
		old := slices.Clone(next)
		var rows []span
		for y := range l.n[1] {
			from := rapid.SampledFrom([]int{0, 0, 0, l.groups() / 2, l.groups()}).Draw(t, "from") * lanes
			to := min(n, rapid.SampledFrom([]int{l.groups(), l.groups(), l.groups() - 1}).Draw(t, "to")*lanes)
			if from < to {
				rows = append(rows, span{int32(l.at(from, y, 1)), int32(l.at(to, y, 1))})
			}
		}
		if hasVectors() {
			s.march(true, next, now, s.joined(rows), s.newScratch())
		} else {
			s.march(false, next, now, rows, s.newScratch())
		}
		l.each(func(i int, c [3]int) {
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
	l := newLattice(r3.Vec{X: 1.3, Y: 0.7, Z: 0.3}, 0.1)
	s := newStencil(&l, 0.0049)
	rapid.Check(t, func(t *rapid.T) {
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 1))
		now, next := make([]float32, l.size), make([]float32, l.size)
		for i := range now {
			now[i], next[i] = float32(rng.NormFloat64()), float32(rng.NormFloat64())
		}
		old := slices.Clone(next)
		y := system{}
		marched := map[int]bool{}
		density := rapid.Float64Range(0, 1).Draw(t, "density")
		l.each(func(i int, c [3]int) {
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
				t.Fatalf("cell %v is %v, want %v", l.place(i), next[i], want)
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

// A plane wave in any direction runs through the stencil as [dispersion] says: the
// leading error in all directions is one and the same, and the next is small.
func TestDispersion(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	rapid.Check(t, func(t *rapid.T) {
		h := rapid.Float64Range(0.05, 0.15).Draw(t, "h")
		l := newLattice(r3.Vec{X: 10 * h, Y: 10 * h, Z: 10 * h}, h)
		ct := 0.6 * h
		s := newStencil(&l, ct*ct)
		polar := rapid.Float64Range(0, math.Pi).Draw(t, "polar")
		azimuth := rapid.Float64Range(0, 2*math.Pi).Draw(t, "azimuth")
		k := rapid.Float64Range(0.05, 0.8).Draw(t, "kh") / h
		kx, ky, kz := k*math.Sin(polar)*math.Cos(azimuth), k*math.Sin(polar)*math.Sin(azimuth), k*math.Cos(polar)
		cx, cy, cz := math.Cos(kx*h), math.Cos(ky*h), math.Cos(kz*h)
		// 2 cos ω'T of the leapfrog.
		turn := float64(s.self) + 2*float64(s.x)*cx + 2*float64(s.y)*cy + 2*float64(s.z)*cz +
			4*float64(s.xy)*cx*cy + 4*float64(s.xz)*cx*cz + 4*float64(s.yz)*cy*cz
		got := math.Acos(turn / 2)
		d := dispersion{air: air, square: l.meanSquare(), step: ct / air.Speed}
		want := real(d.phase(k * air.Speed))
		kh := k * h
		if math.Abs(got/want-1) > 5e-4*math.Pow(kh, 4)+2e-5/kh {
			t.Errorf("kh %.2f: phase per step %.6f, want %.6f", kh, got, want)
		}
	})
}

// Cells that are not cubes: the error that is left is that of their mismatch.
func TestDispersionOblong(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	l := newLattice(r3.Vec{X: 1.05, Y: 1, Z: 0.98}, 0.1)
	d := dispersion{air: air, square: l.meanSquare(), step: 1e-5}
	for a, h := range l.h {
		k := 2 * math.Pi * 300 / air.Speed
		got := 2 / h * math.Sin(k*h/2) // of a wave along the axis, as the grid has it
		if e := math.Abs(got/(real(d.grid(complex(k*air.Speed, 0)))/air.Speed) - 1); e > 0.0012 {
			t.Errorf("axis %d with cells of %.3f m: frequency off by %.2g", a, h, e)
		}
	}
}

// BenchmarkRows marches all cells of a room, plane by plane.
func BenchmarkRows(b *testing.B) {
	l := newLattice(r3.Vec{X: 4.7, Y: 3.4, Z: 2.5}, 0.1)
	s := newStencil(&l, 0.0036)
	now, next := make([]float32, l.size), make([]float32, l.size)
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
	planes := make([][]span, l.n[2])
	for k := range planes {
		for j := range l.n[1] {
			row := int32(l.at(0, j, k))
			planes[k] = append(planes[k], span{row, row + int32(l.n[0])})
		}
	}
	for _, kernel := range []struct {
		name string
		rows func([]span)
	}{{"seven points, plain", seven}, {"portable", march(false)}, {"this build", march(hasVectors())}} {
		b.Run(kernel.name, func(b *testing.B) {
			for b.Loop() {
				for _, rows := range planes {
					kernel.rows(rows)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(l.cells()), "ns/cell")
		})
	}
}
