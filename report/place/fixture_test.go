package place

import (
	"evenbass/report/room/roomtest"

	"time"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/optimize/cause"
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
		Walls:  roomtest.Walls(), Modes: roomtest.Modes(p.Room.Size),
		Run: html.Run{
			Command: "evenbass place spare-room.yaml -o report.html --seed 1", Version: "0.1.0",
			Date: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), File: "spare-room.yaml",
			Source: "room: {name: Spare room, length: 4.30 m, width: 3.30 m, height: 2.45 m}\n",
		},
	}
	in.Faults = []LayoutFaults{
		{Faults: reporttest.Dips(grid, p, in.Result.Now, cause.Suspect{Boundary: model.Back, Distances: [2]float64{2.25, 2.25}})},
		{Number: 1, Faults: reporttest.Dips(grid, p, &in.Result.Candidates[0], cause.Suspect{Kind: cause.ModeSuspect, Mode: mode.Mode{N: [3]int{1, 0, 0}, Frequency: 39.9}})},
	}
	return in
}

// in returns the same in another style.
func (in Report) in(s unit.Style) Report {
	in.Style = s
	return in
}
