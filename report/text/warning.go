package text

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/report/unit"
)

// WarningText puts a warning into words in the reader's units: one sentence, lower case, without full
// stop.
func WarningText(w model.Warning, s unit.Style) string {
	switch w := w.(type) {
	case model.Remark:
		return string(w)
	case model.About:
		return w.Name + ": " + WarningText(w.Warning, s)
	case model.LayerThick:
		return fmt.Sprintf("%s has a layer %s thick; check its unit", w.Name, s.Length(w.Thickness))
	case model.FilmThick:
		return s.Thickness(w.Thickness) + " is thick for a limp film: is it a panel, or is the unit wrong?"
	case model.WoolThick:
		return s.Length(w.Thickness) + " of wool in one layer is more than a room can spare: is the thickness right?"
	case model.BuildUpDeep:
		return fmt.Sprintf("the build-up is %s deep: is a thickness in the wrong unit?", s.Length(w.Depth))
	case model.OpeningCovered:
		return fmt.Sprintf("%s covers %s of a %s in the %s, which must stay usable", w.Name, s.SmallArea(w.Area), w.Opening, w.Wall)
	case model.TapeOff:
		return fmt.Sprintf("by its sound the right speaker is %s farther than the left one, by the room file %s", s.Length(w.Sound), s.Length(w.Taped))
	}
	return engineWarningText(w, s)
}

// engineWarningText is WarningText for what an engine leaves out or gets wrong.
func engineWarningText(w model.Warning, s unit.Style) string {
	switch w := w.(type) {
	case model.ImageSumEnds:
		return fmt.Sprintf("the sum over mirror images ends at a path of %s, where the energy still to come is %.0f dB of the whole instead of %.0f dB, so sharp resonances come out too low",
			s.Length(w.Length), float64(w.Remaining), float64(w.Wanted))
	case model.CellsUsed:
		return fmt.Sprintf("the figures come from cells of %s. A search first tries layouts on cells of %s, then moves the best of them "+
			"on the finer ones. What hard walls, soft walls or a missing wall change is a difference between runs on coarse cells", s.Tape(w.Fine), s.Tape(w.Coarse))
	case model.AbsorptionOff:
		word := "high"
		if w.Off < 0 {
			word = "low"
		}
		return fmt.Sprintf("%s: on cells of %s its absorption is up to %.2f too %s, most near %.0f Hz; treat its effect there as approximate",
			w.Name, s.Thickness(w.Cell), math.Abs(w.Off), word, w.Near)
	case model.ThinForCells:
		return fmt.Sprintf("%s is thinner than a cell of %s: near %.0f Hz its absorption may be 0.05 off, or more if it is dense", w.Name, s.Thickness(w.Cell), w.Near)
	case model.DenseForCells:
		return fmt.Sprintf("%s is too dense for cells of %s above %.0f Hz; its absorption there is some hundredths too high", w.Name, s.Thickness(w.Cell), w.Above)
	}
	panic(fmt.Sprintf("text: a warning without words: %T", w))
}

// WarningTexts puts warnings into words.
func WarningTexts(warnings []model.Warning, s unit.Style) []string {
	lines := make([]string, len(warnings))
	for i, w := range warnings {
		lines[i] = WarningText(w, s)
	}
	return lines
}

// WarningSentences writes warnings as whole sentences.
func WarningSentences(warnings []model.Warning, s unit.Style) []string {
	lines := WarningTexts(warnings, s)
	for i, line := range lines {
		lines[i] = Sentence(line) + "."
	}
	return lines
}

// WriteWarnings writes warnings under a heading.
func WriteWarnings(b *strings.Builder, warnings []model.Warning, s unit.Style) {
	WriteList(b, "Keep in mind", WarningTexts(warnings, s))
}

// UniqueWarnings joins lists of warnings and drops repetitions.
func UniqueWarnings(lists ...[]model.Warning) []model.Warning {
	var all []model.Warning
	seen := map[model.Warning]bool{}
	for _, list := range lists {
		for _, w := range list {
			if !seen[w] {
				seen[w] = true
				all = append(all, w)
			}
		}
	}
	return all
}
