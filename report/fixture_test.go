package report

import (
	"math"
	"math/cmplx"
	"sort"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/response"
	"evenbass/optimize"
)

// The fixture is a room of our own invention with three layouts. Its curves come
// from a few mirror images and one reflection factor, which is enough to look
// like a room; nothing here tests acoustics.

// coarseGrid keeps goldens short.
func coarseGrid() model.Grid { return model.NewGrid(20, 315, 6, 0) }

// fixturePair sums mirror images up to the third order on each axis.
func fixturePair(grid model.Grid, size r3.Vec, l model.Layout) response.Pair {
	return response.Pair{Left: imageSum(grid, size, l.Left, l.Seat), Right: imageSum(grid, size, l.Right, l.Seat)}
}

func imageSum(grid model.Grid, size, source, seat r3.Vec) []complex128 {
	const order, reflection = 3, 0.87
	air := model.AirAt(0)
	sum := make([]complex128, len(grid))
	axis := func(i int, length, at float64) float64 {
		if i%2 == 0 {
			return float64(i)*length + at
		}
		return float64(i+1)*length - at
	}
	abs := func(i int) int { return max(i, -i) }
	for i := -order; i <= order; i++ {
		for j := -order; j <= order; j++ {
			for k := -order; k <= order; k++ {
				r := r3.Norm(r3.Sub(r3.Vec{X: axis(i, size.X, source.X), Y: axis(j, size.Y, source.Y), Z: axis(k, size.Z, source.Z)}, seat))
				gain := math.Pow(reflection, float64(abs(i)+abs(j)+abs(k)))
				for n, f := range grid {
					w := 2 * math.Pi * f
					sum[n] += complex(0, w*air.Density*gain/(4*math.Pi*r)) * cmplx.Exp(complex(0, -w*r/air.Speed))
				}
			}
		}
	}
	return sum
}

func fixtureCandidate(grid model.Grid, p *model.Project, l model.Layout, tolerance float64) optimize.Candidate {
	reader := response.NewReader(grid, p.Room.Air(), p.Goal)
	pair := fixturePair(grid, p.Room.Size, l)
	j := reader.Judge(pair)
	return optimize.Candidate{
		Layout: l, Pair: pair, Judgement: j, Robust: j.Spread() + 0.6,
		Walls:     optimize.Bounds{Hard: j.Spread() + 1.1, Soft: j.Spread() - 0.7},
		Breaches:  p.Breaches(l),
		Tolerance: optimize.Tolerance{Left: tolerance, Right: tolerance, Seat: tolerance + 0.03, Limit: 0.30},
	}
}

func fixtureLayout(x, half, seat, axis float64) model.Layout {
	const mid = 3.30 / 2
	return model.Layout{
		Left: r3.Vec{X: x, Y: mid - half, Z: axis - 0.12}, Right: r3.Vec{X: x, Y: mid + half, Z: axis - 0.12},
		Seat: r3.Vec{X: seat, Y: mid, Z: 1.20}, AxisHeight: axis,
	}
}

func fixtureProject() *model.Project {
	now := fixtureLayout(0.42, 0.72, 2.05, 1.20)
	now.Left.Y -= 0.06
	return &model.Project{
		Room: model.Room{
			Name: "Spare room", Size: r3.Vec{X: 4.30, Y: 3.30, Z: 2.45}, Temperature: 293.15,
			Walls: [6]model.Surface{
				{Construction: "brick plastered"}, {Construction: "plasterboard on studs"}, {Construction: "brick plastered"},
				{Construction: "plasterboard on studs"}, {Construction: "timber on joists"}, {Construction: "plasterboard on joists"},
			},
			Openings: []model.Opening{
				{Kind: "door", Patch: model.Patch{Face: model.Back, Along: 0.15, Width: 0.80, Height: 2.02}, Swing: "inward"},
				{Kind: "window", Patch: model.Patch{Face: model.Left, Along: 1.50, Up: 0.90, Width: 1.20, Height: 1.10}},
			},
			Blocks: []model.Block{{Name: "chimney breast", Min: r3.Vec{X: 2.4, Y: 3.0}, Max: r3.Vec{X: 3.6, Y: 3.3, Z: 2.45}}},
		},
		Speakers: model.Speakers{
			Placed: true, Left: now.Left, Right: now.Right,
			Box:         model.Dimensions{Depth: 0.28, Width: 0.21, Height: 0.34},
			WooferBelow: 0.12, AxisHeights: []float64{1.20, 1.30}, RearClearance: 0.05, SideClearance: 0.10, LowLimit: 45,
			Zones: []model.Zone{{X: model.Range{Min: 0.30, Max: 1.60}, Y: model.Range{Min: 0.30, Max: 3.00}}},
			Apart: model.Range{Min: 1.0, Max: 2.0},
		},
		Seats: []model.Seat{{
			Name: "chair", Placed: true, At: now.Seat, Height: 1.20, Weight: 1,
			Zones: []model.Zone{{X: model.Range{Min: 1.30, Max: 3.20}}},
		}},
		Listening: model.Listening{
			Distance: model.Range{Min: 0.9, Max: 2.0}, Angle: model.Range{Min: 50 * math.Pi / 180, Max: 70 * math.Pi / 180}, BackDistance: 0.6,
		},
		KeepClear: []model.Block{
			{Name: "desk", Min: r3.Vec{X: 0.05, Y: 0.90}, Max: r3.Vec{X: 0.75, Y: 2.40, Z: 0.74}},
			{Name: "radiator", Min: r3.Vec{X: 1.55}, Max: r3.Vec{X: 2.65, Y: 0.14, Z: 0.60}},
		},
		Goal:     model.Goal{From: 30, To: 300, Smoothing: 12},
		Warnings: []model.Warning{"the window is taken as spread evenly over the left wall"},
	}
}

func fixtureInput(grid model.Grid) Input {
	p := fixtureProject()
	layout, _ := p.Now()
	now := fixtureCandidate(grid, p, layout, 0.05)
	in := Input{
		Project: p, Grid: grid,
		Result: &optimize.Result{
			Engine: "image", Goal: p.Goal, Now: &now, Evaluations: 8420, Seed: 1, Stopped: optimize.Converged,
			Candidates: []optimize.Candidate{
				fixtureCandidate(grid, p, fixtureLayout(0.96, 0.66, 2.12, 1.20), 0.07),
				fixtureCandidate(grid, p, fixtureLayout(0.61, 0.80, 1.98, 1.30), 0.12),
				fixtureCandidate(grid, p, fixtureLayout(1.21, 0.58, 2.31, 1.20), 0.30),
				fixtureCandidate(grid, p, fixtureLayout(1.30, 0.85, 2.75, 1.30), 0.04),
			},
			Warnings: []model.Warning{"mirror images overstate axial modes between hard walls"},
		},
		Walls: fixtureWalls(), Modes: fixtureModes(p.Room.Size),
		Run: Run{
			Command: "evenbass place spare-room.yaml -o report.html --seed 1", Version: "0.1.0",
			Date: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC), File: "spare-room.yaml",
			Source: "room: {name: Spare room, length: 4.30 m, width: 3.30 m, height: 2.45 m}\n",
		},
	}
	sort.SliceStable(in.Result.Candidates, func(i, j int) bool {
		return in.Result.Candidates[i].Robust < in.Result.Candidates[j].Robust
	})
	in.Faults = []LayoutFaults{
		{Title: "as it stands now", Faults: fixtureFaults(grid, p, &now, optimize.Suspect{Boundary: model.Back, Distances: [2]float64{2.25, 2.25}})},
		{Title: "layout 1", Faults: fixtureFaults(grid, p, &in.Result.Candidates[0], optimize.Suspect{Kind: optimize.ModeSuspect, Mode: mode.Mode{N: [3]int{1, 0, 0}, Frequency: 39.9}})},
	}
	return in
}

func fixtureFaults(grid model.Grid, p *model.Project, c *optimize.Candidate, cause optimize.Suspect) []optimize.Explained {
	reader := response.NewReader(grid, p.Room.Air(), p.Goal)
	var faults []optimize.Explained
	for _, f := range reader.Features(c.Judgement.Worst, c.Pair.Of(c.Judgement.Worst), 3) {
		if f.Peak || len(faults) == 3 {
			continue
		}
		fault := optimize.Explained{Feature: f}
		if len(faults) == 0 {
			fault.Causes = []optimize.Cause{{Suspect: cause, Cure: 7.25, Left: -1.5}, {Suspect: optimize.Suspect{Boundary: model.Floor}, Cure: 4.1, Left: -4.4}}
			fault.Moves = optimize.MovesWithSeat
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
func (in Input) in(s Style) Input {
	in.Style = s
	return in
}
