package march

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// More wool takes no damping from any mode, by energy: a second layer behind the seat
// damps the modes along the room, and fills in all four upright corners damp most.
func TestMoreWoolDampsMore(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 3.2, Y: 2.4, Z: 2}
	layer := func(depth float64) []scene.Porous {
		return []scene.Porous{{Min: r3.Vec{X: size.X - depth}, Max: size, PorousVolume: wavetest.Wool(wavetest.CheckAir, 6e3)}}
	}
	var corners []scene.Porous
	for _, x := range []float64{0, size.X - 0.4} {
		for _, y := range []float64{0, size.Y - 0.4} {
			corners = append(corners, scene.Porous{Min: r3.Vec{X: x, Y: y}, Max: r3.Vec{X: x + 0.4, Y: y + 0.4, Z: size.Z}, PorousVolume: wavetest.Wool(wavetest.CheckAir, 6e3)})
		}
	}
	modes := [][3]int{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}, {1, 1, 0}, {2, 0, 0}, {1, 0, 1}, {0, 1, 1}, {1, 1, 1}}
	damping := func(pieces []scene.Porous) []float64 {
		s := scene.Scene{Size: size, Air: wavetest.CheckAir, Porous: pieces}
		for f := range s.Walls {
			s.Walls[f] = scene.Resistive(0.01, wavetest.CheckAir)
		}
		run := ringOut(t, s, 0.2)
		var list []float64
		for _, n := range modes {
			list = append(list, run.damping(n))
		}
		return list
	}
	bare, single, double, filled := damping(nil), damping(layer(0.2)), damping(layer(0.4)), damping(corners)
	most := 0
	for i, n := range modes {
		t.Logf("mode %v: damping %.1f 1/s bare, %.1f with 200 mm behind, %.1f with 400 mm, %.1f with corner fills", n, bare[i], single[i], double[i], filled[i])
		if filled[i] > 1.3*bare[i] {
			most++
		}
		if n[0] > 0 && !(double[i] > single[i] && single[i] > bare[i]) {
			t.Errorf("mode %v: damping %.1f, %.1f, %.1f 1/s with 0, 200, 400 mm behind", n, bare[i], single[i], double[i])
		}
	}
	if most <= len(modes)/2 {
		t.Errorf("corner fills damp %d of %d modes by a third more", most, len(modes))
	}
}

// damping returns how fast what has the shape of a mode dies away, 1/s: between the
// first and the second quarter of a second after the pulse.
func (r rung) damping(n [3]int) float64 {
	series := r.shaped(n)
	quarter := min(int(0.25/(float64(r.every)*r.step)), len(series)/2)
	var first, second float64
	for i := range quarter {
		first += series[i] * series[i]
		second += series[quarter+i] * series[quarter+i]
	}
	return math.Log(first/second) / (2 * float64(quarter*r.every) * r.step)
}
