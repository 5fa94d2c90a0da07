package prediction

import (
	"testing"

	"evenbass/model"
	"evenbass/optimize/cause"
	"evenbass/report/reporttest"
	"evenbass/report/room/roomtest"
	"evenbass/report/unit"
)

func TestPredictionGolden(t *testing.T) {
	grid, p := model.DefaultGrid(), reporttest.Project()
	result := reporttest.Result(grid, p)
	back := cause.Suspect{Boundary: model.Back, Distances: [2]float64{2.25, 2.25}}
	reporttest.Golden(t, "prediction-imperial.txt", Text(Report{
		Project: p, Engine: result.Engine, Title: "as it stands now", Layout: result.Now,
		Faults: reporttest.Dips(grid, p, result.Now, back), Modes: roomtest.Modes(p.Room.Size),
	}, unit.Imperial))
}
