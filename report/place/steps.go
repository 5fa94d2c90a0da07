package place

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/optimize"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// stepsHeading stands above the lines of stepLines.
const stepsHeading = "One move at a time, biggest gain first"

// stepLines writes the single moves with the gain of each: "seat 14 cm towards
// the back wall: ±9.1 to ±7.6 dB".
func stepLines(r *optimize.Result, s unit.Style) []string {
	var lines []string
	for _, step := range r.Steps {
		line := fmt.Sprintf("%s: %s to %s", StepText(step, s), unit.DecibelsOnly(step.Before), unit.Spread(step.After))
		if step.Breaks {
			line += " (do not stop here: it breaks a rule of the room file)"
		}
		lines = append(lines, line)
	}
	if n := len(r.Steps); n > 0 && r.Steps[n-1].To != r.Candidates[0].Layout {
		lines = append(lines, fmt.Sprintf("stop here: going on to layout 1 gains less than %s", unit.Difference(optimize.LeastGain)))
	}
	return lines
}

// writeSteps writes the lines numbered, under their heading.
func writeSteps(b *strings.Builder, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + stepsHeading + "\n")
	for i, line := range lines {
		fmt.Fprintf(b, "%d. %s\n", i+1, text.Wrap(line, text.Columns-3, "   "))
	}
}

// StepText says what to move and how far.
func StepText(step optimize.Step, s unit.Style) string {
	from, to := step.From, step.To
	switch step.Part {
	case optimize.SeatAlong, optimize.SeatAcross:
		return "seat " + text.Moves(from.Seat, to.Seat, s)
	}
	left, right := r3.Sub(to.Left, from.Left), r3.Sub(to.Right, from.Right)
	switch {
	case r3.Norm(r3.Sub(left, right)) < 0.005:
		return "both speakers " + text.Moves(from.Left, to.Left, s)
	case step.Part == optimize.SpeakersAcross && math.Abs(left.Y+right.Y) < 0.005:
		way := "closer together"
		if right.Y > 0 {
			way = "further apart"
		}
		return fmt.Sprintf("each speaker %s %s", s.Tape(math.Abs(right.Y)), way)
	}
	return fmt.Sprintf("left speaker %s, right speaker %s", text.Moves(from.Left, to.Left, s), text.Moves(from.Right, to.Right, s))
}
