package march

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
	"evenbass/model/wave/wavetest"
)

// convergedRun marches the treated room and returns the record, and the levels of every twentieth recorded
// cell in steps of 2 Hz within 25 dB of its maximum, NaN elsewhere.
func convergedRun(t *testing.T, c Convergence) (*Record, []float64) {
	t.Helper()
	s, _ := wavetest.TreatedRoom()
	y := New(lattice.New(&s, 0.2), vector.Available())
	source, ok := y.Interpolation(r3.Vec{X: 2, Y: 1, Z: 1}, 6, nil)
	if !ok {
		t.Fatal("the source is not in the air")
	}
	c.From, c.To = 30, 200
	r, err := y.Run(t.Context(), new(Blocks), Request{
		Source: source, Cells: y.Within(wavetest.Around(r3.Vec{X: 1, Y: 1, Z: 1})), Lowest: 20, Highest: 200, Fall: 100, Longest: 6, Convergence: c,
	})
	if err != nil {
		t.Fatal(err)
	}
	var levels []float64
	for cell := 0; cell < len(r.Frames[0]); cell += 20 {
		levels = append(levels, levelsOf(r, cell)...)
	}
	return r, levels
}

// levelsOf returns the levels of a recorded cell.
func levelsOf(r *Record, cell int) []float64 {
	var list []float64
	highest := math.Inf(-1)
	for f := 30.0; f <= 200; f += 2 {
		phase, gain := r.Reading(f)
		var sum complex128
		for n, frame := range r.Frames {
			sin, cos := math.Sincos(-real(phase) * float64(n))
			sum += complex(float64(frame[cell]), 0) * complex(cos, sin)
		}
		last := len(r.Frames) - 1
		for m, w := range r.Rest.Tail(nil, phase) {
			sum += w * complex(float64(r.Frames[last-m][cell]), 0) * cmplx.Exp(-1i*phase*complex(float64(last+1), 0))
		}
		sum *= gain
		level := float64(model.PowerLevel(real(sum)*real(sum) + imag(sum)*imag(sum)))
		list, highest = append(list, level), max(highest, level)
	}
	for i, l := range list {
		if l < highest-25 {
			list[i] = math.NaN()
		}
	}
	return list
}

// What a converged run leaves out moves levels by about its tolerance, rms.
func TestConvergedLevels(t *testing.T) {
	whole, exact := convergedRun(t, Convergence{})
	before := whole.Seconds()
	for _, tolerance := range []model.Level{0.01, 0.05, 0.5} {
		r, levels := convergedRun(t, Convergence{Tolerance: tolerance})
		if !(r.Seconds() < before) {
			t.Errorf("to %.2f dB a run takes %.3f s, and a closer or whole one %.3f s", tolerance, r.Seconds(), before)
		}
		before = r.Seconds()
		var squares, count float64
		for i, l := range levels {
			if d := l - exact[i]; !math.IsNaN(d) {
				squares += d * d
				count++
			}
		}
		off := math.Sqrt(squares / count)
		t.Logf("to %.2f dB: %.3f s of %.3f s, levels %.3f dB rms off", tolerance, r.Seconds(), whole.Seconds(), off)
		if !(off < 1.5*float64(tolerance)) {
			t.Errorf("levels converged to %.2f dB are %.3f dB rms off", tolerance, off)
		}
	}
}

// Where decays are read a run goes on until each third octave has faded, and no longer than its energy demands.
func TestDecaysTakeLonger(t *testing.T) {
	levels, _ := convergedRun(t, Convergence{Tolerance: 0.5})
	decays, _ := convergedRun(t, Convergence{Tolerance: 0.5, Decays: true})
	whole, _ := convergedRun(t, Convergence{})
	if !(levels.Seconds() < decays.Seconds() && decays.Seconds() < whole.Seconds()) {
		t.Errorf("%.3f s for levels, %.3f s for decays, %.3f s for all", levels.Seconds(), decays.Seconds(), whole.Seconds())
	}
	if decays.Fallen() < 35 {
		t.Errorf("the energy has fallen by %.0f dB, too little for decays", decays.Fallen())
	}
}
