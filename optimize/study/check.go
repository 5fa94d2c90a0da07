package study

import (
	"math"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/wave"
	"evenbass/model/wave/draw"
	"evenbass/optimize/engines"
)

// Understanding is what is known of a room before anything is computed.
type Understanding struct {
	engines.Choice // the engine that answers if none is named
	Box            model.Box
	Transition     float64 // Hz, see [transition]; 0 if nothing absorbs
	Warnings       []model.Warning
}

// PlainBox returns a room as a box with typical walls; nil for one with an outline or a sloped ceiling, and
// for one whose walls cannot be read.
func PlainBox(room *model.Room) *model.Box {
	box, _, err := surface.Box(room, material.Typical)
	if err != nil || !room.Plain() {
		return nil
	}
	return &box
}

// Check reads a project without computing its sound.
func Check(p *model.Project) (*Understanding, error) {
	box, warnings, err := surface.Box(&p.Room, material.Typical)
	if err != nil {
		return nil, err
	}
	chosen, err := engines.Choose(engines.Auto, &p.Room)
	if err != nil {
		return nil, err
	}
	if chosen.Kind == model.WaveEngine {
		drawing, err := draw.Room(&p.Room, material.Typical, wave.DefaultCell, nil)
		if err != nil {
			return nil, err
		}
		warnings = drawing.Warnings
	}
	return &Understanding{
		Choice: chosen, Box: box, Transition: transition(&p.Room, &box), Warnings: append(warnings, blocked(p)...),
	}, nil
}

// blocked warns of the treatments that cannot be built as they are written.
func blocked(p *model.Project) []model.Warning {
	var list []model.Warning
	for i := range p.Room.Treatments {
		t := &p.Room.Treatments[i]
		if t.Furnished() {
			continue
		}
		for _, why := range p.Obstructions(t) {
			list = append(list, model.TreatmentBlocked{Treatment: t.Name, Obstruction: why})
		}
	}
	return list
}

// transition returns the frequency in Hz above which single modes no longer dominate, from the
// reverberation time there; above 315 Hz, where the library of constructions ends, from the time
// at 315 Hz. It is 0 if nothing absorbs.
func transition(room *model.Room, box *model.Box) float64 {
	f := 200.0
	for range 8 {
		_, eyring := material.ReverberationTime(box, min(f, 315))
		if math.IsInf(eyring, 0) || eyring <= 0 {
			return 0
		}
		f = material.TransitionFrequency(eyring, room.Volume())
	}
	return f
}
