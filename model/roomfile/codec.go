package roomfile

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// The codecs of single values: each reads what its format writes.
var (
	lengthValue      = codec[float64]{quantity.ParseLength, func(v float64) string { return quantity.Lengths.Format(v) }}
	temperatureValue = codec[float64]{quantity.ParseTemperature, func(v float64) string { return quantity.Temperatures.Format(v, "°C", "°F") }}
	frequencyValue   = codec[float64]{quantity.ParseFrequency, func(v float64) string { return quantity.Frequencies.Format(v) }}
	shareValue       = codec[float64]{quantity.ParseShare, func(v float64) string { return quantity.Ratios.Format(v) }}
	weightValue      = codec[float64]{parseWeight, quantity.Decimal}
	smoothingValue   = codec[int]{quantity.ParseSmoothing, func(n int) string { return fmt.Sprintf("1/%d octave", n) }}
	impedanceValue   = codec[complex128]{ParseImpedance, FormatImpedance}
	nameValue        = codec[string]{phrase.Name, func(s string) string { return s }}
	noteValue        = codec[string]{parseNote, func(s string) string { return s }}

	lengthRange = codec[model.Range]{
		func(s string) (model.Range, error) { return quantity.ParseRange(s, quantity.ParseLength) },
		func(r model.Range) string { return formatRange(r, lengthValue.format) },
	}
	angleRange = codec[model.Range]{
		func(s string) (model.Range, error) { return quantity.ParseRange(s, quantity.ParseAngle) },
		func(r model.Range) string {
			return formatRange(r, func(v float64) string { return quantity.Angles.Format(v, "°") })
		},
	}
)

// oneOf is the codec of a word out of a few.
func oneOf(words ...string) codec[string] {
	return codec[string]{
		func(s string) (string, error) {
			for _, w := range words {
				if s == w {
					return w, nil
				}
			}
			return "", &quantity.Mistake{What: model.Sprintf("%q is not one of %s", s, strings.Join(words, ", ")), Right: quantity.Suggestion(s, words)}
		},
		func(s string) string { return s },
	}
}

// face is the codec of the name of a wall.
var face = codec[model.Face]{phrase.Face, model.Face.String}

// layeredWall is the codec of the name of a wall that can carry layers: one of the six, none of the outline.
func layeredWall(r *model.Room) codec[model.Face] {
	parse := func(s string) (model.Face, error) {
		if s != "" && slices.ContainsFunc(r.Edges, func(e model.Edge) bool { return e.Name == s }) {
			return 0, &quantity.Mistake{What: model.Sprintf("layers cannot hang on %q, a wall of the outline", s),
				Right: "stand a panel in front of it: form: panel, with from and to"}
		}
		return phrase.Face(s)
	}
	return codec[model.Face]{parse, model.Face.String}
}

// parseNote reads a paragraph.
func parseNote(s string) (string, error) { return phrase.Line(s, "note", maxNote) }

// maxNote is the longest note in characters.
const maxNote = 2000

// parseWeight reads a number without a unit.
func parseWeight(s string) (float64, error) {
	v, err := strconv.ParseFloat(s, 64)
	switch {
	case quantity.CommaNumber.MatchString(s):
		return 0, quantity.CommaMistake(s, s, quantity.CommaNumber.FindString(s))
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return 0, &quantity.Mistake{What: model.Sprintf("%q is not a plain number", s), Right: "write a number without unit, such as 0.25"}
	}
	return v, nil
}

// formatRange writes a range as ParseRange reads it.
func formatRange(r model.Range, format func(float64) string) string {
	if !r.Given() {
		return "any"
	}
	low, high := format(r.Min), format(r.Max)
	if low == high {
		return low
	}
	return low + " to " + high
}

const plainNumber = `\d+\.?\d*(?:e[-+]?\d+)?|\.\d+`

var impedanceText = regexp.MustCompile(`^([-+]?(?:` + plainNumber + `))? ?(?:([-+]) ?)?(?:(` + plainNumber + `) ?[ji]|[ji](` + plainNumber + `))?$`)

// ParseImpedance reads a specific impedance ζ = Z/(ρc) such as 60, 60 - 20j or
// 0.5+3j. The error is a [*quantity.Mistake].
func ParseImpedance(text string) (complex128, error) {
	wrong := &quantity.Mistake{What: model.Sprintf("%q is not a specific impedance", text), Right: "write it as 60 or 60 - 20j"}
	m := impedanceText.FindStringSubmatch(quantity.Tidy(text))
	if m == nil || m[1] == "" || m[2] == "" != (m[3]+m[4] == "") {
		return 0, wrong
	}
	re, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		return 0, wrong
	}
	if m[2] == "" {
		return complex(re, 0), nil
	}
	im, err := strconv.ParseFloat(m[2]+m[3]+m[4], 64)
	if err != nil {
		return 0, wrong
	}
	return complex(re, im), nil
}

// FormatImpedance writes a specific impedance as [ParseImpedance] reads it: 60 - 20j.
func FormatImpedance(z complex128) string {
	switch {
	case imag(z) == 0:
		return quantity.Decimal(real(z))
	case imag(z) < 0:
		return quantity.Decimal(real(z)) + " - " + quantity.Decimal(-imag(z)) + "j"
	}
	return quantity.Decimal(real(z)) + " + " + quantity.Decimal(imag(z)) + "j"
}

// onPlan and inRoom say how to write a place.
const (
	onPlan = "write [from the front wall, from the left wall] with decimal points"
	inRoom = "write [from the front wall, from the left wall, above the floor] with decimal points"
)

// corner reads or writes a point as a list of three lengths.
func corner(f *form, key string, p *r3.Vec) {
	place(f, key, "[0.5 m, 1.2 m, 1.1 m] (from the front wall, from the left wall, above the floor)", inRoom, &p.X, &p.Y, &p.Z)
}

// planCorner is corner for a place on plan, of two lengths.
func planCorner(f *form, key string, p *r2.Vec) {
	place(f, key, "[0.5 m, 1.2 m] (from the front wall, from the left wall)", onPlan, &p.X, &p.Y)
}

func place(f *form, key, example, right string, coordinates ...*float64) {
	if !f.reading() {
		out := &node{shape: sequence}
		for _, v := range coordinates {
			out.items = append(out.items, &node{shape: word, text: lengthValue.format(*v)})
		}
		f.put(key, out)
		return
	}
	if f.node.value(key) == nil {
		f.lack(key, example)
		return
	}
	if n := f.take(key); n.shape != nothing {
		readPlace(f.in, n, f.at(key), right, coordinates...)
	}
}

// readPlace reads a list of as many lengths as there are coordinates.
func readPlace(d *document, n *node, path, right string, coordinates ...*float64) {
	d.places[path] = n.at
	switch {
	case n.shape != sequence:
		d.add(n.at, path, quantity.Mistake{What: model.Sprintf("found %s, expected a list", n.shape), Right: "put it in [ ], or begin each entry with a dash"})
	case len(n.items) != len(coordinates):
		d.add(n.at, path, quantity.Mistake{What: model.Sprintf("a place needs %d lengths, found %d", len(coordinates), len(n.items)), Right: right})
	default:
		for i, v := range coordinates {
			decode(d, n.items[i], fmt.Sprintf("%s[%d]", path, i), v, lengthValue)
		}
	}
}
