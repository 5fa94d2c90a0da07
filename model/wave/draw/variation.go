package draw

import (
	"fmt"
	"maps"
	"math"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
)

// Varied draws the room with walls that absorb less or more than typical: -1 is the low estimate, 1
// the high one. The values are by face and also apply to everything that faces the same way.
// resistivity multiplies that of all porous layers; 0 means 1. Layers stay drawn or replaced by
// blocks as they were.
//
// It returns an error as [Room] does, and panics if a wall is beyond -1 and 1.
func (d *Drawing) Varied(walls [6]float64, resistivity float64) (*Drawing, error) {
	varied := newDraft(d.room, material.Typical, d.cell, d.fits)
	varied.choices, varied.resistivity, varied.untested = maps.Clone(d.choices), resistivity, true
	if err := varied.draw(); err != nil {
		return nil, err
	}
	ends := map[material.Estimate]scene.Scene{}
	for _, w := range walls {
		e := material.Typical
		switch {
		case !(math.Abs(w) <= 1):
			panic(fmt.Sprintf("wave: a wall varied by %v", w))
		case w < 0:
			e = material.Low
		case w > 0:
			e = material.High
		default:
			continue
		}
		if _, ok := ends[e]; ok {
			continue
		}
		bare := *d.room
		bare.Treatments = nil
		end, err := Room(&bare, e, d.cell, d.fits)
		if err != nil {
			return nil, err
		}
		ends[e] = end.Scene
	}
	varied.vary(walls, ends)
	return d.with(varied.scene), nil
}

// vary moves every surface of the drawing towards its counterpart in the scene of the low or the
// high estimate. That scene is the same room without treatments, so its patches are the first ones
// of the drawing.
func (d *draft) vary(walls [6]float64, ends map[material.Estimate]scene.Scene) {
	s := &d.scene
	towards := func(f model.Face, surface *fit.Branches, of func(*scene.Scene) fit.Branches) {
		e := material.High
		if walls[f] < 0 {
			e = material.Low
		}
		if end, ok := ends[e]; ok && walls[f] != 0 {
			*surface = mix(*surface, of(&end), math.Abs(walls[f]))
		}
	}
	for _, f := range model.Faces {
		towards(f, &s.Walls[f], func(end *scene.Scene) fit.Branches { return end.Walls[f] })
	}
	for i := range s.Edges {
		towards(d.room.EdgeFace(i), &s.Edges[i], func(end *scene.Scene) fit.Branches { return end.Edges[i] })
	}
	for i := range s.Slopes {
		towards(model.Ceiling, &s.Slopes[i].Surface, func(end *scene.Scene) fit.Branches { return end.Slopes[i].Surface })
	}
	for i := range s.Insets {
		towards(model.FaceOf(s.Insets[i].Inward), &s.Insets[i].Surface, func(end *scene.Scene) fit.Branches { return end.Insets[i].Surface })
	}
	for i := range s.Patches[:d.wallPatches] {
		towards(s.Patches[i].Face, &s.Patches[i].Surface, func(end *scene.Scene) fit.Branches { return end.Patches[i].Surface })
	}
}

// mix returns a surface of which one share is b and the rest a. Its admittance is their weighted
// mean.
func mix(a, b fit.Branches, share float64) fit.Branches {
	mean := fit.Branches{Air: a.Air}
	for _, part := range []struct {
		list  []fit.Branch
		share float64
	}{{a.List, 1 - share}, {b.List, share}} {
		if part.share == 0 {
			continue
		}
		for _, branch := range part.list {
			mean.List = append(mean.List, fit.Branch{
				Mass: branch.Mass / part.share, Resistance: branch.Resistance / part.share, Stiffness: branch.Stiffness / part.share,
			})
		}
	}
	return mean
}
