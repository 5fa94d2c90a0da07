package wave

import (
	"fmt"
	"maps"
	"math"
	"reflect"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
)

// Guess is one guess at what a room's surfaces and wool absorb. The zero value is what
// is typical.
type Guess struct {
	// Walls is by how much each wall, and all that faces like it, absorbs less (down to
	// -1, as little as is likely) or more (up to 1) than is typical, by [model.Face].
	// Between the estimates the admittance goes in proportion.
	Walls [6]float64

	Resistivity float64 // of all porous layers, as a ratio to what they are said to have; 0 is 1
}

// Same reports whether two engines solve the same scene, so that their fields are equal.
func (r *Room) Same(o *Room) bool { return reflect.DeepEqual(r.scene, o.scene) }

// As returns the engine of the same room by a guess, bound to the same context, with answers
// for the given zones; none means those of the room. What was found out about the
// treatments, whether they are drawn or stand as blocks, is kept. It fails as [NewRoom]
// does, and panics if a wall is beyond -1 and 1.
func (r *Room) As(g Guess, zones []model.Block) (*Room, error) {
	scene, err := r.guessed(g)
	if err != nil {
		return nil, err
	}
	settings := r.settings
	if zones != nil {
		settings.Zones = zones
	}
	as, err := newRoom(r.room, scene, r.grid, settings)
	if err != nil {
		return nil, err
	}
	as.ctx, as.choices, as.blocks = r.ctx, r.choices, r.blocks
	return as, nil
}

// guessed draws the room by a guess.
func (r *Room) guessed(g Guess) (Scene, error) {
	d := newDraft(r.room, material.Typical, r.settings.Cell, r.settings.Fits)
	d.choices, d.resistivity, d.quiet = maps.Clone(r.choices), g.Resistivity, true
	if err := d.draw(); err != nil {
		return Scene{}, err
	}
	ends := map[material.Estimate]Scene{}
	for _, w := range g.Walls {
		e := material.Typical
		switch {
		case !(math.Abs(w) <= 1):
			panic(fmt.Sprintf("wave: a wall is guessed at %v", w))
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
		bare := *r.room
		bare.Treatments = nil
		var err error
		if ends[e], _, err = roomScene(&bare, e, r.settings.Cell, r.settings.Fits); err != nil {
			return Scene{}, err
		}
	}
	d.lean(g.Walls, ends)
	return d.scene, nil
}

// lean moves every surface of the drawn room towards what it is in the scene of the low or
// the high estimate, which is the same room without treatments: its patches are the first
// of the room's.
func (d *draft) lean(walls [6]float64, ends map[material.Estimate]Scene) {
	s := &d.scene
	towards := func(f model.Face, surface *fit.Branches, of func(*Scene) fit.Branches) {
		e := material.High
		if walls[f] < 0 {
			e = material.Low
		}
		if end, ok := ends[e]; ok && walls[f] != 0 {
			*surface = mix(*surface, of(&end), math.Abs(walls[f]))
		}
	}
	for _, f := range model.Faces {
		towards(f, &s.Walls[f], func(end *Scene) fit.Branches { return end.Walls[f] })
	}
	for i := range s.Edges {
		towards(d.room.EdgeFace(i), &s.Edges[i], func(end *Scene) fit.Branches { return end.Edges[i] })
	}
	for i := range s.Slopes {
		towards(model.Ceiling, &s.Slopes[i].Surface, func(end *Scene) fit.Branches { return end.Slopes[i].Surface })
	}
	for i := range s.Insets {
		towards(model.FaceOf(s.Insets[i].Inward), &s.Insets[i].Surface, func(end *Scene) fit.Branches { return end.Insets[i].Surface })
	}
	for i := range s.Patches[:d.walled] {
		towards(s.Patches[i].Face, &s.Patches[i].Surface, func(end *Scene) fit.Branches { return end.Patches[i].Surface })
	}
}

// mix returns a surface of which a share is the second and the rest the first: its
// admittance is their weighted mean.
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
