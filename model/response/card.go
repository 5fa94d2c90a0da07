package response

import (
	"math"

	"evenbass/model"
)

// Card is the figures of one seat by which layouts, options and measurements are compared.
// Of a pair, each figure is that of the channel where it is worst: left, right or both.
type Card struct {
	Goal      model.Goal  // the recipe of all figures but the fall
	Spread    model.Level // half the distance from lowest to highest smoothed level, dB
	Deviation model.Level // standard deviation of the smoothed level over lg f, dB
	Within    float64     // share of the band, over lg f, within [Tolerated] of its mean
	Dip       Dip         // the deepest
	LowOctave model.Level // power mean of the band's lowest octave re the whole band's, dB
	Fall      Fall        // the zero value is not computed
}

// Tolerated is how far a level may be from the band's mean to count as within, dB.
const Tolerated model.Level = 6

// Dip is the lowest point of a smoothed curve.
type Dip struct {
	Channel   Channel
	Frequency float64     // Hz
	Level     model.Level // dB re the band's mean
	Width     Width
}

// Fall is how fast sound dies away in the third octaves of a goal.
type Fall struct {
	Worst Decay   // the slowest band that the filter resolves; the zero value if it resolves none
	Mean  float64 // s to fall by 20 dB, see [MeanFall]; 0 is not computed
	Least float64 // s; a fall in any band that the filter resolves takes at least this long
}

// FallOf sums up the decays in the third octaves of a goal. It is zero if none lies there.
func FallOf(decays []Decay, goal model.Goal) Fall {
	var within []Decay
	f := Fall{Least: math.Inf(1)}
	for _, d := range decays {
		if d.Band < goal.From*(1-bandEdge) || d.Band > goal.To*(1+bandEdge) {
			continue
		}
		within = append(within, d)
		f.Least = min(f.Least, 2*d.Filter)
		if (d.Resolved() || d.Fall20 == 0) && d.counted() > f.worst() {
			f.Worst = d
		}
	}
	if len(within) == 0 {
		return Fall{}
	}
	f.Mean = MeanFall(within)
	return f
}

// bandEdge is how far the nominal frequency of a third octave may be outside a goal's band
// to count all the same.
const bandEdge = 0.01

// worst returns the time in s to fall by 20 dB in the slowest band, see [Decay.counted].
func (f Fall) worst() float64 {
	if f.Worst.Band == 0 {
		return 0
	}
	return f.Worst.counted()
}

// Card returns the card of a pair. The decays are those of left and right alone with their
// energies summed, see [DecayReader.Read]; nil leaves the fall out.
func (r *Reader) Card(p Pair, decays []Decay) Card {
	c := r.channelCard(LeftAlone, p.Left)
	c.include(r.channelCard(RightAlone, p.Right))
	c.include(r.channelCard(BothTogether, p.Of(BothTogether)))
	c.Fall = FallOf(decays, r.goal)
	return c
}

// ChannelCard returns the card of one channel alone. The decays are its own; nil leaves the
// fall out.
func (r *Reader) ChannelCard(channel Channel, p []complex128, decays []Decay) Card {
	c := r.channelCard(channel, p)
	c.Fall = FallOf(decays, r.goal)
	return c
}

func (r *Reader) channelCard(channel Channel, p []complex128) Card {
	curve := r.curve(p)
	f := r.read(p, curve)
	lowest := r.band.lo
	shape := make([]float64, r.band.hi-r.band.lo)
	for i := range shape {
		shape[i] = float64(curve[r.band.lo+i])
		if curve[r.band.lo+i] < curve[lowest] {
			lowest = r.band.lo + i
		}
	}
	_, width := r.valley(shape, lowest-r.band.lo)
	return Card{
		Goal: r.goal, Spread: f.Spread, Deviation: f.Deviation, Within: r.within(curve, f.Mean),
		Dip:       Dip{Channel: channel, Frequency: f.Lowest.Frequency, Level: f.Lowest.Level, Width: width},
		LowOctave: r.lowOctave(r.power(p)) - f.Mean,
	}
}

// include keeps of each figure the worse of two channels.
func (c *Card) include(o Card) {
	c.Spread, c.Deviation, c.Within = max(c.Spread, o.Spread), max(c.Deviation, o.Deviation), min(c.Within, o.Within)
	if o.Dip.Level < c.Dip.Level {
		c.Dip = o.Dip
	}
	if math.Abs(float64(o.LowOctave)) > math.Abs(float64(c.LowOctave)) {
		c.LowOctave = o.LowOctave
	}
}

// within returns the share of the band, over lg f, in which a curve over the doubled grid is
// within [Tolerated] of a level. Between two frequencies the level is straight over lg f.
func (r *Reader) within(curve []model.Level, mean model.Level) float64 {
	grid := r.between.fine[r.band.lo:r.band.hi]
	curve = curve[r.band.lo:r.band.hi]
	var sum float64
	for i := 1; i < len(grid); i++ {
		low, high := float64(curve[i-1]-mean), float64(curve[i]-mean)
		if low > high {
			low, high = high, low
		}
		inside := min(high, float64(Tolerated)) - max(low, -float64(Tolerated))
		share := 0.0
		switch {
		case inside < 0:
		case high == low:
			share = 1
		default:
			share = inside / (high - low)
		}
		sum += share * math.Log(grid[i]/grid[i-1])
	}
	return sum / math.Log(grid[len(grid)-1]/grid[0])
}

// lowOctave returns the power mean over lg f of the lowest octave of the band.
func (r *Reader) lowOctave(power []float64) model.Level {
	grid := r.between.fine
	hi := r.band.lo + 1
	for hi < r.band.hi-1 && grid[hi] < 2*grid[r.band.lo]*(1-1e-9) {
		hi++
	}
	var sum float64
	for i, w := range shares(grid[r.band.lo : hi+1]) {
		sum += w * power[r.band.lo+i]
	}
	return model.PowerLevel(sum)
}
