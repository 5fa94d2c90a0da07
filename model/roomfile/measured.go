package roomfile

import (
	"strings"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// bareRoom is the state of a room without treatments.
const bareRoom = "bare"

// measured is a measurement that the owner keeps in a file.
func measured(f *form, m *model.Measured) {
	may(f, "name", &m.Name, nameValue)
	must(f, "file", "before-left.txt", &m.File, nameValue)
	may(f, "seat", &m.Seat, nameValue)
	must(f, "speaker", "left", &m.Speaker, sourceWord)
	may(f, "date", &m.Date, nameValue)
	measuredState(f, m)
	may(f, "correction", &m.Correction, nameValue)
	may(f, "smoothing", &m.Smoothing, smoothingWord)
}

// measuredState is "bare" or the names of the treatments that stood.
func measuredState(f *form, m *model.Measured) {
	if !f.has("state", m.StateKnown) {
		return
	}
	if m.StateKnown = true; f.reading() {
		if n := f.node.value("state"); n.shape == word && n.text == bareRoom {
			f.take("state")
			return
		}
	} else if len(m.State) == 0 {
		f.put("state", &node{shape: word, text: bareRoom})
		return
	}
	words(f, "state", &m.State, nameValue)
}

// sourceWord is the codec of what played.
var sourceWord = codec[model.Source]{
	func(s string) (model.Source, error) {
		var words []string
		for _, source := range model.Sources {
			if source.String() == s {
				return source, nil
			}
			words = append(words, source.String())
		}
		return 0, &quantity.Mistake{What: model.Sprintf("%q is not one of %s", s, strings.Join(words, ", ")), Right: quantity.Suggestion(s, words)}
	},
	model.Source.String,
}

// smoothingWord is [smoothingValue], or "none".
var smoothingWord = codec[int]{
	func(s string) (int, error) {
		if s == "none" {
			return model.Unsmoothed, nil
		}
		return smoothingValue.parse(s)
	},
	func(n int) string {
		if n == model.Unsmoothed {
			return "none"
		}
		return smoothingValue.format(n)
	},
}
