package study

import (
	"math"
	"os"
	"testing"

	"evenbass/model"
	"evenbass/optimize/engines"
	"evenbass/optimize/floormap"
	"evenbass/optimize/score"
	"evenbass/optimize/stage"
	"evenbass/optimize/testroom"
)

// One room has one figure: what predict and place say of the present layout is what whatif, stage
// and, in a box, the map say of it. Their runs differ in the places that they answer for and in
// their frequencies, and in the cells of the room only by the wave solver's own error.
func TestOneRoomOneFigure(t *testing.T) {
	t.Parallel()
	rooms := []string{"spare-room", "treated-room"}
	if os.Getenv("EVENBASS_LONG") != "" {
		rooms = append(rooms, "l-room", "planned-room")
	}
	for _, name := range rooms {
		p := testroom.Read(t, name)
		now, ok := p.Now()
		if !ok {
			t.Fatalf("%s: nothing stands", name)
		}
		s, err := New(t.Context(), engines.Auto, p)
		if err != nil {
			t.Fatal(err)
		}
		c, err := score.Evaluate(t.Context(), p, s.Engine, now, 0)
		if err != nil {
			t.Fatal(err)
		}
		found := map[string]model.Level{"card": c.Card.Spread}
		compared, err := Compare(t.Context(), p, nil, nil)
		if err != nil {
			t.Fatal(err)
		}
		found["whatif"] = compared.Now.Card.Spread
		both := score.NewBothGrids(s.Engine.Grid())
		room, err := treatedSolver()(p, both.Grid, []model.Block{engines.PlaceZone(now.Left), engines.PlaceZone(now.Right)}, stage.Shown)
		if err != nil {
			t.Fatal(err)
		}
		staged, err := both.Read(t.Context(), room, p, now)
		if err != nil {
			t.Fatal(err)
		}
		found["stage"] = staged.Card.Spread
		if s.Box != nil {
			survey, err := s.survey(t.Context(), now, true, floormap.Settings{Pitch: 0.5})
			if err != nil {
				t.Fatal(err)
			}
			found["map"] = survey.Here
		}
		for command, spread := range found {
			if off := math.Abs(float64(spread - c.Judgement.Spread())); off > 0.1 {
				t.Errorf("%s: ±%.2f dB predicted, ±%.2f dB by %s", name, c.Judgement.Spread(), spread, command)
			}
		}
		// Modes and cells model the losses of walls in their own ways, which a decay shows first.
		if fall := compared.Now.Card.Fall.Mean; math.Abs(fall/staged.Card.Fall.Mean-1) > 0.05 {
			t.Errorf("%s: 20 dB in %.4f s by whatif and %.4f s by stage", name, fall, staged.Card.Fall.Mean)
		}
	}
}
