package draw

import (
	"fmt"
	"math"
	"math/cmplx"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/tube"
)

// onWall puts layers on a wall, either drawn in place or as a rigid block of their size with their
// surface impedance, whichever is more accurate.
func (d *draft) onWall(name string, t *model.Treatment, stack *absorber.Stack) {
	pieces := stack.Pieces()
	face := t.Patch.Face
	b := d.room.Space(t)
	drawable := d.drawable(pieces, face)
	key := "treatment " + fmt.Sprint(face, t.Layers)
	solid := scene.Solid{Min: b.Min, Max: b.Max, Sides: []model.Face{face ^ 1}} // the side opposite the wall
	sloped := face == model.Ceiling && len(d.room.Slopes) > 0
	switch {
	case d.room.Trimmed(t):
		d.trimmed(name, key, t, stack, drawable)
	case sloped && drawable && stack.Depth() > 0.9*d.cells[2]:
		d.underSlope(name, b, pieces)
	case sloped:
		d.drawImpedance(name, key, t, stack)
	case drawable && (d.overlapsTwo(solid) || d.openEdges(b, face) > openEdgeLimit || !d.betterAsBlock(key, stack, face)):
		d.block(name, b, face.Axis(), pieces, toWall(face), false)
	case stack.Depth() > 0 && !d.overlapsTwo(solid):
		solid.Surface = d.fit(name, key, stack)
		d.scene.Blocks = append(d.scene.Blocks, solid)
		d.asBlocks = append(d.asBlocks, name)
	default:
		d.drawImpedance(name, key, t, stack)
	}
}

// drawImpedance replaces layers by their surface impedance on the wall.
func (d *draft) drawImpedance(name, key string, t *model.Treatment, stack *absorber.Stack) {
	d.scene.Patches = append(d.scene.Patches, scene.Patch{Patch: t.Patch, Surface: d.fit(name, key, stack)})
	d.asImpedances = append(d.asImpedances, name)
}

// trimmed draws layers that a sloped ceiling cuts as columns one cell wide, each as high as the cut is on
// average, so that they have the volume of what is built. Layers that cells cannot represent become the
// surface impedance of as much of the wall.
func (d *draft) trimmed(name, key string, t *model.Treatment, stack *absorber.Stack, drawable bool) {
	face, outline := t.Patch.Face, d.room.TrimmedFace(t)
	along, up := outline.Bounds()
	d.warnings = append(d.warnings, model.LayersTrimmed{
		Name: name, Clear: model.SlopeClearance, Low: outline.LowEnd() - up.Min, High: up.Max - up.Min,
	})
	space := d.room.Space(t)
	low, high := scene.Components(space.Min), scene.Components(space.Max)
	across := 1 - face.Axis() // the axis along the wall
	for _, c := range d.columns(across, along.Min, along.Max) {
		tall := outline.Window(c, up).Area() / (c.Max - c.Min)
		if !drawable {
			column := *t
			column.Patch = model.Patch{Face: face, Along: c.Min, Width: c.Max - c.Min, Up: up.Min, Height: tall}
			d.drawImpedance(name, key, &column, stack)
			continue
		}
		low[across], high[across], high[2] = c.Min, c.Max, up.Min+tall
		d.block(name, model.Block{Min: scene.Vec(low), Max: scene.Vec(high)}, face.Axis(), stack.Pieces(), toWall(face), true)
	}
}

// toWall is the sign of the direction from the room to a wall.
func toWall(f model.Face) float64 {
	if f.Far() {
		return 1
	}
	return -1
}

// drawable reports whether cells can represent layers on a wall: only wool, air and films, and
// every film in a face of its own away from the wall.
func (d *draft) drawable(pieces []absorber.Piece, face model.Face) bool {
	h := d.cells[face.Axis()]
	var depth float64
	film := math.Inf(-1) // depth of the film before, counted from the wall
	for i := len(pieces) - 1; i >= 0; i-- {
		switch p := pieces[i]; p.Form {
		case absorber.Board, absorber.Pierced:
			return false
		case absorber.Film:
			if depth < h/2 || depth-film < h {
				return false
			}
			film = depth
		default:
			depth += p.Thickness
		}
	}
	return depth > 0
}

// openEdgeLimit is the largest open area of a piece's edges, relative to its front, for which a
// block may replace it. Wool absorbs through its open edges, a block does not; MEASURED.md of
// package wave has the errors.
const openEdgeLimit = 0.1

// openEdges returns the area of a piece's edges away from the walls of the bounding box, relative
// to its front.
func (d *draft) openEdges(b model.Block, face model.Face) float64 {
	const tiny = 1e-3 // m
	low, high, end := scene.Components(b.Min), scene.Components(b.Max), scene.Components(d.room.Size)
	depth := high[face.Axis()] - low[face.Axis()]
	u, v := scene.OtherAxes(face.Axis())
	var share float64
	for _, a := range [2]int{u, v} { // two edges across each axis
		for _, open := range [2]bool{low[a] > tiny, high[a] < end[a]-tiny} {
			if open {
				share += depth / (high[a] - low[a])
			}
		}
	}
	return share
}

// overlapsTwo reports whether a block would be the third in one place.
func (d *draft) overlapsTwo(b scene.Solid) bool {
	solids := append([]scene.Solid(nil), d.scene.Blocks...)
	for _, o := range d.room.Blocks { // they are drawn last
		solids = append(solids, scene.Solid{Min: o.Min, Max: o.Max})
	}
	for i, first := range solids {
		from, to := scene.Overlap(b.Min, b.Max, first.Min, first.Max)
		for _, second := range solids[:i] {
			low, high := scene.Overlap(from, to, second.Min, second.Max)
			if low.X < high.X && low.Y < high.Y && low.Z < high.Z {
				return true
			}
		}
	}
	return false
}

// drawnLimit is the error of the reflection factor up to which a piece stays drawn. Above it a
// block may be off by a little more than the piece, whose error at oblique incidence is unknown.
const (
	drawnLimit       = 0.03
	obliqueAllowance = 1.05
)

// betterAsBlock reports whether layers are nearer to their transfer matrices as a rigid block with
// their surface impedance than drawn. Both are run in a tube of the same cells, in the same place
// in them. A block is also wrong at oblique incidence, since sound cannot travel along inside it,
// so its error at 60 degrees must be small too.
func (d *draft) betterAsBlock(key string, stack *absorber.Stack, face model.Face) bool {
	if known, ok := d.choices[key]; ok {
		return known
	}
	drawn := d.tubeError(stack, face, func(t *draft, b model.Block) {
		t.block("", b, 0, stack.Pieces(), 1, false)
	})
	better := false
	if drawn > drawnLimit {
		drawn *= obliqueAllowance
		fitted, _ := d.known.Branches(stack, d.scene.Air, maxBranches)
		better = obliqueError(stack) < drawn && d.tubeError(stack, face, func(t *draft, b model.Block) {
			t.scene.Blocks = []scene.Solid{{Min: b.Min, Max: b.Max, Surface: fitted, Sides: []model.Face{model.Front}}}
		}) < drawn
	}
	d.choices[key] = better
	return better
}

// tubeError returns the largest error of the reflection factor, 0..2, of a stack at the end of a
// tube. It is infinite if the tube cannot be run.
func (d *draft) tubeError(stack *absorber.Stack, face model.Face, put func(*draft, model.Block)) float64 {
	got, ok := d.tubed(stack, face, put)
	if !ok {
		return math.Inf(1)
	}
	var worst float64
	for i, f := range tube.Grid {
		worst = max(worst, cmplx.Abs(got[i]-stack.Reflection(f, 0)))
	}
	return worst
}

// obliqueError returns the largest error of the reflection factor at 60 degrees if a stack is taken
// to react locally.
func obliqueError(stack *absorber.Stack) float64 {
	const angle = math.Pi / 3
	var worst float64
	for _, f := range tube.Grid {
		local := material.ReflectionAt(stack.Admittance(f), math.Cos(angle))
		worst = max(worst, cmplx.Abs(local-stack.Reflection(f, angle)))
	}
	return worst
}
