package engines

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/image"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
)

// Auto chooses the engine: modes for a plain box with uniform walls, the wave solver for any other
// room.
const Auto model.EngineKind = "auto"

// Engines lists the engines that a user may name, Auto first.
func Engines() []model.EngineKind {
	return []model.EngineKind{Auto, model.ModeEngine, model.ImageEngine, model.WaveEngine}
}

// imageSettings limit how far images are followed. At -45 dB the levels of a damped room are within
// hundredths of a decibel of the full sum. Between two bare masonry walls that would take a kilometre and
// minutes a place, so the length is capped, and the engine warns where the cap comes first.
var imageSettings = image.Settings{Decay: -45, MaxLength: 150} // dB, m

// Choice is the engine that answers for a room.
type Choice struct {
	Kind model.EngineKind
	Why  string // one clause; empty if the user named the engine
}

// Error says why a named engine cannot answer for a room.
type Error struct {
	Engine model.EngineKind
	Shape  string // what the room has that the engine cannot do; empty if there is no such engine
}

// Error implements error.
func (e *Error) Error() string {
	if e.Shape == "" {
		return fmt.Sprintf("there is no engine %q", e.Engine)
	}
	return fmt.Sprintf("the %s engine needs a plain box, and this room has %s", e.Engine, e.Shape)
}

// LongestDecay is the longest that a room may ring, s, to fall by 60 dB. A room of bare concrete rings
// for nine. Steps between frequencies follow the decay, so memory and time grow with it.
const LongestDecay = 60

// RingingError says that a room would ring for too long.
type RingingError struct {
	Decay float64 // s; +Inf without any loss
}

// Error implements error.
func (e *RingingError) Error() string {
	rings := "never fall silent"
	if !math.IsInf(e.Decay, 1) {
		rings = fmt.Sprintf("ring for %.3g s", e.Decay)
	}
	return fmt.Sprintf("with these walls the room would %s, and more than %d s is not computed; write what the walls are made of, or lower impedances: walls that absorb 2 %% have about 400",
		rings, LongestDecay)
}

// ringing returns the slowest decay of a bare room as a box, s; 0 for one with treatments, which take
// up sound as well.
func ringing(room *model.Room) float64 {
	box, _, err := surface.Box(room, material.Typical)
	if err != nil || len(room.Treatments) > 0 {
		return 0
	}
	var slowest float64
	for _, f := range []float64{20, 40, 80, 160, 315} {
		slowest = max(slowest, mode.SlowestDecay(&box, f))
	}
	return slowest
}

// Choose returns the engine of that name for a room. It fails with an [*Error], or with a [*RingingError].
func Choose(name model.EngineKind, room *model.Room) (Choice, error) {
	if decay := ringing(room); decay > LongestDecay {
		return Choice{}, &RingingError{decay}
	}
	switch name {
	case Auto:
		if why := Irregular(room); why != "" {
			return Choice{model.WaveEngine, why}, nil
		}
		return Choice{model.ModeEngine, "the room is a plain box with uniform walls"}, nil
	case model.ModeEngine, model.ImageEngine:
		if !room.Plain() {
			return Choice{}, &Error{name, shapeOf(room)}
		}
		return Choice{Kind: name}, nil
	case model.WaveEngine:
		return Choice{Kind: name}, nil
	}
	return Choice{}, &Error{Engine: name}
}

func shapeOf(room *model.Room) string {
	if len(room.Outline) > 0 {
		return "an outline"
	}
	return "a sloped ceiling"
}

// Irregular says why a room needs the wave solver, or "".
func Irregular(room *model.Room) string {
	switch {
	case !room.Plain():
		return "the room has " + shapeOf(room)
	case len(room.Treatments) > len(room.Furniture()):
		return "the room contains treatments"
	case len(room.Treatments) > 0:
		return "the room contains furniture that absorbs"
	case len(room.Blocks) > 0:
		return "the room contains solid blocks"
	}
	for _, o := range room.Openings {
		if o.Patch.Area() >= unevenArea && absorbsMuch(o) {
			return fmt.Sprintf("the %s in the %s absorbs far more than the wall around it", o.Kind, room.OpeningWall(&o))
		}
	}
	return ""
}

// An opening of at least unevenArea, in m², that absorbs at least unevenShare of the sound
// makes a wall uneven. Our own limits, no source.
const (
	unevenArea  = 1.0
	unevenShare = 0.5
)

// absorbsMuch reports whether an opening absorbs much in an octave from 31.5 to 250 Hz.
func absorbsMuch(o model.Opening) bool {
	b, err := surface.NewResolver(material.Typical).Opening(o)
	if err != nil {
		return false // found fault with later
	}
	for _, f := range []float64{31.5, 63, 125, 250} {
		if material.RandomAbsorption(1/b.Admittance(f)) >= unevenShare {
			return true
		}
	}
	return false
}

// NewBox returns the engine of that name for a project's room as a box, with the warnings
// of both.
func NewBox(kind model.EngineKind, p *model.Project, e material.Estimate) (model.Engine, model.Box, []model.Warning, error) {
	box, warnings, err := surface.Box(&p.Room, e)
	if err != nil {
		return nil, box, nil, err
	}
	engine, err := OverBox(kind, box, BoxGrid(&box, p.Goal))
	if err != nil {
		return nil, box, nil, err
	}
	return engine, box, append(warnings, engine.Warnings()...), nil
}

// OverBox returns the engine of that name for a box over a grid. It fails for the wave solver, which
// answers for a room, and for a name that is no engine's.
func OverBox(kind model.EngineKind, box model.Box, grid model.Grid) (model.Engine, error) {
	switch kind {
	case model.ModeEngine:
		return mode.New(box, grid, mode.Settings{})
	case model.ImageEngine:
		return image.New(box, grid, imageSettings)
	}
	return nil, fmt.Errorf("engines: no engine %q for a box", kind)
}
