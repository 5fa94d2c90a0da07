package roomfile

import (
	"math"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// defaults is the project before a file is read: what holds for each key that the
// file leaves out. The figures are common practice, no source: a nearfield pair at
// 0.9 to 2 m under 50 to 70°, ears and tweeters 1.2 m above the floor, room for a
// port and its cable behind the box.
func defaults() *model.Project {
	return &model.Project{
		Speakers: model.Speakers{
			AxisHeights:   []float64{defaultHeight},
			RearClearance: 0.05,
			SideClearance: 0.10,
		},
		Listening: model.Listening{
			Distance:     model.Range{Min: 0.9, Max: 2.0},
			Angle:        model.Range{Min: degrees(50), Max: degrees(70)},
			BackDistance: 0.6,
		},
		Goal: model.Goal{From: 30, To: 300, Smoothing: 12},
	}
}

// defaultFrom returns where the goal begins if the file does not say: where the loudspeakers
// end, since no place makes them go lower, and never below usual. With subwoofers those go on
// below the pair. Half an octave of the band is left at least.
func defaultFrom(p *model.Project) float64 {
	limit := p.Speakers.LowLimit
	if p.Subwoofers != nil {
		limit = min(limit, p.Subwoofers.LowLimit)
	}
	from := max(p.Goal.From, limit)
	if from > p.Goal.To/math.Sqrt2 {
		return p.Goal.From
	}
	return from
}

// findUnwritten returns which rules a file leaves to their defaults.
func findUnwritten(root *node) model.Unwritten {
	lacks := func(section, key string) bool {
		n := root.value(section)
		return n == nil || n.value(key) == nil
	}
	return model.Unwritten{From: lacks("goal", "from"), Distance: lacks("listening", "distance"), Angle: lacks("listening", "angle"), Back: lacks("listening", "back_distance")}
}

// defaultHeight is where the acoustic axis and the ears are, m.
const defaultHeight = 1.2

// defaultSeat is a seat before its keys are read.
func defaultSeat() model.Seat { return model.Seat{Weight: 1} }

// degrees returns an angle in rad, to the bit as reading "50°" gives it.
func degrees(v float64) float64 {
	u, _ := quantity.Angles.Find("°")
	return u.Si(v)
}
