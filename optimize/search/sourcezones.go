package search

import (
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// SourceZones returns boxes, in m, that hold every place at which a search may ask for a woofer, with
// displacements in m. An engine needs to know them beforehand. It fails as [NewProblem] does.
func SourceZones(p *model.Project, displacement float64) ([]model.Block, error) {
	b, err := NewProblem(p)
	if err != nil {
		return nil, err
	}
	d := b.Domain(displacement, 0)
	low, high := d.Heights[0], d.Heights[0]
	for _, h := range d.Heights {
		low, high = min(low, h), max(high, h)
	}
	var list []model.Block
	for _, a := range d.Sources {
		list = append(list, model.Block{Min: r3.Vec{X: a.X.Lo, Y: a.Y.Lo, Z: low}, Max: r3.Vec{X: a.X.Hi, Y: a.Y.Hi, Z: high}})
	}
	return list, nil
}
