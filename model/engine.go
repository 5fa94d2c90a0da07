package model

import (
	"context"

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
