// Package draw draws a room into a [scene.Scene]. [Room] takes a room and an estimate of what its
// surfaces absorb, and returns a [Drawing] with warnings of what could not be drawn as it is.
// From a drawing come the same room with walls that absorb more or less, and with one wall
// that absorbs everything.
//
// Layers on a wall are tried in a tube of the room's own cells, and a rigid block with their
// surface impedance stands for them where that is nearer to their transfer matrices.
package draw

import (
	"evenbass/model/material/fit"
	"maps"
	"slices"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave/scene"
)

// Drawing is a room drawn into a scene.
type Drawing struct {
	Scene    scene.Scene
	Warnings []model.Warning // about the materials, and about what the drawing leaves out

	room    *model.Room
	cell    float64
	fits    *fit.Memory
	choices map[string]bool // see draft
}

// Room draws a room as it is built for a grid of the given cell size in m: outline,
// slopes and solid blocks, every wall and opening as passive branches, every treatment where
// it stands. Blocks are rigid.
//
// Layers on a wall that the grid cannot hold, such as a perforated sheet, or holds badly,
// such as dense wool, are replaced by a rigid block of their size with their surface
// impedance on it. Warnings tell of that, of surfaces that branches follow badly, and of
// materials that are poorly known. Walls and materials are taken at the given estimate.
// Fits, which may be nil, remembers how branches follow a surface for the next drawing.
//
// It returns an error for a name that is not in the library and for layers that make no
// sense, and panics if the cell size is not above 0.
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

// Absorbing returns the same drawing with one of the six walls, and all that faces like it,
// made to absorb all that meets it head on (β = 1).
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

// with returns a drawing of the same room with another scene and nothing to warn of.
func (d *Drawing) with(s scene.Scene) *Drawing {
	return &Drawing{Scene: s, room: d.room, cell: d.cell, fits: d.fits, choices: maps.Clone(d.choices)}
}
