package text

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/report/unit"
)

// mostGrave is how many caveats a short text or a first screen spells out.
const mostGrave = 2

// WriteMore ends a short text: the caveats that may change the answer, which engine predicted it, how many
// caveats there are in all, and how to see the rest.
func WriteMore(b *strings.Builder, kind model.EngineKind, warnings []model.Warning, rest string, s unit.Style) {
	b.WriteString("\n")
	for _, line := range Caveats(warnings, s) {
		b.WriteString(Wrap(line, Columns, "  ") + "\n")
	}
	words := fmt.Sprintf("Predicted by the %s engine. %s, %s", kind, Sentence(Count(len(warnings), "caveat")), rest)
	b.WriteString(Wrap(words, Columns, "") + "\n")
}

// Caveats returns the first caveats that may change the answer, a sentence each, for a short text and the
// first screen of a page.
func Caveats(warnings []model.Warning, s unit.Style) []string {
	var lines []string
	for _, w := range warnings {
		if len(lines) < mostGrave && grave(w) {
			lines = append(lines, "Caveat: "+Printable(WarningText(w, s))+".")
		}
	}
	return lines
}

// Pressing returns the caveats about the room file itself and those that may change the answer.
func Pressing(warnings []model.Warning) []model.Warning {
	var list []model.Warning
	for _, w := range warnings {
		if roomWarning(w, unit.Metric) != "" || grave(w) {
			list = append(list, w)
		}
	}
	return list
}

// grave reports whether a caveat may change the answer: something was left out, the goal asks too
// much of the speakers, or is doubtful at all frequencies.
func grave(w model.Warning) bool {
	switch w := w.(type) {
	case model.About:
		return grave(w.Warning)
	case model.Simplified:
		switch w.How {
		case model.BlocksOmitted, model.FreeOmitted, model.OmittedOnGrid, model.ImpedanceAcausal, model.WallsUnset:
			return true
		}
	case model.GoalBelowLimit, model.ZonePastWall, model.OpeningCovered, model.AbsorbsTooMuch, model.LayerThick, model.FilmThick, model.WoolThick, model.BuildUpDeep,
		model.FurnitureDeep, model.FilmAtWall, model.RunStopped, model.PlansCut, model.NotLocal, model.ImagesYield:
		return true
	}
	return false
}
