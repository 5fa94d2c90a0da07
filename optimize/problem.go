package optimize

import (
	"errors"
	"fmt"
	"math"

	"evenbass/model"
)

// problem holds what may be chosen in a project.
type problem struct {
	project   *model.Project
	middle    float64    // y of the mid-line, m
	pairAreas []pairArea // where the woofers of the pair may be
	seats     []area     // where the ears may be
	heights   []float64  // of the acoustic axis, m
	ears      float64    // height of the ears, m
	dim       int        // length of a genome

	seatPitch float64 // lattice of the ears' place, m
}

// pairArea holds one area for each woofer's centre. In a mirrored pair the right one
// reflects the left.
type pairArea struct{ left, right area }

// newProblem reads the choices out of a project. It fails if the project has no seat or a
// room without a size.
func newProblem(p *model.Project) (*problem, error) {
	if len(p.Seats) == 0 {
		return nil, errors.New("there is no seat to place")
	}
	size := p.Room.Size
	if !(size.X > 0 && size.Y > 0 && size.Z > 0) {
		return nil, fmt.Errorf("the room is %g × %g × %g m: every size must be above zero", size.X, size.Y, size.Z)
	}
	b := &problem{project: p, middle: size.Y / 2, ears: p.Seats[0].Height, seatPitch: pitch}
	if b.ears == 0 {
		b.ears = p.Seats[0].At.Z
	}
	b.heights = p.Speakers.AxisHeights
	if len(b.heights) == 0 {
		axis := b.ears
		if p.Speakers.Placed {
			axis = p.Speakers.Left.Z + p.Speakers.WooferBelow
		}
		b.heights = []float64{axis}
	}
	if p.Speakers.Fixed {
		b.heights = []float64{p.Speakers.Left.Z + p.Speakers.WooferBelow}
	}
	b.pairAreas, b.seats = pairAreas(p), seats(p)
	b.narrow()
	counting := genes{count: true}
	b.decode(&counting)
	b.dim = counting.next
	return b, nil
}

// floor returns where woofers may be if their boxes keep clear of the walls.
func floor(p *model.Project) area {
	s, size := p.Speakers, p.Room.Size
	side := s.SideClearance + s.Box.Width/2
	return area{x: span{lo: s.RearClearance + s.Box.Depth, hi: size.X}, y: span{lo: side, hi: size.Y - side}}
}

// pairAreas lists the pairs of areas that the zones allow. If they allow none, it returns
// the whole floor: the layouts found there show what is in the way.
func pairAreas(p *model.Project) []pairArea {
	if s := &p.Speakers; s.Fixed {
		return []pairArea{{pointArea(s.Left), pointArea(s.Right)}}
	}
	whole := floor(p)
	zones := areasOf(p.Speakers.Zones, whole)
	var list []pairArea
	for _, l := range zones {
		for _, r := range zones {
			s := pairArea{l.and(whole), r.and(whole)}
			if !p.Speakers.Free {
				s = mirrored(p, s)
			}
			if !s.left.empty() && !s.right.empty() && s.left.y.lo <= s.right.y.hi {
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
	half := span{lo: p.Speakers.Box.Width / 2, hi: middle}
	if apart := p.SpeakersApart(); apart.Min <= apart.Max {
		half = half.and(span{lo: apart.Min / 2, hi: apart.Max / 2})
	}
	left := area{x: s.left.x.and(s.right.x), y: s.left.y.and(s.right.y.mirror(middle))}
	left.y = left.y.and(span{lo: middle - half.hi, hi: middle - half.lo})
	return pairArea{left, area{x: left.x, y: left.y.mirror(middle)}}
}

// halves returns the floor on either side of the mid-line.
func halves(p *model.Project) pairArea {
	whole, middle := floor(p), p.Room.Size.Y/2
	whole.y = whole.y.near(span{lo: 0, hi: middle})
	return pairArea{whole, area{x: whole.x, y: whole.y.mirror(middle)}}
}

// seats lists the areas for the ears. With a mirrored pair the ears stay on the mid-line
// wherever a zone reaches it.
func seats(p *model.Project) []area {
	seat, size := p.Seats[0], p.Room.Size
	whole := area{x: span{lo: 0, hi: size.X}, y: span{lo: 0, hi: size.Y}}
	list := areasOf(seat.Zones, whole)
	if len(seat.Zones) == 0 && seat.Placed {
		list = []area{pointArea(seat.At)}
	}
	middle := size.Y / 2
	for i := range list {
		a := &list[i]
		a.x = a.x.near(span{lo: 0, hi: size.X - p.Listening.BackDistance})
		if !p.Speakers.Free && a.y.contains(middle) {
			a.y = span{lo: middle, hi: middle}
		}
	}
	return list
}

// narrow cuts off what the listening triangle forbids to a mirrored pair and ears on the
// mid-line: half the distance between the speakers is d sin(θ/2), the depth d cos(θ/2).
// Where nothing would be left it changes nothing, so that the search can say why.
func (b *problem) narrow() {
	if b.project.Speakers.Free || !b.seatOnLine() || !same(hullOf(b.seats).y.lo, b.middle) || !same(hullOf(b.seats).y.hi, b.middle) {
		return
	}
	half, depth := triangle(b.project)
	seats := hullOf(b.seats).x
	var stands []pairArea
	for _, s := range b.pairAreas {
		s.left = s.left.and(area{x: span{lo: seats.lo - depth.hi, hi: seats.hi - depth.lo}, y: span{lo: b.middle - half.hi, hi: b.middle - half.lo}})
		s.right = area{x: s.left.x, y: s.left.y.mirror(b.middle)}
		if !s.left.empty() {
			stands = append(stands, s)
		}
	}
	if len(stands) == 0 {
		return
	}
	b.pairAreas = stands
	pairs := stands[0].left.x
	for _, s := range stands {
		pairs = pairs.hull(s.left.x)
	}
	for i := range b.seats {
		b.seats[i].x = b.seats[i].x.near(span{lo: pairs.lo + depth.lo, hi: pairs.hi + depth.hi})
	}
}

// triangle returns the bounds of half the distance between the speakers and of the depth,
// for ears on the mid-line.
func triangle(p *model.Project) (half, depth span) {
	d, a := spanOf(p.SeatDistance(), span{}), spanOf(p.Listening.Angle, span{lo: 0, hi: math.Pi})
	half = span{lo: d.lo * math.Sin(a.lo/2), hi: d.hi * math.Sin(a.hi/2)}
	depth = span{lo: d.lo * math.Cos(a.hi/2), hi: d.hi * math.Cos(a.lo/2)}
	return half, depth
}

// areasOf returns the zones as areas, or the whole floor if there are none.
func areasOf(zones []model.Zone, whole area) []area {
	if len(zones) == 0 {
		return []area{whole}
	}
	list := make([]area, len(zones))
	for i, z := range zones {
		list[i] = area{x: spanOf(z.X, whole.x), y: spanOf(z.Y, whole.y)}
	}
	return list
}

// seatOnLine reports whether the zones leave only one y for the ears.
func (b *problem) seatOnLine() bool {
	for _, a := range b.seats {
		if a.y.length() > 0 {
			return false
		}
	}
	return true
}
