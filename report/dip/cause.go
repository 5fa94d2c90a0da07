package dip

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// CauseText names the causes of a fault that somebody can act on, see [cause.Dip.Named], with the
// evidence for them.
func CauseText(f cause.Dip, s unit.Style) string {
	text := "No single wall or mode causes it."
	if f.WallsOnly {
		text = "No single wall causes it. Modes were not examined: the wave solver does not separate them."
	}
	kind := "dip"
	if f.Feature.Peak {
		kind = "peak"
	}
	if len(f.Causes) > 0 {
		var parts []string
		for _, c := range f.Named() {
			parts = append(parts, fmt.Sprintf("%s (without it the %s shrinks by %s)", suspectText(c.Suspect, s), kind, unit.Difference(c.Cure)))
		}
		text = "Cause: " + strings.Join(parts, "; ")
		text += "."
	}
	return text + movesTexts[f.Moves]
}

// suspectText names a boundary with its distance to what it acts on, "back wall 2.25 m
// behind the ears", a mode: "mode (1,0,0) at 39.9 Hz, axial", or the speakers.
func suspectText(c cause.Suspect, s unit.Style) string {
	switch c.Kind {
	case cause.ModeSuspect:
		m := c.Mode
		return fmt.Sprintf("mode (%d,%d,%d) at %s, %v", m.N[0], m.N[1], m.N[2], unit.Frequency(m.Frequency), m.Kind())
	case cause.SpeakerSuspect:
		return "the speakers themselves, which fall off below " + unit.Nominal(c.Speakers.Limit)
	}
	name, d := c.Boundary.Wall(), c.Distances
	if d == [2]float64{} {
		return name
	}
	distance := s.Length(d[0])
	if math.Abs(d[0]-d[1]) >= 0.005 {
		distance += " and " + s.Length(d[1])
	}
	from := map[model.Face]string{
		model.Front: "from the woofers", model.Back: "behind the ears", model.Left: "from the left woofer",
		model.Right: "from the right woofer", model.Floor: "below the woofers", model.Ceiling: "above the ears",
	}
	return name + " " + distance + " " + from[c.Boundary]
}

// movesTexts says what shifts a dip; nothing if that was not looked at.
var movesTexts = map[cause.Moves]string{
	cause.MovesWithSeat:     " Its frequency shifts when you move the seat.",
	cause.MovesWithSpeakers: " Its frequency shifts when you move the speakers.",
	cause.MovesWithBoth:     " Its frequency shifts when you move the seat or the speakers.",
	cause.Stays:             " Moving seat or speakers changes its depth, not its frequency.",
}

// Text describes a dip or a peak: "dip at 64.2 Hz, left: 12.1 dB below the
// mean, 1/5 octave wide". [WidthTerm] says what its width is.
func Text(f response.Feature) string {
	kind, side := "dip", "below"
	if f.Peak {
		kind = "peak"
	}
	if f.Level > 0 {
		side = "above"
	}
	return fmt.Sprintf("%s at %s, %s: %s %s the mean, %s",
		text.Sentence(kind), unit.Frequency(f.Frequency), text.ChannelText(f.Channel), unit.Difference(max(f.Level, -f.Level)), side, widthText(f.Width))
}

// widthText writes a width as far as it is known: the smoothing holds nothing narrower than its window, and the
// band shows nothing beyond its edge.
func widthText(w response.Width) string {
	switch {
	case w.Narrow:
		return unit.Octaves(w.Octaves) + " wide or less"
	case w.Cut:
		return "cut off by the edge of the band"
	}
	return unit.Octaves(w.Octaves) + " wide"
}

// WidthName is what [WidthTerm] explains.
const WidthName = "Width of a dip"

// WidthTerm says how the width of a dip or a peak is measured.
func WidthTerm(goal model.Goal) string {
	return fmt.Sprintf("The distance in octaves between the two points where the curve is half way up, in dB, from the lowest point to the lower of the dip's two shoulders. "+
		"A curve smoothed to 1/%[1]d octave shows nothing narrower than 1/%[1]d octave.", goal.Smoothing)
}

// remedyText says what cures a dip: a move, absorption, or nothing that was tried.
func remedyText(f cause.Dip, s unit.Style) string {
	r := f.Remedy
	if r == nil {
		return ""
	}
	move, free := "", false
	if r.Move != nil {
		m := r.Move
		free = m.After <= m.Before+0.05
		link := "and"
		if !free {
			link = "but"
		}
		move = fmt.Sprintf("%s lifts it by %s, %s takes the spread from %s to %s", text.Sentence(text.StepText(m.Step.From, m.Step.To, s)), unit.Difference(m.Lift), link,
			unit.DecibelsOnly(m.Before), unit.Spread(m.After))
		if m.Breaks {
			move += " (still breaking a rule of the room file)"
		}
		move += "."
	}
	wall := ""
	if r.Wall != nil {
		wall = fmt.Sprintf("Absorption on the %s would lift it, by %s at the very most.", r.Wall.Boundary.Wall(), unit.Difference(r.Wall.Cure))
	}
	switch {
	case free:
		return "A move helps. " + move
	case wall != "" && move != "":
		return wall + " A move would too. " + move
	case wall != "":
		return wall + " No single move up to " + s.Tape(cause.RemedyReach) + " cures it."
	case r.Narrow && move != "":
		return "Leave it: it is narrower than 1/6 octave. " + move
	case r.Narrow:
		return "Leave it: it is narrower than 1/6 octave, and nothing we tried cures it."
	case move != "":
		return "No single wall cures it. " + move
	}
	return "Nothing we tried cures it: neither single moves up to " + s.Tape(cause.RemedyReach) + " nor absorption on any one wall."
}

// Why is the causes of a fault and what cures it.
func Why(f cause.Dip, s unit.Style) string {
	if cure := remedyText(f, s); cure != "" {
		return CauseText(f, s) + " " + cure
	}
	return CauseText(f, s)
}
