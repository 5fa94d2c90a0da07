package study

import (
	"testing"

	"evenbass/model"
	"evenbass/optimize/engines"
	"evenbass/optimize/testroom"
)

// A study under other rules shares the runs of the room as long as the speakers may stand in the same
// zones, and covers its own zones otherwise.
func TestWithin(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "l-room")
	s, err := New(t.Context(), model.WaveEngine, p)
	if err != nil {
		t.Fatal(err)
	}
	q := *p
	q.Listening.Angle = wider.Angle
	same, err := s.within(&q)
	if err != nil {
		t.Fatal(err)
	}
	if same.Project != &q || same.Engine != s.Engine || same.coarse != s.coarse {
		t.Error("rules for the same zones do not share the rooms")
	}
	q.Speakers.Zones = []model.Zone{{X: model.Range{Min: 0.4, Max: 2.0}, Y: model.Range{Min: 0.5, Max: 3.5}}}
	other, err := s.within(&q)
	if err != nil {
		t.Fatal(err)
	}
	if other.Engine == s.Engine || other.coarse == s.coarse {
		t.Error("other zones share the rooms")
	}
	if len(engines.SearchZones(&q)) == 0 {
		t.Error("no zones to compare")
	}
}
