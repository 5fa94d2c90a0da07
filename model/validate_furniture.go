package model

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"
)

// path returns where the room file has a thing that is entry i of a list, or a piece of furniture.
func (f Furniture) path(list string, i int) string {
	if f.Kind != 0 {
		list, i = "furniture", f.Item-1
	}
	return fmt.Sprintf("%s[%d]", list, i)
}

// furniture checks what the lists that furniture is part of do not ask. It relies on boxes that are inside the room.
func (v *validator) furniture() {
	r := &v.p.Room
	list := v.p.Furnishings()
	for i, f := range list {
		path := f.path("", 0)
		if d := r3.Sub(f.Max, f.Min); f.Kind == Column && math.Abs(d.X-d.Y) > touching {
			v.fail(path+".to", "must make it as wide as deep, for a column is round: have %.6g m by %.6g m; for a box of wool write kind: screen", d.X, d.Y)
		}
		for _, o := range list[:i] {
			v.apart(path, f.Block, o.Block, Quote(o.Name))
		}
		for _, b := range r.Blocks {
			if b.Furniture.Kind == 0 {
				v.apart(path, f.Block, b, Quote(b.Name))
			}
		}
		for j := range r.Treatments {
			if t := &r.Treatments[j]; !t.Furnished() {
				v.apart(path, f.Block, r.Space(t), t.title())
			}
		}
	}
}

// apart checks that a piece of furniture does not stand in something else.
func (v *validator) apart(path string, b, o Block, name string) {
	if b.overlapsBy(o) > touching {
		v.fail(path, "takes the space of %s: end one where the other begins, or leave one out", name)
	}
}

// overlapsBy returns how far two blocks reach into each other on the axis where they do least, m; below 0 they are
// apart.
func (b Block) overlapsBy(o Block) float64 {
	return min(
		min(b.Max.X, o.Max.X)-max(b.Min.X, o.Min.X), min(b.Max.Y, o.Max.Y)-max(b.Min.Y, o.Min.Y), min(b.Max.Z, o.Max.Z)-max(b.Min.Z, o.Min.Z),
	)
}

// filling checks what a stuffed piece is filled with.
func (v *validator) filling(path string, t *Treatment) {
	box, depth := t.Box.thinnest(), t.Depth()
	switch {
	case t.Filled() != t.Box && depth > t.Box.Max.Z-t.Box.Min.Z+slack:
		v.fail(path+".filling", "must be at most as thick as the %s is high, %.6g m, have %.6g m", t.Box.Kind, t.Box.Max.Z-t.Box.Min.Z, depth)
	case t.Filled() == t.Box && math.Abs(depth-box) > 0.005:
		v.fail(path+".filling", "must fill the %s, whose thinnest side is %.6g m, have %.6g m: leave the thickness out", t.Box.Kind, box, depth)
	}
}

// under reports whether a stuffed piece is what the main seat, which may move, is on: by its name or by its place.
func (f Furnishing) under(p *Project) bool {
	s := &p.Seats[0]
	if f.Kind.Row().Effect != Stuffed || !s.Placed || len(s.Zones) == 0 {
		return false
	}
	return s.On != "" && s.On == f.Name || f.overPlan(s.At)
}

// overPlan reports whether a point is above the block's part of the floor.
func (b Block) overPlan(at r3.Vec) bool {
	at.Z = b.Min.Z
	return b.Contains(at)
}

// furniture says which furniture does nothing, which stays when the seat on it moves, and doubts what is too deep for
// its kind and what is filled by assumption.
func (d *warnings) furniture(p *Project) {
	var inert, assumed []string
	for _, f := range p.Furnishings() {
		switch effect := f.Kind.Row().Effect; {
		case effect == Inert:
			inert = append(inert, f.Name)
		case effect == Stuffed && f.Usual():
			assumed = append(assumed, f.Name)
		}
		if f.under(p) {
			*d = append(*d, FurnitureStays{f.Name, f.path("", 0)})
		}
	}
	if len(inert) > 0 {
		*d = append(*d, FurnitureInert{strings.Join(inert, ", ")})
	}
	if len(assumed) > 0 {
		*d = append(*d, FurnitureAssumed{strings.Join(assumed, ", ")})
	}
	for _, b := range p.KeepClear {
		deep := b.thinnest()
		if b.Furniture.Kind == Curtain { // with the air behind it
			axis := b.Thin()
			size, low, high := [3]float64{p.Room.Size.X, p.Room.Size.Y, p.Room.Size.Z}[axis], [3]float64{b.Min.X, b.Min.Y, b.Min.Z}[axis], [3]float64{b.Max.X, b.Max.Y, b.Max.Z}[axis]
			deep = min(high, size-low)
		}
		if most := b.Furniture.Kind.Row().Deepest; most > 0 && deep > most+slack {
			*d = append(*d, FurnitureDeep{Name: b.Name, Kind: b.Furniture.Kind, Depth: deep, Most: most})
		}
	}
}
