package sweep

import (
	"math"

	"evenbass/model/kaiser"
)

// workRate returns the rate in Hz at which recordings are analysed: it holds the sweep and
// keeps what lies above from folding into it.
func (s Sweep) workRate() float64 { return max(2000, 100*math.Ceil(s.To/25)) }

// kernel is a low-pass filter for taking a recording to a lower rate, at any fraction of a
// sample: a sinc under a Kaiser window.
type kernel struct {
	half  int       // samples of the recording on either side
	table []float64 // at steps of 1/fine samples, from the middle
}

const (
	fine = 512  // steps of the kernel per sample; straight between them
	beta = 10.0 // of the window: 100 dB (Kaiser 1974)
)

// newKernel returns a filter that passes up to pass, and stops what would fold below it at the
// new rate, Hz.
func newKernel(rate, to, pass float64) kernel {
	stop := max(to-pass, pass*1.1)
	cutoff := (pass + stop) / 2
	// Kaiser: taps = (A-7.95) / (2.285 Δω), Δω = 2π (stop-pass)/rate, A = 100 dB.
	half := int(math.Ceil((100 - 7.95) / 2.285 / (2 * math.Pi * (stop - pass) / rate) / 2))
	k := kernel{half: half, table: make([]float64, half*fine+2)}
	for i := range k.table {
		t := float64(i) / fine
		u := t / float64(half)
		if u >= 1 {
			break
		}
		x := 2 * cutoff / rate
		sinc := x
		if t > 0 {
			sinc = math.Sin(math.Pi*x*t) / (math.Pi * t)
		}
		k.table[i] = sinc * kaiser.Window(beta, u)
	}
	return k
}

// at returns the filtered signal at a place between samples; beyond its ends it is zero.
func (k kernel) at(x []float64, place float64) float64 {
	middle := int(math.Floor(place))
	shift := (place - float64(middle)) * fine
	var sum float64
	from, to := max(0, middle-k.half+1), min(len(x)-1, middle+k.half)
	for i := from; i <= to; i++ {
		u := math.Abs(float64(middle-i)*fine + shift)
		step := int(u)
		share := u - float64(step)
		sum += x[i] * (k.table[step] + share*(k.table[step+1]-k.table[step]))
	}
	return sum
}

// align returns the recording on the timeline of the sweep: sample n is what was recorded at
// start + n (1+δ) fs/rate, in samples of the recording.
func (s Sweep) align(x []float64, rate, start, drift float64) []float64 {
	work := s.workRate()
	k := newKernel(rate, work, s.To)
	out := make([]float64, int(s.Duration()*work))
	for n := range out {
		out[n] = k.at(x, start+float64(n)*(1+drift)*rate/work)
	}
	return out
}
