package optimize

import (
	"context"
	"testing"

	"evenbass/optimize/score"
)

// For the same number of legal layouts, the search by a wide engine does better, by a fifth of
// a decibel and more, than layouts drawn at random by the engine itself (as measured: 0.26 and
// 0.59 dB).
func TestWideSearchBeatsRandom(t *testing.T) {
	if !long() {
		t.Skip("takes a while: EVENBASS_LONG=1")
	}
	p := freeStudio()
	room := newModal(p.Room.Size)
	s := brief
	s.Wide = offRoom(p.Room.Size)
	found, err := Place(context.Background(), p, room, s)
	if err != nil {
		t.Fatal(err)
	}
	pr, _, table := tableOf(t, p)
	rate := score.NewScorer(table, p, 0.05).Robust
	for seed := range int64(2) {
		blind := bestAtRandom(pr, t, rate, seed, found.Evaluations)
		t.Logf("%d layouts: search %.3f dB, at random %.3f dB", found.Evaluations, found.Candidates[0].Robust, blind.Score)
		if float64(found.Candidates[0].Robust) > blind.Score-0.2 {
			t.Errorf("seed %d: at random %.3f dB, by the search %.3f dB", seed, blind.Score, found.Candidates[0].Robust)
		}
	}
}
