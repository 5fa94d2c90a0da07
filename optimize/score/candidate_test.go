package score

import (
	"testing"

	"evenbass/model"
)

// What soft walls take off a spread on coarse cells may be more than the spread shown; no spread is below 0.
func TestBoundsAreSpreads(t *testing.T) {
	t.Parallel()
	ends := Ends[model.Level]{hard: []model.Level{6}, soft: []model.Level{1}, typical: []model.Level{4}}
	same := func(l model.Level) model.Level { return l }
	if got, want := ends.Bounds(0, 2, same), (Bounds{Hard: 4}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got, want := ends.Bounds(0, 5, same), (Bounds{Hard: 7, Soft: 2}); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}
