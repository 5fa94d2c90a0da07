package mode

import "math"

// Coincident reports for each mode of an ascending list whether another one lies
// within the given share of its frequency, such as 0.05. Modes that close add up
// to one large peak, and the next gap is the wider. That 5 % matter is common
// practice, no source.
func Coincident(modes []Mode, share float64) []bool {
	flags := make([]bool, len(modes))
	for i := 1; i < len(modes); i++ {
		if low := modes[i-1].Frequency; modes[i].Frequency-low < share*low {
			flags[i-1], flags[i] = true, true
		}
	}
	return flags
}

// BonelloBand is one third-octave band of the Bonello count.
type BonelloBand struct {
	Center float64 // Hz, exact: 1000·10^(n/10), IEC 61260-1
	Modes  int     // in the band, between rigid walls
	Falls  bool    // fewer than in the band below
	Double bool    // two modes coincide and there are fewer than five in all
}

// Bonello counts modes per third octave, in the bands whose centre is within the
// limits in Hz. A room is said to have its modes well spread if no band has fewer
// than the one below and none has double modes unless there are five or more in it
// (Bonello 1981, J. Audio Eng. Soc. 29, 597). Modes within 0.5 % count as double:
// that figure is ours. The list must be ascending and reach beyond the upper band.
func Bonello(modes []Mode, from, to float64) []BonelloBand {
	var bands []BonelloBand
	const slack = 0.06 // nominal centres differ from exact ones by up to 0.9 %
	lowest := int(math.Ceil(10*math.Log10(from/1000) - slack))
	highest := int(math.Floor(10*math.Log10(to/1000) + slack))
	for n := lowest; n <= highest; n++ {
		band := bonelloBand(modes, 1000*math.Pow(10, float64(n)/10))
		band.Falls = len(bands) > 0 && band.Modes < bands[len(bands)-1].Modes
		bands = append(bands, band)
	}
	return bands
}

func bonelloBand(modes []Mode, center float64) BonelloBand {
	half := math.Pow(10, 1.0/20)
	var in []Mode
	for _, m := range modes {
		if m.Frequency >= center/half && m.Frequency < center*half {
			in = append(in, m)
		}
	}
	b := BonelloBand{Center: center, Modes: len(in)}
	for _, double := range Coincident(in, 0.005) {
		b.Double = b.Double || double && len(in) < 5
	}
	return b
}
