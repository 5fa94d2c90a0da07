package model

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// zones checks that each zone has a place for what may be there. It relies on
// everything else being valid.
func (v *validator) zones() {
	p := v.p
	if p.Speakers.Fixed {
		v.seatZones()
		return
	}
	for i, z := range p.Speakers.Zones {
		path := fmt.Sprintf("speakers.may_stand[%d]", i)
		v.somewhere(path, p.speakerPlaces(z))
		v.zoneInside(path, z, p.Speakers.lowestTop(), "the box needs")
	}
	if len(p.Speakers.Zones) == 0 {
		v.somewhere("speakers", p.speakerPlaces(Zone{}))
	}
	v.seatZones()
}

// seatZones checks that each zone has a place for a listener.
func (v *validator) seatZones() {
	p := v.p
	for i, s := range p.Seats {
		for j, z := range s.Zones {
			if i == 0 && !p.Speakers.Free && !z.Y.Given() {
				z.Y = Range{p.Room.Size.Y / 2, p.Room.Size.Y / 2}
			}
			path := fmt.Sprintf("seats[%d].may_move[%d]", i, j)
			v.somewhere(path, []places{p.seatPlaces(z, s.Height)})
			v.zoneInside(path, z, s.Height, "a listener's ears need")
		}
	}
}

// lowestTop returns the height of the top of a box at the lowest height to choose
// from, m.
func (s *Speakers) lowestTop() float64 {
	return s.Cabinet(r3.Vec{Z: slices.Min(s.AxisHeights) - s.WooferBelow}).Max.Z
}

// somewhere fails unless one of the sets of places has one.
func (v *validator) somewhere(path string, sets []places) {
	var names []string
	reason := "a pair that mirrors about the mid-line needs zones on both sides of it"
	for _, s := range sets {
		reason = fmt.Sprintf("after clearances the room leaves x from %.3g to %.3g m and y from %.3g to %.3g m",
			s.floor.x.Min, s.floor.x.Max, s.floor.y.Min, s.floor.y.Max)
		if s.any() {
			return
		}
		for _, n := range s.inTheWay() {
			if !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	if len(names) > 0 {
		reason = "it collides with " + strings.Join(names[:min(len(names), 4)], " and ")
	}
	v.fail(path, "leaves no place to put it: %s", reason)
}

// rect is a rectangle on plan, with what it is if it stands in the way.
type rect struct {
	x, y Range
	name string
}

// places is a rectangle of places, edges included, less the insides of others.
type places struct {
	rect
	floor rect // what the room and the clearances leave
	taken []rect
}

// any reports whether a place is left. A set of places that is not empty has one
// at the lower x edge of the rectangle or at the upper one of something taken,
// and there the gaps in y decide.
func (s *places) any() bool {
	if !(s.x.Min <= s.x.Max && s.y.Min <= s.y.Max) {
		return false
	}
	if s.gap(s.x.Min) {
		return true
	}
	for _, t := range s.taken {
		if s.x.Min <= t.x.Max && t.x.Max <= s.x.Max && s.gap(t.x.Max) {
			return true
		}
	}
	return false
}

// gap reports whether any y is free along the line x.
func (s *places) gap(x float64) bool {
	var cross []Range
	for _, t := range s.taken {
		if t.x.Min < x && x < t.x.Max {
			cross = append(cross, t.y)
		}
	}
	slices.SortFunc(cross, func(a, b Range) int {
		if a.Min < b.Min {
			return -1
		}
		return 1
	})
	y := s.y.Min
	for _, c := range cross {
		if c.Min >= y {
			break
		}
		y = max(y, c.Max)
	}
	return y <= s.y.Max
}

// inTheWay names what stands in the way of the rectangle.
func (s *places) inTheWay() []string {
	var names []string
	if s.x.Min > s.x.Max || s.y.Min > s.y.Max {
		return nil // nothing is left to stand in the way of
	}
	for _, t := range s.taken {
		if t.x.Min < s.x.Max && s.x.Min < t.x.Max && t.y.Min < s.y.Max && s.y.Min < t.y.Max ||
			t.x.Min < s.x.Min && s.x.Max < t.x.Max && t.y.Min < s.y.Min && s.y.Max < t.y.Max {
			names = append(names, t.name)
		}
	}
	return names
}

// seatPlaces returns where a seat may be in a zone.
func (p *Project) seatPlaces(z Zone, height float64) places {
	size := p.Room.Size
	s := places{floor: rect{x: Range{0, size.X - p.Listening.BackDistance}, y: Range{0, size.Y}}}
	s.x, s.y = overlap(z.X, s.floor.x), overlap(z.Y, s.floor.y)
	for b := range p.Obstacles() {
		if !b.Moves() && b.Min.Z < height && height < b.Max.Z {
			s.taken = append(s.taken, rect{Range{b.Min.X, b.Max.X}, Range{b.Min.Y, b.Max.Y}, Sprintf("%q", b.Name)})
		}
	}
	return s
}

// speakerPlaces returns where the woofer of the left speaker may be in a zone, one
// set per axis height. For a mirrored pair the place of the right one counts too,
// and there is one set per zone that its mirror image may fall in.
func (p *Project) speakerPlaces(z Zone) []places {
	s, width := &p.Speakers, p.Room.Size.Y
	mirrored := []Zone{{}}
	if !s.Free && len(s.Zones) > 0 {
		mirrored = mirrored[:0]
		for _, m := range s.Zones {
			if m.Y.Given() {
				m.Y = Range{width - m.Y.Max, width - m.Y.Min}
			}
			if x, y := overlap(z.X, m.X), overlap(z.Y, m.Y); x.Min <= x.Max && y.Min <= y.Max {
				mirrored = append(mirrored, m)
			}
		}
	}
	var sets []places
	for _, m := range mirrored {
		for _, h := range s.AxisHeights {
			set := p.cabinetPlaces(h)
			set.x = overlap(overlap(z.X, m.X), set.floor.x)
			set.y = overlap(overlap(z.Y, m.Y), set.floor.y)
			sets = append(sets, set)
		}
	}
	return sets
}

// cabinetPlaces returns where on the whole floor a woofer may be.
func (p *Project) cabinetPlaces(axis float64) places {
	s, size := &p.Speakers, p.Room.Size
	box := s.Cabinet(r3.Vec{Z: axis - s.WooferBelow})
	set := places{floor: rect{
		x: Range{s.RearClearance - box.Min.X, size.X - box.Max.X},
		y: Range{s.SideClearance - box.Min.Y, size.Y - s.SideClearance - box.Max.Y},
	}}
	for b := range p.Obstacles() {
		below := box.Min.Z
		if !p.carries(&b) {
			below = min(0, below) // the stand needs space as well
		}
		if b.Moves() || !(b.Min.Z < box.Max.Z && below < b.Max.Z) {
			continue
		}
		t := rect{
			Range{b.Min.X - box.Max.X, b.Max.X - box.Min.X},
			Range{b.Min.Y - box.Max.Y, b.Max.Y - box.Min.Y}, Sprintf("%q", b.Name),
		}
		set.taken = append(set.taken, t)
		if !s.Free {
			t.y = Range{size.Y - t.y.Max, size.Y - t.y.Min}
			set.taken = append(set.taken, t)
		}
	}
	if !s.Free && s.Apart.Given() {
		const name = "the limit on the distance apart"
		mid, everywhere := size.Y/2, Range{math.Inf(-1), math.Inf(1)}
		set.taken = append(set.taken,
			rect{everywhere, Range{mid - s.Apart.Min/2, mid + s.Apart.Min/2}, name},
			rect{everywhere, Range{math.Inf(-1), mid - s.Apart.Max/2}, name},
			rect{everywhere, Range{mid + s.Apart.Max/2, math.Inf(1)}, name})
	}
	return set
}

// overlap returns the part that two ranges share; one not given is everything.
// Ranges that share nothing give one with Min above Max.
func overlap(a, b Range) Range {
	switch {
	case !a.Given():
		return b
	case !b.Given():
		return a
	}
	return Range{max(a.Min, b.Min), min(a.Max, b.Max)}
}
