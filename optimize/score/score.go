package score

import (
	"context"
	"fmt"
	"math"
	"sync"

	"evenbass/model"
	"evenbass/model/response"

	"gonum.org/v1/gonum/spatial/r3"
)

// Scorer computes the figures of layouts by one engine. It is safe for use by several
// goroutines, and pure: the same layout always has the same figures.
type Scorer struct {
	Engine     model.Engine
	Reader     *response.Reader
	Shift      float64 // displacement of a speaker, m
	Lean       float64 // how far the listener leans, m
	Size       r3.Vec  // of the room; no mark is displaced through a wall
	workspaces sync.Pool
}

// workspace is the memory for one evaluation: a transfer, and what spreads take of those as marked and with
// one speaker displaced in four ways, or from a displaced seat.
type workspace struct {
	transfer    []complex128
	left, right [5]response.Prepared
	scratch     response.Scratch
}

// NewScorer returns a scorer by a project's goal, with its speakers' low limit. A displaced
// speaker is off by shift, in m; the listener leans by [LeanDistance].
func NewScorer(e model.Engine, p *model.Project, shift float64) *Scorer {
	s := &Scorer{Engine: e, Reader: NewReader(e, p), Shift: shift, Lean: LeanDistance, Size: p.Room.Size}
	s.workspaces.New = func() any {
		return &workspace{transfer: make([]complex128, len(e.Grid()))}
	}
	return s
}

// Displaced returns a place and the four that are off by the displacement.
func (s *Scorer) Displaced(v r3.Vec) [5]r3.Vec {
	return Around(v, s.Shift, s.Size)
}

// Robust returns the robust spread of a layout, see [Steadiness].
func (s *Scorer) Robust(ctx context.Context, l model.Layout) (model.Level, error) {
	t, err := s.Steadiness(ctx, l)
	return t.Robust(), err
}

// Steadiness returns what becomes of a layout's spread where its marks are missed and the listener
// leans.
func (s *Scorer) Steadiness(ctx context.Context, l model.Layout) (Steadiness, error) {
	d := s.workspaces.Get().(*workspace)
	defer s.workspaces.Put(d)
	lefts, rights, seats := s.Displaced(l.Left), s.Displaced(l.Right), Around(l.Seat, s.Lean, s.Size)
	var t Steadiness
	for i, seat := range seats {
		field, err := s.Engine.Field(ctx, seat)
		if err != nil {
			return t, err
		}
		s.read(d, &d.left[0], field, l.Left)
		s.read(d, &d.right[0], field, l.Right)
		spread := s.spread(d, 0, 0)
		t.Mean += spread / 13
		if i > 0 {
			if t.Lean == Upright || spread > t.Leaning {
				t.Lean, t.Leaning = Lean(i), spread
			}
			continue
		}
		for j := 1; j < 5; j++ {
			s.read(d, &d.left[j], field, lefts[j])
			s.read(d, &d.right[j], field, rights[j])
			t.Mean += (s.spread(d, j, 0) + s.spread(d, 0, j)) / 13
		}
	}
	_, err := Finite(t.Robust(), l)
	return t, err
}

// read prepares the transfer from a speaker's place.
func (s *Scorer) read(d *workspace, to *response.Prepared, field model.Field, from r3.Vec) {
	s.Reader.Prepare(to, field.Transfer(d.transfer, from), &d.scratch)
}

func (s *Scorer) spread(d *workspace, left, right int) model.Level {
	return s.Reader.SpreadOf(&d.left[left], &d.right[right], &d.scratch)
}

// Pair returns the transfers of a layout, exactly in place.
func (s *Scorer) Pair(ctx context.Context, l model.Layout) (response.Pair, error) {
	return PairAt(ctx, s.Engine, l)
}

// PairAt returns the transfers of a layout by an engine, exactly in place.
func PairAt(ctx context.Context, e model.Engine, l model.Layout) (response.Pair, error) {
	field, err := e.Field(ctx, l.Seat)
	if err != nil {
		return response.Pair{}, err
	}
	return response.Pair{Left: field.Transfer(nil, l.Left), Right: field.Transfer(nil, l.Right)}, nil
}

// Plain returns the spread of a layout, exactly in place.
func (s *Scorer) Plain(ctx context.Context, l model.Layout) (model.Level, error) {
	p, err := s.Pair(ctx, l)
	if err != nil {
		return 0, err
	}
	return s.of(p, l)
}

// of returns the spread of a layout's transfers.
func (s *Scorer) of(p response.Pair, l model.Layout) (model.Level, error) {
	w := s.workspaces.Get().(*workspace)
	defer s.workspaces.Put(w)
	return Finite(s.Reader.Spread(p, &w.scratch), l)
}

// Finite turns a figure that is no number into an error, since a search cannot order such
// figures.
func Finite(v model.Level, l model.Layout) (model.Level, error) {
	if math.IsNaN(float64(v)) || math.IsInf(float64(v), 0) {
		return 0, fmt.Errorf("the engine gives no finite spread for the seat at %.2f, %.2f, %.2f m", l.Seat.X, l.Seat.Y, l.Seat.Z)
	}
	return v, nil
}
