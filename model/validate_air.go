package model

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// narrowestGap is the gap between blocks, or beside one, that counts as closed, m: a tape is off by as
// much. Our own choice, no source.
const narrowestGap = 0.01

// leastPocket is how much air may be shut off, m³: less than a speaker's box holds. Our own choice, no
// source.
const leastPocket = 0.02

// air checks that blocks leave the room's air in one piece, and no door behind one. Sound does not reach
// what is shut off, and nobody could walk there. It relies on blocks that are inside the room.
func (v *validator) air() {
	for i := range v.p.Room.Openings {
		o := &v.p.Room.Openings[i]
		if b, ok := v.p.Room.before(o); ok && o.Kind == "door" {
			v.fail(fmt.Sprintf("openings[%d]", i), "must not be behind the block %q; end the block beside the door, or leave the door out", b.Name)
		}
	}
	pieces := v.p.Room.pieces()
	if len(pieces) < 2 {
		return
	}
	pocket := pieces[1]
	v.fail("blocks", "cut the room in two: %.2g m³ of air about %.3g m, %.3g m, %.3g m is shut off from the rest; leave a gap, or end the room there by its size or outline",
		pocket.volume, pocket.middle.X, pocket.middle.Y, pocket.middle.Z)
}

// before returns the block that stands before an opening and leaves less than a tenth of it free; false
// if there is none, or if the opening is in a wall inside the bounding box.
func (r *Room) before(o *Opening) (Block, bool) {
	patch, ok := r.BorderPatch(o)
	if !ok {
		return Block{}, false
	}
	space := r.inFront(patch, narrowestGap)
	d := r3.Sub(space.Max, space.Min)
	for _, b := range r.Blocks {
		x := overlap(Range{b.Min.X, b.Max.X}, Range{space.Min.X, space.Max.X})
		y := overlap(Range{b.Min.Y, b.Max.Y}, Range{space.Min.Y, space.Max.Y})
		z := overlap(Range{b.Min.Z, b.Max.Z}, Range{space.Min.Z, space.Max.Z})
		if b.Overlaps(space) && (x.Max-x.Min)*(y.Max-y.Min)*(z.Max-z.Min) > 0.9*d.X*d.Y*d.Z {
			return b, true
		}
	}
	return Block{}, false
}

// piece is air that hangs together.
type piece struct {
	volume float64 // m³
	middle r3.Vec  // centre of gravity, m
}

// pieces returns the room's air in pieces that hang together, the largest first. Pieces below
// [leastPocket] are left out, and gaps below [narrowestGap] are closed. Gaps beside an outline or under
// a slope count as open if they are wider than the raster, 0.1 m or more in large rooms.
func (r *Room) pieces() []piece {
	if len(r.Blocks) == 0 {
		return nil
	}
	c := r.columns()
	var list []piece
	for i := range c.air {
		if c.root(i) == i && c.air[i].volume >= leastPocket {
			a := c.air[i]
			list = append(list, piece{a.volume, r3.Scale(1/a.volume, a.moment)})
		}
	}
	slices.SortStableFunc(list, func(a, b piece) int {
		if a.volume > b.volume {
			return -1
		}
		return 1
	})
	return list
}

// columns are the room's air above a raster on plan, each column as the ranges of height that no block
// takes.
type columns struct {
	x, y []float64 // lines of the raster, m
	at   [][]int   // by column: which of air
	air  []stretchOfAir
}

// stretchOfAir is air in one column. Those that hang together form a tree by their parents, and its
// root holds volume and moment of all.
type stretchOfAir struct {
	height Range
	parent int
	volume float64
	moment r3.Vec // volume times centre of gravity
}

// columns cuts the room's air along the sides of its blocks.
func (r *Room) columns() *columns {
	const grow = narrowestGap / 2
	blocks := make([]Block, len(r.Blocks))
	inner := Block{Min: r3.Vec{X: grow, Y: grow, Z: grow}, Max: r3.Sub(r.Size, r3.Vec{X: grow, Y: grow, Z: grow})}
	c := &columns{x: r.raster(inner.Min.X, inner.Max.X, r.Size.X), y: r.raster(inner.Min.Y, inner.Max.Y, r.Size.Y)}
	for i, b := range r.Blocks {
		b.Min = r3.Sub(b.Min, r3.Vec{X: grow, Y: grow, Z: grow})
		b.Max = r3.Add(b.Max, r3.Vec{X: grow, Y: grow, Z: grow})
		blocks[i] = b
		c.x, c.y = between(append(c.x, b.Min.X, b.Max.X), inner.Min.X, inner.Max.X), between(append(c.y, b.Min.Y, b.Max.Y), inner.Min.Y, inner.Max.Y)
	}
	for i := range c.x[1:] {
		for j := range c.y[1:] {
			x, y := Range{c.x[i], c.x[i+1]}, Range{c.y[j], c.y[j+1]}
			c.add(x, y, r.free(x, y, Range{inner.Min.Z, inner.Max.Z}, blocks))
			if i > 0 {
				c.join(len(c.at)-1, len(c.at)-1-(len(c.y)-1))
			}
			if j > 0 {
				c.join(len(c.at)-1, len(c.at)-2)
			}
		}
	}
	return c
}

// raster returns the lines that a raster begins with: those that close gaps along the bounding box,
// and in a room that is no whole box many between them.
func (r *Room) raster(low, high, size float64) []float64 {
	n := 1
	if !r.Plain() {
		n = int(math.Ceil(size / max(0.1, size/80)))
	}
	var lines []float64
	for i := range n + 1 {
		lines = append(lines, low+(high-low)*float64(i)/float64(n))
	}
	return lines
}

// between returns lines in order, those beyond the ends and all doubles left out.
func between(lines []float64, low, high float64) []float64 {
	lines = slices.DeleteFunc(lines, func(v float64) bool { return v < low || v > high })
	slices.Sort(lines)
	return slices.Compact(lines)
}

// free returns the ranges of height that blocks leave above a rectangle on plan, which no side of a
// block crosses.
func (r *Room) free(x, y, height Range, blocks []Block) []Range {
	if !r.Plain() {
		part := r.Plan().Window(x, y)
		if part.Area() < slack {
			return nil
		}
		height.Max = min(height.Max, r.highest(part)-narrowestGap/2)
	}
	var taken []Range
	for _, b := range blocks {
		if b.Min.X < x.Max && x.Min < b.Max.X && b.Min.Y < y.Max && y.Min < b.Max.Y {
			taken = append(taken, Range{b.Min.Z, b.Max.Z})
		}
	}
	slices.SortFunc(taken, func(a, b Range) int {
		if a.Min < b.Min {
			return -1
		}
		return 1
	})
	var free []Range
	for _, t := range taken {
		if t.Min > height.Min {
			free = append(free, Range{height.Min, min(t.Min, height.Max)})
		}
		height.Min = max(height.Min, t.Max)
		if height.Min >= height.Max {
			return free
		}
	}
	return append(free, height)
}

// add adds a column with its air.
func (c *columns) add(x, y Range, free []Range) {
	var here []int
	for _, z := range free {
		if z.Max <= z.Min {
			continue
		}
		volume := (x.Max - x.Min) * (y.Max - y.Min) * (z.Max - z.Min)
		middle := r3.Vec{X: (x.Min + x.Max) / 2, Y: (y.Min + y.Max) / 2, Z: (z.Min + z.Max) / 2}
		here = append(here, len(c.air))
		c.air = append(c.air, stretchOfAir{height: z, parent: len(c.air), volume: volume, moment: r3.Scale(volume, middle)})
	}
	c.at = append(c.at, here)
}

// root returns the air that stands for all that hangs together with one.
func (c *columns) root(i int) int {
	for c.air[i].parent != i {
		c.air[i].parent = c.air[c.air[i].parent].parent
		i = c.air[i].parent
	}
	return i
}

// join notes where the air of two columns side by side meets.
func (c *columns) join(a, b int) {
	for _, i := range c.at[a] {
		for _, j := range c.at[b] {
			p, q := c.air[i].height, c.air[j].height
			if min(p.Max, q.Max) <= max(p.Min, q.Min) {
				continue
			}
			if i, j := c.root(i), c.root(j); i != j {
				c.air[j].parent = i
				c.air[i].volume += c.air[j].volume
				c.air[i].moment = r3.Add(c.air[i].moment, c.air[j].moment)
			}
		}
	}
}
