package roomfile

import (
	"bytes"
	"errors"
	"evenbass/model/roomfile/quantity"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Whatever the bytes: no panic; a refusal has places; what is taken is valid and
// reads back the same after being written.
func FuzzRead(f *testing.F) {
	f.Add([]byte(valid))
	for _, pattern := range []string{filepath.Join("..", "..", "testdata", "room", "*.yaml"), filepath.Join("testdata", "bad", "*.yaml")} {
		paths, err := filepath.Glob(pattern)
		if err != nil || len(paths) == 0 {
			f.Fatalf("no seeds in %s: %v", pattern, err)
		}
		for _, p := range paths {
			data, err := os.ReadFile(p)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Read(bytes.NewReader(data), "fuzz")
		if err != nil {
			var e *Error
			if !errors.As(err, &e) || p != nil || len(e.Faults) == 0 || len(e.Faults) > maxFaults {
				t.Fatalf("refused with project %v and error %v", p, err)
			}
			checkPlaces(t, e, bytes.Count(data, []byte("\n"))+1)
			return
		}
		if problems := p.Validate(); problems != nil {
			t.Fatalf("took a file with problems: %v", problems)
		}
		text := written(t, p)
		back, err := Read(strings.NewReader(text), "written")
		if err != nil || !same(p, back) {
			t.Fatalf("reads back as %+v, %v, was %+v, from\n%s", back, err, p, text)
		}
	})
}

// checkPlaces reports faults without a place in a file of so many lines.
func checkPlaces(t *testing.T, e *Error, lines int) {
	t.Helper()
	for _, f := range e.Faults {
		if f.Line < 1 || f.Line > lines+1 || f.Column < 1 || f.What == "" || f.Caret < 1 || f.Caret > len(f.Excerpt)+1 {
			t.Errorf("no place in a file of %d lines: %+v", lines, f)
		}
	}
	if e.Error() == "" {
		t.Error("an error without a text")
	}
}

// Each reader of a quantity takes any text without panic, and what it takes reads
// back to the last bit in the way it is written.
func FuzzQuantity(f *testing.F) {
	for _, text := range []string{
		"3.4 m", `11'2 1/2"`, "62 °F", "60°", "300 Hz", "35 ms", "12 %", "1/12 octave", "0.9 m to 2.0 m", "60 - 20j",
		"4,7 m", "NaN m", "1e999 m", "film 4 mil", "wool 200 mm 6 kPa·s/m² limp", "", "½ in", "any", " ",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		roundTrip(t, text, lengthValue)
		roundTrip(t, text, temperatureValue)
		roundTrip(t, text, frequencyValue)
		roundTrip(t, text, shareValue)
		roundTrip(t, text, smoothingValue)
		roundTrip(t, text, impedanceValue)
		roundTrip(t, text, lengthRange)
		roundTrip(t, text, angleRange)
		roundTrip(t, text, layerCodec(nil))
		if _, err := quantity.ParseTime(text); err == nil {
			roundTrip(t, text, codec[float64]{quantity.ParseTime, func(v float64) string { return quantity.Times.Format(v, "ms") }})
		}
	})
}

func roundTrip[T comparable](t *testing.T, text string, c codec[T]) {
	t.Helper()
	v, err := c.parse(text)
	if err != nil {
		var m *quantity.Mistake
		if !errors.As(err, &m) || m.What == "" {
			t.Fatalf("%q: the error says nothing: %v", text, err)
		}
		return
	}
	if back, err := c.parse(c.format(v)); err != nil || back != v {
		t.Fatalf("%q is %v, written %q, reads %v, %v", text, v, c.format(v), back, err)
	}
}
