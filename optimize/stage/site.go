package stage

import "evenbass/model"

// site is what can be built beside a layout.
type site struct {
	project *model.Project
	pieces  []Piece
	ways    *ways
}

// site returns what can be built beside a layout, given by its number.
func (l *Planner) site(layout int) *site {
	s, ok := l.sites[layout]
	if !ok {
		at := l.layouts[layout]
		s = &site{l.project, Pieces(l.project, at), newWays(l.project, at)}
		l.sites[layout] = s
	}
	return s
}

// fits reports whether a piece can be built beside others from the batts in hand, and leaves the
// seats their ways out.
func (s *site) fits(p *Piece, built []Piece, batts []int) bool {
	left := batts[p.Batt]
	var spaces []model.Block
	for _, b := range built {
		if b.Batt == p.Batt {
			left -= b.Batts
		}
		for i := range b.Treatments {
			spaces = append(spaces, s.project.Room.Space(&b.Treatments[i]))
		}
	}
	if p.Batts > left {
		return false
	}
	others := len(spaces)
	for j := range p.Treatments {
		space := s.project.Room.Space(&p.Treatments[j])
		for _, other := range spaces[:others] {
			if other.Overlaps(space) {
				return false
			}
		}
		spaces = append(spaces, space)
	}
	return s.ways.keep(spaces)
}

// overlap reports whether two pieces take space from each other.
func (s *site) overlap(a, b *Piece) bool {
	for i := range a.Treatments {
		space := s.project.Room.Space(&a.Treatments[i])
		for j := range b.Treatments {
			if space.Overlaps(s.project.Room.Space(&b.Treatments[j])) {
				return true
			}
		}
	}
	return false
}
