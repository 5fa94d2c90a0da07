package march

import (
	"context"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// Nothing grows, whatever the room: long after the pulse there is less than during
// it.
func TestNothingGrows(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	rapid.Check(t, func(t *rapid.T) {
		number := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
		size := r3.Vec{X: number(1.2, 2.4, "length"), Y: number(1, 2, "width"), Z: number(1, 2, "height")}
		inside := func(name string) (low, high r3.Vec) {
			var a, b [3]float64
			for i, l := range scene.Components(size) {
				a[i] = number(0, l-0.1, name)
				b[i] = number(a[i]+0.05, l, name)
			}
			return scene.Vec(a), scene.Vec(b)
		}
		s := scene.Scene{Size: size, Air: air}
		for i := range s.Walls {
			s.Walls[i] = fit.Branches{Air: air, List: []fit.Branch{{
				Mass: number(0, 20, "mass"), Resistance: number(0, 5e3, "resistance"), Stiffness: number(10, 1e8, "stiffness"),
			}}}
		}
		if number(0, 1, "outline") > 0.5 { // the far right corner is cut off
			x, y := number(0.3, 0.9, "cut")*size.X, number(0.3, 0.9, "cut")*size.Y
			s.Outline = []r2.Vec{{}, {X: size.X}, {X: size.X, Y: y}, {X: x, Y: size.Y}, {Y: size.Y}}
			s.Edges = []fit.Branches{2: s.Walls[0]}
		}
		low, high := inside("block")
		s.Blocks = []scene.Solid{{Min: low, Max: high, Surface: scene.Resistive(number(0, 1, "beta"), air)}}
		s.Slopes = []scene.Slope{{Height: number(0.9, 2, "roof"), Rise: r2.Vec{X: number(-0.2, 1, "rise")}, Surface: s.Walls[0]}}
		low, high = inside("wool")
		v := wavetest.Wool(air, number(500, 60e3, "sigma"))
		v.Skeleton = number(0.5, 60, "skeleton")
		s.Porous = []scene.Porous{{Min: low, Max: high, PorousVolume: v}}
		low, high = inside("film")
		high.X = low.X
		s.Films = []scene.Film{{Min: low, Max: high, SurfaceMass: number(1e-3, 2, "film"), Resistance: number(0.1, 500, "screen")}}
		if s.Validate() != nil {
			t.Skip("no room")
		}
		y := New(lattice.New(&s, 0.2), vector.Available())
		t.Logf("step %.3g cells %d size %v", y.Step*343/0.2, y.Count(), size)
		cells := y.Within(nil)
		r, err := y.Run(context.Background(), new(Blocks), Request{
			Source: []lattice.Weight{{Cell: cells[len(cells)/2], Share: 1}}, Cells: cells,
			Lowest: 50, Highest: 200, Fall: 200, Longest: 0.5,
		})
		if err != nil {
			t.Fatal(err)
		}
		n := len(r.energy)
		early, late := slices.Max(r.energy[:n/4]), slices.Max(r.energy[3*n/4:])
		if !(late <= 1.5*early) {
			t.Errorf("energy %v has become %v", early, late)
		}
	})
}

// The weights of a cell come to 2 or a hair less, whatever is rounded: a pressure that is the
// same everywhere must not grow.
func TestWeightsComeToTwo(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 1.5, Y: 1.2, Z: 0.4}
	for _, cell := range []float64{0.05, 0.07, 0.1} {
		l := lattice.NewCells(size, cell)
		for _, ct := range []float64{0.5, 0.6, 0.7, 0.8} {
			k := newStencil(&l, ct*ct*cell*cell)
			sum := float64(k.self) + 2*(float64(k.x)+float64(k.y)+float64(k.z)) + 4*(float64(k.xy)+float64(k.xz)+float64(k.yz))
			if sum > 2 || sum < 2-3e-7 {
				t.Errorf("cells of %g m, steps of %g: the weights come to 2%+.2g, want 2 or a hair less", cell, ct, sum-2)
			}
		}
	}
}

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
