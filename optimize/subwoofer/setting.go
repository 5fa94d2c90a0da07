package subwoofer

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/optimize"

	"evenbass/model"
	"evenbass/model/response"
)

// Steps of the values that a plan gives, as fine as a subwoofer can be set.
const (
	gainStep    = 0.5   // dB
	delayStep   = 1e-4  // s
	lowPassStep = 1.0   // Hz
	coarseDelay = 25e-4 // s; step of the coarse search
)

// drives fills dst with the gain that a setting applies to its signal at each frequency of a
// grid, and returns it.
func (r *tables) drives(dst []complex128, k Setting, grid model.Grid) []complex128 {
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

// base returns what arrives at each listener from the pair and all of a set but number skip;
// -1 skips none.
func (r *tables) base(set []unit, skip int) []response.Pair {
	list := make([]response.Pair, len(r.listeners))
	for h := range r.listeners {
		list[h] = response.Pair{Left: slices.Clone(r.listeners[h].mains.Left), Right: slices.Clone(r.listeners[h].mains.Right)}
	}
	for i, s := range set {
		if i == skip {
			continue
		}
		for j, d := range r.drives(nil, s.setting, r.grid) {
			for h := range r.listeners {
				v := d * s.place.transfers[h][j]
				list[h].Left[j] += v
				list[h].Right[j] += v
			}
		}
	}
	return list
}

// Score returns the figure of a set that the search minimises.
func (r *tables) Score(set []unit) float64 {
	work := r.workspaces.Get().(*buffers)
	defer r.workspaces.Put(work)
	var sum float64
	base := r.base(set, -1)
	for h, at := range r.listeners {
		pair := base[h]
		if len(set) == 0 {
			pair = at.alone
		}
		sum += at.weight * float64(r.reader.Spread(pair, &work.scratch))
	}
	return sum
}

// scoreWithDrive returns the score of a base with one more subwoofer, or a part of it where that is beyond
// most already. If roughly is set, only listeners exactly at their seats count.
func (r *tables) scoreWithDrive(base []response.Pair, transfers [][]complex128, drive []complex128, gain float64, roughly bool, most float64, work *buffers) float64 {
	var sum float64
	for h := range r.listeners {
		weight := r.listeners[h].weight
		if roughly {
			if !r.listeners[h].marked {
				continue
			}
			weight = r.listeners[h].share
		}
		left, right, t := base[h].Left, base[h].Right, transfers[h]
		for i, d := range drive {
			v := complex(gain, 0) * d * t[i]
			work.left[i], work.right[i] = left[i]+v, right[i]+v
		}
		rest := model.Level((most - sum) / weight)
		sum += weight * float64(r.reader.SpreadWithin(response.Pair{Left: work.left, Right: work.right}, rest, &work.scratch))
		if sum > most {
			break
		}
	}
	return sum
}

// coarseSetting is one choice of low-pass and delay with its response at unit gain.
type coarseSetting struct {
	setting Setting
	drive   []complex128
}

// newCoarseSettings returns the settings of the coarse search.
func (r *tables) newCoarseSettings() []coarseSetting {
	var list []coarseSetting
	for _, low := range steps(r.sub.LowPass, 25) {
		for _, delay := range steps(r.sub.Delay, coarseDelay) {
			k := Setting{LowPass: low, Delay: delay}
			list = append(list, coarseSetting{k, r.drives(nil, k, r.grid)})
		}
	}
	return list
}

// steps returns values from one end of a range to the other, about the given distance apart.
func steps(r model.Range, apart float64) []float64 {
	n := int(math.Ceil((r.Max-r.Min)/apart - 1e-9))
	list := []float64{r.Min}
	for i := 1; i <= n; i++ {
		list = append(list, r.Min+(r.Max-r.Min)*float64(i)/float64(n))
	}
	return list
}

// signs returns the polarities a subwoofer may have, as factors.
func (r *tables) signs() []float64 {
	switch r.sub.Polarity {
	case model.NormalPolarity:
		return []float64{1}
	case model.ReversedPolarity:
		return []float64{-1}
	}
	return []float64{1, -1}
}

// ratedSetting is a setting with its score.
type ratedSetting struct {
	setting Setting
	score   float64
}

// coarse returns for each polarity the best of a few hundred settings, the best first, rated
// at the listeners exactly at their seats.
func (r *tables) coarse(base []response.Pair, transfers [][]complex128) []ratedSetting {
	work := r.workspaces.Get().(*buffers)
	defer r.workspaces.Put(work)
	var found []ratedSetting
	for _, sign := range r.signs() {
		best := ratedSetting{score: math.Inf(1)}
		for i := range r.coarseSettings {
			c := &r.coarseSettings[i]
			for _, gain := range steps(r.sub.Gain, 6) {
				score := r.scoreWithDrive(base, transfers, c.drive, sign*model.Level(gain).Ratio(), true, best.score, work)
				if score < best.score {
					best = ratedSetting{c.setting, score}
					best.setting.Gain, best.setting.Reversed = model.Level(gain), sign < 0
				}
			}
		}
		found = append(found, best)
	}
	slices.SortStableFunc(found, func(a, b ratedSetting) int { return cmp.Compare(a.score, b.score) })
	return found
}

// refineBest refines the settings of one subwoofer from several starts and returns the best.
func (r *tables) refineBest(base []response.Pair, pl place, starts []ratedSetting) unit {
	best := ratedSetting{score: math.Inf(1)}
	for _, s := range starts {
		if s = r.refine(base, pl.transfers, s.setting); s.score < best.score {
			best = s
		}
	}
	return unit{pl, best.setting}
}

// together refines the settings of all subwoofers of a set at once by the simplex method, since each depends
// on the others.
func (r *tables) together(set []unit) []unit {
	free := r.parameters()
	if len(free) == 0 || len(set) < 2 {
		return set
	}
	at := func(x []float64) []unit {
		next := slices.Clone(set)
		for i := range next {
			for k, b := range free {
				*b.of(&next[i].setting) = b.in.Min + (b.in.Max-b.in.Min)*max(0, min(1, x[i*len(free)+k]))
			}
		}
		return next
	}
	var x []float64
	for i := range set {
		for _, b := range free {
			x = append(x, min(0.9, (*b.of(&set[i].setting)-b.in.Min)/(b.in.Max-b.in.Min)))
		}
	}
	result, err := optimize.Minimize(optimize.Problem{Func: func(x []float64) float64 { return r.Score(at(x)) }}, x,
		&optimize.Settings{FuncEvaluations: 150 * len(set), Concurrent: 1, Converger: &optimize.FunctionConverge{Absolute: 0.005, Iterations: 30}},
		&optimize.NelderMead{SimplexSize: 0.1})
	if err == nil && result.F < r.Score(set) {
		return at(result.X)
	}
	return set
}

// parameter is one of the values of a setting that may be chosen.
type parameter struct {
	of   func(*Setting) *float64
	in   model.Range
	step float64
}

// parameters returns the values that have a range.
func (r *tables) parameters() []parameter {
	var list []parameter
	for _, k := range []parameter{
		{func(k *Setting) *float64 { return (*float64)(&k.Gain) }, r.sub.Gain, gainStep},
		{func(k *Setting) *float64 { return &k.Delay }, r.sub.Delay, delayStep},
		{func(k *Setting) *float64 { return &k.LowPass }, r.sub.LowPass, lowPassStep},
	} {
		if k.in.Max > k.in.Min {
			list = append(list, k)
		}
	}
	return list
}

// refine improves the setting of one subwoofer by the simplex method of Nelder and Mead
// (Computer Journal 7 (1965) 308), rated at all listeners.
func (r *tables) refine(base []response.Pair, transfers [][]complex128, from Setting) ratedSetting {
	work := r.workspaces.Get().(*buffers)
	defer r.workspaces.Put(work)
	free := r.parameters()
	best := ratedSetting{from, r.scoreWith(base, transfers, from, work)}
	if len(free) == 0 {
		return best
	}
	at := func(x []float64) Setting {
		k := from
		for i, b := range free {
			*b.of(&k) = b.in.Min + (b.in.Max-b.in.Min)*max(0, min(1, x[i]))
		}
		return k
	}
	x := make([]float64, len(free))
	for i, b := range free {
		x[i] = (*b.of(&from) - b.in.Min) / (b.in.Max - b.in.Min)
		if x[i] > 0.9 {
			x[i] = 0.9 // so that the first simplex, which grows upwards, does not lie flat on the end
		}
	}
	result, err := optimize.Minimize(optimize.Problem{Func: func(x []float64) float64 { return r.scoreWith(base, transfers, at(x), work) }}, x,
		&optimize.Settings{FuncEvaluations: 100, Concurrent: 1, Converger: &optimize.FunctionConverge{Absolute: 0.005, Iterations: 15}},
		&optimize.NelderMead{SimplexSize: 0.08})
	if err == nil && result.F < best.score {
		best = ratedSetting{at(result.X), result.F}
	}
	return best
}

// scoreWith returns the score of a base with one more subwoofer, at all listeners.
func (r *tables) scoreWith(base []response.Pair, transfers [][]complex128, k Setting, work *buffers) float64 {
	return r.scoreWithDrive(base, transfers, r.drives(work.drive, k, r.grid), 1, false, math.Inf(1), work)
}

// round rounds the setting of one subwoofer to its steps and walks downhill on them until no
// single step is better.
func (r *tables) round(base []response.Pair, transfers [][]complex128, k Setting) ratedSetting {
	work := r.workspaces.Get().(*buffers)
	defer r.workspaces.Put(work)
	free := r.parameters()
	snap := func(b parameter, v float64) float64 {
		return max(b.in.Min, min(b.in.Max, math.Round(math.Round(v/b.step)*b.step*1e6)/1e6))
	}
	for _, b := range free {
		*b.of(&k) = snap(b, *b.of(&k))
	}
	best := ratedSetting{k, r.scoreWith(base, transfers, k, work)}
	for better := true; better; {
		better = false
		for _, b := range free {
			for _, d := range []float64{b.step, -b.step} {
				next := best.setting
				*b.of(&next) = snap(b, *b.of(&next)+d)
				if score := r.scoreWith(base, transfers, next, work); score < best.score-1e-6 {
					best, better = ratedSetting{next, score}, true
				}
			}
		}
	}
	return best
}
