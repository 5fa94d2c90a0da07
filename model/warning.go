package model

import (
	"fmt"
	"strings"
)

// FindWarnings returns what is odd about a valid project but not impossible: figures that
// need a second look. The limits that the present places break are not among them, see
// [Project.PresentBreaches]. For an invalid project the result means nothing.
func (p *Project) FindWarnings() []Warning {
	var d warnings
	if p.Speakers.Box == (Dimensions{}) {
		d.add("the size of the speakers' boxes is missing, so places near walls are judged as if a speaker were a point")
	}
	d.calibration(p.Room.Calibration)
	d.proportions(p)
	d.lowest(p)
	d.zones(&p.Room, "speakers.may_stand", p.Speakers.Zones)
	for i := range p.Seats {
		d.zones(&p.Room, fmt.Sprintf("seats[%d].may_move", i), p.Seats[i].Zones)
	}
	if p.Subwoofers != nil {
		d.zones(&p.Room, "subwoofers.may_stand", p.Subwoofers.Zones)
	}
	for _, f := range Faces {
		d.surface("the "+f.Wall(), p.Room.Walls[f])
	}
	for i := range p.Room.Treatments {
		d.treatment(&p.Room, i)
	}
	d.furniture(p)
	return d
}

type warnings []Warning

// calibration says what a calibrated room rests on.
func (d *warnings) calibration(c *Calibration) {
	if c == nil {
		return
	}
	*d = append(*d, FittedRoom{c.Seats, strings.Join(c.From, ", ")})
}

// lowest warns of a goal that asks for more than the speakers give.
func (d *warnings) lowest(p *Project) {
	s, from := &p.Speakers, p.Goal.From
	if roll := s.RollOff(); from < roll.Limit {
		*d = append(*d, GoalBelowLimit{From: from, Down: -roll.Level(from), Limit: roll.Limit, Alignment: s.Alignment, Helped: p.Subwoofers != nil})
	} else if p.Unwritten.From && roll.Limit > 0 && from == roll.Limit {
		*d = append(*d, GoalFromLimit{From: from})
	}
}

// zones tells of zones that reach past a wall by more than a tape is off.
func (d *warnings) zones(r *Room, path string, zones []Zone) {
	const tape = 0.015
	for i, z := range zones {
		for _, side := range []struct {
			axis string
			of   Range
			wall Face
			by   float64
			end  float64
		}{
			{"x", z.X, Front, -z.X.Min, 0}, {"x", z.X, Back, z.X.Max - r.Size.X, r.Size.X},
			{"y", z.Y, Left, -z.Y.Min, 0}, {"y", z.Y, Right, z.Y.Max - r.Size.Y, r.Size.Y},
		} {
			if side.of.Given() && side.by > tape {
				*d = append(*d, ZonePastWall{fmt.Sprintf("%s[%d].%s", path, i, side.axis), side.wall.Wall(), side.by, side.end})
			}
		}
	}
}

func (d *warnings) add(text Remark) { *d = append(*d, text) }

// highestLocal is the most that a locally reacting surface absorbs at random
// incidence, for ζ = 1.567 (Paris 1928; Kuttruff, Room Acoustics, section 2.5).
const highestLocal = 0.951

func (d *warnings) surface(what string, s Surface) {
	for _, a := range s.Absorption {
		if a.Coefficient > highestLocal {
			*d = append(*d, AbsorbsTooMuch{what, a.Coefficient, a.Frequency, highestLocal})
			return
		}
	}
}

func (d *warnings) treatment(r *Room, i int) {
	t := &r.Treatments[i]
	name := t.Name
	if name == "" {
		name = fmt.Sprintf("treatment %d", i+1)
	}
	for _, l := range t.Layers {
		if l.Thickness > 1.5 {
			*d = append(*d, LayerThick{name, l.Thickness})
		}
	}
	if t.Form != OnWall {
		return
	}
	for i := range r.Openings {
		o := &r.Openings[i]
		in, _ := r.BorderPatch(o)
		if a := t.Patch.Overlap(in); a > slack {
			*d = append(*d, OpeningCovered{name, o.Kind, t.Patch.Face.Wall(), a})
		}
	}
}
