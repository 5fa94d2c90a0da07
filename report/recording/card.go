package recording

import (
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/text"
)

// cardGroup is how many measurements stand side by side.
const cardGroup = 3

// writeCards writes the figures of each measurement, by the recipe of predictions.
func (r Report) writeCards(b *strings.Builder) {
	for first, end := 0, 0; first < len(r.Measurements); first = end {
		for end = first + 1; end < min(first+cardGroup, len(r.Measurements)) && r.alike(first, end); end++ {
		}
		r.writeGroup(b, first, end)
	}
}

// InventedAll reports whether nobody made any of the measurements.
func InventedAll(all ...*measure.Measurement) bool {
	return !slices.ContainsFunc(all, func(m *measure.Measurement) bool { return !m.Invented() })
}

// alike reports whether two measurements were made at one seat and cover the same of the goal.
func (r Report) alike(i, k int) bool {
	return r.Measurements[i].Seat == r.Measurements[k].Seat && r.Cards[i].Goal == r.Cards[k].Goal
}

// writeGroup writes the figures of some measurements.
func (r Report) writeGroup(b *strings.Builder, first, end int) {
	verb := "Measured"
	if InventedAll(r.Measurements[first:end]...) {
		verb = "Invented, not measured,"
	}
	goal := r.Cards[first].Goal
	caption := fmt.Sprintf("%s at %s (%v)", verb, text.OrElse(text.Printable(r.Measurements[first].Seat), "the seat"), goal)
	if goal != r.Goal {
		caption += fmt.Sprintf("; the data do not cover the whole goal, %v", r.Goal)
	}
	var states []card.State
	for i := first; i < end; i++ {
		states = append(states, card.State{Name: r.Name(i), Card: response.Ranged{Card: r.Cards[i]}})
	}
	t := card.Table(states, false, r.Style)
	t.Caption = caption + "."
	text.WriteTable(b, t)
}

// Name returns what a measurement is called.
func (r Report) Name(i int) string {
	switch name := r.Measurements[i].Name; {
	case r.Invented:
		return text.Printable(strings.TrimSuffix(name, " (invented)"))
	case r.Positions != nil && i == len(r.Sources):
		return "average"
	case len(r.Sources) > 1:
		file := filepath.Base(r.Sources[i])
		return text.Printable(strings.TrimSuffix(file, filepath.Ext(file)))
	}
	return r.Measurements[i].Speaker.String()
}

// Names returns what the measurements are called; nil where each speaker was measured once, all at one seat, so that
// the speakers' names do.
func (r Report) Names() []string {
	told := map[model.Source]bool{}
	once := true
	var names []string
	for i, m := range r.Measurements {
		once = once && !told[m.Speaker] && m.Seat == r.Measurements[0].Seat
		told[m.Speaker], names = true, append(names, r.Name(i))
	}
	if once {
		return nil
	}
	return names
}

// writeEntries writes what to put into the room file, or what it has now.
func (r Report) writeEntries(b *strings.Builder) {
	if len(r.Files) == 0 {
		return
	}
	head := "To keep it with the room, write into the room file:"
	if r.NamedIn != "" {
		head = "Saved beside " + text.Printable(r.NamedIn) + ", which names it now:"
	}
	fmt.Fprintf(b, "\n%s\n\nmeasurements:\n", head)
	saved := r.Measurements[len(r.Measurements)-len(r.Files):] // of an average, the last alone
	for i, m := range saved {
		fmt.Fprintf(b, "  - {%s}\n", strings.Join(entry(r.Files[i], m), ", "))
	}
}

// entry returns the keys of a measurement in a room file.
func entry(file string, m *measure.Measurement) []string {
	keys := []string{"file: " + yaml(file)}
	if m.Name != "" {
		keys = []string{"name: " + yaml(m.Name), keys[0]}
	}
	if m.Seat != "" {
		keys = append(keys, "seat: "+yaml(m.Seat))
	}
	keys = append(keys, "speaker: "+m.Speaker.String())
	if m.Date != "" {
		keys = append(keys, "date: "+yaml(m.Date))
	}
	switch {
	case m.StateKnown && len(m.State) == 0:
		keys = append(keys, "state: bare")
	case m.StateKnown:
		var names []string
		for _, s := range m.State {
			names = append(names, yaml(s))
		}
		keys = append(keys, "state: ["+strings.Join(names, ", ")+"]")
	}
	return keys
}

// yaml returns a text as a value of the room file, in quotes unless it is plain.
func yaml(s string) string {
	plain := func(r rune) bool {
		return r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || strings.ContainsRune(" ./_-", r)
	}
	s = text.Printable(s)
	letter := s != "" && (s[0] >= 'a' && s[0] <= 'z' || s[0] >= 'A' && s[0] <= 'Z')
	switch strings.ToLower(s) {
	case "true", "false", "null", "yes", "no", "on", "off":
		letter = false
	}
	if letter && strings.TrimSpace(s) == s && strings.IndexFunc(s, func(r rune) bool { return !plain(r) }) < 0 {
		return s
	}
	return "'" + strings.ReplaceAll(s, "'", "''") + "'"
}
