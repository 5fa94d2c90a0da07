package model

import "gonum.org/v1/gonum/spatial/r2"

// openingPlace checks that an opening is in one wall, inside it, and apart from those
// before it.
func (v *validator) openingPlace(i int, path string) {
	r := &v.p.Room
	o := &r.Openings[i]
	s, problem := r.place(o)
	switch {
	case problem != "" && o.Edge != 0:
		v.fail(path+".wall", "%s", problem)
		return
	case problem != "":
		v.fail(path, "%s", problem)
		return
	case o.Patch.Face.Axis() == 2:
		v.onWall(path, o.Patch)
	default:
		if short := o.Patch.Up + o.Patch.Height - min(r.CeilingAt(s.From), r.CeilingAt(s.To)); short > slack {
			v.fail(path, "must end below the sloped ceiling, reaches %.3g m above it", short)
		}
	}
	for j := range r.Openings[:i] {
		if a := r.openingOverlap(o, &r.Openings[j]); a > slack {
			v.fail(path, "overlaps openings[%d] in the %s by %.3g m²", j, r.OpeningWall(o), a)
		}
	}
}

// openingOverlap returns the area in m² that two openings share.
func (r *Room) openingOverlap(o, q *Opening) float64 {
	s, ok := r.Stretch(o)
	if !ok {
		return o.Patch.Overlap(q.Patch)
	}
	t, ok := r.Stretch(q)
	if !ok {
		return 0
	}
	height := min(o.Patch.Up+o.Patch.Height, q.Patch.Up+q.Patch.Height) - max(o.Patch.Up, q.Patch.Up)
	return s.Overlap(t) * max(0, height)
}

// openingExtent returns the length and the greatest height of the wall that an opening
// names, m.
func (r *Room) openingExtent(o *Opening) (along, up float64) {
	if o.Edge < 1 || o.Edge > len(r.Outline) {
		return r.Extent(o.Patch.Face)
	}
	from, to := r.Outline.Edge(o.Edge - 1)
	for _, v := range r.CeilingLine(from, to) {
		up = max(up, v.Z)
	}
	return r2.Norm(r2.Sub(to, from)), up
}
