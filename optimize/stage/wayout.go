package stage

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/score"
)

// wayWidth is the width of a passage that stays free from each seat to a door, m; a way that is
// narrower or lower already keeps its width. Common practice, no source.
const wayWidth = 0.8

// wayCell is the step of the plan on which a way is looked for, m.
const wayCell = 0.05

// headroom is the clear height over the middle of a way, m: people walk upright. What hangs above it does not
// count, nor does a way under a slope that is lower. Common practice, no source.
const headroom = 1.9

// ways is the walkable floor of a room with what stands there already.
type ways struct {
	room   *model.Room
	nx, ny int
	blocks []model.Block
	doors  []r3.Vec
	seats  []r3.Vec
	width  []float64 // of the way from each seat, m; 0 if there is none
	clear  [][]bool  // by seat, where the centre of a person that wide can be; nil if there is no way out
}

// wayTries are the widths and clear heights of the ways that are looked for, in turn, m: people stoop to a seat
// or a door under a slope only where no upright way leads there.
var wayTries = []struct{ width, height float64 }{
	{wayWidth, headroom}, {0.6, headroom}, {0.4, headroom}, {wayWidth, 0}, {0.6, 0}, {0.4, 0},
}

// newWays finds from which seats there is a way to a door now, and how wide.
func newWays(p *model.Project, l model.Layout) *ways {
	w := &ways{room: &p.Room, nx: int(p.Room.Size.X / wayCell), ny: int(p.Room.Size.Y / wayCell)}
	for i := range p.Room.Openings {
		o := &p.Room.Openings[i]
		if in, ok := p.Room.BorderPatch(o); ok && o.Kind == "door" && in.Face.Axis() != 2 {
			w.doors = append(w.doors, beforeDoor(p.Room.Size, in))
		}
	}
	w.seats = []r3.Vec{l.Seat}
	for i := range score.OtherSeats(p) {
		w.seats = append(w.seats, score.SeatPlace(p, i+1, l))
	}
	w.blocks = append(w.blocks, p.Room.Blocks...)
	for i := range p.Room.Treatments {
		w.blocks = append(w.blocks, p.Room.Space(&p.Room.Treatments[i]))
	}
	for _, kept := range [][]model.Block{p.KeepClear, nil} { // a kept space may be a desk, or the way itself
		with := append(w.blocks[:len(w.blocks):len(w.blocks)], kept...)
		w.width, w.clear = make([]float64, len(w.seats)), make([][]bool, len(w.seats))
		found := len(w.doors) == 0
		for i, seat := range w.seats {
			for _, try := range wayTries {
				if clear := w.floor(try.width, try.height, with); w.open(seat, try.width, clear, nil) {
					w.width[i], w.clear[i], found = try.width, clear, true
					break
				}
			}
		}
		if found {
			w.blocks = with
			break
		}
	}
	return w
}

// beforeDoor returns the place on the floor where a person stands in front of a door.
func beforeDoor(size r3.Vec, in model.Patch) r3.Vec {
	middle, off := in.Along+in.Width/2, wayWidth/2
	switch in.Face {
	case model.Front:
		return r3.Vec{X: off, Y: middle}
	case model.Back:
		return r3.Vec{X: size.X - off, Y: middle}
	case model.Left:
		return r3.Vec{X: middle, Y: off}
	}
	return r3.Vec{X: middle, Y: size.Y - off}
}

// keep reports whether every seat keeps its way to a door when more blocks are added.
func (w *ways) keep(more []model.Block) bool {
	more = slices.DeleteFunc(slices.Clone(more), overhead)
	for i, seat := range w.seats {
		if w.clear[i] != nil && !w.open(seat, w.width[i], w.clear[i], more) {
			return false
		}
	}
	return true
}

// overhead reports whether a person walks under a block, or over it.
func overhead(b model.Block) bool { return b.Min.Z >= headroom || b.Flat() }

// reach is how near to a seat and to the place before a door a way has to come, m.
const reach = 0.5

// floor returns where the centre of a person of a width and a height can be, m, given blocks.
func (w *ways) floor(width, height float64, blocks []model.Block) []bool {
	clear, radius := make([]bool, w.nx*w.ny), width/2-wayCell/2
	blocks = slices.DeleteFunc(slices.Clone(blocks), overhead)
	plan := w.room.Plan()
	for i := range w.nx {
		for j := range w.ny {
			at := w.at(i, j)
			clear[i*w.ny+j] = min(at.X, at.Y, w.room.Size.X-at.X, w.room.Size.Y-at.Y) >= radius &&
				plan.Contains(r2.Vec{X: at.X, Y: at.Y}) && w.room.CeilingAt(r2.Vec{X: at.X, Y: at.Y}) >= height && apart(at, radius, blocks)
		}
	}
	return clear
}

// open reports whether a person of a width can walk from a seat to a door over clear floor that more blocks
// leave free.
func (w *ways) open(seat r3.Vec, width float64, clear []bool, more []model.Block) bool {
	seen := make([]bool, w.nx*w.ny)
	var queue []int
	step := func(i, j int) {
		if i < 0 || j < 0 || i >= w.nx || j >= w.ny || seen[i*w.ny+j] || !clear[i*w.ny+j] || !apart(w.at(i, j), width/2-wayCell/2, more) {
			return
		}
		seen[i*w.ny+j] = true
		queue = append(queue, i*w.ny+j)
	}
	for i := range w.nx {
		for j := range w.ny {
			if model.Plan(w.at(i, j), seat) <= reach {
				step(i, j)
			}
		}
	}
	for n := 0; n < len(queue); n++ {
		i, j := queue[n]/w.ny, queue[n]%w.ny
		for _, door := range w.doors {
			if model.Plan(w.at(i, j), door) <= reach {
				return true
			}
		}
		step(i-1, j)
		step(i+1, j)
		step(i, j-1)
		step(i, j+1)
	}
	return false
}

// at returns the middle of a cell on the floor.
func (w *ways) at(i, j int) r3.Vec {
	return r3.Vec{X: (float64(i) + 0.5) * wayCell, Y: (float64(j) + 0.5) * wayCell}
}

// apart reports whether a circle on the floor is free of blocks. Half a cell is taken off its
// radius before, so that a passage of exactly the wanted width is found wherever it lies between
// the cells.
func apart(at r3.Vec, radius float64, blocks []model.Block) bool {
	for _, b := range blocks {
		dx := max(b.Min.X-at.X, 0, at.X-b.Max.X)
		dy := max(b.Min.Y-at.Y, 0, at.Y-b.Max.Y)
		if math.Hypot(dx, dy) < radius {
			return false
		}
	}
	return true
}
