package study

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
)

// Walls of known impedance leave no range, whichever engine gives the figures: the bounds come
// from that engine too. Walls that may vary leave one.
func TestBoundsAreOfTheEngineShown(t *testing.T) {
	t.Parallel()
	for _, engine := range []model.EngineKind{model.ModeEngine, model.ImageEngine} {
		for _, known := range []bool{true, false} {
			p := &model.Project{Room: model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}, Goal: model.Goal{From: 30, To: 300, Smoothing: 12}, Seats: []model.Seat{{Name: "chair"}}}
			for f := range p.Room.Walls {
				p.Room.Walls[f] = model.Surface{Impedance: 4}
			}
			if !known {
				p.Room.Walls[model.Back] = model.Surface{Construction: "plasterboard on studs"}
			}
			s, err := New(t.Context(), engine, p)
			if err != nil {
				t.Fatal(err)
			}
			l := model.Layout{Left: r3.Vec{X: 0.6, Y: 0.9, Z: 1}, Right: r3.Vec{X: 0.6, Y: 2.1, Z: 1}, Seat: r3.Vec{X: 2.1, Y: 1.5, Z: 1.2}}
			got, err := s.Predict(t.Context(), l, nil)
			if err != nil {
				t.Fatal(err)
			}
			if low, high := got.Candidate.Range(); (high-low < 1e-9) != known {
				t.Errorf("%s, known walls %v: %.3f to %.3f dB", engine, known, low, high)
			}
		}
	}
}

// No engine tells any change, however small, of any figure.
func TestEveryFigureHasALeastChange(t *testing.T) {
	t.Parallel()
	for _, f := range response.FigureList {
		if !(roundedOff[f] > 0 && gridError[f] > roundedOff[f]) {
			t.Errorf("figure %d: %v without a grid, %v with one", f, roundedOff[f], gridError[f])
		}
	}
}
