package march

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/mat"

	"evenbass/model/material/fit"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// ringing is a mode as it rings out: frequency in Hz and damping in 1/s.
type ringing struct{ f, delta float64 }

// ringings are the modes of the check room with impedance walls: k² = qx² + qy² + qz²
// with the eigenvalue equation of Morse and Ingard (1968, chapter 9) on each axis,
// solved with 30 digits and again by collocation.
var ringings = map[[3]int]map[string]ringing{
	{1, 0, 0}: {"0.01": {34.2970482457, 3.60185669673}, "0.05": {34.2257648832, 18.0522817344}, "0.02+0.05j": {31.4996599854, 6.78562648337}, "0.01 to 0.2": {34.3151201676, 25.4756609545}},
	{0, 1, 0}: {"0.01": {42.8730924636, 3.77335690798}, "0.05": {42.8270706131, 18.9098055205}, "0.02+0.05j": {39.9162802507, 7.25803686300}, "0.01 to 0.2": {43.0560905579, 23.8227253250}},
	{1, 1, 0}: {"0.01": {54.9053441436, 4.45944533596}, "0.05": {54.8704369333, 22.3509092722}, "0.02+0.05j": {51.3934039501, 8.67514958940}, "0.01 to 0.2": {55.1344202410, 27.9159933713}},
	{0, 0, 1}: {"0.01": {68.6002831060, 4.28783157612}, "0.05": {68.6071844944, 21.4790952717}, "0.02+0.05j": {65.1856236039, 8.56276228441}, "0.01 to 0.2": {68.6260414420, 35.9163475678}},
	{2, 0, 0}: {"0.01": {68.6002395081, 3.60173021228}, "0.05": {68.6059997558, 18.0363573405}, "0.02+0.05j": {65.7313764560, 7.20041730070}, "0.01 to 0.2": {68.9464901763, 25.0919442264}},
	{1, 0, 1}: {"0.01": {76.6974338276, 4.97393477119}, "0.05": {76.7047781028, 24.9220628003}, "0.02+0.05j": {72.7375236306, 9.92274344571}, "0.01 to 0.2": {76.6754102306, 40.2322488113}},
	{1, 1, 1}: {"0.01": {87.8680438708, 5.83156006299}, "0.05": {87.8787196420, 29.2253090813}, "0.02+0.05j": {83.2240042294, 11.6375321962}, "0.01 to 0.2": {87.8907922390, 42.9404918118}},
	{2, 1, 1}: {"0.01": {106.067668414, 5.83148518375}, "0.05": {106.086318398, 29.2158884672}, "0.02+0.05j": {101.415468533, 11.6907986371}, "0.01 to 0.2": {106.143004921, 43.0489620325}},
}

// Complex eigenvalues read from how a run rings out.
func TestRinging(t *testing.T) {
	t.Parallel()
	even := func(b float64) scene.Scene {
		return wavetest.ResistiveBox(wavetest.CheckAir, [6]float64{b, b, b, b, b, b})
	}
	for name, s := range map[string]scene.Scene{
		"0.01": even(0.01), "0.05": even(0.05),
		"0.01 to 0.2": wavetest.ResistiveBox(wavetest.CheckAir, [6]float64{0.02, 0.1, 0.03, 0.03, 0.01, 0.2}),
	} {
		t.Run(name, func(t *testing.T) {
			run := ringOut(t, s, 0.25)
			for n, walls := range ringings {
				compare(t, run, n, walls[name])
			}
		})
	}
	// A wall of 0.02+0.05j is a resistance and a spring, others for each mode.
	t.Run("0.02+0.05j", func(t *testing.T) {
		for n, walls := range ringings {
			want := walls["0.02+0.05j"]
			s := scene.Scene{Size: wavetest.CheckSize, Air: wavetest.CheckAir}
			for f := range s.Walls {
				s.Walls[f] = springyAt(0.02+0.05i, want)
			}
			compare(t, ringOut(t, s, 0.25), n, want)
		}
	})
}

// springyAt returns the wall of resistance and spring that has an admittance while a
// mode rings out.
func springyAt(beta complex128, r ringing) fit.Branches {
	z := complex(wavetest.CheckAir.Impedance(), 0) / beta
	s := complex(-r.delta, 2*math.Pi*r.f)
	k := imag(z) / imag(1/s)
	return fit.Branches{Air: wavetest.CheckAir, List: []fit.Branch{{
		Resistance: real(z) - k*real(1/s), Stiffness: k,
	}}}
}

// rung is a run that has rung out over all its cells.
type rung struct {
	*Record
	medium *lattice.Medium
	cells  []int32
	cell   float64
}

func ringOut(t *testing.T, s scene.Scene, cell float64) rung {
	t.Helper()
	m := lattice.New(&s, cell)
	cells := m.Within(nil)
	r, err := New(m, vector.Available()).Run(t.Context(), new(Blocks), Request{
		Source: []lattice.Weight{{Cell: int32(m.At(0, 0, 0)), Share: 1}}, Cells: cells,
		Lowest: 25, Highest: 130, Fall: 70, Longest: 0.8,
	})
	if err != nil {
		t.Fatal(err)
	}
	return rung{r, m, cells, cell}
}

// compare holds a mode's frequency and damping to what they should be. A wall is off by
// (kh)²/8 at most (see the package's comment on dispersion), and with it what it does:
// the damping and the shift from the rigid room's frequency.
func compare(t *testing.T, r rung, n [3]int, want ringing) {
	t.Helper()
	got := r.mode(t, n, want)
	kh := 2 * math.Pi * want.f / wavetest.CheckAir.Speed * r.cell
	tol := kh*kh/8 + 0.002
	shift := math.Abs(want.f-rigid(n)) + want.delta/(2*math.Pi)
	name := fmt.Sprintf("mode %d-%d-%d", n[0], n[1], n[2])
	t.Logf("%s: %.3f Hz and %.3f 1/s, want %.3f and %.3f", name, got.f, got.delta, want.f, want.delta)
	if math.Abs(got.f-want.f) > tol*shift+0.01 {
		t.Errorf("%s: %.3f Hz, want %.3f", name, got.f, want.f)
	}
	if math.Abs(got.delta/want.delta-1) > tol {
		t.Errorf("%s: damping %.3f 1/s, want %.3f", name, got.delta, want.delta)
	}
}

// rigid returns a mode's frequency between hard walls.
func rigid(n [3]int) float64 {
	var sum float64
	for a, l := range scene.Components(wavetest.CheckSize) {
		sum += float64(n[a]*n[a]) / (l * l)
	}
	return wavetest.CheckAir.Speed / 2 * math.Sqrt(sum)
}

// mode picks a mode out of a run: what of each frame has the shape of the mode between
// hard walls, and of that series the exponential nearest to what is expected.
func (r rung) mode(t *testing.T, n [3]int, want ringing) ringing {
	t.Helper()
	var best ringing
	least := 3.0 // Hz
	for _, z := range exponentials(r.shaped(n), 24) {
		w := r.trueFrequency(cmplx.Log(z) / complex(0, float64(r.every)*r.step))
		m := ringing{real(w) / (2 * math.Pi), imag(w)}
		if off := math.Hypot(m.f-want.f, (m.delta-want.delta)/(2*math.Pi)); off < least {
			best, least = m, off
		}
	}
	if best.f == 0 {
		t.Errorf("mode %v: nothing rings near %.1f Hz", n, want.f)
	}
	return best
}

// shaped returns how much of each frame after the pulse has the shape that a mode has
// between hard walls.
func (r rung) shaped(n [3]int) []float64 {
	var series []float64
	shape := make([]float64, len(r.cells))
	index := map[int32]int{}
	for row, cell := range r.cells {
		index[cell] = row
	}
	r.medium.Each(func(i int, c [3]int) {
		value := 1.0
		for a := range c {
			value *= math.Cos(math.Pi * float64(n[a]) * (float64(c[a]) + 0.5) / float64(r.medium.N[a]))
		}
		shape[index[int32(i)]] = value
	})
	for _, frame := range r.Frames[r.pulse.len/r.every+2:] {
		var sum float64
		for i, p := range frame {
			sum += shape[i] * float64(p)
		}
		series = append(series, sum)
	}
	return series
}

// trueFrequency undoes what the grid and the steps in time do to a complex frequency.
func (r rung) trueFrequency(w complex128) complex128 {
	grid := 2 / complex(r.step, 0) * cmplx.Sin(w*complex(r.step/2, 0))
	for range 20 {
		w *= grid / r.grid.grid(w)
	}
	return w
}

// exponentials returns the factors per step of the exponentials that make up a series, by
// linear prediction over so many of its values (de Prony 1795, by least squares).
func exponentials(series []float64, order int) []complex128 {
	rows := len(series) - order
	a, b := mat.NewDense(rows, order, nil), mat.NewVecDense(rows, nil)
	for i := range rows {
		for j := range order {
			a.Set(i, j, series[i+order-1-j])
		}
		b.SetVec(i, series[i+order])
	}
	var c mat.VecDense
	if err := c.SolveVec(a, b); err != nil {
		return nil
	}
	companion := mat.NewDense(order, order, nil)
	for j := range order {
		companion.Set(0, j, c.AtVec(j))
		if j > 0 {
			companion.Set(j, j-1, 1)
		}
	}
	var eigen mat.Eigen
	eigen.Factorize(companion, mat.EigenNone)
	return eigen.Values(nil)
}

// The means themselves, on a series made by hand: two decaying tones.
func TestExponentials(t *testing.T) {
	t.Parallel()
	a, b := cmplx.Exp(complex(-0.02, 0.7)), cmplx.Exp(complex(-0.05, 1.1))
	var series []float64
	for n := range 80 {
		x := complex(float64(n), 0)
		series = append(series, real(cmplx.Pow(a, x))+0.3*real(1i*cmplx.Pow(b, x)))
	}
	for _, want := range []complex128{a, b} {
		nearest := math.Inf(1)
		for _, z := range exponentials(series, 4) {
			nearest = min(nearest, cmplx.Abs(z-want))
		}
		if nearest > 1e-8 {
			t.Errorf("no exponential within %.2g of %v", nearest, want)
		}
	}
}
