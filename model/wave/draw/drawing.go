// Package draw turns a room into a [scene.Scene]. [Room] takes a room and an estimate of what its
// surfaces absorb, and returns a [Drawing] with warnings about what it had to simplify. A drawing
// can be varied: walls that absorb more or less, or one wall that absorbs everything.
//
// Layers on a wall are tried in a tube of the room's own cells. If a rigid block with their
// surface impedance is nearer to their transfer matrices, it replaces them.
package draw

import (
	"maps"
	"slices"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
)

// Drawing is a room turned into a scene.
type Drawing struct {
	Scene    scene.Scene
	Warnings []model.Warning // about the materials, and about what was simplified or left out

	room    *model.Room
	cell    float64
	fits    *fit.Memory
	choices map[string]bool // see draft
}

// Room draws a room as built, for cells of about the given size in m: outline, slopes and rigid
// blocks, every wall and opening as passive branches, every treatment in its place.
//
// Some layers on a wall cannot be represented by cells, such as a perforated sheet, or only badly,
// such as dense wool. A rigid block of their size with their surface impedance replaces them.
// Warnings report such blocks, surfaces that branches only approximate, and poorly known materials.
// Walls and materials have the given estimate. fits, which may be nil, remembers the branches of
// surfaces for later drawings.
//
// It returns an error for a name that is not in the library and for layers that make no sense. It
// panics if the cell size is not above 0.
func Room(room *model.Room, e material.Estimate, cell float64, fits *fit.Memory) (*Drawing, error) {
	d := newDraft(room, e, cell, fits)
	if err := d.draw(); err != nil {
		return nil, err
	}
	return &Drawing{
		Scene: d.scene, Warnings: append(d.surfaces.Warnings(), d.allWarnings()...),
		room: room, cell: cell, fits: fits, choices: d.choices,
	}, nil
}

// Absorbing returns the drawing with one of the six walls, and everything that faces the same way,
// absorbing all sound at normal incidence (β = 1).
func (d *Drawing) Absorbing(f model.Face) *Drawing {
	s := d.Scene
	open := scene.Resistive(1, s.Air)
	s.Walls[f] = open
	s.Patches = slices.DeleteFunc(slices.Clone(s.Patches), func(p scene.Patch) bool { return p.Face == f })
	s.Insets = slices.DeleteFunc(slices.Clone(s.Insets), func(p scene.Inset) bool { return model.FaceOf(p.Inward) == f })
	s.Edges, s.Slopes = slices.Clone(s.Edges), slices.Clone(s.Slopes)
	for i := range s.Edges {
		if d.room.EdgeFace(i) == f {
			s.Edges[i] = open
		}
	}
	s.Blocks = slices.Clone(s.Blocks)
	for i, b := range s.Blocks {
		if slices.Equal(b.Sides, []model.Face{f ^ 1}) { // layers that stand on the wall
			s.Blocks[i].Surface = open
		}
	}
	if f == model.Ceiling {
		for i := range s.Slopes {
			s.Slopes[i].Surface = open
		}
	}
	return d.with(s)
}

// with returns a drawing of the same room with another scene and no warnings.
func (d *Drawing) with(s scene.Scene) *Drawing {
	return &Drawing{Scene: s, room: d.room, cell: d.cell, fits: d.fits, choices: maps.Clone(d.choices)}
}
