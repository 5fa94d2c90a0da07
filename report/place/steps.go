package place

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// stepsHeading stands above the lines of stepLines.
const stepsHeading = "Step by step: each of these is better than the one before"

// stepLines writes the steps with the gain of each: "seat 14 cm towards the back wall: ±9.1 to
// ±7.6 dB". There are none where the verdict is to leave things where they are.
func stepLines(in *Report) []string {
	r, s := in.Result, in.Style
	var lines []string
	if stays(in) {
		return nil
	}
	for _, step := range r.Steps {
		line := fmt.Sprintf("%s: %s to %s", StepText(step, s), unit.DecibelsOnly(step.Before), unit.Spread(step.After))
		if step.Breaks {
			line += " (a rule of the room file is still broken)"
		}
		lines = append(lines, line)
	}
	if n := len(r.Steps); n > 0 && r.Steps[n-1].To != r.Candidates[0].Layout {
		lines = append(lines, "stop here: "+restText(r.Steps[n-1].After-r.Candidates[0].Judgement.Spread()))
	}
	return lines
}

// FirstMove returns the first step from the present places with the spread after it, "stay" where
// the verdict is to leave things where they are, or "" where no single step is known.
func FirstMove(in *Report) string {
	switch {
	case stays(in):
		return "stay"
	case len(in.Result.Steps) == 0:
		return ""
	}
	step := in.Result.Steps[0]
	return fmt.Sprintf("%s: %s", StepText(step, in.Style), unit.Spread(step.After))
}

// stays reports whether the verdict is to leave things where they are.
func stays(in *Report) bool {
	now := in.Result.Now
	return now != nil && len(now.Breaches) == 0 && !worthMoving(in)
}

// restText says what is left to gain on the way to the first layout.
func restText(gain model.Level) string {
	if gain < 0.05 {
		return "going on to layout 1 gains nothing more with everything exactly in place"
	}
	return fmt.Sprintf("going on to layout 1 gains only %s more", unit.Difference(gain))
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
	var words []string
	if from, to := step.From.Seat, step.To.Seat; apartBy(from, to) {
		words = append(words, "seat "+text.Moves(from, to, s))
	}
	if apartBy(step.From.Left, step.To.Left) || apartBy(step.From.Right, step.To.Right) {
		words = append(words, speakersText(step.From, step.To, s))
	}
	return strings.Join(words, ", and ")
}

// apartBy reports whether two places differ by as much as a tape shows.
func apartBy(a, b r3.Vec) bool { return r3.Norm(r3.Sub(a, b)) >= 0.005 }

// speakersText says how the speakers move.
func speakersText(from, to model.Layout, s unit.Style) string {
	left, right := r3.Sub(to.Left, from.Left), r3.Sub(to.Right, from.Right)
	across := r3.Vec{Y: left.Y}
	switch {
	case !apartBy(left, right):
		return "both speakers " + text.Moves(from.Left, to.Left, s)
	case apartBy(r3.Sub(left, across), r3.Sub(right, r3.Scale(-1, across))):
		return fmt.Sprintf("left speaker %s, right speaker %s", text.Moves(from.Left, to.Left, s), text.Moves(from.Right, to.Right, s))
	}
	way := "closer together"
	if right.Y > 0 {
		way = "further apart"
	}
	words := fmt.Sprintf("each speaker %s %s", s.Tape(math.Abs(right.Y)), way)
	if along := r3.Sub(left, across); r3.Norm(along) >= 0.005 {
		words += " and " + text.Moves(from.Left, r3.Add(from.Left, along), s)
	}
	return words
}
