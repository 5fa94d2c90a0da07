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
	for _, f := range Faces {
		d.surface("the "+f.Wall(), p.Room.Walls[f])
	}
	for i := range p.Room.Treatments {
		d.treatment(&p.Room, i)
	}
	return d
}

type warnings []Warning

// calibration says what a calibrated room rests on.
func (d *warnings) calibration(c *Calibration) {
	if c == nil {
		return
	}
	seats := "one seat"
	if c.Seats > 1 {
		seats = fmt.Sprintf("%d seats", c.Seats)
	}
	d.add("walls and size are fitted to measurements at %s: %s. The figures are predicted from them, not measured; where the wave solver answers, the size by tape stays", seats, strings.Join(c.From, ", "))
}

// lowest warns of a goal that asks for more than the speakers give.
func (d *warnings) lowest(p *Project) {
	s, from := &p.Speakers, p.Goal.From
	if roll := s.RollOff(); from < roll.Limit {
		with := "begin the goal at %[3]g Hz (goal.from) or add a subwoofer"
		if p.Subwoofers != nil {
			with = "begin the goal at %[3]g Hz (goal.from), or see what the subwoofers add"
		}
		d.add("the goal begins at %[1]g Hz, where the speakers are %.0[2]f dB down (low_limit %[3]g Hz, %[4]v). The spread contains that: "+with,
			from, float64(-roll.Level(from)), roll.Limit, s.Alignment)
	} else if p.Unwritten.From && roll.Limit > 0 && from == roll.Limit {
		d.add("bass is judged from %g Hz up, where the speakers end (low_limit); goal.from asks for another start", from)
	}
}

func (d *warnings) add(format string, args ...any) {
	*d = append(*d, Remark(Sprintf(format, args...)))
}

// highestLocal is the most that a locally reacting surface absorbs at random
// incidence, for ζ = 1.567 (Paris 1928; Kuttruff, Room Acoustics, section 2.5).
const highestLocal = 0.951

func (d *warnings) surface(what string, s Surface) {
	for _, a := range s.Absorption {
		if a.Coefficient > highestLocal {
			d.add("%s absorbs %.2f at %g Hz, but a locally reacting surface absorbs at most %.2f at random incidence",
				what, a.Coefficient, a.Frequency, highestLocal)
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
