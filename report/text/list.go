package text

import (
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/report/unit"
)

// WriteList writes a heading and one line for each item; nothing for no items.
func WriteList(b *strings.Builder, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	b.WriteString("\n" + heading + "\n")
	for _, line := range lines {
		b.WriteString("- " + Wrap(Printable(line), Columns-2, "  ") + "\n")
	}
}

func WriteWarnings(b *strings.Builder, warnings []model.Warning) {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, string(w))
	}
	WriteList(b, "Keep in mind", lines)
}

// WriteTable writes a table under its caption.
func WriteTable(b *strings.Builder, t Table) {
	b.WriteString("\n" + Wrap(t.Caption, Columns, "") + "\n" + t.Text())
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

// presentBreach begins the warnings of a project about rules that the present places break.
const presentBreach = "as things stand, "

// Unlisted leaves out the rules that the present places break, where they have a list of
// their own.
func Unlisted(warnings []model.Warning) []model.Warning {
	return slices.DeleteFunc(slices.Clone(warnings), func(w model.Warning) bool { return strings.HasPrefix(string(w), presentBreach) })
}

// WarningSentences writes warnings as sentences.
func WarningSentences(warnings []model.Warning) []string {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, Sentence(string(w))+".")
	}
	return lines
}

// WarningsInUnits returns warnings with the rules that the present places break in the
// reader's units; the project words them in centimetres.
func WarningsInUnits(p *model.Project, s unit.Style, warnings []model.Warning) []model.Warning {
	list := Unlisted(warnings)
	if len(list) == len(warnings) {
		return list
	}
	for _, line := range PresentBreaches(p, s) {
		list = append(list, model.Warning(presentBreach+line))
	}
	return list
}
