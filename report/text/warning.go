package text

import (
	"fmt"
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
	}
	for _, words := range []func(model.Warning, unit.Style) string{roomWarning, materialWarning, engineWarning, simplified, recordingWarning, searchWarning} {
		if text := words(w, s); text != "" {
			return text
		}
	}
	panic(fmt.Sprintf("text: a warning without words: %T", w))
}

// roomWarning puts a warning about the room file into words, or returns "".
func roomWarning(w model.Warning, s unit.Style) string {
	switch w := w.(type) {
	case model.FittedRoom:
		return model.Sprintf("walls and size are fitted to measurements at %s: %s. The figures are predicted from them, not measured; the wave solver keeps the sizes by tape",
			seats(w.Seats), w.From)
	case model.GoalBelowLimit:
		instead := fmt.Sprintf("begin the goal at %g Hz (goal.from) or add a subwoofer", w.Limit)
		if w.Helped {
			instead = fmt.Sprintf("begin the goal at %g Hz (goal.from), or see what the subwoofers add", w.Limit)
		}
		return fmt.Sprintf("the goal begins at %g Hz, where the speakers are %.0f dB down (low_limit %g Hz, %v). The spread contains that: %s",
			w.From, float64(w.Down), w.Limit, w.Alignment, instead)
	case model.GoalFromLimit:
		return fmt.Sprintf("bass is judged from %g Hz up, the speakers' low_limit; set goal.from to begin elsewhere", w.From)
	case model.AbsorbsTooMuch:
		return model.Sprintf("%s absorbs %.2f at %g Hz, but a locally reacting surface absorbs at most %.2f at random incidence",
			w.Surface, w.Coefficient, w.Frequency, w.Most)
	case model.ConstructionMisplaced:
		return model.Sprintf("%s is given as %q, a construction for a %s", w.Surface, w.Construction, w.Serves)
	case model.LayerThick:
		return fmt.Sprintf("%s has a layer %s thick; check its unit", w.Name, s.Length(w.Thickness))
	case model.OpeningCovered:
		return fmt.Sprintf("%s covers %s of a %s in the %s, which must stay usable", w.Name, s.SmallArea(w.Area), w.Opening, w.Wall)
	case model.ZonePastWall:
		return fmt.Sprintf("%s reaches %s past the %s, and only what is inside the room counts; let it end at %s, or check its unit",
			w.Path, s.Length(w.By), w.Wall, s.Length(w.End))
	case model.FurnitureInert:
		return "these do nothing below 300 Hz and are not computed: " + w.Names
	case model.FurnitureAssumed:
		return "their filling is assumed, so they may absorb half or twice as much: " + w.Names
	case model.FurnitureStays:
		return model.Sprintf("%s (%s) stays where it is in every prediction, though the seat on it may move (seats[0].may_move); once you have moved it, change both in the room file and predict again", w.Name, w.Path)
	case model.FurnitureDeep:
		if w.Kind == model.Curtain {
			return fmt.Sprintf("%s reaches %s from the wall: farther than %s a curtain absorbs below 300 Hz too, which is not computed; over a whole wall, call the wall heavy curtain",
				w.Name, s.Tape(w.Depth), s.Tape(w.Most))
		}
		return fmt.Sprintf("%s is %s deep: deeper than %s a %v acts below 300 Hz too, which is not computed", w.Name, s.Tape(w.Depth), s.Tape(w.Most), w.Kind)
	case model.TreatmentBlocked:
		return model.Sprintf("treatment %q cannot be built as written: it %s", w.Treatment, ObstructionText(w.Obstruction, s))
	}
	return ""
}

// seats counts seats.
func seats(n int) string {
	if n <= 1 {
		return "one seat"
	}
	return fmt.Sprintf("%d seats", n)
}

// materialWarning puts a warning about layers and tables into words, or returns "".
func materialWarning(w model.Warning, s unit.Style) string {
	switch w := w.(type) {
	case model.FilmThick:
		return s.Thickness(w.Thickness) + " is thick for a limp film: is it a panel, or is the unit wrong?"
	case model.WoolThick:
		return s.Length(w.Thickness) + " of wool in one layer is more than a room can spare: is the thickness right?"
	case model.BuildUpDeep:
		return fmt.Sprintf("the build-up is %s deep: is a thickness in the wrong unit?", s.Length(w.Depth))
	case model.LayerIdle:
		return w.Name + " lies on the wall with nothing behind it, so it does nothing"
	case model.DensityAssumed:
		return fmt.Sprintf("density not given, about %.0f kg/m³ assumed as for %s", w.Density, w.Material)
	case model.TableBegins:
		return fmt.Sprintf("the absorption table begins at %g Hz; below that the first value is used", w.Frequency)
	case model.TableEnds:
		return fmt.Sprintf("the absorption table ends at %g Hz; above that the last value is used", w.Frequency)
	case model.CoefficientCut:
		return fmt.Sprintf("absorption %g at %g Hz is more than a locally reacting wall can have at random incidence; %.2f is used", w.Coefficient, w.Frequency, w.Most)
	case model.BackingRange:
		return fmt.Sprintf("the absorption of the wall behind is known from %g to %g Hz; above, its last value is used", w.From, w.To)
	case model.MikiBegins:
		return fmt.Sprintf("Miki's data for %.4g Pa·s/m² begin at %.0f Hz; below that the law is extrapolated", w.Resistivity, w.From)
	case model.DelanyBazleyRange:
		return fmt.Sprintf("Delany-Bazley holds for %.4g Pa·s/m² from %.0f to %.0f Hz; Miki is used outside that range", w.Resistivity, w.From, w.To)
	}
	return ""
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
