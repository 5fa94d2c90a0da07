package material

import (
	"slices"
	"strings"

	"evenbass/model"
)

// Kind is what a construction can serve as; kinds add up as bits.
type Kind uint8

// The kinds of construction.
const (
	Wall Kind = 1 << iota
	Floor
	Ceiling
	Door
	Window
)

var kindWords = [...]string{"wall", "floor", "ceiling", "door", "window"}

// String lists the kinds in words: "wall, ceiling".
func (k Kind) String() string {
	var names []string
	for i, n := range kindWords {
		if k&(1<<i) != 0 {
			names = append(names, n)
		}
	}
	return strings.Join(names, ", ")
}

// Estimate picks one value out of a range. The zero value is [Typical].
type Estimate int

// The three estimates of an uncertain material.
const (
	Typical Estimate = iota
	Low              // as little absorption as is likely
	High             // as much absorption as is likely
)

// String returns "typical", "low" or "high".
func (e Estimate) String() string {
	switch e {
	case Typical:
		return "typical"
	case Low:
		return "low"
	case High:
		return "high"
	}
	panic("material: no such estimate")
}

// Span is a figure with its range: typical, and the likely minimum and maximum.
type Span struct{ Low, Typical, High float64 }

// Of returns the value of an estimate.
func (s Span) Of(e Estimate) float64 {
	switch e {
	case Typical:
		return s.Typical
	case Low:
		return s.Low
	case High:
		return s.High
	}
	panic("material: no such estimate")
}

// BandCount is the number of third octaves of a [Construction].
const BandCount = 12

// Bands returns the nominal mid-band frequencies of the third octaves of a
// [Construction] in Hz (IEC 61260-1:2014), 25 to 315.
func Bands() [BandCount]float64 {
	return [BandCount]float64{25, 31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315}
}

// Construction is a common way to build a wall, floor, ceiling, door or window.
// [Lookup] gives one by name.
type Construction struct {
	Name string // as a room file writes it: "plasterboard on studs"
	Kind Kind

	// Absorption is the random-incidence absorption by third octave, see Bands.
	Absorption [BandCount]Span

	Source    string  // the rows that it rests on, and what was made of them
	Lowest    float64 // lowest frequency that the source prints, Hz; 0 is none
	Rule      Rule    // how the absorption is extrapolated below that
	Resonance float64 // f0 of a sheet on the air behind it, Hz; 0 is none
	Note      string  // what else to know; may be empty

	plain *model.Plain // takes the place of the table
}

// At returns the construction as a boundary, for one of its estimates.
func (c Construction) At(e Estimate) model.Boundary {
	if c.plain != nil && e != Low {
		return *c.plain
	}
	points := make([]model.Absorption, BandCount)
	for i, f := range Bands() {
		points[i] = model.Absorption{Frequency: f, Coefficient: c.Absorption[i].Of(e)}
	}
	return newTable(points)
}

// Lookup returns the construction of that name. Case and repeated spaces do not
// matter.
func Lookup(name string) (Construction, bool) {
	key := PlainName(name)
	for _, r := range library() {
		if r.name == key {
			return r.construction(), true
		}
	}
	return Construction{}, false
}

// Names returns the names of all constructions, sorted.
func Names() []string {
	rows := library()
	names := make([]string, len(rows))
	for i, r := range rows {
		names[i] = r.name
	}
	return names
}

// Nearest returns a suggestion for a name that [Lookup] does not know: the name
// in the library that shares most of its words, letter for letter or nearly so,
// or "unknown" if none shares any.
func Nearest(name string) string {
	words := strings.Fields(PlainName(name))
	for i, w := range words {
		words[i] = synonym(w)
	}
	best, most := "unknown", 0
	for _, n := range Names() {
		shared := 0
		for _, w := range words {
			if slices.ContainsFunc(strings.Fields(n), func(v string) bool { return 4*letterChanges(w, v) <= len(w) }) {
				shared += 4 * len(w)
			}
		}
		if score := shared - letterChanges(strings.Join(words, " "), n); shared > 0 && score > most {
			best, most = n, score
		}
	}
	return best
}

// synonym returns the word of the library that means the same as a word.
func synonym(word string) string {
	switch word {
	case "wood", "wooden", "floorboards":
		return "timber"
	case "gypsum", "drywall":
		return "plasterboard"
	case "window", "pane":
		return "glazing"
	case "hole", "opening":
		return "open"
	case "drape", "drapes", "curtains":
		return "curtain"
	}
	return word
}

func PlainName(name string) string {
	return strings.Join(strings.Fields(strings.ToLower(name)), " ")
}

// letterChanges is the Levenshtein distance: letters inserted, deleted or replaced.
func letterChanges(a, b string) int {
	from, to := []rune(a), []rune(b)
	row := make([]int, len(to)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range from {
		diagonal := row[0]
		row[0] = i + 1
		for j, s := range to {
			change := diagonal
			if r != s {
				change++
			}
			diagonal = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(to)]
}
