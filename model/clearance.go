package model

import (
	"fmt"
	"iter"

	"gonum.org/v1/gonum/spatial/r3"
)

// ObstaclesIn yields the boxes of [Project.Obstacles] as they stand in a layout.
func (p *Project) ObstaclesIn(l Layout) iter.Seq[Block] {
	return func(yield func(Block) bool) {
		for b := range p.Obstacles() {
			if b.Moves() {
				b = p.BlockIn(b, l)
			}
			if !yield(b) {
				return
			}
		}
	}
}

// Obstacles yields the boxes in which neither a speaker nor the main seat may be, where the file
// has them: solid blocks, treatments, the file's boxes of air, then the floor that each door sweeps
// when it opens into the room. It allocates nothing for a room whose doors open outwards.
func (p *Project) Obstacles() iter.Seq[Block] {
	return func(yield func(Block) bool) {
		for _, b := range p.Room.Blocks {
			if !yield(b) {
				return
			}
		}
		for i := range p.Room.Treatments {
			for b := range p.Room.Spaces(&p.Room.Treatments[i]) {
				if !yield(b) {
					return
				}
			}
		}
		for _, b := range p.KeepClear {
			if !b.Flat() && !yield(b) {
				return
			}
		}
		for i := range p.Room.Openings {
			if b, ok := p.Room.swing(&p.Room.Openings[i]); ok && !yield(b) {
				return
			}
		}
	}
}

// swing returns the space in front of a door that opens inwards: a square of the
// door's width from floor to ceiling, or the box about it if the wall stands aslant.
func (r *Room) swing(o *Opening) (Block, bool) {
	if o.Kind != "door" || o.Swing != "inward" || o.Patch.Face.Axis() == 2 {
		return Block{}, false
	}
	name := "door swing"
	if o.Name != "" {
		name = fmt.Sprintf("swing of %s", o.Name)
	}
	s, ok := r.Stretch(o)
	if !ok {
		return Block{}, false
	}
	b := r.inFrontOf(s, o.Patch.Width)
	b.Name = name
	return b, true
}

// inFront returns the space that reaches from a patch into the room by depth.
func (r *Room) inFront(p Patch, depth float64) Block {
	var from, to float64
	switch p.Face {
	case Front, Left, Floor:
		from, to = 0, depth
	case Back:
		from, to = r.Size.X-depth, r.Size.X
	case Right:
		from, to = r.Size.Y-depth, r.Size.Y
	case Ceiling:
		from, to = r.Size.Z-depth, r.Size.Z
	}
	a0, a1, u0, u1 := p.Along, p.Along+p.Width, p.Up, p.Up+p.Height
	switch p.Face.Axis() {
	case 0:
		return Block{Min: r3.Vec{X: from, Y: a0, Z: u0}, Max: r3.Vec{X: to, Y: a1, Z: u1}}
	case 1:
		return Block{Min: r3.Vec{X: a0, Y: from, Z: u0}, Max: r3.Vec{X: a1, Y: to, Z: u1}}
	}
	return Block{Min: r3.Vec{X: a0, Y: u0, Z: from}, Max: r3.Vec{X: a1, Y: u1, Z: to}}
}
