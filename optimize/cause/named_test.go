package cause

import (
	"slices"
	"testing"

	"evenbass/model"
)

// At most two boundaries that can be treated are named, none that cures less than half of what the
// best suspect does; where there is none, the best suspect is.
func TestNamed(t *testing.T) {
	t.Parallel()
	wall := func(f model.Face, cure model.Level) Cause { return Cause{Suspect: Suspect{Boundary: f}, Cure: cure} }
	mode := Cause{Suspect: Suspect{Kind: ModeSuspect}, Cure: 8}
	for name, c := range map[string]struct {
		causes []Cause
		want   []model.Level // cures of those named
	}{
		"three walls":           {[]Cause{wall(model.Back, 9), wall(model.Left, 8), wall(model.Right, 7)}, []model.Level{9, 8}},
		"a weak second":         {[]Cause{wall(model.Back, 9), wall(model.Left, 4)}, []model.Level{9}},
		"a mode, then its wall": {[]Cause{mode, wall(model.Back, 7)}, []model.Level{7}},
		"a mode alone":          {[]Cause{mode, wall(model.Back, 2)}, []model.Level{8}},
		"the floor":             {[]Cause{wall(model.Floor, 6), wall(model.Ceiling, 5)}, []model.Level{5}},
		"the floor alone":       {[]Cause{wall(model.Floor, 6)}, []model.Level{6}},
		"none":                  {nil, nil},
	} {
		d := Dip{Causes: c.causes}
		var got []model.Level
		for _, n := range d.Named() {
			got = append(got, n.Cure)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: named those that cure %v dB, want %v", name, got, c.want)
		}
	}
}
