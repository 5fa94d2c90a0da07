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
	f := Report{
		Project: p, Engine: result.Engine, Title: "as it stands now", Layout: result.Now,
		Faults: reporttest.Dips(grid, p, result.Now, back), Modes: roomtest.Modes(p.Room.Size),
	}
	first := Text(f, unit.Imperial)
	reporttest.Golden(t, "prediction-first.txt", first)
	reporttest.CheckFits(t, first)
	f.Full = true
	reporttest.Golden(t, "prediction-imperial.txt", Text(f, unit.Imperial))
}
