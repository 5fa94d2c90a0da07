package optimize

import (
	"cmp"
	"math"
	"math/rand/v2"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// Draw is one guess at all that is not known of a room and its marks. The zero value
// is what was taken for the figures.
type Draw struct {
	// Walls is by how much each wall absorbs less (down to -1, as little as is
	// likely) or more (up to 1) than is typical, by [model.Face].
	Walls       [6]float64
	Wool        float64   // flow resistivity of all wool, from -1 to 1, see Resistivity; only where it stands in the room
	Temperature float64   // K on top of the room's
	Size        r3.Vec    // m on top of the room's
	Marks       [3]r3.Vec // m on plan that left woofer, right woofer and head are off
	Woofer      float64   // m that both woofers are higher than thought
}

// How far what is not known may be off to either side; every value between is as
// likely. Our own estimates, no source.
const (
	DrawnTemperature = 4.0   // K
	DrawnTape        = 0.015 // m, of the room's sizes and of the marks
	DrawnWoofer      = 0.02  // m
	DrawnWool        = 1.4   // flow resistivity as a ratio, or its inverse
)

// Resistivity returns the drawn flow resistivity as a ratio to what it is typically.
func (d Draw) Resistivity() float64 { return math.Pow(DrawnWool, d.Wool) }

// Draws returns n guesses. Walls are half one guess for all, since what a table of
// absorption gets wrong it gets wrong for all of them, and half their own. The same
// seed gives the same draws, and the first of many are those of few.
func Draws(n int, seed int64) []Draw {
	rng := rand.New(rand.NewPCG(uint64(seed), 0x64726177))
	wool := rand.New(rand.NewPCG(uint64(seed), 0x776f6f6c)) // of its own, as it came later
	within := func(most float64) float64 { return most * (2*rng.Float64() - 1) }
	list := make([]Draw, n)
	for i := range list {
		d := &list[i]
		all := within(0.5)
		for f := range d.Walls {
			d.Walls[f] = all + within(0.5)
		}
		d.Temperature = within(DrawnTemperature)
		d.Size = r3.Vec{X: within(DrawnTape), Y: within(DrawnTape), Z: within(DrawnTape)}
		for k := range d.Marks {
			d.Marks[k] = r3.Vec{X: within(DrawnTape), Y: within(DrawnTape)}
		}
		d.Woofer = within(DrawnWoofer)
		d.Wool = 2*wool.Float64() - 1
	}
	return list
}

// Box returns a box that has the given walls and is otherwise as drawn.
func (d Draw) Box(room *model.Room, walls model.Box) model.Box {
	walls.Size, walls.Air = r3.Add(room.Size, d.Size), d.air(room)
	return walls
}

// air returns the room's air at the drawn temperature.
func (d Draw) air(room *model.Room) model.Air {
	return model.AirAt(cmp.Or(room.Temperature, model.ReferenceTemperature) + d.Temperature)
}

// drawnParts is how many parts of a room absorb more or less by a draw: six walls, and all
// wool.
const drawnParts = 7

// part returns where a part's place in the draw is kept, from -1 to 1.
func (d *Draw) part(n int) *float64 {
	if n < len(d.Walls) {
		return &d.Walls[n]
	}
	return &d.Wool
}

// layout returns a layout as it stands in truth if it is marked as given.
func (d Draw) layout(l model.Layout, size r3.Vec) model.Layout {
	up := r3.Vec{Z: d.Woofer}
	l.Left = inside(r3.Add(r3.Add(l.Left, d.Marks[0]), up), size)
	l.Right = inside(r3.Add(r3.Add(l.Right, d.Marks[1]), up), size)
	l.Seat = inside(r3.Add(l.Seat, d.Marks[2]), size)
	return l
}
