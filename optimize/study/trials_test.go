package study

import (
	"fmt"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/testroom"
)

// A search that used up its time goes without trials and says so, unless they were asked for.
func TestTrialsAfterTheTime(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "spare-room")
	s, err := New(t.Context(), model.ModeEngine, p)
	if err != nil {
		t.Fatal(err)
	}
	now, ok := p.Now()
	if !ok {
		t.Fatal("nothing stands anywhere")
	}
	for _, wanted := range []bool{false, true} {
		c, err := score.Evaluate(t.Context(), p, s.Engine, now, 0)
		if err != nil {
			t.Fatal(err)
		}
		r := &optimize.Result{Candidates: []score.Candidate{c}, Stopped: search.OutOfTime, Goal: p.Goal, Seed: 1}
		stability, err := s.stability(t.Context(), r, PlaceSettings{Trials: 2, TrialsWanted: wanted})
		if err != nil {
			t.Fatal(err)
		}
		said := len(r.Warnings) > 0 && strings.Contains(fmt.Sprint(r.Warnings[0]), "left out")
		if (stability != nil) != wanted || said == wanted {
			t.Errorf("wanted %v: stability %v, warnings %q", wanted, stability, r.Warnings)
		}
	}
}
