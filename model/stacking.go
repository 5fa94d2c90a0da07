package model

import "slices"

// Doubled returns a piece with as much wool again behind its outer film, and "", or a clause
// that says why it cannot be doubled and what to write instead.
func (t Treatment) Doubled() (Treatment, string) {
	if why := t.unstackable(); why != "" {
		return t, why
	}
	first := slices.IndexFunc(t.Layers, func(l Layer) bool { return l.Kind == PorousLayer })
	if first < 0 {
		return t, "has no wool to double; write front with the layers to put before it"
	}
	more := t.Layers[first]
	more.Thickness = 0
	for _, l := range t.Layers {
		if l.Kind == PorousLayer {
			more.Thickness += l.Thickness
		}
	}
	if more.Thickness != t.Layers[first].Thickness {
		more.Text = ""
	}
	t.Built = min(t.Built, len(t.Layers)-first)
	t.Layers = slices.Insert(slices.Clone(t.Layers), first, more)
	return t, ""
}

// Before returns a piece with layers put before it, and "", or a clause that says why that
// cannot be and what to write instead.
func (t Treatment) Before(layers []Layer) (Treatment, string) {
	if why := t.unstackable(); why != "" {
		return t, why
	}
	t.Layers = slices.Concat(layers, t.Layers)
	return t, ""
}

// unstackable says what a piece has no front for.
func (t Treatment) unstackable() string {
	switch t.Form {
	case InCorner:
		return "fills a corner, which has no front: write move with a longer leg (1.41 times as long is twice the wool)"
	case FreeStanding:
		return "has two sides that face the room: write move with its new from, to and layers"
	}
	return ""
}

// Missing returns the piece without the layers that stand already, in the place where the
// others go, and false if none are missing.
func (t Treatment) Missing() (Treatment, bool) {
	if t.Built >= len(t.Layers) {
		return t, false
	}
	n := len(t.Layers) - t.Built
	behind := Treatment{Layers: t.Layers[n:]}.Depth()
	t.Layers, t.Built = slices.Clone(t.Layers[:n]), 0
	if behind > 0 {
		t.Layers = append(t.Layers, Layer{Kind: GapLayer, Thickness: behind})
	}
	return t, true
}

// touching is how far two pieces may reach into each other, m: batts give way.
const touching = 0.01

// Collide reports whether two pieces would fill the same space. Fills of edges that meet in a
// corner do not count: they are mitred.
func (r *Room) Collide(a, b *Treatment) bool {
	if a.Form == InCorner && b.Form == InCorner && a.Corner.Axis() != b.Corner.Axis() {
		return false
	}
	s, o := r.Space(a), r.Space(b)
	low := [3]float64{max(s.Min.X, o.Min.X), max(s.Min.Y, o.Min.Y), max(s.Min.Z, o.Min.Z)}
	high := [3]float64{min(s.Max.X, o.Max.X), min(s.Max.Y, o.Max.Y), min(s.Max.Z, o.Max.Z)}
	for i := range low {
		if high[i]-low[i] <= touching {
			return false
		}
	}
	return r.reachesTriangle(a, low, high) && r.reachesTriangle(b, low, high)
}

// reachesTriangle reports whether a box within a piece's space reaches the piece itself, which
// in a corner may be a triangle.
func (r *Room) reachesTriangle(t *Treatment, low, high [3]float64) bool {
	if t.Form != InCorner || t.Corner.Square {
		return true
	}
	size := [3]float64{r.Size.X, r.Size.Y, r.Size.Z}
	var reach float64
	for _, f := range t.Corner.Walls {
		if axis := f.Axis(); f == Front || f == Left || f == Floor {
			reach += low[axis]
		} else {
			reach += size[axis] - high[axis]
		}
	}
	return reach < t.Corner.Leg-touching
}

// collisions checks that no piece is inside one before it.
func (v *validator) collisions(i int, path string) {
	r := &v.p.Room
	t := &r.Treatments[i]
	for j := range r.Treatments[:i] {
		o := &r.Treatments[j]
		if t.Furnished() || o.Furnished() || !r.Collide(t, o) { // furniture is checked apart
			continue
		}
		remedy := "end one where the other begins, or leave one out"
		if o.Name != "" && o.unstackable() == "" && t.Form == o.Form {
			remedy = Sprintf("to hang it before that one, write front %q with the new layers; to make that one deeper, double %q; or end one where the other begins", o.Name, o.Name)
		}
		v.fail(path, "takes the space of %s: %s", o.title(), remedy)
		v.problems[len(v.problems)-1].Beside = o.Box.path("treatments", j)
		return
	}
}
