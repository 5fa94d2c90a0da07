package search

import (
	"errors"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/optimize/geometry"
)

// Pitch is the lattice on which marks are placed, m: what a tape measure resolves.
const Pitch = 0.01

// Problem holds what may be chosen in a project.
type Problem struct {
	Project   *model.Project
	Middle    float64         // y of the mid-line, m
	PairAreas []pairArea      // where the woofers of the pair may be
	Seats     []geometry.Area // where the ears may be
	Heights   []float64       // of the acoustic axis, m
	Ears      float64         // height of the ears, m
	dim       int             // length of a genome

	SeatPitch float64        // lattice of the ears' place, m
	steps     []model.Layout // what a polish tries from any layout, see directions
}

// pairArea holds one area for each woofer's centre. In a mirrored pair the right one
// reflects the left.
type pairArea struct{ Left, Right geometry.Area }

// NewProblem reads the choices out of a project. It fails if the project has no seat or a
// room without a size.
func NewProblem(p *model.Project) (*Problem, error) {
	if len(p.Seats) == 0 {
		return nil, errors.New("there is no seat to place")
	}
	size := p.Room.Size
	if !(size.X > 0 && size.Y > 0 && size.Z > 0) {
		return nil, fmt.Errorf("the room is %g × %g × %g m: every size must be above zero", size.X, size.Y, size.Z)
	}
	b := &Problem{Project: p, Middle: size.Y / 2, Ears: p.Seats[0].Height, SeatPitch: Pitch}
	if b.Ears == 0 {
		b.Ears = p.Seats[0].At.Z
	}
	b.Heights = p.Speakers.AxisHeights
	if len(b.Heights) == 0 {
		axis := b.Ears
		if p.Speakers.Placed {
			axis = p.Speakers.Left.Z + p.Speakers.WooferBelow
		}
		b.Heights = []float64{axis}
	}
	if p.Speakers.Fixed {
		b.Heights = []float64{p.Speakers.Left.Z + p.Speakers.WooferBelow}
	}
	b.PairAreas, b.Seats = pairAreas(p), seats(p)
	b.narrow()
	counting := genes{count: true}
	b.read(&counting)
	b.dim = counting.next
	b.steps = b.directions()
	return b, nil
}

// floor returns where woofers may be if their boxes keep clear of the walls.
func floor(p *model.Project) geometry.Area {
	s, size := p.Speakers, p.Room.Size
	side := s.SideClearance + s.Box.Width/2
	return geometry.Area{X: geometry.Span{Lo: s.RearClearance + s.Box.Depth, Hi: size.X}, Y: geometry.Span{Lo: side, Hi: size.Y - side}}
}

// pairAreas lists the pairs of areas that the zones allow. If they allow none, it returns
// the whole floor: the layouts found there show what is in the way.
func pairAreas(p *model.Project) []pairArea {
	if s := &p.Speakers; s.Fixed {
		return []pairArea{{geometry.PointArea(s.Left), geometry.PointArea(s.Right)}}
	}
	whole := floor(p)
	zones := areasOf(p.Speakers.Zones, whole)
	var list []pairArea
	for _, l := range zones {
		for _, r := range zones {
			s := pairArea{l.And(whole), r.And(whole)}
			if !p.Speakers.Free {
				s = mirrored(p, s)
			}
			if !s.Left.Empty() && !s.Right.Empty() && s.Left.Y.Lo <= s.Right.Y.Hi {
				list = append(list, s)
			}
		}
	}
	if len(list) == 0 {
		list = []pairArea{{whole, whole}}
		if !p.Speakers.Free {
			list[0] = halves(p)
		}
	}
	return list
}

// mirrored narrows a pair of areas to what both speakers of a mirrored pair can use.
func mirrored(p *model.Project, s pairArea) pairArea {
	middle := p.Room.Size.Y / 2
	half := geometry.Span{Lo: p.Speakers.Box.Width / 2, Hi: middle}
	if apart := p.SpeakersApart(); apart.Min <= apart.Max {
		half = half.And(geometry.Span{Lo: apart.Min / 2, Hi: apart.Max / 2})
	}
	left := geometry.Area{X: s.Left.X.And(s.Right.X), Y: s.Left.Y.And(s.Right.Y.Mirror(middle))}
	left.Y = left.Y.And(geometry.Span{Lo: middle - half.Hi, Hi: middle - half.Lo})
	return pairArea{left, geometry.Area{X: left.X, Y: left.Y.Mirror(middle)}}
}

// halves returns the floor on either side of the mid-line.
func halves(p *model.Project) pairArea {
	whole, middle := floor(p), p.Room.Size.Y/2
	whole.Y = whole.Y.Near(geometry.Span{Lo: 0, Hi: middle})
	return pairArea{whole, geometry.Area{X: whole.X, Y: whole.Y.Mirror(middle)}}
}

// seats lists the areas for the ears. With a mirrored pair the ears stay on the mid-line
// wherever a zone reaches it.
func seats(p *model.Project) []geometry.Area {
	seat, size := p.Seats[0], p.Room.Size
	whole := geometry.Area{X: geometry.Span{Lo: 0, Hi: size.X}, Y: geometry.Span{Lo: 0, Hi: size.Y}}
	list := areasOf(seat.Zones, whole)
	if len(seat.Zones) == 0 && seat.Placed {
		list = []geometry.Area{geometry.PointArea(seat.At)}
	}
	middle := size.Y / 2
	for i := range list {
		a := &list[i]
		a.X = a.X.Near(geometry.Span{Lo: 0, Hi: size.X - p.Listening.BackDistance})
		if !p.Speakers.Free && a.Y.Contains(middle) {
			a.Y = geometry.Span{Lo: middle, Hi: middle}
		}
	}
	return list
}

// narrow cuts off what the listening triangle forbids to a mirrored pair and ears on the
// mid-line: half the distance between the speakers is d sin(θ/2), the depth d cos(θ/2).
// Where nothing would be left it changes nothing, so that the search can say why.
func (b *Problem) narrow() {
	if b.Project.Speakers.Free || !b.SeatOnLine() || !geometry.Same(geometry.HullOf(b.Seats).Y.Lo, b.Middle) || !geometry.Same(geometry.HullOf(b.Seats).Y.Hi, b.Middle) {
		return
	}
	half, depth := triangle(b.Project)
	seats := geometry.HullOf(b.Seats).X
	var stands []pairArea
	for _, s := range b.PairAreas {
		s.Left = s.Left.And(geometry.Area{X: geometry.Span{Lo: seats.Lo - depth.Hi, Hi: seats.Hi - depth.Lo}, Y: geometry.Span{Lo: b.Middle - half.Hi, Hi: b.Middle - half.Lo}})
		s.Right = geometry.Area{X: s.Left.X, Y: s.Left.Y.Mirror(b.Middle)}
		if !s.Left.Empty() {
			stands = append(stands, s)
		}
	}
	if len(stands) == 0 {
		return
	}
	b.PairAreas = stands
	pairs := stands[0].Left.X
	for _, s := range stands {
		pairs = pairs.Hull(s.Left.X)
	}
	for i := range b.Seats {
		b.Seats[i].X = b.Seats[i].X.Near(geometry.Span{Lo: pairs.Lo + depth.Lo, Hi: pairs.Hi + depth.Hi})
	}
}

// triangle returns the bounds of half the distance between the speakers and of the depth,
// for ears on the mid-line.
func triangle(p *model.Project) (half, depth geometry.Span) {
	d, a := geometry.SpanOf(p.SeatDistance(), geometry.Span{}), geometry.SpanOf(p.Listening.Angle, geometry.Span{Lo: 0, Hi: math.Pi})
	half = geometry.Span{Lo: d.Lo * math.Sin(a.Lo/2), Hi: d.Hi * math.Sin(a.Hi/2)}
	depth = geometry.Span{Lo: d.Lo * math.Cos(a.Hi/2), Hi: d.Hi * math.Cos(a.Lo/2)}
	return half, depth
}

// areasOf returns the zones as areas, or the whole floor if there are none.
func areasOf(zones []model.Zone, whole geometry.Area) []geometry.Area {
	if len(zones) == 0 {
		return []geometry.Area{whole}
	}
	list := make([]geometry.Area, len(zones))
	for i, z := range zones {
		list[i] = geometry.Area{X: geometry.SpanOf(z.X, whole.X), Y: geometry.SpanOf(z.Y, whole.Y)}
	}
	return list
}

// SeatOnLine reports whether the zones leave only one y for the ears.
func (b *Problem) SeatOnLine() bool {
	for _, a := range b.Seats {
		if a.Y.Length() > 0 {
			return false
		}
	}
	return true
}
