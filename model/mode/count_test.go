package mode

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
)

// Long 2014, eqs 8.45 and 8.46: 7 x 5 x 3 m, c = 344 m/s.
func TestCountLong(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 7, Y: 5, Z: 3}
	if got := Estimate(size, 344, 200).Total(); math.Abs(got-128.4943) > 1e-4 {
		t.Errorf("estimate below 200 Hz: %v, want 128.4943", got)
	}
	modes := List(rigidBox(7, 5, 3, 344), 200)
	if got := Tally(modes, 200).Total(); got != 128 {
		t.Errorf("counted below 200 Hz: %v, want 128", got)
	}
	if got, want := Tally(modes, 100), (Count{7, 10, 4}); got != want {
		t.Errorf("counted below 100 Hz: %+v, want %+v", got, want)
	}
	if got := Density(size, 344, 1000); math.Abs(got-34.3201) > 1e-4 {
		t.Errorf("density at 1 kHz: %v, want 34.3201", got)
	}
}

// Kuttruff's room: all three terms are needed (check values computed for this
// project from Kuttruff, Room Acoustics, ch. 3).
func TestCountKuttruff(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 4.7, Y: 4.1, Z: 3.1}
	if got := Tally(List(rigidBox(4.7, 4.1, 3.1, 340), 116.5), 116.5).Total(); got != 20 {
		t.Errorf("counted: %v, want 20", got)
	}
	if got := Estimate(size, 340, 116.5).Total(); math.Abs(got-20.69) > 0.005 {
		t.Errorf("estimate: %v, want 20.69", got)
	}
}

// Counts by kind in the 5 x 4 x 2.5 m room, enumerated; estimates and densities by
// the formulas of Maa 1939 and Morse & Bolt 1944 (the papers from memory).
func TestCountByKind(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 5, Y: 4, Z: 2.5}
	modes := List(rigidBox(5, 4, 2.5, 343), 300)
	for _, c := range []struct {
		f             float64
		want          Count
		weyl, density float64
	}{
		{100, Count{5, 6, 1}, 12.5409, 0.28596},
		{150, Count{9, 17, 7}, 32.7986, 0.53733},
		{200, Count{11, 32, 22}, 67.5713, 0.86655},
		{250, Count{15, 56, 48}, 120.7514, 1.27363},
		{300, Count{18, 83, 94}, 196.2317, 1.75856},
	} {
		if got := Tally(modes, c.f); got != c.want {
			t.Errorf("%v Hz: %+v, want %+v", c.f, got, c.want)
		}
		if got := Estimate(size, 343, c.f).Total(); math.Abs(got-c.weyl) > 1e-4 {
			t.Errorf("%v Hz: estimate %v, want %v", c.f, got, c.weyl)
		}
		if got := Density(size, 343, c.f); math.Abs(got-c.density) > 1e-5 {
			t.Errorf("%v Hz: density %v, want %v", c.f, got, c.density)
		}
	}
	got := Estimate(size, 343, 300)
	for kind, d := range map[string]float64{"axial": got.Axial - 20.117, "tangential": got.Tangential - 82.023, "oblique": got.Oblique - 94.092} {
		if math.Abs(d) > 1e-3 {
			t.Errorf("estimate at 300 Hz: %s off by %v", kind, d)
		}
	}
}

// Counts per third octave: the 5 x 4 x 2.5 m room never falls but has a double mode
// at 68.6 Hz in a band of two; a 3 m cube falls at 100 Hz (Bonello 1981, from
// memory; counts enumerated for this project).
func TestBonello(t *testing.T) {
	t.Parallel()
	bands := Bonello(List(rigidBox(5, 4, 2.5, 343), 300), 31.5, 200)
	var counts []int
	for i, b := range bands {
		counts = append(counts, b.Modes)
		if b.Falls {
			t.Errorf("%.1f Hz falls", b.Center)
		}
		if b.Double != (i == 3) {
			t.Errorf("%.1f Hz: double %v", b.Center, b.Double)
		}
	}
	if diff := cmp.Diff([]int{1, 1, 1, 2, 5, 7, 9, 25, 41}, counts); diff != "" {
		t.Errorf("counts:\n%s", diff)
	}
	cube := Bonello(List(rigidBox(3, 3, 3, 343), 300), 63, 100)
	if diff := cmp.Diff([]int{3, 3, 1}, []int{cube[0].Modes, cube[1].Modes, cube[2].Modes}); diff != "" || !cube[2].Falls {
		t.Errorf("cube: %+v", cube)
	}
}

// Neighbours in the 5 x 4 x 2.5 m room: 68.6 twice, 80.9 twice; 34.3 stands alone.
func TestCoincident(t *testing.T) {
	t.Parallel()
	modes := List(rigidBox(5, 4, 2.5, 343), 82)
	want := []bool{false, false, false, true, true, false, true, true}
	if diff := cmp.Diff(want, Coincident(modes, 0.05)); diff != "" {
		t.Errorf("%v:\n%s", modes, diff)
	}
}
