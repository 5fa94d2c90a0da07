package format

import (
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
)

// magic is the first line of our own form.
const magic = "evenbass measurement 1"

// longestValue is the longest text of a key, in bytes. Written with escapes it still fits a line.
const longestValue = longestLine / 8

// native reads our own form.
type native struct {
	name  string
	lines []string
	at    int // the line that is read, from 0
	m     measure.Measurement
}

// readNative reads a measurement in our own form.
func readNative(name string, lines []string) (*measure.Measurement, error) {
	n := &native{name: name, lines: lines, at: 1}
	seen := map[string]bool{}
	for ; n.at < len(lines); n.at++ {
		line := strings.TrimSpace(lines[n.at])
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		if line == "end" {
			if rest := strings.TrimSpace(strings.Join(lines[n.at+1:], "")); rest != "" {
				return nil, fault(name, n.at+2, "there is more after the end")
			}
			if err := n.m.Check(); err != nil {
				return nil, fault(name, 0, "%v", err)
			}
			return &n.m, nil
		}
		key, value, ok := strings.Cut(line, ":")
		if !ok {
			return nil, n.fault("expected a key and a colon, found %q", short(line))
		}
		key, value = strings.TrimSpace(key), strings.TrimSpace(value)
		if seen[key] && key != "state" && key != "note" {
			return nil, n.fault("%s stands here again", short(key))
		}
		seen[key] = true
		if err := n.key(key, value); err != nil {
			return nil, err
		}
	}
	return nil, fault(name, 0, `the line "end" is missing; the file was cut off`)
}

func (n *native) fault(form string, args ...any) error { return fault(n.name, n.at+1, form, args...) }

// short returns a text cut to what fits in a message.
func short(s string) string {
	if r := []rune(s); len(r) > 40 {
		return string(r[:39]) + "…"
	}
	return s
}

// key reads the value of one key.
func (n *native) key(key, value string) (err error) {
	m := &n.m
	switch key {
	case "name":
		m.Name, err = n.text(value)
	case "seat":
		m.Seat, err = n.text(value)
	case "date":
		m.Date, err = n.text(value)
	case "note":
		var note string
		note, err = n.text(value)
		m.Notes = append(m.Notes, note)
	case "state":
		err = n.state(value)
	case "speaker":
		err = n.speaker(value)
	case "at":
		var v []float64
		if v, err = n.numbers(value, 3); err == nil {
			m.At, m.Placed = r3.Vec{X: v[0], Y: v[1], Z: v[2]}, true
		}
	case "temperature":
		var v []float64
		if v, err = n.numbers(value, 1); err == nil {
			if m.Temperature = v[0]; !(v[0] > 200 && v[0] < 350) {
				return n.fault("a temperature of %g K", v[0])
			}
		}
	case "band":
		var v []float64
		if v, err = n.numbers(value, 2); err == nil {
			if m.Band = (model.Range{Min: v[0], Max: v[1]}); !(v[0] > 0 && v[1] > v[0]) {
				return n.fault("a band from %g to %g Hz", v[0], v[1])
			}
		}
	case "unknown":
		err = n.unknown(value)
	case "impulse":
		m.Impulse, err = n.impulse(value)
	case "table":
		m.Table, err = n.table(value)
	case "noise":
		m.Noise, err = n.table(value)
	default:
		err = n.fault("unknown key %q", short(key))
	}
	return err
}

// text reads a text, which is in quotes if it has odd characters.
func (n *native) text(value string) (string, error) {
	if len(value) > longestValue {
		return "", n.fault("the text is longer than %d bytes", longestValue)
	}
	if !strings.HasPrefix(value, `"`) {
		return value, nil
	}
	s, err := strconv.Unquote(value)
	if err != nil {
		return "", n.fault("the quotes do not fit: %s", short(value))
	}
	return s, nil
}

// state reads the name of a treatment that stood.
func (n *native) state(value string) error {
	n.m.StateKnown = true
	if value == "bare" {
		return nil
	}
	s, err := n.text(value)
	n.m.State = append(n.m.State, s)
	return err
}

func (n *native) speaker(value string) error {
	for _, s := range model.Sources {
		if s.String() == value {
			n.m.Speaker = s
			return nil
		}
	}
	return n.fault("speaker is left, right, both or sub, not %q", short(value))
}

func (n *native) unknown(value string) error {
	for word := range strings.SplitSeq(value, ",") {
		d, ok := measure.ParseDoubt(strings.TrimSpace(word))
		if !ok {
			return n.fault("%q is not among the things that may be unknown", short(strings.TrimSpace(word)))
		}
		n.m.Unsure |= d
	}
	return nil
}

// numbers reads so many numbers.
func (n *native) numbers(value string, count int) ([]float64, error) {
	fields := strings.Fields(value)
	if len(fields) != count {
		return nil, n.fault("found %d numbers, expected %d", len(fields), count)
	}
	list := make([]float64, count)
	for i, f := range fields {
		v, ok := parseNumber(f)
		if !ok {
			return nil, n.fault("%q is no number", short(f))
		}
		list[i] = v
	}
	return list, nil
}

// impulse reads the samples that stand below "4 samples at 2000 Hz, zero at 1.25, timed".
func (n *native) impulse(value string) (*measure.Impulse, error) {
	im := &measure.Impulse{}
	value, im.Timed = strings.CutSuffix(value, ", timed")
	parts := strings.FieldsFunc(value, func(r rune) bool { return r == ' ' || r == ',' })
	if len(parts) != 8 || parts[1] != "samples" || parts[2] != "at" || parts[4] != "Hz" || parts[5] != "zero" || parts[6] != "at" {
		return nil, n.fault(`expected "impulse: 4 samples at 2000 Hz, zero at 1.25"`)
	}
	count, err := n.count(parts[0])
	if err != nil {
		return nil, err
	}
	v, err := n.numbers(parts[3]+" "+parts[7], 2)
	if err != nil {
		return nil, err
	}
	im.Rate, im.Zero = v[0], v[1]
	im.Samples = make([]float64, 0, count)
	for range count {
		n.at++
		v, err := n.numbers(n.lines[n.at], 1)
		if err != nil {
			return nil, err
		}
		im.Samples = append(im.Samples, v[0])
	}
	return im, nil
}

// table reads the rows that stand below "2 rows, smoothed to 1/12 octave".
func (n *native) table(value string) (*measure.Table, error) {
	t := &measure.Table{}
	value, smoothing, smoothed := strings.Cut(value, ", smoothed to 1/")
	if smoothed {
		b, err := strconv.Atoi(strings.TrimSuffix(smoothing, " octave"))
		if err != nil || b < 1 || b > 1000 {
			return nil, n.fault("no smoothing: %q", short(smoothing))
		}
		t.Smoothing = b
	}
	rows, ok := strings.CutSuffix(value, " rows")
	if !ok {
		return nil, n.fault(`expected a number of rows, such as "12 rows"`)
	}
	count, err := n.count(rows)
	if err != nil {
		return nil, err
	}
	for i := range count {
		n.at++
		columns := 2
		if i == 0 && len(strings.Fields(n.lines[n.at])) == 3 {
			columns, t.Phases = 3, []float64{}
		} else if t.Phases != nil {
			columns = 3
		}
		v, err := n.numbers(n.lines[n.at], columns)
		if err != nil {
			return nil, err
		}
		t.Frequencies, t.Levels = append(t.Frequencies, v[0]), append(t.Levels, model.Level(v[1]))
		if columns == 3 {
			t.Phases = append(t.Phases, v[2])
		}
	}
	return t, nil
}

// count reads how many lines follow, and checks that they are there.
func (n *native) count(word string) (int, error) {
	count, err := strconv.Atoi(word)
	if err != nil || count < 0 || count > mostRows {
		return 0, n.fault("%q is no number of lines", short(word))
	}
	if left := len(n.lines) - n.at - 1; count > left {
		return 0, n.fault("%d lines are said to follow, %d do; the file was cut off", count, left)
	}
	return count, nil
}
