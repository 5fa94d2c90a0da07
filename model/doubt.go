package model

import "fmt"

// Doubts returns what is odd about a valid project without making it impossible:
// wishes that things break as they stand now, and figures that want a second
// look. The result of an invalid project means nothing.
func (p *Project) Doubts() []Warning {
	var d doubts
	if now, ok := p.Now(); ok {
		for _, b := range p.Breaches(now) {
			d.add("as things stand, %s (by %s)", b.What, b.By())
		}
	}
	if p.Speakers.Box == (Dimensions{}) {
		d.add("the size of the speakers' boxes is not given: places near walls are judged for a point")
	}
	for _, f := range Faces {
		d.surface("the "+f.Wall(), p.Room.Walls[f])
	}
	for i := range p.Room.Treatments {
		d.treatment(&p.Room, i)
	}
	return d
}

type doubts []Warning

func (d *doubts) add(format string, args ...any) {
	*d = append(*d, Warning(Sprintf(format, args...)))
}

// highestLocal is the most that a locally reacting surface absorbs at random
// incidence, for ζ = 1.567 (Paris 1928; Kuttruff, Room Acoustics, section 2.5).
const highestLocal = 0.951

func (d *doubts) surface(what string, s Surface) {
	for _, a := range s.Absorption {
		if a.Coefficient > highestLocal {
			d.add("%s takes %.2f at %g Hz, more than the %.2f that a locally reacting surface can at random incidence",
				what, a.Coefficient, a.Frequency, highestLocal)
			return
		}
	}
}

func (d *doubts) treatment(r *Room, i int) {
	t := &r.Treatments[i]
	name := t.Name
	if name == "" {
		name = fmt.Sprintf("treatment %d", i+1)
	}
	for _, l := range t.Layers {
		if l.Thickness > 1.5 {
			d.add("%s has a layer of %.3g m: is the unit right?", name, l.Thickness)
		}
	}
	if t.Form != OnWall {
		return
	}
	for i := range r.Openings {
		o := &r.Openings[i]
		in, _ := r.BorderPatch(o)
		if a := t.Patch.Overlap(in); a > slack {
			d.add("%s covers %.2f m² of a %s in the %s: it must stay usable", name, a, o.Kind, t.Patch.Face.Wall())
		}
	}
	for _, o := range r.Treatments[:i] {
		if o.Form != OnWall {
			continue
		}
		if a := t.Patch.Overlap(o.Patch); a > slack {
			d.add("%s and %q share %.2f m² of the %s", name, o.Name, a, t.Patch.Face.Wall())
		}
	}
}
