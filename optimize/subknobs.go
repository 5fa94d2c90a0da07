package optimize

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"

	"evenbass/model"
	"evenbass/model/response"
)

// The steps of the knobs that a plan gives: what can be set and read again.
const (
	gainStep    = 0.5   // dB
	delayStep   = 1e-4  // s
	lowPassStep = 1.0   // Hz
	coarseDelay = 25e-4 // s; the step of the first look
)

// drives fills dst with what a subwoofer's knobs make of its signal at each frequency
// of a grid, and returns it.
func (r *subRoom) drives(dst []complex128, k Knobs, grid model.Grid) []complex128 {
	dst = model.Transfers(dst, len(grid))
	gain := k.Gain.Ratio()
	if k.Reversed {
		gain = -gain
	}
	for i, f := range grid {
		dst[i] = complex(gain, 0) * response.LowPass(r.sub.Filter, k.LowPass, f) * response.Delayed(k.Delay, f)
	}
	return dst
}

// base returns what arrives at each head from the pair and all of a set but number skip;
// -1 skips none.
func (r *subRoom) base(set []seated, skip int) []response.Pair {
	list := make([]response.Pair, len(r.heads))
	for h := range r.heads {
		list[h] = response.Pair{Left: slices.Clone(r.heads[h].mains.Left), Right: slices.Clone(r.heads[h].mains.Right)}
	}
	for i, s := range set {
		if i == skip {
			continue
		}
		for j, d := range r.drives(nil, s.knobs, r.grid) {
			for h := range r.heads {
				v := d * s.place.heads[h][j]
				list[h].Left[j] += v
				list[h].Right[j] += v
			}
		}
	}
	return list
}

// score returns the figure to be minimised of a set.
func (r *subRoom) score(set []seated) float64 {
	desk := r.desks.Get().(*subDesk)
	defer r.desks.Put(desk)
	var sum float64
	base := r.base(set, -1)
	for h, head := range r.heads {
		pair := base[h]
		if len(set) == 0 {
			pair = head.alone
		}
		sum += head.weight * float64(r.reader.Spread(pair, &desk.scratch))
	}
	return sum
}

// with returns the score of a base with one more subwoofer. Only the marked heads count
// if roughly is set.
func (r *subRoom) with(base []response.Pair, heads [][]complex128, drive []complex128, gain float64, roughly bool, desk *subDesk) float64 {
	var sum float64
	for h := range r.heads {
		weight := r.heads[h].weight
		if roughly {
			if !r.heads[h].marked {
				continue
			}
			weight = r.heads[h].share
		}
		left, right, t := base[h].Left, base[h].Right, heads[h]
		for i, d := range drive {
			v := complex(gain, 0) * d * t[i]
			desk.left[i], desk.right[i] = left[i]+v, right[i]+v
		}
		sum += weight * float64(r.reader.Spread(response.Pair{Left: desk.left, Right: desk.right}, &desk.scratch))
	}
	return sum
}

// coarseDrive is one setting of low-pass and delay with its response at unit gain.
type coarseDrive struct {
	knobs Knobs
	drive []complex128
}

// newCoarseDrives returns the settings of the first look.
func (r *subRoom) newCoarseDrives() []coarseDrive {
	var list []coarseDrive
	for _, low := range steps(r.sub.LowPass, 25) {
		for _, delay := range steps(r.sub.Delay, coarseDelay) {
			k := Knobs{LowPass: low, Delay: delay}
			list = append(list, coarseDrive{k, r.drives(nil, k, r.grid)})
		}
	}
	return list
}

// steps returns values from one end of a range to the other, about as far apart as
// said.
func steps(r model.Range, apart float64) []float64 {
	n := int(math.Ceil((r.Max-r.Min)/apart - 1e-9))
	list := []float64{r.Min}
	for i := 1; i <= n; i++ {
		list = append(list, r.Min+(r.Max-r.Min)*float64(i)/float64(n))
	}
	return list
}

// signs returns the ways round that a subwoofer may be connected, as factors.
func (r *subRoom) signs() []float64 {
	switch r.sub.Polarity {
	case model.NormalPolarity:
		return []float64{1}
	case model.ReversedPolarity:
		return []float64{-1}
	}
	return []float64{1, -1}
}

// setting is what a search found for one subwoofer.
type setting struct {
	knobs Knobs
	score float64
}

// coarse takes the first look: the best setting of a few hundred for each way round,
// the best first, judged at the marked heads.
func (r *subRoom) coarse(base []response.Pair, heads [][]complex128) []setting {
	desk := r.desks.Get().(*subDesk)
	defer r.desks.Put(desk)
	var found []setting
	for _, sign := range r.signs() {
		best := setting{score: math.Inf(1)}
		for i := range r.coarseDrives {
			c := &r.coarseDrives[i]
			for _, gain := range steps(r.sub.Gain, 6) {
				score := r.with(base, heads, c.drive, sign*model.Level(gain).Ratio(), true, desk)
				if score < best.score {
					best = setting{c.knobs, score}
					best.knobs.Gain, best.knobs.Reversed = model.Level(gain), sign < 0
				}
			}
		}
		found = append(found, best)
	}
	slices.SortStableFunc(found, func(a, b setting) int { return compareScores(a.score, b.score) })
	return found
}

func compareScores(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// settle refines the settings of one subwoofer from each of some starts, and takes the
// best.
func (r *subRoom) settle(base []response.Pair, pl subPlace, starts []setting) seated {
	best := setting{score: math.Inf(1)}
	for _, s := range starts {
		if s = r.refine(base, pl.heads, s.knobs); s.score < best.score {
			best = s
		}
	}
	return seated{pl, best.knobs}
}

// knob is one of the numbers of a setting that may be chosen.
type knob struct {
	of   func(*Knobs) *float64
	in   model.Range
	step float64
}

// knobs returns the knobs that have a range.
func (r *subRoom) knobs() []knob {
	var list []knob
	for _, k := range []knob{
		{func(k *Knobs) *float64 { return (*float64)(&k.Gain) }, r.sub.Gain, gainStep},
		{func(k *Knobs) *float64 { return &k.Delay }, r.sub.Delay, delayStep},
		{func(k *Knobs) *float64 { return &k.LowPass }, r.sub.LowPass, lowPassStep},
	} {
		if k.in.Max > k.in.Min {
			list = append(list, k)
		}
	}
	return list
}

// refine improves the knobs of one subwoofer by the simplex method of Nelder and Mead
// (Computer Journal 7 (1965) 308), judged at all heads.
func (r *subRoom) refine(base []response.Pair, heads [][]complex128, from Knobs) setting {
	desk := r.desks.Get().(*subDesk)
	defer r.desks.Put(desk)
	knobs := r.knobs()
	best := setting{from, r.rate(base, heads, from, desk)}
	if len(knobs) == 0 {
		return best
	}
	at := func(x []float64) Knobs {
		k := from
		for i, b := range knobs {
			*b.of(&k) = b.in.Min + (b.in.Max-b.in.Min)*max(0, min(1, x[i]))
		}
		return k
	}
	x := make([]float64, len(knobs))
	for i, b := range knobs {
		x[i] = (*b.of(&from) - b.in.Min) / (b.in.Max - b.in.Min)
		if x[i] > 0.9 {
			x[i] = 0.9 // so that the first simplex, which grows upwards, does not lie flat on the end
		}
	}
	result, err := optimize.Minimize(optimize.Problem{Func: func(x []float64) float64 { return r.rate(base, heads, at(x), desk) }}, x,
		&optimize.Settings{FuncEvaluations: 100, Concurrent: 1, Converger: &optimize.FunctionConverge{Absolute: 0.005, Iterations: 15}},
		&optimize.NelderMead{SimplexSize: 0.08})
	if err == nil && result.F < best.score {
		best = setting{at(result.X), result.F}
	}
	return best
}

// rate returns the score of a base with one more subwoofer, at all heads.
func (r *subRoom) rate(base []response.Pair, heads [][]complex128, k Knobs, desk *subDesk) float64 {
	return r.with(base, heads, r.drives(desk.drive, k, r.grid), 1, false, desk)
}

// round brings the knobs of one subwoofer to their steps and walks downhill on them
// until no single step is better.
func (r *subRoom) round(base []response.Pair, heads [][]complex128, k Knobs) setting {
	desk := r.desks.Get().(*subDesk)
	defer r.desks.Put(desk)
	knobs := r.knobs()
	snap := func(b knob, v float64) float64 {
		return max(b.in.Min, min(b.in.Max, math.Round(math.Round(v/b.step)*b.step*1e6)/1e6))
	}
	for _, b := range knobs {
		*b.of(&k) = snap(b, *b.of(&k))
	}
	best := setting{k, r.rate(base, heads, k, desk)}
	for better := true; better; {
		better = false
		for _, b := range knobs {
			for _, d := range []float64{b.step, -b.step} {
				next := best.knobs
				*b.of(&next) = snap(b, *b.of(&next)+d)
				if score := r.rate(base, heads, next, desk); score < best.score-1e-6 {
					best, better = setting{next, score}, true
				}
			}
		}
	}
	return best
}
