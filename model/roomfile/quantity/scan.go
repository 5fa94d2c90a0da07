package quantity

import (
	"math"
	"regexp"
	"strconv"
	"strings"

	"evenbass/model"
)

// Part is one number of a phrase with the words before it and the unit after it.
type Part struct {
	Text   string // words before the number: "holes"
	Number string // as written
	value  float64
	Unit   string // in its one spelling: "kPa·s/m²"; "" if none
}

// spelling maps the ways to write a sign to the one that the tables of units have.
var spelling = strings.NewReplacer(
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2212", "-",
	"μ", "µ", "⋅", "·", "∙", "·", "º", "°", "℃", "°C", "℉", "°F",
	"′", "'", "’", "'", "″", `"`, "”", `"`, "''", `"`,
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8",
)

// unitSpelling does the same inside a unit.
var unitSpelling = strings.NewReplacer("^2", "²", "^3", "³", "m2", "m²", "m3", "m³",
	"Pa.s", "Pa·s", "Pa*s", "Pa·s", "Pas/", "Pa·s/", "Pa s", "Pa·s", "° ", "°")

// Tidy brings a text into the one spelling: plain spaces, one at a time.
func Tidy(text string) string {
	return strings.Join(strings.Fields(spelling.Replace(text)), " ")
}

var (
	CommaNumber = regexp.MustCompile(`\d,\d+`)
	badNumber   = regexp.MustCompile(`(?i)(^|[\s(])[-+]?\.?(nan|inf|infinity)\b`)
	numberText  = regexp.MustCompile(`[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?(?: (\d+)/(\d+)|/(\d+))?`)
	unitText    = regexp.MustCompile(`^ ?(?:k?Pa s/m(?:²|\^?2)|° ?[CFcf]?|%|["']|[\pL][\pL·.*]*(?:/[\pL]+)?(?:²|³|\^[23]|[23]\b)?)`)
)

// Scan takes a phrase apart into its numbers, each with the words before it and
// the unit after it. Words after the last unit are a part without a number.
func Scan(text string) ([]Part, error) {
	rest := Tidy(text)
	if m := CommaNumber.FindString(rest); m != "" {
		return nil, CommaMistake(text, rest, m)
	}
	if badNumber.MatchString(rest) {
		return nil, &Mistake{model.Sprintf("%q is not a finite number", text), "write a plain decimal such as 3.4"}
	}
	var parts []Part
	for rest != "" {
		at := numberText.FindStringSubmatchIndex(rest)
		if at == nil {
			return append(parts, Part{Text: rest}), nil
		}
		p := Part{Text: strings.TrimSpace(rest[:at[0]]), Number: rest[at[0]:at[1]]}
		var err error
		if p.value, err = number(p.Number); err != nil {
			return nil, err
		}
		rest = rest[at[1]:]
		p.Unit, rest = takeUnit(rest)
		parts = append(parts, p)
	}
	return parts, nil
}

// takeUnit cuts the unit off the front of the text after a number.
func takeUnit(text string) (name, rest string) {
	m := unitText.FindString(text)
	name = unitSpelling.Replace(strings.TrimSpace(m))
	switch name {
	case "°c", "c":
		name = "°C"
	case "°f", "f":
		name = "°F"
	}
	return name, strings.TrimSpace(text[len(m):])
}

// number reads a decimal with an optional fraction behind it: 2, 2.5, 2 1/2, 1/2.
func number(text string) (float64, error) {
	whole, fraction, mixed := strings.Cut(text, " ")
	if !mixed && strings.Contains(text, "/") {
		whole, fraction = "0", text
	}
	v, err := strconv.ParseFloat(whole, 64)
	if err != nil || math.IsInf(v, 0) {
		return 0, &Mistake{model.Sprintf("%q is not a number that fits", text), "write a plain decimal such as 3.4"}
	}
	if fraction == "" {
		return v, nil
	}
	a, b, _ := strings.Cut(fraction, "/")
	top, errTop := strconv.ParseFloat(a, 64)
	bottom, errBottom := strconv.ParseFloat(b, 64)
	if errTop != nil || errBottom != nil || bottom == 0 || math.Signbit(v) {
		return 0, &Mistake{model.Sprintf("%q is not a fraction", text), "write it as 2 1/2"}
	}
	return v + top/bottom, nil
}

// CommaMistake says how to write a number that has a comma in it.
func CommaMistake(text, tidied, match string) error {
	point := strings.Replace(match, ",", ".", 1)
	right := "write " + strings.Replace(tidied, match, point, 1)
	if len(match)-strings.Index(match, ",") == 4 {
		right += " or " + strings.Replace(tidied, match, strings.Replace(match, ",", "", 1), 1)
	}
	return &Mistake{model.Sprintf("%q has a comma inside a number", text), right}
}
