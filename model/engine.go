package model

import (
	"context"
	"fmt"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/spatial/r3"
)

// EngineKind is a way to compute the field of a room, as the command line and reports name it.
type EngineKind string

// The kinds of engines.
const (
	ModeEngine  EngineKind = "mode"  // modes of a box
	ImageEngine EngineKind = "image" // mirror images in a box
	WaveEngine  EngineKind = "wave"  // the wave equation on cells, for any room
)

// EngineInfo says which engine gave a result, and how far to trust it.
type EngineInfo struct {
	Kind   EngineKind
	Cell   float64      // edge of its cells, m; 0 for an engine without cells
	Errors []ErrorClaim // ascending in frequency; none for an engine that is exact or makes no claim
}

// ErrorClaim is how far an engine's levels are off at a frequency in Hz, as measured against exact
// solutions.
type ErrorClaim struct {
	Frequency float64
	Error     Level
}

// Engine computes what arrives at a seat of one room. Setting up a seat is slow; each source
// place after that is fast.
//
// An Engine is safe for use by several goroutines at once.
type Engine interface {
	Info() EngineInfo
	Grid() Grid
	Air() Air

	// Field returns the field of a seat inside the room. An engine whose fields take long
	// stops when the context ends, with an error that wraps its error.
	Field(ctx context.Context, seat r3.Vec) (Field, error)

	// Warnings lists what the engine leaves out, or gets wrong, in this room.
	Warnings() []Warning
}

// LayoutEngine is an Engine whose seats are expensive to set up. It answers the many
// questions about one layout faster when it knows the layout beforehand.
type LayoutEngine interface {
	Engine

	// Near returns an engine for a layout, for layouts with one mark or both speakers moved
	// by at most 0.4 m on plan, and for other seats with the layout's speakers. Any other
	// question is the caller's mistake and panics. It stops when the context ends, as Field does.
	Near(ctx context.Context, l Layout, seats ...r3.Vec) (Engine, error)
}

// Field is the sound pressure at one seat per unit volume velocity of a point
// source, Pa·s/m³, over a frequency grid. By reciprocity it is also the pressure
// at the source's place from a source at the seat.
//
// A Field is safe for use by several goroutines at once.
type Field interface {
	// Transfer fills dst with the transfer from a source at the given place to
	// the field's seat, one value per frequency of the engine's grid, and
	// returns it. A nil dst is allocated; any other must have the grid's length.
	Transfer(dst []complex128, source r3.Vec) []complex128
}

// GridField is a Field that can fill a whole lattice of source places in one go,
// sharing work between them.
type GridField interface {
	Field

	// TransferGrid fills dst with the transfers from every place (x, y, z) of the
	// lattice xs × ys × zs in m and returns it: the value for frequency f of
	// place (ix, iy, iz) is dst[((ix*len(ys)+iy)*len(zs)+iz)*n+f] with n the length
	// of the grid. A nil dst is allocated; any other must have exactly that length.
	TransferGrid(dst []complex128, xs, ys, zs []float64) []complex128
}

// FreeField fills dst with the transfer over a distance r in m without any
// room, jωρ e^{-jkr}/(4πr), and returns it. A nil dst is allocated.
func FreeField(dst []complex128, grid Grid, air Air, r float64) []complex128 {
	dst = Transfers(dst, len(grid))
	for i, f := range grid {
		dst[i] = complex(0, 2*math.Pi*f*air.Density) *
			cmplx.Exp(complex(0, -r)*air.Wavenumber(f)) / complex(4*math.Pi*r, 0)
	}
	return dst
}

// Transfers returns dst if it has length n, or a new slice if it is nil. It
// panics on any other length: every Transfer method begins with it.
func Transfers(dst []complex128, n int) []complex128 {
	if dst == nil {
		return make([]complex128, n)
	}
	if len(dst) != n {
		panic(fmt.Sprintf("model: transfer into %d values, the grid has %d", len(dst), n))
	}
	return dst
}

// RoomGain returns the level of a transfer p in Pa·s/m³ at frequency f relative
// to the same source at 1 m in the free field: 20 lg(4π|p|/(ωρ)). A loudspeaker
// that is flat outdoors gives exactly this curve in the room, but for a constant.
func RoomGain(p complex128, f float64, air Air) Level {
	return LevelOf(4 * math.Pi * cmplx.Abs(p) / (2 * math.Pi * f * air.Density))
}
