package search

import (
	"context"
	"slices"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r3"
)

// strides are the steps of the polish in lattice steps: 8, 4, 2 and 1 cm.
var strides = [...]float64{8, 4, 2, 1}

// moves lists the single moves that a problem allows, one lattice step each, as differences
// between layouts.
func (b *Problem) moves() []model.Layout {
	x, y := r3.Vec{X: Pitch}, r3.Vec{Y: Pitch}
	var list []model.Layout
	if seat := &b.Project.Seats[0]; len(seat.Zones) > 0 || !seat.Placed {
		list = append(list, model.Layout{Seat: x})
	}
	if !b.SeatOnLine() {
		list = append(list, model.Layout{Seat: y})
	}
	if b.Project.Speakers.Fixed {
		return list
	}
	if !b.Project.Speakers.Free {
		return append(list, model.Layout{Left: x, Right: x}, model.Layout{Left: r3.Scale(-1, y), Right: y})
	}
	return append(list, model.Layout{Left: x}, model.Layout{Left: y}, model.Layout{Right: x}, model.Layout{Right: y})
}

// directions lists the moves that the polish tries from any layout: every single move and
// every two together, each way. Where there are no more than three moves it also tries all
// three together: the worst channel's spread has narrow valleys that no two marks alone can
// follow.
func (b *Problem) directions() []model.Layout {
	single := b.moves()
	most := 2
	if len(single) == 3 {
		most = 3
	}
	list := []model.Layout{{}}
	moved := []int{0} // of how many moves each entry is made
	for _, m := range single {
		for i := range len(list) {
			if moved[i] < most {
				list = append(list, Shifted(list[i], m, 1), Shifted(list[i], m, -1))
				moved = append(moved, moved[i]+1, moved[i]+1)
			}
		}
	}
	return list[1:]
}

// Shifted returns the layout moved by a multiple of a move.
func Shifted(l, move model.Layout, times float64) model.Layout {
	l.Left = geometry.RoundVec(r3.Add(l.Left, r3.Scale(times, move.Left)))
	l.Right = geometry.RoundVec(r3.Add(l.Right, r3.Scale(times, move.Right)))
	l.Seat = geometry.RoundVec(r3.Add(l.Seat, r3.Scale(times, move.Seat)))
	return l
}

// Neighbours returns the layouts one stride away, other heights included. A stride is a number of lattice
// steps.
func (b *Problem) Neighbours(l model.Layout, stride float64) []model.Layout {
	list := make([]model.Layout, 0, len(b.steps)+len(b.Heights))
	for _, d := range b.steps {
		list = append(list, Shifted(l, d, stride))
	}
	for _, h := range b.Heights {
		if h != l.AxisHeight {
			list = append(list, b.withHeight(l, h))
		}
	}
	return list
}

// Polish moves downhill from a layout with shorter and shorter strides, until no neighbour
// at the shortest is better. It always takes the best neighbour, so the path does not depend
// on their order.
func (b *Problem) Polish(ctx context.Context, g *Archive, from Record) (Record, error) {
	for _, stride := range strides {
		for {
			if err := ctx.Err(); err != nil {
				return from, err
			}
			near := b.Neighbours(from.Layout, stride)
			if len(near) == 0 {
				return from, nil // nothing may move
			}
			best, err := bestOf(ctx, g, near)
			if err != nil {
				return from, err
			}
			if !(best.Score < from.Score) {
				break
			}
			from = best
		}
	}
	return from, nil
}

// bestOf rates layouts on all cores and returns the best.
func bestOf(ctx context.Context, g *Archive, layouts []model.Layout) (Record, error) {
	notes := make([]Record, len(layouts))
	err := concurrent.Each(len(layouts), func(i int) error {
		score, err := g.Rate(ctx, layouts[i])
		notes[i] = Record{layouts[i], score}
		return err
	})
	return slices.MinFunc(notes, Record.Compare), err
}

// PolishAll polishes on all cores. If the context ends, it returns each layout as far as its
// polish got, with the context's error.
func (b *Problem) PolishAll(ctx context.Context, g *Archive, starts []Record, progress model.Progress) ([]Record, error) {
	ends := slices.Clone(starts)
	next := progress.Counter(Polishing, len(starts))
	err := concurrent.Each(len(starts), func(i int) error {
		end, err := b.Polish(ctx, g, starts[i])
		ends[i] = end
		next()
		return err
	})
	return ends, err
}
