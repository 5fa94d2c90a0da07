package model

import (
	"cmp"
	"fmt"
	"reflect"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// Project is a whole room file: the room, what is to be placed in it, where that
// may go, and what is wanted.
type Project struct {
	Room      Room
	Materials []Material // the owner's own
	Speakers  Speakers
	Seats     []Seat // the first is the main seat
	Listening Listening
	KeepClear []Block
	Goal      Goal
	Unwritten Unwritten
	Stock     *Stock // nil if the file has none
	Options   []Option

	Subwoofers   *Subwoofers // nil if the file has none
	Measurements []Measured

	Report TitleBlock // what reports say of themselves

	Warnings []Warning // found while reading

	// Memory is how many bytes one run of the wave solver may take; 0 is its usual limit. It is no part of the
	// room file.
	Memory int64
}

// Unwritten says which rules the owner did not write, so that their defaults hold. The zero
// value is "all are the owner's".
type Unwritten struct {
	From     bool // goal.from
	Distance bool // listening.distance
	Angle    bool // listening.angle
	Back     bool // listening.back_distance
}

// Range is a closed interval. The zero value is "not given".
type Range struct{ Min, Max float64 }

// Given reports whether the range has been set.
func (r Range) Given() bool { return r != Range{} }

// Contains reports whether v is in the range; every v is in one not given.
func (r Range) Contains(v float64) bool { return !r.Given() || v >= r.Min && v <= r.Max }

// Zone is a rectangle of the floor in which something may stand.
type Zone struct{ X, Y Range } // m

// Speakers is the pair of loudspeakers. A place is that of the acoustic centre at
// low frequencies: the middle of the woofer, in the front plane of the box.
type Speakers struct {
	Placed      bool   // they stand somewhere now: Left and Right are set
	Left, Right r3.Vec // m; where they stand now

	Free  bool // each may go its own way; otherwise mirrored about the mid-line
	Fixed bool // they stay where they stand now; Free is set too, as the seat need not be on the mid-line

	Box           Dimensions // outer size of one box, m
	WooferBelow   float64    // the woofer's centre below the acoustic axis, m
	AxisHeights   []float64  // heights of the acoustic axis to choose from, m
	RearClearance float64    // behind the box, for a port and its cable, m
	SideClearance float64    // from the box to a side wall, m
	LowLimit      float64    // Hz at -3 dB outdoors; 0 is not given
	Alignment     Alignment  // how the level falls below that

	Zones []Zone // where woofer centres may be; none means the whole floor
	Apart Range  // distance between the two woofers, m
}

// Dimensions is the outer size of a box that faces along x: its depth (x), width
// (y) and height (z) in m.
type Dimensions struct{ Depth, Width, Height float64 }

// Seat is a listener: the point midway between the ears.
type Seat struct {
	Name   string
	Placed bool   // At is where it is now
	At     r3.Vec // m
	Height float64
	Zones  []Zone // where it may move; none means it stays
	Weight float64
	On     string // the piece of furniture that holds it; seats that share one keep their distances
}

// Listening bounds the triangle of speakers and main seat, on plan.
type Listening struct {
	Distance     Range   // seat to each speaker, m
	Angle        Range   // included angle at the seat, rad
	BackDistance float64 // least distance from the seat to the back wall, m
	AlsoFace     []Face  // upright walls that may be faced beside the front wall
	Balance      float64 // most that the two distances may differ, m; 0 is FreeBalance for a free pair and for a seat that moves along the mid-line, else no limit
}

// Goal is what the result is judged by.
type Goal struct {
	From, To  float64 // Hz
	Smoothing int     // octave fraction: 12 is 1/12 octave

	// DecayWeight is how many dB of spread one second of decay counts for where treatments are
	// chosen; 0 is [DefaultDecayWeight].
	DecayWeight float64
}

// DefaultDecayWeight is the weight of decay in dB per second: 0.1 s counts as much as 1 dB of
// spread. Our own choice, no source.
const DefaultDecayWeight = 10.0

// Decay returns the weight of decay in dB per second.
func (g Goal) Decay() float64 { return cmp.Or(g.DecayWeight, DefaultDecayWeight) }

// Layout is one arrangement of the pair and the main seat.
type Layout struct {
	Left, Right r3.Vec // woofer centres, m
	Seat        r3.Vec // between the ears, m
	AxisHeight  float64
}

// Now returns the layout as things stand, if both the speakers and the main seat
// have places.
func (p *Project) Now() (Layout, bool) {
	if !p.Speakers.Placed || len(p.Seats) == 0 || !p.Seats[0].Placed {
		return Layout{}, false
	}
	return Layout{
		Left: p.Speakers.Left, Right: p.Speakers.Right, Seat: p.Seats[0].At,
		AxisHeight: p.Speakers.Left.Z + p.Speakers.WooferBelow,
	}, true
}

// WithLayout returns the project with pair and main seat where a layout puts them, with what goes
// along with them, and with the warnings about those places.
func (p *Project) WithLayout(l Layout) *Project {
	q := *p
	q.Speakers.Placed, q.Speakers.Left, q.Speakers.Right = true, l.Left, l.Right
	q.Seats = slices.Clone(p.Seats)
	for i := range q.Seats {
		q.Seats[i].At = p.SeatAt(i, l)
		q.Seats[i].Placed = q.Seats[i].Placed || i == 0
	}
	q.KeepClear = slices.Clone(p.KeepClear)
	for i := range q.KeepClear {
		q.KeepClear[i] = p.BlockIn(p.KeepClear[i], l)
	}
	found := p.FindWarnings()
	kept := slices.DeleteFunc(slices.Clone(p.Warnings), func(w Warning) bool {
		return slices.ContainsFunc(found, func(f Warning) bool { return reflect.DeepEqual(w, f) })
	})
	q.Warnings = append(kept, q.FindWarnings()...)
	return &q
}

// String returns the goal as a recipe: "30–300 Hz, 1/12 octave".
func (g Goal) String() string {
	return fmt.Sprintf("%g–%g Hz, 1/%d octave", g.From, g.To, g.Smoothing)
}

// TitleBlock is what a report says of itself: for whom and by whom it was made. Every field is
// the owner's words; "" leaves it out.
type TitleBlock struct {
	Title   string   // over the report, in place of the room's name
	Client  string   // for whom
	Project string   // a name or number
	Author  string   // by whom
	Date    string   // any text; "" is the day of the run
	Notes   []string // a paragraph each
	Logo    string   // path of a picture, from the room file's folder
}

// Material is a material of the owner's own, for use by name in the layers of a
// build-up.
type Material struct {
	Name   string
	Layer  Layer  // its kind and figures; a thickness of zero is given with each use
	Source string // where the figures come from, such as a maker's sheet; may be empty
}
