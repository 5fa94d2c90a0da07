package response

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/dsp/fourier"
	"gonum.org/v1/gonum/stat"

	"evenbass/model"
)

// Decay is how fast the sound falls in one third octave.
type Decay struct {
	Band float64 // nominal mid-frequency, Hz (ISO 266)

	// Fall20 and Fall30 are the times in s that the level takes to fall by 20 and 30
	// dB, on the straight line fitted from 5 dB down: to 25 and to 35 dB. Zero is not
	// known: the curve does not get that far.
	Fall20, Fall30 float64

	Filter float64 // Fall20 of the filter alone, s
}

// Resolved reports whether a fall is slow enough for the filter to resolve: twice that of the filter alone or
// slower, where exact exponentials read within 10 %.
func (d Decay) Resolved() bool { return d.Fall20 >= 2*d.Filter }

// Slow reports whether a fall is too slow to be read off two seconds: it takes
// [SlowFall] or longer, how much longer is not known.
func (d Decay) Slow() bool { return d.Fall20 >= SlowFall }

// SlowFall is the longest time in s to fall by 20 dB that is read within 10 %.
const SlowFall = 0.9

// decayBands are the third octaves that are read, Hz: nominal, and number as in Band.
var decayBands = [...]struct {
	nominal float64
	number  int
}{{31.5, -15}, {40, -14}, {50, -13}, {63, -12}, {80, -11}, {100, -10}, {125, -9}, {160, -8}, {200, -7}, {250, -6}}

// Steps and limits of a [DecayGrid], Hz.
const (
	decayStep = 0.5
	decayFrom = 20.0
	decayTo   = 315.0
)

// DecayGrid returns the frequencies over which transfers are wanted for a decay: even
// steps of 0.5 Hz, which hold two seconds of it.
func DecayGrid() model.Grid {
	var g model.Grid
	for i := range int((decayTo-decayFrom)/decayStep) + 1 {
		g = append(g, decayFrom+decayStep*float64(i))
	}
	return g
}

// DecayReader reads decays off transfers. Safe for use by several goroutines.
type DecayReader struct{ filter [len(decayBands)]float64 }

// NewDecayReader returns a reader for transfers over [DecayGrid].
func NewDecayReader() *DecayReader {
	d := new(DecayReader)
	flat := make([]complex128, len(DecayGrid()))
	for i := range flat {
		flat[i] = 1
	}
	for b := range decayBands {
		d.filter[b] = fall(backward([][]complex128{flat}, b), 25) * 20
	}
	return d
}

// Read returns the decay in each third octave from 31.5 to 250 Hz, of the energy of
// all transfers together. The transfers must be over [DecayGrid]; else it panics.
//
// A transfer times the band's filter is turned into a time signal, and the square of its envelope is
// integrated backwards from where it ends (Schroeder 1965; ISO 3382-2 2008). The filter is real: its window
// over lg f is a raised cosine, a third octave wide at half height. The grid holds two seconds: a longer
// decay wraps around, which matters where it has not fallen by 40 dB by then.
func (d *DecayReader) Read(transfers ...[]complex128) []Decay {
	for _, t := range transfers {
		if len(t) != len(DecayGrid()) {
			panic(fmt.Sprintf("response: a decay from %d values, the grid has %d", len(t), len(DecayGrid())))
		}
	}
	list := make([]Decay, len(decayBands))
	for b := range decayBands {
		curve := backward(transfers, b)
		list[b] = Decay{
			Band:   decayBands[b].nominal,
			Fall20: fall(curve, 25) * 20, Fall30: fall(curve, 35) * 30, Filter: d.filter[b],
		}
	}
	return list
}

// decaySize is the length of a time signal: a step of 1/512 s.
const decaySize = 1024

// backward returns the backward-integrated energy of a band in dB re its beginning, in steps of 1/(decayStep
// decaySize) s, over the first four fifths: the rest holds what the filter rings before the sound.
func backward(transfers [][]complex128, band int) []float64 {
	_, centre, _ := Band(3, decayBands[band].number)
	fft := fourier.NewCmplxFFT(decaySize)
	energy := make([]float64, decaySize*4/5)
	for _, t := range transfers {
		spectrum := make([]complex128, decaySize)
		first := int(math.Round(decayFrom / decayStep))
		for i, v := range t {
			octaves := math.Abs(math.Log2((decayFrom + decayStep*float64(i)) / centre))
			if octaves < 1.0/3 { // half height at 1/6 octave
				c := math.Cos(math.Pi / 2 * octaves * 3)
				spectrum[first+i] = v * complex(c*c, 0)
			}
		}
		for i, v := range fft.Sequence(nil, spectrum)[:len(energy)] {
			energy[i] += real(v)*real(v) + imag(v)*imag(v)
		}
	}
	for i := len(energy) - 2; i >= 0; i-- {
		energy[i] += energy[i+1]
	}
	curve := make([]float64, len(energy))
	for i, e := range energy {
		curve[i] = 10 * math.Log10(e/energy[0])
	}
	return curve
}

// fall returns the time in s per dB on the line through a curve from 5 dB down to the
// given level, or 0 if the curve does not go there.
func fall(curve []float64, down float64) float64 {
	var t, level []float64
	for i, l := range curve {
		if l < -down {
			if len(t) < 2 {
				return float64(i) / (decayStep * decaySize) / down
			}
			_, slope := stat.LinearRegression(t, level, nil, false)
			return -1 / slope
		}
		if l <= -5 {
			t, level = append(t, float64(i)/(decayStep*decaySize)), append(level, l)
		}
	}
	return 0
}

// counted returns the time in s to fall by 20 dB, or a second where it is not known or too slow to
// be read.
func (d Decay) counted() float64 {
	if d.Fall20 == 0 || d.Slow() {
		return 1
	}
	return d.Fall20
}

// MeanFall returns the mean of the times to fall by 20 dB in s over the bands, one faster than the filter
// resolves counting as twice the filter's own. A band whose fall is not known or too slow to be read counts
// as a second.
func MeanFall(list []Decay) float64 {
	var sum float64
	for _, d := range list {
		sum += max(d.counted(), 2*d.Filter)
	}
	return sum / float64(len(list))
}

// Audible returns the time in s to fall by 60 dB, at a frequency in Hz, beyond which
// the ear tells a longer decay from a shorter one: 0.85 s at 32 Hz and below, 0.2 s from
// 100 Hz. The two ends are published thresholds, quoted from an abstract; the
// straight line over lg f between them is ours.
func Audible(f float64) float64 {
	share := math.Log(f/32) / math.Log(100.0/32)
	return 0.85 + (0.2-0.85)*max(0, min(1, share))
}

// Lingering returns the audible excess decay, s: the mean excess over [Audible] of the third octaves from one
// frequency in Hz to another. A decay that is not known or too slow to be read counts as three seconds. It is
// 0 if no band lies there.
func Lingering(decays []Decay, from, to float64) float64 {
	var sum, n float64
	for _, d := range decays {
		if d.Band < from || d.Band > to {
			continue
		}
		sum += max(0, 3*d.counted()-Audible(d.Band))
		n++
	}
	if n == 0 {
		return 0
	}
	return sum / n
}
