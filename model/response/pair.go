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

// Through returns the pair as speakers with a roll-off play it.
func (p Pair) Through(r model.RollOff, grid model.Grid) Pair {
	q := Pair{make([]complex128, len(grid)), make([]complex128, len(grid))}
	for i, f := range grid {
		h := RollOff(r, f)
		q.Left[i], q.Right[i] = h*p.Left[i], h*p.Right[i]
	}
	return q
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
	var curves [3][]model.Level
	for _, c := range Channels {
		t := p.Of(c)
		curves[c] = r.curve(t)
		j.Figures[c] = r.read(t, curves[c])
		j.Curves[c] = r.onGrid(curves[c])
		if j.Figures[c].Spread > j.Figures[j.Worst].Spread {
			j.Worst = c
		}
	}
	for i, w := range r.band.weight {
		d := float64(curves[LeftAlone][r.band.lo+i] - curves[RightAlone][r.band.lo+i])
		j.Difference += model.Level(w * math.Abs(d))
	}
	return j
}

// Scratch is working memory for [Reader.Spread]; one per goroutine.
type Scratch struct {
	left, right     Prepared
	power, integral []float64
}

// Prepared is what the spread of a pair takes of one loudspeaker's transfer: see [Reader.Prepare].
type Prepared struct {
	fine  []complex128 // over the doubled grid
	ratio float64      // highest over lowest smoothed power, of this speaker alone
}

// Prepare reads a transfer into p, whose memory it takes over. A search that tries one transfer beside several others
// prepares each once.
func (r *Reader) Prepare(p *Prepared, transfer []complex128, s *Scratch) {
	n := len(r.scale)
	if len(p.fine) != n {
		p.fine = make([]complex128, n)
	}
	r.between.transfer(p.fine, transfer)
	power := s.room(n)
	for i, scale := range r.scale {
		power[i] = scale * square(p.fine[i])
	}
	p.ratio = r.ratio(s)
}

// room returns the scratch's power, for n frequencies.
func (s *Scratch) room(n int) []float64 {
	if len(s.power) != n {
		s.power, s.integral = make([]float64, n), make([]float64, n)
	}
	return s.power
}

// Spread returns the worst channel's spread of a pair in dB: the same
// figure as [Reader.Judge] gives, without allocating, for a search.
func (r *Reader) Spread(p Pair, s *Scratch) model.Level {
	return r.SpreadWithin(p, model.Level(math.Inf(1)), s)
}

// SpreadWithin is [Reader.Spread] for a search that drops a pair whose spread is beyond most, in dB: it
// stops at the first channel beyond that, and returns that channel's spread.
func (r *Reader) SpreadWithin(p Pair, most model.Level, s *Scratch) model.Level {
	limit := (2 * most).Power()
	if r.Prepare(&s.left, p.Left, s); s.left.ratio > limit {
		return model.PowerLevel(s.left.ratio) / 2
	}
	if r.Prepare(&s.right, p.Right, s); s.right.ratio > limit {
		return model.PowerLevel(max(s.left.ratio, s.right.ratio)) / 2
	}
	return r.SpreadOf(&s.left, &s.right, s)
}

// SpreadOf is [Reader.Spread] of a pair whose transfers have been prepared by this reader.
func (r *Reader) SpreadOf(left, right *Prepared, s *Scratch) model.Level {
	power, a, b := s.room(len(r.scale)), left.fine, right.fine
	for i, scale := range r.scale {
		power[i] = scale * square(a[i]+b[i])
	}
	return model.PowerLevel(max(left.ratio, right.ratio, r.ratio(s))) / 2
}

// ratio returns highest over lowest smoothed power within the band, each at the top of
// the parabola through the levels about it.
func (r *Reader) ratio(s *Scratch) float64 {
	integral := r.smoother.integrate(s.integral, s.power)
	highest, lowest := 0.0, math.Inf(1)
	top, bottom := r.band.lo, r.band.lo
	for i := r.band.lo; i < r.band.hi; i++ {
		v := r.smoother.mean(i, s.power, integral)
		if v > highest {
			highest, top = v, i
		}
		if v < lowest {
			lowest, bottom = v, i
		}
	}
	at := func(i int) float64 { return r.smoother.mean(i, s.power, integral) }
	return r.extreme(top, at) / r.extreme(bottom, at)
}

// extreme returns the power at the extreme near point i of the band: on the parabola
// through the levels of three points, if they have one there.
func (r *Reader) extreme(i int, power func(i int) float64) float64 {
	middle := power(i)
	if i == r.band.lo || i == r.band.hi-1 {
		return middle
	}
	f := r.between.fine
	return middle * math.Exp(summit(f[i]-f[i-1], f[i+1]-f[i], math.Log(power(i-1)/middle), math.Log(power(i+1)/middle)))
}

// summit returns the extreme value of the parabola that is 0 at 0, before at -left and
// after at right, or 0 if that extreme is not between the two.
func summit(left, right, before, after float64) float64 {
	// a x² + b x through both points
	a := (after/right + before/left) / (left + right)
	b := (after*left/right - before*right/left) / (left + right)
	if x := -b / (2 * a); x > -left && x < right {
		return -b * b / (4 * a)
	}
	return 0
}
