package uncertainty

import (
	"cmp"
	"math"
	"math/rand/v2"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"gonum.org/v1/gonum/spatial/r3"
)

// Trial is one random guess at everything uncertain about a room and its marks. The zero
// value is what the figures assume.
type Trial struct {
	// Walls says for each [model.Face] how much less (down to -1, as little as is likely)
	// or more (up to 1) it absorbs than is typical.
	Walls       [6]float64
	Wool        float64   // flow resistivity of all wool in the room, from -1 to 1, see Resistivity
	Temperature float64   // K above the room's
	Size        r3.Vec    // m above the room's
	Marks       [3]r3.Vec // how far left woofer, right woofer and seat are off on plan, m
	Woofer      float64   // how much higher both woofers are than assumed, m
}

// The largest error of each uncertain figure, to either side; every value between is
// equally likely. Our own estimates, no source.
const (
	TemperatureError = 4.0   // K
	TapeError        = 0.015 // m, of the room's sizes and of the marks
	WooferError      = 0.02  // m
	ResistivityRatio = 1.4   // flow resistivity as a ratio, or its inverse
)

// Resistivity returns the trial's flow resistivity as a ratio to the typical one.
func (d Trial) Resistivity() float64 { return math.Pow(ResistivityRatio, d.Wool) }

// Trials returns n random trials. Half of each wall's error is shared by all walls, since a
// table of absorption errs the same way for all of them; half is its own. The same seed
// gives the same trials, and a longer list begins with the shorter one.
func Trials(n int, seed int64) []Trial {
	rng := rand.New(rand.NewPCG(uint64(seed), 0x64726177))
	wool := rand.New(rand.NewPCG(uint64(seed), 0x776f6f6c)) // a stream of its own, so that the other figures do not depend on wool
	within := func(most float64) float64 { return most * (2*rng.Float64() - 1) }
	list := make([]Trial, n)
	for i := range list {
		d := &list[i]
		all := within(0.5)
		for f := range d.Walls {
			d.Walls[f] = all + within(0.5)
		}
		d.Temperature = within(TemperatureError)
		d.Size = r3.Vec{X: within(TapeError), Y: within(TapeError), Z: within(TapeError)}
		for k := range d.Marks {
			d.Marks[k] = r3.Vec{X: within(TapeError), Y: within(TapeError)}
		}
		d.Woofer = within(WooferError)
		d.Wool = 2*wool.Float64() - 1
	}
	return list
}

// Box returns the room as a box of the trial's size and temperature with the given walls.
func (d Trial) Box(room *model.Room, walls model.Box) model.Box {
	walls.Size, walls.Air = r3.Add(room.TrueSize(), d.Size), d.air(room)
	return walls
}

// air returns the room's air at the trial's temperature.
func (d Trial) air(room *model.Room) model.Air {
	return model.AirAt(cmp.Or(room.Temperature, model.ReferenceTemperature) + d.Temperature)
}

// trialParts is how many parts of a room absorb more or less in a trial: six walls, and
// all wool.
const trialParts = 7

// part returns where the trial keeps the figure of one part, from -1 to 1.
func (d *Trial) part(n int) *float64 {
	if n < len(d.Walls) {
		return &d.Walls[n]
	}
	return &d.Wool
}

// layout returns where things really stand if they are marked as given.
func (d Trial) layout(l model.Layout, size r3.Vec) model.Layout {
	up := r3.Vec{Z: d.Woofer}
	l.Left = geometry.Inside(r3.Add(r3.Add(l.Left, d.Marks[0]), up), size)
	l.Right = geometry.Inside(r3.Add(r3.Add(l.Right, d.Marks[1]), up), size)
	l.Seat = geometry.Inside(r3.Add(l.Seat, d.Marks[2]), size)
	return l
}
