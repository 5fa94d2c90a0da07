package prediction

import (
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"
)

// mode is a decaying oscillation, its values e^{(-decay + j turn) n}.
type mode struct{ decay, turn float64 }

// at returns the mode's value at a time, with a phase in rad at 0.
func (m mode) at(n, phase float64) float64 { return math.Exp(-m.decay*n) * math.Cos(m.turn*n+phase) }

// tail returns Σ at(N+i) e^{-jφi}, i = 0, 1, ...: the real part of a geometric series, term by term.
func (m mode) tail(end, phase, turn float64) complex128 {
	value := cmplx.Exp(complex(-m.decay*end, m.turn*end+phase))
	pole, at := cmplx.Exp(complex(-m.decay, m.turn)), cmplx.Exp(complex(0, -turn))
	return (value/(1-pole*at) + cmplx.Conj(value)/(1-cmplx.Conj(pole)*at)) / 2
}

// records returns what some places hold of modes, each mode with a size and a phase of its own at each place.
func records(modes []mode, places, length int) [][]float64 {
	list := make([][]float64, places)
	for c := range list {
		list[c] = make([]float64, length)
		for n := range list[c] {
			for i, m := range modes {
				list[c][n] += size(c, i) * m.at(float64(n), phase(c, i))
			}
		}
	}
	return list
}

func size(place, mode int) float64  { return 1 + 0.9*math.Sin(float64(3*place+7*mode+1)) }
func phase(place, mode int) float64 { return 2 * math.Pi * math.Sin(float64(5*place+2*mode)) }

// rest returns the transform of what follows a record, as predicted.
func rest(p Predictor, record []float64, turn float64) (sum complex128) {
	for m, w := range p.Tail(nil, complex(turn, 0)) {
		sum += w * complex(record[len(record)-1-m], 0)
	}
	return sum
}

// A record of a few modes is followed for ever, at frequencies on a mode and beside it, whatever the scale. The
// expected sums are those of geometric series.
func TestTailOfModes(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		var modes []mode
		for i := range rapid.IntRange(1, 12).Draw(t, "modes") {
			modes = append(modes, mode{rapid.Float64Range(0.002, 0.05).Draw(t, "decay"), 0.2 + 0.2*float64(i) + rapid.Float64Range(0, 0.1).Draw(t, "turn")})
		}
		scale := math.Pow(10, rapid.Float64Range(-6, 6).Draw(t, "scale"))
		const length = 200
		list := records(modes, 6, length)
		for c := range list {
			for n := range list[c] {
				list[c][n] *= scale
			}
		}
		p := Fit(list)
		if p == nil {
			t.Fatal("no predictor")
		}
		for _, turn := range []float64{0.1, modes[0].turn, 1.234, 2.9} {
			for c, record := range list {
				var want complex128
				most := 0.0
				for i, m := range modes {
					part := complex(size(c, i)*scale, 0) * m.tail(length, phase(c, i), turn)
					want += part
					most += cmplx.Abs(part)
				}
				if got := rest(p, record, turn); cmplx.Abs(got-want) > 0.01*most {
					t.Errorf("place %d, phase %.3f: %v, want %v", c, turn, got, want)
				}
			}
		}
	})
}

// A place that the predictor was not fitted to goes on alike.
func TestTailElsewhere(t *testing.T) {
	t.Parallel()
	modes := []mode{{0.01, 0.3}, {0.02, 0.33}, {0.005, 0.9}, {0.03, 1.7}}
	list := records(modes, 9, 150)
	p := Fit(list[:8])
	for _, turn := range []float64{0.3, 0.31, 1} {
		var want complex128
		for i, m := range modes {
			want += complex(size(8, i), 0) * m.tail(150, phase(8, i), turn)
		}
		if got := rest(p, list[8], turn); cmplx.Abs(got-want) > 0.01*cmplx.Abs(want) {
			t.Errorf("phase %.2f: %v, want %v", turn, got, want)
		}
	}
}

// The weights are those of going on value by value.
func TestTailIsTheContinuedSum(t *testing.T) {
	t.Parallel()
	p := Predictor{0.9, -0.5, 0.1}
	record := []float64{0.3, -1, 2}
	for _, phase := range []complex128{0, 0.4, complex(1.1, -0.02)} {
		going := append([]float64(nil), record...)
		var want complex128
		for i := range 400 {
			n := len(going)
			next := 0.9*going[n-1] - 0.5*going[n-2] + 0.1*going[n-3]
			going = append(going, next)
			want += complex(next, 0) * cmplx.Exp(-1i*phase*complex(float64(i), 0))
		}
		var got complex128
		for m, w := range p.Tail(nil, phase) {
			got += w * complex(record[len(record)-1-m], 0)
		}
		if cmplx.Abs(got-want) > 1e-9 {
			t.Errorf("phase %v: %v, want %v", phase, got, want)
		}
	}
}

// Nothing is predicted of silence, of nothing, or of a single value.
func TestFitOfLittle(t *testing.T) {
	t.Parallel()
	for _, list := range [][][]float64{nil, {{}}, {{1}}, {make([]float64, 50), make([]float64, 50)}} {
		if p := Fit(list); p != nil {
			t.Errorf("%d records of %v: %v", len(list), list, p)
		}
	}
	if w := Predictor(nil).Tail(nil, 0.3); len(w) != 0 {
		t.Errorf("silence weighs %v", w)
	}
}

// BenchmarkFit fits records of half a second of a room with 60 modes.
func BenchmarkFit(b *testing.B) {
	var modes []mode
	for m := range 60 {
		modes = append(modes, mode{0.005 * (1 + 0.01*float64(m)), 0.1 + 0.03*float64(m)})
	}
	list := records(modes, 24, 400)
	for b.Loop() {
		Fit(list)
	}
}
