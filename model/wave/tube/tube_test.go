package tube

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/material/materialtest"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
	"evenbass/model/wave/wavetest"
)

// measure returns the absorption of what fills the last depth of a tube.
func measure(t *testing.T, s scene.Scene, grid model.Grid, cell, depth float64) []float64 {
	t.Helper()
	reflection, warnings, err := Reflection(s, grid, cell, depth)
	if err != nil {
		t.Fatal(err)
	}
	for _, w := range warnings {
		t.Error(w)
	}
	alpha := make([]float64, len(grid))
	for i, r := range reflection {
		alpha[i] = 1 - real(r)*real(r) - imag(r)*imag(r)
	}
	return alpha
}

// hardTube is a hard tube of cells of 0.1 m, or narrower ones.
func hardTube(air model.Air) scene.Scene { return Scene(air, 0.1, 0) }

// Build-ups marched in time against the same by transfer matrices with
// Johnson-Champoux-Allard (package material, tested there against measured tubes).
func TestTube(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name   string
		cell   float64
		layers []model.Layer
	}{
		{"100 mm of 6 k", 0.1, []model.Layer{materialtest.Wool(6e3, 0.1)}},
		{"100 mm of 10 k", 0.1, []model.Layer{materialtest.Wool(10e3, 0.1)}},
		{"130 mm of 10 k, off the grid", 0.1, []model.Layer{materialtest.Wool(10e3, 0.13)}},
		{"200 mm of 6 k", 0.1, []model.Layer{materialtest.Wool(6e3, 0.2)}},
		{"300 mm of 3 k", 0.1, []model.Layer{materialtest.Wool(3e3, 0.3)}},
		{"170 mm of 12 k", 0.05, []model.Layer{materialtest.Wool(12e3, 0.17)}},
		{"50 mm of 20 k", 0.025, []model.Layer{materialtest.Wool(20e3, 0.05)}},
		{"film on 200 mm", 0.1, []model.Layer{materialtest.Foil(0.2), materialtest.Wool(6e3, 0.2)}},
		{"film on 230 mm, off the grid", 0.05, []model.Layer{materialtest.Foil(0.3), materialtest.Wool(6e3, 0.23)}},
		{"film on 100 mm", 0.1, []model.Layer{materialtest.Foil(0.2), materialtest.Wool(6e3, 0.1)}},
		{"film on 150 mm, off the grid", 0.05, []model.Layer{materialtest.Foil(0.2), materialtest.Wool(6e3, 0.15)}},
		{"wool, gap, wool", 0.1, []model.Layer{materialtest.Wool(8e3, 0.1), materialtest.Air(0.15), materialtest.Wool(8e3, 0.1)}},
		{"wool on a gap", 0.1, []model.Layer{materialtest.Wool(8e3, 0.1), materialtest.Air(0.2)}},
		{"wool on a shallow gap", 0.1, []model.Layer{materialtest.Wool(8e3, 0.1), materialtest.Air(0.1)}},
		{"panel on a gap", 0.1, []model.Layer{materialtest.Foil(4), materialtest.Air(0.1)}},
		{"panel on wool", 0.1, []model.Layer{materialtest.Foil(4), materialtest.Wool(6e3, 0.1)}},
		{"film, wool, film, wool", 0.1, []model.Layer{materialtest.Foil(0.1), materialtest.Wool(6e3, 0.2), materialtest.Foil(0.1), materialtest.Wool(6e3, 0.1)}},
	} {
		t.Run(test.name, func(t *testing.T) { checkBuildUp(t, test.cell, test.layers, false) })
	}
}

// Layers that fill cells in part: on a gap within the cell, off the wall, across two.
func TestTubeOfPartCells(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name   string
		cell   float64
		layers []model.Layer
	}{
		{"50 mm of 12 k on a gap within its cell", 0.1, []model.Layer{materialtest.Wool(12e3, 0.05), materialtest.Air(0.05)}},
		{"50 mm of 20 k on a gap within its cell", 0.1, []model.Layer{materialtest.Wool(20e3, 0.05), materialtest.Air(0.05)}},
		{"30 mm of 20 k on a gap within its cell", 0.1, []model.Layer{materialtest.Wool(20e3, 0.03), materialtest.Air(0.07)}},
		{"50 mm of 12 k in the front of a cell", 0.1, []model.Layer{materialtest.Wool(12e3, 0.05), materialtest.Air(0.15)}},
		{"50 mm of 12 k in the rear of a cell", 0.1, []model.Layer{materialtest.Wool(12e3, 0.05), materialtest.Air(0.1)}},
		{"100 mm of 12 k across two cells", 0.1, []model.Layer{materialtest.Wool(12e3, 0.1), materialtest.Air(0.07)}},
		{"50 mm of 12 k", 0.1, []model.Layer{materialtest.Wool(12e3, 0.05)}},
		{"80 mm of 12 k", 0.1, []model.Layer{materialtest.Wool(12e3, 0.08)}},
	} {
		t.Run(test.name, func(t *testing.T) { checkBuildUp(t, test.cell, test.layers, true) })
	}
}

// checkBuildUp holds a build-up in a tube to its transfer matrices. One that is known is
// not warned of by the general rules for thin and dense pieces.
func checkBuildUp(t *testing.T, cell float64, layers []model.Layer, known bool) {
	t.Helper()
	air := model.AirAt(0)
	stack, _, err := absorber.NewStack(layers, &absorber.Options{Air: air})
	if err != nil {
		t.Fatal(err)
	}
	s := hardTube(air)
	s.Size.Y, s.Size.Z = cell, cell
	x := s.Size.X - stack.Depth()
	for _, l := range layers {
		low, high := r3.Vec{X: x}, r3.Vec{X: x + l.Thickness, Y: cell, Z: cell}
		switch l.Kind {
		case model.PorousLayer:
			s.Porous = append(s.Porous, scene.Porous{Min: low, Max: high, PorousVolume: wavetest.Wool(air, l.Resistivity), Tested: known})
		case model.FilmLayer:
			high.X = x
			s.Films = append(s.Films, scene.Film{Min: low, Max: high, SurfaceMass: l.SurfaceMass})
		}
		x += l.Thickness
	}
	for i, alpha := range measure(t, s, Grid, cell, stack.Depth()) {
		want := stack.NormalAbsorption(Grid[i])
		if math.Abs(alpha-want) > 0.03 {
			t.Errorf("%g Hz: absorption %.3f, want %.3f", Grid[i], alpha, want)
		}
	}
}

// slab is a tube that ends in depth of porous material.
func slab(air model.Air, v absorber.PorousVolume, depth, cell float64) scene.Scene {
	s := hardTube(air)
	s.Size.Y, s.Size.Z = cell, cell
	s.Porous = []scene.Porous{{Min: r3.Vec{X: s.Size.X - depth}, Max: s.Size, PorousVolume: v}}
	return s
}

// absorption of a layer on a rigid wall, Zs = -j Zc cot kd.
func absorption(v absorber.PorousVolume, f, depth float64, air model.Air) float64 {
	fluid := v.Fluid(f)
	rho, modulus := fluid.Density(f), fluid.Modulus(f)
	kd := complex(2*math.Pi*f*depth, 0) * cmplx.Sqrt(rho/modulus)
	z := -1i * cmplx.Sqrt(rho*modulus) / cmplx.Tan(kd) / complex(air.Impedance(), 0)
	r := (z - 1) / (z + 1)
	return 1 - real(r)*real(r) - imag(r)*imag(r)
}

// The same material on both sides, with and without heat time and skeleton: what
// is left is the grid's error, and it falls with the cell.
func TestTubeConverges(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	fixed := wavetest.Wool(air, 7e3)
	isothermal, limp := fixed, fixed
	isothermal.HeatTime = 0
	limp.Skeleton = 20
	for _, test := range []struct {
		name string
		v    absorber.PorousVolume
	}{{"fixed", fixed}, {"isothermal", isothermal}, {"limp", limp}} {
		var errors []float64
		for _, cell := range []float64{0.1, 0.05} {
			got := measure(t, slab(air, test.v, 0.2, cell), Grid, cell, 0.2)
			worst := 0.0
			for i, f := range Grid {
				worst = max(worst, math.Abs(got[i]-absorption(test.v, f, 0.2, air)))
			}
			errors = append(errors, worst)
		}
		if errors[0] > 0.02 || errors[1] > 0.006 || errors[0] < 1.3*errors[1] {
			t.Errorf("%s: worst errors of absorption %.4f and %.4f with cells of 0.1 and 0.05 m", test.name, errors[0], errors[1])
		}
	}
}

// A sheet of flow resistance ρc that stands 0.1 m before a rigid wall: ζ = 1 -
// j cot kd, hence α = 0.40698272 at 214.375 Hz with c = 343 m/s.
func TestScreen(t *testing.T) {
	t.Parallel()
	s := hardTube(wavetest.CheckAir)
	s.Films = []scene.Film{{
		Min: r3.Vec{X: 2.9}, Max: r3.Vec{X: 2.9, Y: 0.1, Z: 0.1}, Resistance: wavetest.CheckAir.Impedance(),
	}}
	got := measure(t, s, model.Grid{100, 214.375, 300}, 0.05, 0.1)
	if math.Abs(got[1]-0.40698272) > 0.005 {
		t.Errorf("absorption %.4f, want 0.4070", got[1])
	}
}

func TestPorousWarnings(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	for _, test := range []struct {
		name         string
		depth, sigma float64
		want         int
	}{
		{"plain", 0.2, 5e3, 0},
		{"thin", 0.05, 5e3, 1},
		{"dense", 0.2, 30e3, 1},
	} {
		e, err := solver.New(slab(air, wavetest.Wool(air, test.sigma), test.depth, 0.1), model.Grid{300}, solver.Settings{Cell: 0.1})
		if err != nil {
			t.Fatal(err)
		}
		if got := e.Warnings(); len(got) != test.want {
			t.Errorf("%s: warnings %q, want %d", test.name, got, test.want)
		}
	}
}
