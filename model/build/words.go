package build

import (
	"fmt"
	"strings"

	"evenbass/model"
)

// Words is text with lengths in it: strings, whole numbers, and lengths as [Metres], so
// that a report can write each length in the reader's own units.
type Words []any

// Metres is a length within [Words].
type Metres float64

// Text returns the words with each length written by the given function.
func (w Words) Text(length func(m float64) string) string {
	var b strings.Builder
	for _, part := range w {
		if m, ok := part.(Metres); ok {
			part = length(float64(m))
		}
		fmt.Fprint(&b, part)
	}
	return b.String()
}

// BattTitle is what a batt is called: its name, or else its material and thickness.
func BattTitle(b model.Batt) Words {
	if b.Name != "" {
		return Words{b.Name}
	}
	return Words{b.Layer.Text, ", ", Metres(b.Layer.Thickness), " batts"}
}
