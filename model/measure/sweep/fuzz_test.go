package sweep

import (
	"reflect"
	"testing"
)

// Whatever the text: no panic. What is taken for a sweep is one that can be played, and is described in
// the same words again.
func FuzzParse(f *testing.F) {
	f.Add("evenbass sweep 1: 15 to 400 Hz in 10 s, pause 3 s, level -6 dB, rate 48000 Hz, parts left right")
	f.Add("evenbass sweep 1: 1e-300 to 1e300 Hz in 1 s, pause 1 s, level 0 dB, rate 2000 Hz, parts sub")
	f.Add("evenbass sweep 1: NaN to +Inf Hz in -1 s, pause 3 s, level -6 dB, rate 48000 Hz, parts both")
	f.Add("")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := Parse(text)
		if err != nil {
			return
		}
		if err := s.Check(); err != nil {
			t.Errorf("%q: taken, but %v", text, err)
		}
		if back, err := Parse(s.String()); err != nil || !reflect.DeepEqual(s, back) {
			t.Errorf("%q is %+v, reads back as %+v, %v", text, s, back, err)
		}
	})
}
