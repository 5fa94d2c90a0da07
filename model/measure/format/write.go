package format

import (
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"

	"evenbass/model/measure"
)

// Write writes a measurement in our own form. It fails for one that [measure.Measurement.Check]
// refuses.
func Write(w io.Writer, m *measure.Measurement) error {
	if err := m.Check(); err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString(magic + "\n")
	for _, t := range []struct{ key, value string }{{"name", m.Name}, {"seat", m.Seat}, {"date", m.Date}} {
		if t.value != "" {
			fmt.Fprintf(&b, "%s: %s\n", t.key, quoted(t.value))
		}
	}
	if m.Speaker != 0 {
		fmt.Fprintf(&b, "speaker: %v\n", m.Speaker)
	}
	if m.Placed {
		fmt.Fprintf(&b, "at: %v %v %v\n", m.At.X, m.At.Y, m.At.Z)
	}
	if m.StateKnown && len(m.State) == 0 {
		b.WriteString("state: bare\n")
	}
	for _, s := range m.State {
		fmt.Fprintf(&b, "state: %s\n", quoted(s))
	}
	if m.Temperature != 0 {
		fmt.Fprintf(&b, "temperature: %v\n", m.Temperature)
	}
	if m.Band.Given() {
		fmt.Fprintf(&b, "band: %v %v\n", m.Band.Min, m.Band.Max)
	}
	for _, s := range m.Notes {
		fmt.Fprintf(&b, "note: %s\n", quoted(s))
	}
	if m.Unsure != 0 {
		fmt.Fprintf(&b, "unknown: %v\n", m.Unsure)
	}
	writeData(&b, m)
	b.WriteString("end\n")
	_, err := io.WriteString(w, b.String())
	return err
}

// writeData writes the response and the noise.
func writeData(b *strings.Builder, m *measure.Measurement) {
	if im := m.Impulse; im != nil {
		fmt.Fprintf(b, "impulse: %d samples at %v Hz, zero at %v", len(im.Samples), im.Rate, im.Zero)
		if im.Timed {
			b.WriteString(", timed")
		}
		b.WriteByte('\n')
		for _, v := range im.Samples {
			fmt.Fprintln(b, v)
		}
	}
	writeTable(b, "table", m.Table)
	writeTable(b, "noise", m.Noise)
}

func writeTable(b *strings.Builder, key string, t *measure.Table) {
	if t == nil {
		return
	}
	fmt.Fprintf(b, "%s: %d rows", key, len(t.Frequencies))
	if t.Smoothing > 0 {
		fmt.Fprintf(b, ", smoothed to 1/%d octave", t.Smoothing)
	}
	b.WriteByte('\n')
	for i, f := range t.Frequencies {
		fmt.Fprintf(b, "%v %v", f, float64(t.Levels[i]))
		if t.Phases != nil {
			fmt.Fprintf(b, " %v", t.Phases[i])
		}
		b.WriteByte('\n')
	}
}

// quoted returns a text as it is, or in quotes if it would not read back.
func quoted(s string) string {
	odd := func(r rune) bool { return !unicode.IsPrint(r) || r == '\ufffd' || r == '\ufeff' }
	if s == "" || s == "bare" || s[0] == '"' || strings.TrimSpace(s) != s || strings.ContainsFunc(s, odd) {
		return strconv.Quote(s)
	}
	return s
}
