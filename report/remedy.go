package report

import (
	"fmt"

	"evenbass/optimize"
)

// remedyText says what cures a dip, of what was tried: a move, absorption, or nothing.
func remedyText(f optimize.Explained, s Style) string {
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
		move = fmt.Sprintf("%s lifts it by %s, %s takes the spread from %s to %s", sentence(stepText(m.Step, s)), Difference(m.Lift), link,
			decibelsOnly(m.Before), Spread(m.After))
		if m.Breaks {
			move += " (which still breaks a rule of the room file)"
		}
		move += "."
	}
	wall := ""
	if r.Wall != "" {
		wall = fmt.Sprintf("It wants absorption at the %s: %s is what taking up all sound there would gain.", r.Wall, Difference(r.WallLift))
	}
	switch {
	case free:
		return "A move cures it. " + move
	case wall != "" && move != "":
		return wall + " A move would do too. " + move
	case wall != "":
		return wall + " No single move up to " + s.Tape(optimize.RemedyReach) + " cures it."
	case r.Narrow && move != "":
		return "Leave it: it is narrower than 1/6 octave. " + move
	case r.Narrow:
		return "Leave it: it is narrower than 1/6 octave, and nothing that was tried cures it."
	case move != "":
		return "No single wall cures it. " + move
	}
	return "Nothing that was tried cures it: single moves up to " + s.Tape(optimize.RemedyReach) + ", and each wall taken away."
}

// whyText is the causes of a fault and what cures it.
func whyText(f optimize.Explained, s Style) string {
	if cure := remedyText(f, s); cure != "" {
		return causeText(f) + " " + cure
	}
	return causeText(f)
}
