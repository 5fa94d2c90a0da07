package measured

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/decay"
	"evenbass/model/measure/resonance"
	"evenbass/model/mode"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// decayTable lists the decay times of one state.
func decayTable(name string, a *analysis.Analysis) text.Table {
	t := text.Table{
		Caption: name + ": time to fall by 60 dB, s, by third octave (ISO 3382-2). Brackets: too fast for the filter, which needs longer than the column 'least'. Cut: the record stops before the sound has fallen so far. Bent: two slopes or more, so that one figure does not describe the decay.",
		Head:    []string{"Hz", "EDT", "T20", "T30", "least", "above noise", ""}, Align: "rrrrrrl",
	}
	for _, d := range a.Decays {
		bent := ""
		if d.Bent() {
			bent = fmt.Sprintf("bent (curvature %s %%)", unit.Decimal(d.Curvature, 0))
		}
		t.Rows = append(t.Rows, []string{
			fmt.Sprintf("%g", d.Nominal), timeCell(d, d.EDT), timeCell(d, d.T20), timeCell(d, d.T30), unit.Decimal(d.Limit, 2), unit.Decimal(float64(d.Range), 0) + " dB", bent,
		})
	}
	return t
}

// timeCell writes a decay time in s.
func timeCell(d decay.Band, seconds float64) string {
	switch {
	case seconds == 0 && d.Cut:
		return "cut"
	case seconds == 0:
		return unit.Unknown
	case seconds < d.Limit:
		return "(" + unit.Decimal(seconds, 2) + ")"
	}
	return unit.Decimal(seconds, 2)
}

// decaysTable holds the decay times of two states against each other.
func decaysTable(names [2]string, before, after *analysis.Analysis) text.Table {
	t := text.Table{
		Caption: "Time to fall by 60 dB, s, by third octave: T30, or T20 where noise hides more (ISO 3382-2). Brackets: too fast for the filter to resolve. Cut: the record stops before the sound has fallen so far.",
		Head:    []string{"Hz", names[0], names[1], "change"}, Align: "rrrr",
	}
	for _, b := range before.Decays {
		for _, a := range after.Decays {
			if a.Nominal != b.Nominal {
				continue
			}
			was, _ := b.Time()
			is, _ := a.Time()
			change := unit.Unknown
			if was > 0 && is > 0 && b.Resolved() && a.Resolved() {
				change = signedPercent(is/was - 1)
			}
			t.Rows = append(t.Rows, []string{fmt.Sprintf("%g", b.Nominal), timeCell(b, was), timeCell(a, is), change})
		}
	}
	return t
}

// signedPercent writes a relative change with its sign.
func signedPercent(share float64) string { return unit.Signed(100*share) + " %" }

// mostModes is how many modes a table lists.
const mostModes = 16

// loudestModes returns the loudest modes, by frequency.
func loudestModes(a *analysis.Analysis) []resonance.Mode {
	list := slices.Clone(a.Modes)
	slices.SortStableFunc(list, func(x, y resonance.Mode) int { return cmp.Compare(y.Loudest(), x.Loudest()) })
	list = list[:min(mostModes, len(list))]
	slices.SortFunc(list, func(x, y resonance.Mode) int { return cmp.Compare(x.Frequency, y.Frequency) })
	return list
}

// modesShown says how many of the modes are listed.
func modesShown(a *analysis.Analysis) string {
	if n := len(a.Modes); n > mostModes {
		return fmt.Sprintf("the %d loudest of %d modes found", mostModes, n)
	}
	return unit.Plural(len(a.Modes), "mode") + " found"
}

// modesTable lists the modes of one state, each beside the nearest that is predicted of a box.
func modesTable(name string, a *analysis.Analysis, box *model.Box) text.Table {
	t := text.Table{
		Caption: name + ": " + modesShown(a) + " in the response. Sure: share of the trials that found it. The margins are half the distance between the quartiles of what the trials found.",
		Head:    []string{"Hz", "margin", "60 dB decay, s", "margin, s", "level", "sure"}, Align: "rrrrrr",
	}
	var predicted []mode.Mode
	if box != nil {
		predicted, _ = mode.List(*box, highestMode*(1+nearMode))
		t.Caption += " Beside each stands the nearest mode of the plain box, within 6 % in frequency and below 200 Hz, and how far the measured mode is from it."
		t.Head, t.Align = append(t.Head, "predicted", "off"), t.Align+"lr"
	}
	for _, m := range loudestModes(a) {
		row := []string{
			unit.Decimal(m.Frequency, 1), unit.Decimal(m.FrequencySpread, 1), unit.Decimal(m.DecayTime(), 2),
			unit.Decimal(m.DecayTime()*m.RateSpread/m.Rate, 2), unit.Decibels(m.Loudest()), unit.Percent(m.Confidence),
		}
		if box != nil {
			row = append(row, nearestCells(m.Frequency, predicted)...)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// Modes are predicted up to highestMode, Hz, above which they lie too close together to tell which is which, and held against one that was found within nearMode, as a
// share of its frequency: wool and light walls shift modes by a few per cent, a wrong size by as much.
const (
	highestMode = 200.0
	nearMode    = 0.06
)

// signedTenths writes a figure with its sign and one decimal.
func signedTenths(v float64) string {
	s := unit.Decimal(v, 1)
	if v > 0 && s != "0.0" {
		return "+" + s
	}
	return s
}

// nearestCells names the predicted mode nearest to a frequency, and how far above it that is.
func nearestCells(f float64, predicted []mode.Mode) []string {
	if f > highestMode {
		return []string{"", ""}
	}
	nearest, off := -1, nearMode
	for i, p := range predicted {
		if d := math.Abs(f/p.Frequency - 1); d < off {
			nearest, off = i, d
		}
	}
	if nearest < 0 {
		return []string{"none", ""}
	}
	p := predicted[nearest]
	return []string{fmt.Sprintf("(%d,%d,%d) at %s", p.N[0], p.N[1], p.N[2], unit.Frequency(p.Frequency)), signedTenths(100*(f/p.Frequency-1)) + " %"}
}

// modePair is a mode in two states.
type modePair struct{ before, after *resonance.Mode }

// samePlace is how far a mode may shift between two states and be the same, as a share of its
// frequency, beyond half the bandwidths of both; and mostShift how far at most. Common practice, no source: wool
// lowers modes by a few per cent.
const (
	samePlace = 0.02
	mostShift = 0.06
)

// pairModes pairs the modes of two states by frequency, the nearest first.
func pairModes(before, after []resonance.Mode) []modePair {
	taken := make([]bool, len(after))
	var list []modePair
	for i := range before {
		b := &before[i]
		nearest, distance := -1, math.Inf(1)
		for j := range after {
			reach := min(mostShift*b.Frequency, samePlace*b.Frequency+(b.Bandwidth()+after[j].Bandwidth())/2)
			if d := math.Abs(after[j].Frequency - b.Frequency); !taken[j] && d < min(reach, distance) {
				nearest, distance = j, d
			}
		}
		p := modePair{before: b}
		if nearest >= 0 {
			taken[nearest] = true
			p.after = &after[nearest]
		}
		list = append(list, p)
	}
	return list
}

// modePairsTable holds the modes of two states against each other.
func modePairsTable(names [2]string, before, after *analysis.Analysis) text.Table {
	t := text.Table{
		Caption: text.Sentence(names[0]) + ": " + modesShown(before) + ". Beside each, the nearest found " + names[1] + ", within 2 % in frequency and half the bandwidths of both. A mode that is gone may be too strongly damped to find.",
		Head:    []string{"Hz " + names[0], "Hz " + names[1], "60 dB, s, " + names[0], "60 dB, s, " + names[1], "change"}, Align: "rrrrr",
	}
	for _, p := range pairModes(loudestModes(before), after.Modes) {
		row := []string{unit.Decimal(p.before.Frequency, 1), "gone", unit.Decimal(p.before.DecayTime(), 2), "", ""}
		if p.after != nil {
			row[1], row[3] = unit.Decimal(p.after.Frequency, 1), unit.Decimal(p.after.DecayTime(), 2)
			row[4] = signedPercent(p.after.DecayTime()/p.before.DecayTime() - 1)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
