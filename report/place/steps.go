package place

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// stepsHeading stands above the lines of stepLines.
const stepsHeading = "Do this, step by step"

// stepLines writes the steps with the gain of each: "seat 14 cm towards the back wall: ±9.1 to
// ±7.6 dB". There are none where the verdict is to leave things where they are.
func stepLines(in *Report) []string {
	r, s := in.Result, in.Style
	var lines []string
	if stays(in) {
		return nil
	}
	for _, step := range r.Steps {
		line := fmt.Sprintf("%s: %s to %s", text.StepOf(text.FurnitureName(in.Project), step.From, step.To, s), unit.DecibelsOnly(step.Before), unit.Spread(step.After))
		if step.Breaks {
			line += " (a rule of the room file is still broken)"
		}
		lines = append(lines, line)
	}
	if n := len(r.Steps); n > 0 && differ(r.Steps[n-1].To, r.Candidates[0].Layout) {
		lines = append(lines, "you may stop here: "+restText(r.Steps[n-1].After, r.Candidates[0].Judgement.Spread()))
	}
	return lines
}

// differ reports whether two layouts are different places by a tape.
func differ(a, b model.Layout) bool {
	return text.Apart(a.Left, b.Left) || text.Apart(a.Right, b.Right) || text.Apart(a.Seat, b.Seat)
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
	return fmt.Sprintf("%s: %s", text.StepOf(text.FurnitureName(in.Project), step.From, step.To, in.Style), unit.Spread(step.After))
}

// stays reports whether the verdict is to leave things where they are.
func stays(in *Report) bool {
	now := in.Result.Now
	return now != nil && len(now.Breaches) == 0 && !worthMoving(in)
}

// restText says what is left to gain on the way to the first layout, which the drawings show.
func restText(reached, drawn model.Level) string {
	if reached-drawn < 0.05 {
		return fmt.Sprintf("layout 1, as drawn, is as good (%s) and was chosen to stay so with marks slightly off", unit.Spread(drawn))
	}
	return fmt.Sprintf("layout 1, as drawn, takes %s to %s", unit.DecibelsOnly(reached), unit.Spread(drawn))
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
