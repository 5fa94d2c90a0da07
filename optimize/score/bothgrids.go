package score

import (
	"context"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
)

// BothGrids is one list of frequencies for levels and for decays, so that one field serves
// both.
type BothGrids struct {
	Grid           model.Grid
	Levels, Decays []int      // where the frequencies of each are in it
	LevelGrid      model.Grid // of levels alone
	Decay          *response.DecayReader
}

// NewBothGrids joins the grid of levels with that of decays.
func NewBothGrids(levels model.Grid) BothGrids {
	b := BothGrids{LevelGrid: levels, Decay: response.NewDecayReader()}
	b.Grid, b.Levels, b.Decays = doubleGrid(levels, response.DecayGrid())
	return b
}

// Reading is what is read off a layout's transfers to one seat.
type Reading struct {
	Pair       response.Pair    // over the grid of levels
	OverDecays response.Pair    // over response.DecayGrid
	Decays     []response.Decay // of left and right alone, energies summed
	Card       response.Card
}

// Read reads a project's speakers in a layout off an engine over both grids. It fails if the engine refuses a place.
func (b *BothGrids) Read(ctx context.Context, e model.Engine, p *model.Project, l model.Layout) (Reading, error) {
	pair, err := PairAt(ctx, e, l)
	if err != nil {
		return Reading{}, err
	}
	r := Reading{
		Pair:       response.Pair{Left: Pick(pair.Left, b.Levels), Right: Pick(pair.Right, b.Levels)},
		OverDecays: response.Pair{Left: Pick(pair.Left, b.Decays), Right: Pick(pair.Right, b.Decays)},
	}
	r.Decays = b.Decay.Read(r.OverDecays.Left, r.OverDecays.Right)
	r.Card = response.NewSpeakerReader(b.LevelGrid, e.Air(), p.Goal, p.Speakers.RollOff()).Card(r.Pair, r.Decays)
	return r, nil
}

// doubleGrid joins two grids, and returns where the frequencies of each are in it.
func doubleGrid(a, b model.Grid) (both model.Grid, inA, inB []int) {
	both = append(slices.Clone(a), b...)
	slices.Sort(both)
	both = slices.CompactFunc(both, func(x, y float64) bool { return math.Abs(y-x) < 1e-9 })
	for _, f := range a {
		inA = append(inA, both.Nearest(f))
	}
	for _, f := range b {
		inB = append(inB, both.Nearest(f))
	}
	return both, inA, inB
}

// Pick returns the values at the given places of a list.
func Pick(values []complex128, at []int) []complex128 {
	list := make([]complex128, len(at))
	for i, k := range at {
		list[i] = values[k]
	}
	return list
}
