package resonance

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// near returns how far apart two frequencies in Hz may be and still be one mode of that decay
// rate: a quarter of its half bandwidth, and never less than 0.05 Hz.
func near(rate float64) float64 { return max(0.05, rate/(2*math.Pi)/4) }

// alike is by how much two decay rates of one mode may differ, as a logarithm.
const alike = 0.3

// modes returns the modes of a band.
func (b band) modes(responses []Response, rate, least float64) []found {
	signals := make([]signal, len(responses))
	length := math.MaxInt
	for i, r := range responses {
		signals[i] = b.signal(r, rate)
		length = min(length, len(signals[i].values))
	}
	ringing := 0
	for _, s := range signals {
		ringing = max(ringing, min(length, s.ringing()))
	}
	ringing = min(length, ringing*3/2) // what follows is noise, but it makes room for more tones
	trials := trialTones(signals, ringing)
	if len(trials) == 0 {
		return nil
	}
	all := gather(trials, least)
	var inside []found
	for _, f := range fit(signals, ringing, all) {
		if f.Frequency >= b.from && f.Frequency < b.to && f.clear >= clearest {
			inside = append(inside, f)
		}
	}
	return inside
}

// shortest is the fewest samples of a window.
const shortest = 12

// trialTones finds the tones of signals in every trial: windows that begin and end at several
// samples, each with several assumed numbers of tones. The first sample holds the direct sound
// and the first echoes, which are no ringing, and is left out.
func trialTones(signals []signal, ringing int) [][]tone {
	var trials [][]tone
	for _, part := range []struct {
		skip  int
		share float64
	}{{1, 1}, {2, 1}, {3, 0.85}, {1, 0.7}} {
		n := int(float64(ringing)*part.share) - part.skip
		if n < shortest {
			continue
		}
		windows := make([][]float64, len(signals))
		for i, s := range signals {
			windows[i] = s.values[part.skip : part.skip+n]
		}
		p := newPencil(windows)
		if p == nil || p.values[0] == 0 {
			continue
		}
		for _, order := range orders(p.order(), len(p.values)) {
			trials = append(trials, signals[0].tones(p.poles(order)))
		}
	}
	return trials
}

// orders returns the numbers of poles to assume about the one that the singular values suggest.
func orders(suggested, most int) []int {
	var list []int
	for _, share := range []float64{0.7, 0.85, 1, 1.2, 1.4} {
		n := min(2*int(math.Round(share*float64(suggested)/2)), most-2)
		if n >= 2 && !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return list
}

// gather returns the tones that many trials agree on, the most certain first.
func gather(trials [][]tone, least float64) []Mode {
	taken := make([][]bool, len(trials))
	for i, t := range trials {
		taken[i] = make([]bool, len(t))
	}
	var modes []Mode
	for {
		best, members := 0, [][2]int(nil)
		for i, t := range trials {
			for j := range t {
				if taken[i][j] {
					continue
				}
				if m := companions(trials, taken, t[j]); len(m) > best {
					best, members = len(m), m
				}
			}
		}
		if float64(best) < least*float64(len(trials)) {
			return modes
		}
		var f, r []float64
		for _, m := range members {
			taken[m[0]][m[1]] = true
			f, r = append(f, trials[m[0]][m[1]].frequency), append(r, trials[m[0]][m[1]].rate)
		}
		slices.Sort(f)
		slices.Sort(r)
		modes = append(modes, Mode{
			Frequency: quantile(0.5, f), FrequencySpread: (quantile(0.75, f) - quantile(0.25, f)) / 2,
			Rate: quantile(0.5, r), RateSpread: (quantile(0.75, r) - quantile(0.25, r)) / 2,
			Confidence: float64(best) / float64(len(trials)),
		})
	}
}

// companions returns the nearest tone of each trial that is the same mode as a tone.
func companions(trials [][]tone, taken [][]bool, about tone) [][2]int {
	var list [][2]int
	for i, t := range trials {
		nearest, distance := -1, math.Inf(1)
		for j, other := range t {
			d := math.Abs(other.frequency - about.frequency)
			if !taken[i][j] && d < min(distance, near(about.rate)) && math.Abs(math.Log(other.rate/about.rate)) < alike {
				nearest, distance = j, d
			}
		}
		if nearest >= 0 {
			list = append(list, [2]int{i, nearest})
		}
	}
	return list
}

func quantile(p float64, sorted []float64) float64 {
	return stat.Quantile(p, stat.LinInterp, sorted, nil)
}
