package search

import (
	"slices"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/table"

	"gonum.org/v1/gonum/spatial/r3"
)

// Domain returns where a search may put woofers and ears, without displacements. The areas are the hulls of
// the zones. It fails as [NewProblem] does.
func Domain(p *model.Project) (table.Domain, error) {
	b, err := NewProblem(p)
	if err != nil {
		return table.Domain{}, err
	}
	return b.Domain(0, 0), nil
}

// SeatPlaces returns how many places of the lattice of SeatPitch the ears may have in a search,
// leans included.
func (b *Problem) SeatPlaces() int {
	along := func(s geometry.Span) int {
		if s.Length() == 0 {
			return 3
		}
		return int(s.Grow(score.LeanDistance).Length()/b.SeatPitch) + 1
	}
	a := geometry.HullOf(b.Seats)
	return along(a.X) * along(a.Y)
}

// Domain returns all places for which a search may need the field, with speakers displaced by shift
// and ears by lean, in m.
func (b *Problem) Domain(shift, lean float64) table.Domain {
	size := b.Project.Room.Size
	room := geometry.Area{X: geometry.Span{Lo: 0, Hi: size.X}, Y: geometry.Span{Lo: 0, Hi: size.Y}}
	margin := func(a geometry.Area, by float64) geometry.Area {
		return geometry.Area{X: a.X.Grow(by), Y: a.Y.Grow(by)}.And(room)
	}
	var left, right []geometry.Area
	for _, s := range b.PairAreas {
		left, right = append(left, margin(s.Left, shift)), append(right, margin(s.Right, shift))
	}
	d := table.Domain{Sources: []geometry.Area{geometry.HullOf(left), geometry.HullOf(right)}, Seats: margin(geometry.HullOf(b.Seats), lean), Ears: geometry.Round(b.Ears)}
	if b.SeatOnLine() && len(b.Seats) == 1 {
		d.Line = table.Lines(b.Seats[0].Y.Lo, lean, room.Y)
	}
	if l, r := d.Sources[0], d.Sources[1]; !l.And(r).Empty() {
		d.Sources = []geometry.Area{l.Hull(r)}
	}
	for _, h := range b.Heights {
		d.Heights = append(d.Heights, geometry.Round(h-b.Project.Speakers.WooferBelow))
	}
	if s := &b.Project.Speakers; s.Fixed && !geometry.Same(s.Left.Z, s.Right.Z) {
		d.Heights = append(d.Heights, geometry.Round(s.Right.Z))
	}
	return d
}

// SeatDomains returns the places of the ears at the other seats, one domain a table, with speakers displaced by
// shift, in m.
func (b *Problem) SeatDomains(shift float64) []table.Domain {
	p := b.Project
	size := p.Room.Size
	room := geometry.Area{X: geometry.Span{Lo: 0, Hi: size.X}, Y: geometry.Span{Lo: 0, Hi: size.Y}}
	var list []table.Domain
	var seen []r3.Vec
	for i, s := range score.OtherSeats(p) {
		if p.TiedSeat(i + 1) {
			d := b.Domain(shift, score.LeanDistance)
			by := r3.Sub(s.At, p.Seats[0].At)
			moved := geometry.HullOf(b.Seats)
			moved.X, moved.Y = moved.X.Shift(by.X), moved.Y.Shift(by.Y)
			d.Seats = geometry.Area{X: moved.X.Grow(score.SeatOffset), Y: moved.Y.Grow(score.SeatOffset)}.And(room)
			d.Line, d.Ears = nil, s.At.Z
			if d.Seats.Empty() {
				continue // nobody can sit there in any layout
			}
			if b.SeatOnLine() && len(b.Seats) == 1 {
				d.Line = table.Lines(room.Y.Clamp(moved.Y.Lo), score.SeatOffset, room.Y)
			}
			list = append(list, d)
			continue
		}
		for _, ears := range score.AroundSeat(score.SeatPlace(p, i+1, model.Layout{}), size) {
			if slices.Contains(seen, ears) {
				continue
			}
			seen = append(seen, ears)
			d := b.Domain(shift, score.LeanDistance)
			d.Seats, d.Line, d.Ears = geometry.PointArea(ears), nil, ears.Z
			list = append(list, d)
		}
	}
	return list
}

// SourceZones returns boxes, in m, that hold every place at which a search may ask for a woofer, with
// displacements in m. An engine needs to know them beforehand. It fails as [NewProblem] does.
func SourceZones(p *model.Project, displacement float64) ([]model.Block, error) {
	b, err := NewProblem(p)
	if err != nil {
		return nil, err
	}
	d := b.Domain(displacement, 0)
	low, high := d.Heights[0], d.Heights[0]
	for _, h := range d.Heights {
		low, high = min(low, h), max(high, h)
	}
	var list []model.Block
	for _, a := range d.Sources {
		list = append(list, model.Block{Min: r3.Vec{X: a.X.Lo, Y: a.Y.Lo, Z: low}, Max: r3.Vec{X: a.X.Hi, Y: a.Y.Hi, Z: high}})
	}
	return list, nil
}
