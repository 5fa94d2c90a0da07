package report

import (
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// treatments draws the absorbing pieces as deep as they are.
func (d *drawing) treatments(p *model.Project, v view) {
	first := openingNumber(p, len(p.Room.Openings))
	for i, t := range p.Room.Treatments {
		r := v.box(patchBlock(t.Patch, t.Depth(), p.Room.Size))
		d.rect("treatment", r)
		d.letter(first+i, r, printable(t.Name)+" on the "+t.Patch.Face.Wall())
	}
}

// patchBlock returns the space between a patch of a face and a depth in m in
// front of it. A patch without size is its whole face.
func patchBlock(patch model.Patch, depth float64, size r3.Vec) model.Block {
	along, up := (&model.Room{Size: size}).Extent(patch.Face)
	if patch.Width == 0 && patch.Height == 0 {
		patch.Width, patch.Height = along, up
	}
	low := [2]float64{patch.Along, patch.Up}
	high := [2]float64{patch.Along + patch.Width, patch.Up + patch.Height}
	axis := patch.Face.Axis()
	length := [3]float64{size.X, size.Y, size.Z}[axis]
	from, to := 0.0, depth
	if patch.Face.Far() {
		from, to = length-depth, length
	}
	vec := func(normal float64, in [2]float64) r3.Vec {
		switch axis {
		case 0:
			return r3.Vec{X: normal, Y: in[0], Z: in[1]}
		case 1:
			return r3.Vec{X: in[0], Y: normal, Z: in[1]}
		}
		return r3.Vec{X: in[0], Y: in[1], Z: normal}
	}
	return model.Block{Min: vec(from, low), Max: vec(to, high)}
}
