package response

import (
	"fmt"
	"math"

	"evenbass/model"
)

// Figures is what is read off one smoothed curve within the goal's band.
type Figures struct {
	Goal      model.Goal  // the recipe
	Spread    model.Level // half the distance from lowest to highest level, dB
	Deviation model.Level // standard deviation over lg f, dB
	Mean      model.Level // power mean over lg f: room gain in dB
	Highest   Extreme
	Lowest    Extreme
	Reach     float64 // Hz; the lowest frequency within 6 dB of the band's mean, see Reader.reach
}

// Extreme is the highest or lowest point of a curve.
type Extreme struct {
	Frequency float64     // Hz
	Level     model.Level // dB re the mean
}

// String returns the spread with its recipe.
func (f Figures) String() string {
	return fmt.Sprintf("±%.1f dB (%v)", float64(f.Spread), f.Goal)
}

// Reader reads figures off transfers over one grid by one recipe. The figures are
// those of the continuous response as far as the grid holds it: between the grid's
// frequencies the transfer is interpolated, see [Step]. It is safe for use by
// several goroutines.
type Reader struct {
	grid     model.Grid
	goal     model.Goal
	between  interpolation
	smoother *Smoother // over the doubled grid, like all that follows
	third    *Smoother
	scale    []float64 // (4π/(ωρ))², turns |p|² into a power re 1 m free field
	band     band      // of the doubled grid
	listed   band      // of the grid, for curves over it
}

// band is the part of a grid that a goal asks for.
type band struct {
	lo, hi int       // indices, half open
	weight []float64 // share of each frequency of the band, over lg f; sum 1
}

// newBand returns the band of a goal in a grid. It panics if fewer than three
// frequencies lie there.
func newBand(grid model.Grid, goal model.Goal) band {
	var b band
	for i, f := range grid {
		if f < goal.From*(1-1e-12) {
			b.lo = i + 1
		}
		if f <= goal.To*(1+1e-12) {
			b.hi = i + 1
		}
	}
	if b.hi-b.lo < 3 {
		panic(fmt.Sprintf("response: %d grid points in the band %v", b.hi-b.lo, goal))
	}
	b.weight = shares(grid[b.lo:b.hi])
	return b
}

// NewReader returns a reader for transfers in Pa·s/m³ over grid in the given
// air. It panics if the grid has fewer than four frequencies, or fewer than three
// in the goal's band.
func NewReader(grid model.Grid, air model.Air, goal model.Goal) *Reader {
	listed := newBand(grid, goal)
	between := newInterpolation(grid)
	r := &Reader{
		grid: grid, goal: goal, between: between,
		smoother: NewSmoother(between.fine, goal.Smoothing),
		third:    NewSmoother(between.fine, 3),
		scale:    make([]float64, len(between.fine)),
		band:     newBand(between.fine, goal),
		listed:   listed,
	}
	for i, f := range between.fine {
		r.scale[i] = math.Pow(4*math.Pi/(2*math.Pi*f*air.Density), 2)
	}
	return r
}

// NewSpeakerReader is [NewReader] for transfers from loudspeakers that are no longer flat at low
// frequencies. The transfers are those of the room alone: every speaker has the same response, so
// the reader multiplies by it.
func NewSpeakerReader(grid model.Grid, air model.Air, goal model.Goal, speakers model.RollOff) *Reader {
	r := NewReader(grid, air, goal)
	for i, f := range r.between.fine {
		r.scale[i] *= speakers.Level(f).Power()
	}
	return r
}

// shares returns each frequency's share of the band over lg f by the trapezoidal
// rule; the sum is 1.
func shares(grid model.Grid) []float64 {
	n := len(grid)
	w := make([]float64, n)
	whole := math.Log(grid[n-1] / grid[0])
	for i := 1; i < n; i++ {
		step := math.Log(grid[i]/grid[i-1]) / whole / 2
		w[i-1] += step
		w[i] += step
	}
	return w
}

// Grid returns the frequencies of every curve in Hz.
func (r *Reader) Grid() model.Grid { return r.grid }

// Raw returns the room gain of a transfer in dB at every frequency, not smoothed.
func (r *Reader) Raw(p []complex128) []model.Level {
	l := make([]model.Level, len(p))
	for i, v := range p {
		l[i] = model.PowerLevel(r.scale[2*i] * square(v))
	}
	return l
}

// Smooth returns the smoothed room gain in dB at every frequency of the grid.
func (r *Reader) Smooth(p []complex128) []model.Level { return r.onGrid(r.curve(p)) }

// onGrid returns a curve over the doubled grid at the grid's frequencies.
func (r *Reader) onGrid(curve []model.Level) []model.Level {
	l := make([]model.Level, len(r.grid))
	for i := range l {
		l[i] = curve[2*i]
	}
	return l
}

// curve returns the smoothed room gain in dB over the doubled grid.
func (r *Reader) curve(p []complex128) []model.Level {
	power := r.power(p)
	l := make([]model.Level, len(power))
	for i, v := range r.smoother.Power(make([]float64, len(power)), power) {
		l[i] = model.PowerLevel(v)
	}
	return l
}

// power returns the power re free field of a transfer over the doubled grid.
func (r *Reader) power(p []complex128) []float64 {
	n := len(r.scale)
	power := make([]float64, n)
	for i, v := range r.between.transfer(make([]complex128, n), p) {
		power[i] = r.scale[i] * square(v)
	}
	return power
}

func square(v complex128) float64 { return real(v)*real(v) + imag(v)*imag(v) }

// Read returns the figures of one transfer over the grid.
func (r *Reader) Read(p []complex128) Figures { return r.read(p, r.curve(p)) }

// read is Read with the transfer's curve.
func (r *Reader) read(p []complex128, curve []model.Level) Figures {
	power := r.power(p)
	f := Figures{Goal: r.goal, Mean: r.meanOf(power), Reach: r.reach(power)}
	var avg, squares float64
	top, bottom := r.band.lo, r.band.lo
	for i := r.band.lo; i < r.band.hi; i++ {
		l, w := float64(curve[i]), r.band.weight[i-r.band.lo]
		avg += w * l
		squares += w * l * l
		if curve[i] > curve[top] {
			top = i
		}
		if curve[i] < curve[bottom] {
			bottom = i
		}
	}
	at := func(i int) float64 { return curve[i].Power() }
	highest, lowest := model.PowerLevel(r.extreme(top, at)), model.PowerLevel(r.extreme(bottom, at))
	f.Spread = (highest - lowest) / 2
	f.Deviation = model.Level(math.Sqrt(max(0, squares-avg*avg)))
	f.Highest = Extreme{r.between.fine[top], highest - f.Mean}
	f.Lowest = Extreme{r.between.fine[bottom], lowest - f.Mean}
	return f
}

// mean returns the power mean over lg f within the band, dB.
func (r *Reader) mean(p []complex128) model.Level {
	return r.meanOf(r.power(p))
}

// meanOf is mean for a power over the doubled grid.
func (r *Reader) meanOf(power []float64) model.Level {
	var sum float64
	for i, w := range r.band.weight {
		sum += w * power[r.band.lo+i]
	}
	return model.PowerLevel(sum)
}

// reach returns the low-end reach in Hz of a power over the doubled grid: the lowest frequency at which the curve
// smoothed to 1/3 octave comes within 6 dB of the band's mean. A dip further up
// does not count against it. If the curve starts there, that is the grid's lowest
// frequency. Speakers are flat unless the reader was made for others, see [NewSpeakerReader].
func (r *Reader) reach(power []float64) float64 {
	floor := (r.meanOf(power) - 6).Power()
	for i, v := range r.third.Power(make([]float64, len(power)), power) {
		if v >= floor {
			return r.between.fine[i]
		}
	}
	return r.grid[len(r.grid)-1]
}
