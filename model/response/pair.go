package response

import (
	"math"

	"evenbass/model"
)

// Channel is what plays: one loudspeaker of a pair, or both with one signal.
type Channel int

// The channels, in the order of every [3]array here.
const (
	LeftAlone Channel = iota
	RightAlone
	BothTogether
)

// Channels lists the three, for ranging.
var Channels = [3]Channel{LeftAlone, RightAlone, BothTogether}

// String returns "left", "right" or "both".
func (c Channel) String() string { return [3]string{"left", "right", "both"}[c] }

// Pair is the transfers of the two loudspeakers to one seat, over the grid.
type Pair struct{ Left, Right []complex128 }

// Of returns the transfer of one channel. Both together is the sum: one signal
// to two loudspeakers, as most bass in a mix.
func (p Pair) Of(c Channel) []complex128 {
	switch c {
	case LeftAlone:
		return p.Left
	case RightAlone:
		return p.Right
	}
	sum := make([]complex128, len(p.Left))
	for i := range sum {
		sum[i] = p.Left[i] + p.Right[i]
	}
	return sum
}

// Judgement is how a pair does: the figures of each channel, the worst of which
// counts.
type Judgement struct {
	Figures    [3]Figures       // by Channel
	Curves     [3][]model.Level // smoothed room gain by Channel, dB
	Worst      Channel          // the one with the largest spread
	Difference model.Level      // mean of |left - right| over lg f in the band, dB
}

// Spread returns the spread that counts: that of the worst channel.
func (j Judgement) Spread() model.Level { return j.Figures[j.Worst].Spread }

// Judge reads all that is shown of a pair.
func (r *Reader) Judge(p Pair) Judgement {
	var j Judgement
	for _, c := range Channels {
		t := p.Of(c)
		j.Figures[c] = r.Read(t)
		j.Curves[c] = r.Smooth(t)
		if j.Figures[c].Spread > j.Figures[j.Worst].Spread {
			j.Worst = c
		}
	}
	for i, w := range r.weight {
		d := float64(j.Curves[LeftAlone][r.lo+i] - j.Curves[RightAlone][r.lo+i])
		j.Difference += model.Level(w * math.Abs(d))
	}
	return j
}

// Scratch is working memory for [Reader.Spread]; one per goroutine.
type Scratch struct{ power, smooth []float64 }

// Spread returns the worst channel's spread of a pair in dB and nothing else: the
// same figure as [Reader.Judge] gives, without allocating. It is what a search
// calls.
func (r *Reader) Spread(p Pair, s *Scratch) model.Level {
	n := len(r.grid)
	if len(s.power) != n {
		s.power, s.smooth = make([]float64, n), make([]float64, n)
	}
	worst := 1.0
	for _, c := range Channels {
		for i := range s.power {
			var v complex128
			switch c {
			case LeftAlone:
				v = p.Left[i]
			case RightAlone:
				v = p.Right[i]
			default:
				v = p.Left[i] + p.Right[i]
			}
			s.power[i] = r.scale[i] * (real(v)*real(v) + imag(v)*imag(v))
		}
		worst = max(worst, r.ratio(s))
	}
	return model.PowerLevel(worst) / 2
}

// ratio returns highest over lowest smoothed power within the band.
func (r *Reader) ratio(s *Scratch) float64 {
	highest, lowest := 0.0, math.Inf(1)
	for i := r.lo; i < r.hi; i++ {
		w := r.smoother.weights[i]
		var sum float64
		for j, v := range s.power[r.smoother.first[i] : r.smoother.first[i]+len(w)] {
			sum += w[j] * v
		}
		highest, lowest = max(highest, sum), min(lowest, sum)
	}
	return highest / lowest
}
