package study

import (
	"math"
	"testing"

	"evenbass/optimize/engines"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"
)

// What speakers can do counts alike where one layout is predicted and where options are compared.
func TestSpeakersCountAlike(t *testing.T) {
	t.Parallel()
	p := testroom.Read(t, "spare-room")
	now, _ := p.Now()
	var spreads []float64
	for _, limit := range []float64{0, 70} {
		p.Speakers.LowLimit = limit
		s, err := New(t.Context(), engines.Auto, p)
		if err != nil {
			t.Fatal(err)
		}
		c, err := score.Evaluate(t.Context(), p, s.Engine, now, 0)
		if err != nil {
			t.Fatal(err)
		}
		w, err := Compare(t.Context(), p, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		if a, b := c.Judgement.Spread(), w.Now.Judgement.Spread(); math.Abs(float64(a-b)) > 0.01 {
			t.Errorf("limit %v Hz: predicted ±%.2f dB, compared ±%.2f dB", limit, a, b)
		}
		spreads = append(spreads, float64(c.Judgement.Spread()))
	}
	if math.Abs(spreads[1]-spreads[0]) < 0.5 {
		t.Errorf("speakers that end at 70 Hz change ±%.1f dB by no more than %.1f dB", spreads[0], spreads[1]-spreads[0])
	}
}
