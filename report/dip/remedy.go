package dip

import (
	"fmt"

	"evenbass/optimize/cause"
	"evenbass/report/text"
	"evenbass/report/unit"
)

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
		return "A move cures it. " + move
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
