package stage

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"gonum.org/v1/gonum/spatial/r3"
)

// onWall adds a layer on a patch with its mirror image.
func (t *builder) onWall(kind Kind, n int, patch model.Patch, layers ...model.Layer) {
	piece := model.Treatment{Patch: patch, Layers: layers}
	twin := piece
	twin.Patch = t.mirror(patch)
	if onMidLine(patch, twin.Patch) {
		t.add(kind, t.place(patch, n), piece)
		return
	}
	t.pair(kind, t.place(patch, n), piece, twin)
}

// sites returns where pieces of a width may begin along a wall: side by side from its start.
// If mirrored, only in the near half, and one in the middle.
func sites(along, width float64, mirrored bool) []float64 {
	var list []float64
	if along < width {
		return nil
	}
	last := along - width
	if mirrored {
		last = along/2 - width
	}
	for at := 0.0; at <= last+1e-9; at += width {
		list = append(list, at)
	}
	if mirrored {
		return append(list, (along-width)/2)
	}
	return list
}

// corners adds fills of the upright corners: triangles cut once and twice from a batt's
// width, and squares of half its width.
func (t *builder) corners() {
	width, height := t.batt().Width, t.project.Room.Size.Z
	for _, wall := range []model.Face{model.Front, model.Back} {
		for _, c := range []struct {
			leg    float64
			square bool
			shape  string
		}{{width, false, "large triangles"}, {geometry.Round(width / math.Sqrt2), false, "small triangles"}, {width / 2, true, "squares"}} {
			corner := model.Corner{Walls: [2]model.Face{wall, model.Left}, Leg: c.leg, Square: c.square, To: height}
			piece := model.Treatment{Form: model.InCorner, Corner: corner, Layers: []model.Layer{t.fill()}}
			twin := piece
			twin.Corner.Walls[1] = model.Right
			t.pair(Corner, fmt.Sprintf("%s corners, %s", wall, c.shape), piece, twin)
		}
	}
}

// fill returns the wool of a corner fill; its thickness follows from the corner.
func (t *builder) fill() model.Layer {
	w := t.batt().Layer
	w.Thickness = 0
	return w
}

// edges adds fills between walls and ceiling, as long as whole batts reach.
func (t *builder) edges() {
	if t.project.Stock.Rental {
		return
	}
	leg := geometry.Round(t.batt().Width / math.Sqrt2)
	for _, wall := range []model.Face{model.Back, model.Front, model.Left} {
		along, _ := t.project.Room.Extent(wall)
		long := t.stackHeight(along)
		if long == 0 {
			continue
		}
		corner := model.Corner{Walls: [2]model.Face{wall, model.Ceiling}, Leg: leg, From: geometry.Round((along - long) / 2), To: geometry.Round((along + long) / 2)}
		piece := model.Treatment{Form: model.InCorner, Corner: corner, Layers: []model.Layer{t.fill()}}
		if wall != model.Left {
			t.add(EdgeFill, wall.Wall()+" and ceiling", piece)
			continue
		}
		twin := piece
		twin.Corner.Walls[0] = model.Right
		t.pair(EdgeFill, "side walls and ceiling", piece, twin)
	}
}

// clouds adds layers below the ceiling, of four batts each: midway between pair and seat,
// above the seat and above the pair.
func (t *builder) clouds() {
	if t.project.Stock.Rental {
		return
	}
	batt, l := t.batt(), t.layout
	front := (l.Left.X + l.Right.X) / 2
	for _, c := range []struct {
		x     float64
		where string
	}{{(front + l.Seat.X) / 2, "between pair and seat"}, {l.Seat.X, "above the seat"}, {front, "above the pair"}} {
		middle := r3.Vec{X: geometry.Round(c.x), Y: t.project.Room.Size.Y / 2}
		half := r3.Vec{X: batt.Width, Y: batt.Length}
		piece := model.Treatment{
			Form: model.UnderCeiling, Gap: batt.Layer.Thickness,
			Box: model.Block{Min: r3.Sub(middle, half), Max: r3.Add(middle, half)}, Layers: []model.Layer{t.wool(1)},
		}
		t.add(Cloud, fmt.Sprintf("%s (%.2f m)", c.where, c.x), piece) // pieces of one name count as one
	}
}

// panels adds free-standing panels, two batts side by side, behind the seat: 0.3 and 0.6 m
// off the back wall.
func (t *builder) panels() {
	batt, size := t.batt(), t.project.Room.Size
	thick, height := 2*batt.Layer.Thickness, t.stackHeight(size.Z)
	for _, c := range []struct {
		off   float64
		where string
	}{{0.3, "near the back wall"}, {0.6, "well off the back wall"}} {
		box := model.Block{
			Min: r3.Vec{X: geometry.Round(size.X - c.off - thick), Y: geometry.Round(size.Y/2 - batt.Width)},
			Max: r3.Vec{X: geometry.Round(size.X - c.off), Y: geometry.Round(size.Y/2 + batt.Width), Z: min(height, batt.Length)},
		}
		piece := model.Treatment{Form: model.FreeStanding, Box: box, Layers: []model.Layer{t.wool(2)}}
		t.add(Screen, c.where, piece)
	}
}

// pair adds two treatments or, if only one of them may be built, that one.
func (t *builder) pair(kind Kind, where string, a, b model.Treatment) {
	switch okA, okB := t.allowed(a), t.allowed(b); {
	case okA && okB && !t.project.Room.Space(&a).Overlaps(t.project.Room.Space(&b)):
		t.add(kind, where, a, b)
	case okA:
		t.add(kind, where+", left only", a)
	case okB:
		t.add(kind, where+", right only", b)
	}
}
