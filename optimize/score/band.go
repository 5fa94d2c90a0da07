package score

import (
	"context"
	"fmt"
	"math"
	"sync"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"

	"gonum.org/v1/gonum/spatial/r3"
)

// Band is an engine limited to the part of its grid that a goal looks at. It remembers
// fields, which take time to set up.
type Band struct {
	model.Engine
	Lo, Hi int // of the engine's grid, half open
	fields *concurrent.Cache[r3.Vec, model.Field]
	whole  sync.Pool // *[]complex128 over the engine's grid
}

// fieldsKept is how many of an engine's fields are kept: enough for the seats of a robust
// score on each core, few enough for fields of several megabytes.
const fieldsKept = 14

// NewBand returns the engine over the goal's band, half a smoothing window and the two
// frequencies that interpolation needs beyond either end, so that a reader over its grid gives
// the same spread as one over the whole. It fails
// if the engine's grid does not cover the band.
func NewBand(e model.Engine, goal model.Goal) (*Band, error) {
	grid := e.Grid()
	lo, hi := len(grid), 0
	for i, f := range grid {
		if f >= goal.From*(1-1e-12) && f <= goal.To*(1+1e-12) {
			lo, hi = min(lo, i), max(hi, i+1)
		}
	}
	if goal.Smoothing <= 0 || hi-lo < 3 || grid[0] > goal.From*1.05 || grid[len(grid)-1] < goal.To/1.05 {
		return nil, fmt.Errorf("the goal is %v, but the engine computes %.4g to %.4g Hz", goal, grid[0], grid[len(grid)-1])
	}
	half := math.Pow(10, 0.3/float64(2*goal.Smoothing))
	bottom, top := grid[lo]/half, grid[hi-1]*half
	for lo > 0 && grid[lo] > bottom {
		lo--
	}
	for hi < len(grid) && grid[hi-1] < top {
		hi++
	}
	lo, hi = max(0, lo-2), min(len(grid), hi+2)
	held := fieldsKept
	if _, ok := e.(model.LayoutEngine); ok {
		held = 1 // it keeps its expensive fields itself
	}
	b := &Band{Engine: e, Lo: lo, Hi: hi, fields: concurrent.NewCache[r3.Vec, model.Field](held)}
	b.whole.New = func() any { s := make([]complex128, len(grid)); return &s }
	return b, nil
}

// Grid returns the frequencies of the band.
func (b *Band) Grid() model.Grid { return b.Engine.Grid()[b.Lo:b.Hi] }

// Field implements [model.Engine].
func (b *Band) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	return b.fields.Get(seat, func() (model.Field, error) {
		f, err := b.Engine.Field(ctx, seat)
		if err != nil {
			return nil, err
		}
		return &bandField{f, b}, nil
	})
}

// NewReader returns a reader over an engine's grid for the pair of a project: its goal, with
// what the speakers give at low frequencies.
func NewReader(e model.Engine, p *model.Project) *response.Reader {
	return response.NewSpeakerReader(e.Grid(), e.Air(), p.Goal, p.Speakers.RollOff())
}

type bandField struct {
	whole model.Field
	band  *Band
}

// Transfer implements [model.Field].
func (f *bandField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = model.Transfers(dst, f.band.Hi-f.band.Lo)
	buf := f.band.whole.Get().(*[]complex128)
	f.whole.Transfer(*buf, source)
	copy(dst, (*buf)[f.band.Lo:f.band.Hi])
	f.band.whole.Put(buf)
	return dst
}
