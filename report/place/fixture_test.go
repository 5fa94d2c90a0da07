package place

import (
	"math"
	"sort"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/optimize/score"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// The fixture is a room of our own invention with three layouts. Its curves come
// from a few mirror images and one reflection factor, which is enough to look
// like a room; nothing here tests acoustics.

func fixtureInput(grid model.Grid) Report {
	p := reporttest.Project()
	in := Report{
		Project: p, Grid: grid,
		Result: reporttest.Result(grid, p),
		Walls:  fixtureWalls(), Modes: fixtureModes(p.Room.Size),
		Run: html.Run{
			Command: "evenbass place spare-room.yaml -o report.html --seed 1", Version: "0.1.0",
			Date: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), File: "spare-room.yaml",
			Source: "room: {name: Spare room, length: 4.30 m, width: 3.30 m, height: 2.45 m}\n",
		},
	}
	in.Faults = []LayoutFaults{
		{Faults: fixtureFaults(grid, p, in.Result.Now, cause.Suspect{Boundary: model.Back, Distances: [2]float64{2.25, 2.25}})},
		{Number: 1, Faults: fixtureFaults(grid, p, &in.Result.Candidates[0], cause.Suspect{Kind: cause.ModeSuspect, Mode: mode.Mode{N: [3]int{1, 0, 0}, Frequency: 39.9}})},
	}
	return in
}

func fixtureFaults(grid model.Grid, p *model.Project, c *score.Candidate, suspect cause.Suspect) []cause.Dip {
	reader := response.NewReader(grid, p.Room.Air(), p.Goal)
	var faults []cause.Dip
	for _, f := range reader.Features(c.Judgement.Worst, c.Pair.Of(c.Judgement.Worst), 3) {
		if f.Peak || len(faults) == 3 {
			continue
		}
		fault := cause.Dip{Feature: f}
		if len(faults) == 0 {
			fault.Causes = []cause.Cause{{Suspect: suspect, Cure: 7.25, Left: -1.5}, {Suspect: cause.Suspect{Boundary: model.Floor}, Cure: 4.1, Left: -4.4}}
			fault.Moves = cause.MovesWithSeat
		}
		faults = append(faults, fault)
	}
	return faults
}

func fixtureWalls() []Wall {
	brick := []Band{{63, 0.01, 0.02, 0.03}, {125, 0.02, 0.03, 0.04}, {250, 0.02, 0.03, 0.05}}
	studs := []Band{{63, 0.15, 0.25, 0.35}, {125, 0.15, 0.22, 0.30}, {250, 0.06, 0.09, 0.12}}
	boards := []Band{{63, 0.10, 0.15, 0.20}, {125, 0.10, 0.15, 0.20}, {250, 0.08, 0.10, 0.12}}
	const source, reach = "a handbook row named here", "63 Hz is extrapolated from 125 Hz"
	return []Wall{
		{"front wall", 8.1, "brick plastered", brick, source, reach},
		{"back wall", 8.1, "plasterboard on studs, with a hollow door", studs, source, reach},
		{"left wall", 10.5, "brick plastered, with double glazing", brick, source, reach},
		{"right wall", 10.5, "plasterboard on studs", studs, source, reach},
		{"floor", 14.2, "timber on joists", boards, source, reach},
		{"ceiling", 14.2, "plasterboard on joists", studs, source, ""},
	}
}

// fixtureModes lists the rigid room's modes by f = c/2 sqrt(Σ(n/L)²).
func fixtureModes(size r3.Vec) []Mode {
	kinds := [4]string{"", "axial", "tangential", "oblique"}
	var modes []Mode
	for i := 0; i < 12; i++ {
		for j := 0; j < 12; j++ {
			for k := 0; k < 12; k++ {
				f := 343.2 / 2 * math.Sqrt(math.Pow(float64(i)/size.X, 2)+math.Pow(float64(j)/size.Y, 2)+math.Pow(float64(k)/size.Z, 2))
				if f == 0 || f > 300 {
					continue
				}
				count := min(i, 1) + min(j, 1) + min(k, 1)
				modes = append(modes, Mode{
					Index: [3]int{i, j, k}, Kind: kinds[count], Frequency: f, Decay: (1.1 - 0.12*float64(count)) / (1 + f/250),
					Seat: math.Abs(math.Cos(float64(i) * math.Pi * 2.12 / size.X)),
				})
			}
		}
	}
	sort.SliceStable(modes, func(i, j int) bool { return modes[i].Frequency < modes[j].Frequency })
	return modes
}

// in returns the same in another style.
func (in Report) in(s unit.Style) Report {
	in.Style = s
	return in
}
