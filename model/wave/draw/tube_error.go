package draw

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/tube"
)

// errorLimit is the error of absorption at normal incidence, 30 to 300 Hz, up to which a drawn
// piece needs no warning.
const errorLimit = 0.03

// reportError warns of a treatment whose absorption is off by more than the limit in these cells.
// porous and films are the numbers of pieces before it was drawn. Its pieces are tried in a tube in
// their own place in the cells; the general warnings about them are then not needed.
func (d *draft) reportError(name string, t *model.Treatment, porous, films int) {
	if porous == len(d.scene.Porous) && films == len(d.scene.Films) {
		return // drawn as a surface
	}
	layers, face, ok := d.layersToWall(t)
	if !ok {
		return
	}
	options := &absorber.Options{Air: d.scene.Air, Backing: d.bare[face]}
	stack, _, err := absorber.NewStack(layers, options)
	if err != nil || slices.ContainsFunc(stack.Pieces(), func(p absorber.Piece) bool {
		return p.Form == absorber.Board || p.Form == absorber.Pierced
	}) {
		return
	}
	off, at, ok := d.absorptionError(stack, face)
	if !ok {
		return
	}
	for i := range d.scene.Porous[porous:] {
		d.scene.Porous[porous+i].Tested = true
	}
	for i := range d.scene.Films[films:] {
		d.scene.Films[films+i].Tested = true
	}
	if math.Abs(off) > errorLimit {
		d.warnings = append(d.warnings, model.AbsorptionOff{Name: name, Cell: d.cells[face.Axis()], Off: off, Near: at})
	}
}

// layersToWall returns the layers of a treatment down to the wall behind it, including the air
// between, and that wall. For a free-standing piece that is the nearer of two walls. It returns
// false for corners, columns and under slopes, which no tube can represent.
func (d *draft) layersToWall(t *model.Treatment) ([]model.Layer, model.Face, bool) {
	layers := slices.Clone(t.Layers)
	var face model.Face
	var gap float64
	switch t.Form {
	case model.OnWall:
		face = t.Patch.Face
	case model.UnderCeiling:
		face, gap = model.Ceiling, d.scene.Size.Z-d.room.Space(t).Max.Z
	case model.FreeStanding:
		b := t.Filled()
		a := b.Thin()
		before, behind := scene.Components(b.Min)[a], scene.Components(d.scene.Size)[a]-scene.Components(b.Max)[a]
		face, gap = [3]model.Face{model.Back, model.Right, model.Ceiling}[a], behind
		if before < behind {
			slices.Reverse(layers)
			face, gap = [3]model.Face{model.Front, model.Left, model.Floor}[a], before
		}
	default:
		return nil, 0, false
	}
	if t.Box.Kind == model.Column || face == model.Ceiling && len(d.room.Slopes) > 0 || len(d.room.Outline) > 0 && t.Form == model.FreeStanding {
		return nil, 0, false
	}
	if gap > minGap {
		layers = append(layers, model.Layer{Kind: model.GapLayer, Thickness: gap})
	}
	return layers, face, true
}

// minGap is the least depth of air behind a piece that counts, m.
const minGap = 1e-3

// absorptionError returns the largest error of the absorption of a drawn stack and its frequency in
// Hz, false if the tube cannot be run.
func (d *draft) absorptionError(stack *absorber.Stack, face model.Face) (worst, at float64, ok bool) {
	got, ok := d.tubed(stack, face, func(t *draft, b model.Block) { t.block("", b, 0, stack.Pieces(), 1, false) })
	if !ok {
		return 0, 0, false
	}
	for i, r := range got {
		f := tube.Grid[i]
		off := 1 - real(r)*real(r) - imag(r)*imag(r) - stack.NormalAbsorption(f)
		if math.Abs(off) > math.Abs(worst) {
			worst, at = off, f
		}
	}
	return worst, at, true
}

// tubed returns the reflection factors over [tube.Grid] of a stack at the end of a tube of the
// room's cells, false if the tube cannot be run.
func (d *draft) tubed(stack *absorber.Stack, face model.Face, put func(*draft, model.Block)) ([]complex128, bool) {
	cell, depth := d.cells[face.Axis()], stack.Depth()
	t := &draft{scene: tube.Scene(d.scene.Air, cell, depth)}
	t.scene.Walls[model.Back] = d.scene.Walls[face]
	put(t, model.Block{Min: r3.Vec{X: t.scene.Size.X - depth}, Max: t.scene.Size})
	got, _, err := tube.Reflection(t.scene, tube.Grid, cell, depth)
	return got, err == nil
}
