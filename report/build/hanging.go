package build

import (
	"fmt"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/report/svg"
	"evenbass/report/text"
)

// hung is a piece as it shows on a wall.
type hung struct {
	piece   int
	patch   model.Patch
	outline []r2.Vec // along an upright wall and up, where a slope trims the piece; nil for a rectangle
}

// on returns the pieces on a wall, each with the part of the wall that it covers.
func (b *Report) on(f model.Face) []hung {
	var list []hung
	for i := range b.Plan.Pieces {
		p := &b.Plan.Pieces[i]
		t := b.Project.Room.Treatments[p.Treatment]
		for _, patch := range b.Project.Room.Footprints(&t) {
			if patch.Face != f {
				continue
			}
			if p.Kind != build.CornerFill {
				patch = p.Space.Shadow(f)
			}
			h := hung{piece: i, patch: patch}
			if f != model.Ceiling {
				for _, c := range p.Outline {
					h.outline = append(h.outline, r2.Add(c, r2.Vec{X: patch.Along, Y: patch.Up}))
				}
			}
			list = append(list, h)
		}
	}
	return list
}

// hangingTable lists the pieces of a wall, with the numbers to mark.
func (b *Report) hangingTable(f model.Face) text.Table {
	v := newWallView(&b.Project.Room, f, svg.Wide)
	t := text.Table{
		Caption: "Measure along the wall from the corner with the " + v.leftCorner() + ", on your left",
		Head:    []string{"mark", "from the corner", "lower edge", "upper edge", "weight", "people", "held by"}, Align: "lrrrrrl",
	}
	if f == model.Ceiling {
		t.Caption = "Measure from the left wall and from the front wall; the height is that of the lower face"
		t.Head = []string{"mark", "from the left wall", "from the front wall", "lower face", "weight", "people", "held by"}
		if len(b.Project.Room.Slopes) > 0 {
			t.Caption = "Measure level, from the left wall and from the front wall; the height is that of the lowest edge"
			t.Head[3] = "lowest edge"
		}
	}
	for _, h := range b.on(f) {
		p := &b.Plan.Pieces[h.piece]
		across, up := v.span(h.patch)
		heights := []string{b.tapeCell(up.Min), b.cell(func(one *Report) string { return one.upperEdge(p, up) })}
		if f == model.Ceiling {
			heights[1] = b.tapeCell(p.Lower())
		}
		t.Rows = append(t.Rows, []string{b.mark(h.piece), b.tapeCell(across.Min), heights[0], heights[1], b.weightCell(p.Weight), fmt.Sprint(p.Persons), fixingLine(p)})
	}
	return t
}

// upperEdge writes how high a piece reaches above the floor: at both sides as one faces it, if a slope trims it.
func (b *Report) upperEdge(p *build.Piece, up model.Range) string {
	if p.Outline == nil {
		return b.Style.Tape(up.Max)
	}
	ends := b.faced(p).Ends()
	words := fmt.Sprintf("%s left, %s right", b.Style.Tape(up.Min+ends[0]), b.Style.Tape(up.Min+ends[1]))
	if p.Height > max(ends[0], ends[1])+0.002 {
		words += ", " + b.Style.Tape(up.Max) + " between"
	}
	return words
}

// standingTable lists the pieces that stand free in the room.
func (b *Report) standingTable() text.Table {
	t := text.Table{Caption: "What stands free: its nearest corner and its size", Head: []string{"mark", "from the front wall", "from the left wall", "above the floor", "size", "weight", "held by"}, Align: "lrrrrrl"}
	for i := range b.Plan.Pieces {
		p := &b.Plan.Pieces[i]
		if b.Project.Room.Treatments[p.Treatment].Form != model.FreeStanding {
			continue
		}
		size := r3.Sub(p.Space.Max, p.Space.Min)
		t.Rows = append(t.Rows, []string{
			b.mark(i), b.tapeCell(p.Space.Min.X), b.tapeCell(p.Space.Min.Y), b.tapeCell(p.Space.Min.Z),
			b.sizeCell(size.X, size.Y, size.Z), b.weightCell(p.Weight), fixingLine(p),
		})
	}
	return t
}

// fixingLine is all that holds a piece, in one line.
func fixingLine(p *build.Piece) string {
	var parts []string
	for _, f := range p.Fixings {
		parts = append(parts, fixingText(f.Count, f.Text))
	}
	if len(parts) == 0 {
		return "stands by itself"
	}
	return strings.Join(parts, "; ")
}
