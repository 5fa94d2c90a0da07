package reporttest

import (
	"math"
	"math/cmplx"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// CoarseGrid keeps goldens short.
func CoarseGrid() model.Grid { return model.NewGrid(20, 315, 6, 0) }

// Pair sums mirror images up to the third order on each axis.
func Pair(grid model.Grid, size r3.Vec, l model.Layout) response.Pair {
	return response.Pair{Left: ImageSum(grid, size, l.Left, l.Seat), Right: ImageSum(grid, size, l.Right, l.Seat)}
}

// ImageSum is the pressure at a seat from one source, by mirror images up to the third order.
func ImageSum(grid model.Grid, size, source, seat r3.Vec) []complex128 {
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

// Candidate is a layout with what was judged and made up of it.
func Candidate(grid model.Grid, p *model.Project, l model.Layout, tolerance float64) score.Candidate {
	reader := response.NewReader(grid, p.Room.Air(), p.Goal)
	pair := Pair(grid, p.Room.Size, l)
	j := reader.Judge(pair)
	return score.Candidate{
		Layout: l, Pair: pair, Judgement: j, Card: Card(reader.Card(pair, Decays())), Robust: j.Spread() + 0.9,
		Steadiness: score.Steadiness{Mean: j.Spread() + 0.6, Leaning: j.Spread() + 1.8, Lean: score.Backwards},
		Walls:      score.Bounds{Hard: j.Spread() + 1.1, Soft: j.Spread() - 0.7},
		Breaches:   p.Breaches(l),
		Tolerance:  score.Tolerance{Left: tolerance, Right: tolerance, Seat: tolerance + 0.03, Limit: 0.30},
	}
}

// Card is a card with walls that make a little difference.
func Card(c response.Card) response.Ranged {
	hard, soft := c, c
	hard.Spread, hard.Fall.Mean = 1.1*c.Spread, 1.2*c.Fall.Mean
	soft.Spread, soft.Fall.Mean = 0.95*c.Spread, 0.9*c.Fall.Mean
	return response.Ranged{Card: c, Ends: []response.Card{c, hard, soft}, Least: response.Resolution{0.3, 0.2, 0.02, 0.5, 0.3, 0.01, 0.01}}
}

// Decays are made up.
func Decays() []response.Decay {
	return []response.Decay{
		{Band: 31.5, Fall20: 0.2, Filter: 0.12}, {Band: 63, Fall20: 0.41, Fall30: 0.6, Filter: 0.06}, {Band: 125, Fall20: 0.25, Fall30: 0.4, Filter: 0.03},
	}
}

// Layout is a layout on the mid-line: woofers x from the front wall and twice half apart.
func Layout(x, half, seat, axis float64) model.Layout {
	const mid = 3.30 / 2
	return model.Layout{
		Left: r3.Vec{X: x, Y: mid - half, Z: axis - 0.12}, Right: r3.Vec{X: x, Y: mid + half, Z: axis - 0.12},
		Seat: r3.Vec{X: seat, Y: mid, Z: 1.20}, AxisHeight: axis,
	}
}

// Project is the room with a pair that stands not quite where it should.
func Project() *model.Project {
	now := Layout(0.42, 0.72, 2.05, 1.20)
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
		Warnings: []model.Warning{model.Remark("the window is taken as spread evenly over the left wall")},
	}
}

// Result is a search's result for the room: the present places and four layouts, the best
// first.
func Result(grid model.Grid, p *model.Project) *optimize.Result {
	layout, _ := p.Now()
	now := Candidate(grid, p, layout, 0.05)
	r := &optimize.Result{
		Engine: model.EngineInfo{Kind: model.ImageEngine}, Goal: p.Goal, Now: &now, Evaluations: 8420, Seed: 1, Stopped: search.Converged,
		Candidates: []score.Candidate{
			Candidate(grid, p, Layout(0.96, 0.66, 2.12, 1.20), 0.07),
			Candidate(grid, p, Layout(0.61, 0.80, 1.98, 1.30), 0.12),
			Candidate(grid, p, Layout(1.21, 0.58, 2.31, 1.20), 0.30),
			Candidate(grid, p, Layout(1.30, 0.85, 2.75, 1.30), 0.04),
		},
		Warnings: []model.Warning{model.Remark("mirror images overstate axial modes between hard walls")},
	}
	sort.SliceStable(r.Candidates, func(i, j int) bool { return r.Candidates[i].Robust < r.Candidates[j].Robust })
	return r
}
