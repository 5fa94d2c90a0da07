package reporttest

import (
	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/optimize/score"
)

// Dips returns the three worst dips of a layout; the first has a suspect, and its frequency shifts with the seat.
func Dips(grid model.Grid, p *model.Project, c *score.Candidate, suspect cause.Suspect) []cause.Dip {
	reader := response.NewReader(grid, p.Room.Air(), p.Goal)
	var faults []cause.Dip
	for _, f := range reader.Features(c.Judgement.Worst, c.Pair.Of(c.Judgement.Worst), 3) {
		if f.Peak || len(faults) == 3 {
			continue
		}
		fault := cause.Dip{Feature: f}
		if len(faults) == 0 {
			fault.Causes = []cause.Cause{{Suspect: suspect, Cure: 7.25}, {Suspect: cause.Suspect{Boundary: model.Floor}, Cure: 4.1}}
			fault.Moves = cause.MovesWithSeat
		}
		faults = append(faults, fault)
	}
	return faults
}
