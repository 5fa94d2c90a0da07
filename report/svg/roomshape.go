package svg

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/unit"
)

// PlanWalls draws the walls on the plan, and the folds of a sloped ceiling.
func (d *Drawing) PlanWalls(r *model.Room, v View) {
	if len(r.Slopes) > 0 {
		for _, part := range r.CeilingParts() {
			d.polygon("fold", part, v)
		}
		d.lowCorners(r, v)
	}
	if len(r.Outline) == 0 {
		d.Rect("wall", v.Box(model.Block{Max: r.Size}))
		return
	}
	d.polygon("wall", r.Plan(), v)
}

// lowCorners writes how high the ceiling is in the corners where it is low, beside the pieces that stand there.
func (d *Drawing) lowCorners(r *model.Room, v View) {
	kept := len(d.Taken)
	for i := range r.Treatments {
		d.Keep(v.Box(r.Space(&r.Treatments[i])))
	}
	for _, b := range r.Blocks {
		d.Keep(v.Box(b))
	}
	pieces := len(d.Taken)
	defer func() { d.Taken = slices.Delete(d.Taken, kept, pieces) }() // a piece's letter stands on it
	middle := v.At(r3.Scale(0.5, r.Size))
	for _, c := range r.Plan() {
		z := r.CeilingAt(c)
		if z > r.Size.Z-0.01 {
			continue
		}
		at, words := v.At(r3.Vec{X: c.X, Y: c.Y}), d.Style.Plan(z)+" high"
		aside, down := TextWidth(words)/2+6, 13.0
		d.Label("othertext", at, words, into(aside, down, XY(middle.X-at.X, middle.Y-at.Y)))
	}
}

// into returns offsets from a corner towards the middle of the room, the nearest first.
func into(aside, down float64, middle Point) []Point {
	const pace, paces = 8.0, 8
	var all []Point
	for sum := range 2*paces - 1 {
		for i := max(0, sum-paces+1); i <= min(sum, paces-1); i++ {
			all = append(all, XY(math.Copysign(aside+pace*float64(i), middle.X), math.Copysign(down+pace*float64(sum-i), middle.Y)))
		}
	}
	return all
}

func (d *Drawing) polygon(class string, p model.Polygon, v View) {
	var places []r3.Vec
	for _, c := range p {
		places = append(places, onFloor(c))
	}
	d.outline(class, places, v)
}

// SideWalls draws floor, end walls and ceiling in a section through the seat.
func (d *Drawing) SideWalls(r *model.Room, seat r3.Vec, v View) {
	if r.Plain() {
		d.Rect("wall", v.Box(model.Block{Max: r.Size}))
		return
	}
	at := r2.Vec{X: seat.X, Y: seat.Y}
	plan := r.Plan()
	back := seat.X + plan.Ahead(at)
	front := seat.X - turned(plan).Ahead(r2.Vec{X: -at.X, Y: at.Y})
	parts := []any{"M", v.At(r3.Vec{X: front})}
	for _, p := range r.CeilingLine(r2.Vec{X: front, Y: at.Y}, r2.Vec{X: back, Y: at.Y}) {
		parts = append(parts, "L", v.At(p))
	}
	d.Path("wall", append(parts, "L", v.At(r3.Vec{X: back}), "Z")...)
}

// turned returns a plan mirrored front to back about x = 0.
func turned(p model.Polygon) model.Polygon {
	out := make(model.Polygon, len(p))
	for i, c := range p {
		out[i] = r2.Vec{X: -c.X, Y: c.Y}
	}
	return out
}

// ShapeNote explains how the drawings show a room that is not a box; "" for a box.
func ShapeNote(r *model.Room, s unit.Style) string {
	text := ""
	if len(r.Slopes) > 0 {
		low := math.Inf(1)
		for _, c := range r.Plan() {
			low = min(low, r.CeilingAt(c))
		}
		text = "Dashed lines on the plan are the folds of the ceiling, which is " + s.Length(low) +
			" high at its lowest; its height is written in the low corners. "
	}
	if !r.Plain() {
		text += "The side view is cut through the seat. "
	}
	return text
}

// normal returns the axis that a view looks along: 0 for x, 1 for y, 2 for z.
func (v View) normal() int {
	if v.Side {
		return 1
	}
	return 2
}
