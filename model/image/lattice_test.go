package image

import (
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"evenbass/model"
	"evenbass/model/reference"

	"gonum.org/v1/gonum/spatial/r3"
)

// Kuttruff, Room Acoustics, Eq. 9.23: images up to order i0 number
// (2/3)(2 i0³ + 3 i0² + 4 i0), the source left out.
func TestImageCount(t *testing.T) {
	t.Parallel()
	for order, want := range map[int]int{1: 6, 2: 24, 3: 62, 4: 128, 10: 1560} {
		count := -1
		for i := -order; i <= order; i++ {
			for j := -order; j <= order; j++ {
				for k := -order; k <= order; k++ {
					met := 0
					for _, n := range [3]int{i, j, k} {
						near, far := hits(n)
						met += near + far
					}
					if met <= order {
						count++
					}
				}
			}
		}
		if count != want {
			t.Errorf("order %d: %d images, want %d", order, count, want)
		}
	}
}

// Allen & Berkley's example room, from memory, in units of a sample's length:
// 80 x 120 x 100, source (30,100,40), receiver (50,10,60). Distances recomputed.
func TestAllenBerkleyRoom(t *testing.T) {
	t.Parallel()
	l := newLattice(r3.Vec{X: 80, Y: 120, Z: 100}, r3.Vec{X: 30, Y: 100, Z: 40}, r3.Vec{X: 50, Y: 10, Z: 60}, 137)
	var got []float64
	l.columns(func(x, y *axisImage, zs []axisImage) {
		for _, z := range zs {
			if met := x.near + x.far + y.near + y.far + z.near + z.far; met <= 1 {
				got = append(got, math.Sqrt(x.sq+y.sq+z.sq))
			}
		}
	})
	want := []float64{94.33981132, 113.578167, 122.065556, 122.065556, 133.041347, 136.014705, 136.014705}
	slices.Sort(got)
	if !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-5 }) {
		t.Errorf("images up to first order at %.6f, want %.6f", got, want)
	}
}

// Kuttruff, Room Acoustics, Eq. 4.6 integrated: 4/3 π (ct)³/V images have arrived
// by t, 422.582 at 50 ms in 50 m³. It is exact as the mean over all places.
func TestReflectionDensity(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	place := func() r3.Vec {
		return r3.Vec{X: 5 * rng.Float64(), Y: 4 * rng.Float64(), Z: 2.5 * rng.Float64()}
	}
	sum, n := 0, 1000
	for range n {
		l := newLattice(roomT, place(), place(), 343*0.05)
		sum += l.columns(func(*axisImage, *axisImage, []axisImage) {})
	}
	if mean := float64(sum) / float64(n); math.Abs(mean-422.582) > 1 {
		t.Errorf("%.3f images on average, want 422.582", mean)
	}
	f := mustField(t, model.Box{Size: roomT, Air: airT, Walls: each(0.1)}, model.Grid{100}, Settings{MaxLength: 343 * 0.05}, seatT)
	if got := f.engine.reach.Images; got != 422 {
		t.Errorf("Reach says %d images, want 422", got)
	}
	if got := images(f, sourceT); math.Abs(float64(got)-422.6) > 30 {
		t.Errorf("%d images from one place, want about 422", got)
	}
}

// Power that a small source gives off near rigid planes that meet at right angles:
// W/Wf is the sum of sin(kr)/(kr) over its images, r from the source (Waterhouse, J.
// Acoust. Soc. Am. 27, 1955, from memory; Allison, J. Audio Eng. Soc. 22, 1974,
// for the use; values recomputed).
func TestPowerNearPlanes(t *testing.T) {
	t.Parallel()
	k343 := func(f float64) float64 { return 2 * math.Pi * f / 343 }
	for _, c := range []struct {
		k       float64
		x, y, z float64 // 0 is no such plane
		want    float64 // dB
	}{
		{2 * math.Pi, 0.35757416, 0, 0, -1.063678},
		{2 * math.Pi, 0.31882197, 0.31882197, 0, -2.857001},
		{2 * math.Pi, 0.28142033, 0.28142033, 0.28142033, -11.365346},
		{2 * math.Pi, 0.25, 0, 0, 0},
		{2 * math.Pi, 0.25, 0.25, 0, -1.062129},
		{2 * math.Pi, 0.25, 0.25, 0.25, -6.735200},
		{2 * math.Pi, 0.1, 0, 0, 2.447289},
		{2 * math.Pi, 0.1, 0.1, 0, 4.863473},
		{2 * math.Pi, 0.1, 0.1, 0.1, 7.243127},
		{k343(125), 0.6, 0.6, 0.6, -1.636347},
		{k343(160), 0.6, 0.6, 0.6, -11.348018},
		{k343(200), 0.6, 0.6, 0.6, -3.494055},
		{k343(125), 0.3, 0.6, 1, 0.694564},
		{k343(160), 0.3, 0.6, 1, 1.313872},
		{k343(200), 0.3, 0.6, 1, 1.313347},
	} {
		var sum float64
		for _, x := range nearPlane(c.x) {
			for _, y := range nearPlane(c.y) {
				for _, z := range nearPlane(c.z) {
					if kr := c.k * math.Sqrt(x.sq+y.sq+z.sq); kr == 0 {
						sum++
					} else {
						sum += math.Sin(kr) / kr
					}
				}
			}
		}
		if got := float64(model.PowerLevel(sum)); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%v, %v, %v m at k = %.4f: %.7f dB, want %.6f", c.x, c.y, c.z, c.k, got, c.want)
		}
	}
}

// images returns how many images a transfer adds up for a source.
func images(f *Field, source r3.Vec) int {
	l := f.lattice(source)
	return l.columns(func(*axisImage, *axisImage, []axisImage) {})
}

// nearPlane returns the images of a source at its own place with one plane at a
// distance and the other one far beyond reach.
func nearPlane(distance float64) []axisImage {
	if distance == 0 {
		return axisImages(500, 500, 1000, 10)
	}
	return axisImages(distance, distance, 1000, 10)
}

// A source 1 m in front of a rigid wall, the listener 3 m ahead: not a null at
// c/4d, since the reflection has farther to go (closed form, recomputed).
func TestQuarterWave(t *testing.T) {
	t.Parallel()
	grid := model.Grid{42.875, 85.75, 100, 171.5}
	want := []float64{1.33538908, -7.95880017, -4.95047113, 4.08239965}
	size := r3.Vec{X: 1000, Y: 1000, Z: 1000}
	box := model.Box{Size: size, Air: airT}
	p := direct(&box, grid, newLattice(size, r3.Vec{X: 1, Y: 500, Z: 500}, r3.Vec{X: 4, Y: 500, Z: 500}, 20))
	free := model.FreeField(nil, grid, airT, 3)
	for i := range p {
		ratio := p[i] / free[i]
		if got := float64(model.LevelOf(math.Hypot(real(ratio), imag(ratio)))); math.Abs(got-want[i]) > 1e-7 {
			t.Errorf("%v Hz: %.8f dB, want %.8f", grid[i], got, want[i])
		}
	}
}

// Measured echo times in a real room of 5.705 x 5.965 x 2.355 m at twelve places
// (Di Carlo et al., dEchorate, EURASIP J. Audio Speech Music Proc. 2021). The wall
// at y = 0 is left out: its panel is some 20 cm from where the plan has it.
func TestReferenceEchoes(t *testing.T) {
	t.Parallel()
	times, positions := table(t, "echo_times_s.csv"), table(t, "positions.csv")
	box := model.Box{Size: r3.Vec{X: 5.705, Y: 5.965, Z: 2.355}, Air: model.Air{Speed: 345.844, Density: 1.2}, Walls: each(0.1)}
	var late [7]float64
	for i, p := range positions {
		f := mustField(t, box, model.Grid{100}, Settings{Decay: -10}, r3.Vec{X: p[1], Y: p[2], Z: p[3]})
		l := newLattice(box.Size, r3.Vec{X: 1.991, Y: 4.498, Z: 1.424}, f.seat, 12)
		l.columns(func(x, y *axisImage, zs []axisImage) {
			for _, z := range zs {
				echo := math.Sqrt(x.sq+y.sq+z.sq) / box.Air.Speed
				hits := []int{x.near, x.far, y.near, y.far, z.near, z.far}
				switch face := slices.Index(hits, 1); x.near + x.far + y.near + y.far + z.near + z.far {
				case 0:
					late[6] += math.Abs(echo-times[i][1]) / float64(len(positions))
				case 1:
					late[face] += math.Abs(echo-times[i][2+face]) / float64(len(positions))
				}
			}
		})
	}
	for i, d := range late {
		if i != int(model.Left) && !(d > 0 && d < 0.3e-3) {
			t.Errorf("wall %d: echoes are %.2f ms off on average, want below 0.3", i, 1e3*d)
		}
	}
}

// table reads numbers under a heading from the open data beside the project.
func table(t *testing.T, name string) [][]float64 {
	t.Helper()
	records := reference.Rows(t, "dechorate_rooge/"+name)
	var rows [][]float64
	for _, record := range records[1:] {
		row := make([]float64, len(record))
		for i, s := range record {
			var err error
			if row[i], err = strconv.ParseFloat(s, 64); err != nil {
				t.Fatal(err)
			}
		}
		rows = append(rows, row)
	}
	return rows
}
