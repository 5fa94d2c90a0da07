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
	Reach     float64 // Hz; see Reader.Reach
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

// Reader reads figures off transfers over one grid by one recipe. It is safe for
// use by several goroutines.
type Reader struct {
	grid     model.Grid
	goal     model.Goal
	smoother *Smoother
	third    *Smoother
	scale    []float64 // (4π/(ωρ))², turns |p|² into a power re 1 m free field
	lo, hi   int       // band as grid indices, half open
	weight   []float64 // share of each grid point of the band, over lg f; sum 1
}

// NewReader returns a reader for transfers in Pa·s/m³ over grid in the given
// air. It panics if fewer than three grid points lie in the goal's band.
func NewReader(grid model.Grid, air model.Air, goal model.Goal) *Reader {
	r := &Reader{
		grid: grid, goal: goal,
		smoother: NewSmoother(grid, goal.Smoothing),
		third:    NewSmoother(grid, 3),
		scale:    make([]float64, len(grid)),
	}
	for i, f := range grid {
		r.scale[i] = math.Pow(4*math.Pi/(2*math.Pi*f*air.Density), 2)
		if f < goal.From*(1-1e-12) {
			r.lo = i + 1
		}
		if f <= goal.To*(1+1e-12) {
			r.hi = i + 1
		}
	}
	if r.hi-r.lo < 3 {
		panic(fmt.Sprintf("response: %d grid points in the band %v", r.hi-r.lo, goal))
	}
	r.weight = shares(grid[r.lo:r.hi])
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

// Goal returns the recipe.
func (r *Reader) Goal() model.Goal { return r.goal }

// Grid returns the frequencies of every curve in Hz.
func (r *Reader) Grid() model.Grid { return r.grid }

// Raw returns the room gain of a transfer in dB at every frequency, not smoothed.
func (r *Reader) Raw(p []complex128) []model.Level {
	return levels(r.power(make([]float64, len(p)), p))
}

// Smooth returns the smoothed room gain in dB at every frequency of the grid.
func (r *Reader) Smooth(p []complex128) []model.Level {
	power := r.power(make([]float64, len(p)), p)
	return levels(r.smoother.Power(make([]float64, len(p)), power))
}

func (r *Reader) power(dst []float64, p []complex128) []float64 {
	for i, v := range p {
		dst[i] = r.scale[i] * (real(v)*real(v) + imag(v)*imag(v))
	}
	return dst
}

func levels(power []float64) []model.Level {
	l := make([]model.Level, len(power))
	for i, v := range power {
		l[i] = model.PowerLevel(v)
	}
	return l
}

// Read returns the figures of one transfer over the grid.
func (r *Reader) Read(p []complex128) Figures {
	curve := r.Smooth(p)
	f := Figures{Goal: r.goal, Mean: r.mean(p), Reach: r.Reach(p)}
	var avg, square float64
	top, bottom := r.lo, r.lo
	for i := r.lo; i < r.hi; i++ {
		l, w := float64(curve[i]), r.weight[i-r.lo]
		avg += w * l
		square += w * l * l
		if curve[i] > curve[top] {
			top = i
		}
		if curve[i] < curve[bottom] {
			bottom = i
		}
	}
	f.Spread = (curve[top] - curve[bottom]) / 2
	f.Deviation = model.Level(math.Sqrt(max(0, square-avg*avg)))
	f.Highest = Extreme{r.grid[top], curve[top] - f.Mean}
	f.Lowest = Extreme{r.grid[bottom], curve[bottom] - f.Mean}
	return f
}

// mean returns the power mean over lg f within the band, dB.
func (r *Reader) mean(p []complex128) model.Level {
	var sum float64
	for i, w := range r.weight {
		v := p[r.lo+i]
		sum += w * r.scale[r.lo+i] * (real(v)*real(v) + imag(v)*imag(v))
	}
	return model.PowerLevel(sum)
}

// Reach returns the low-end reach in Hz: the lowest frequency at which the curve
// smoothed to 1/3 octave comes within 6 dB of the band's mean. A dip further up
// does not count against it. If the curve starts there, that is the grid's lowest
// frequency. It is the room's reach: the loudspeaker's own limit comes on top.
func (r *Reader) Reach(p []complex128) float64 {
	floor := (r.mean(p) - 6).Power()
	curve := r.third.Power(make([]float64, len(p)), r.power(make([]float64, len(p)), p))
	for i, v := range curve {
		if v >= floor {
			return r.grid[i]
		}
	}
	return r.grid[len(r.grid)-1]
}
