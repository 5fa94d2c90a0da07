package table

import (
	"slices"

	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r3"
)

// panel is a tensor grid of source places.
type panel struct {
	x, y  axis
	z     []float64 // the woofers' heights, all that occur
	first int       // number of its first source node, of all panels'
}

// plane returns how many nodes share a height.
func (p *panel) plane() int { return len(p.x.nodes) * len(p.y.nodes) }

func (p *panel) nodes() int { return p.plane() * len(p.z) }

// cut lays out the axes, end to end, for sources along a span.
func (f Fineness) cut(s geometry.Span, fit func(geometry.Span) axis) []axis {
	for n := 1; ; n++ {
		list := make([]axis, n)
		for i, part := range s.Parts(n) {
			list[i] = fit(part)
		}
		if f.PanelNodes == 0 || len(list[0].nodes) <= f.PanelNodes {
			return list
		}
	}
}

// place returns the place of source node n of a panel: height by height, x by x.
func (p *panel) place(n int) r3.Vec {
	ny := len(p.y.nodes)
	in := n % p.plane()
	return r3.Vec{X: p.x.nodes[in/ny], Y: p.y.nodes[in%ny], Z: p.z[n/p.plane()]}
}

// latticeIndex returns the position of node n in the order of [model.GridField].
func (p *panel) latticeIndex(n int) int { return n%p.plane()*len(p.z) + n/p.plane() }

// numbers returns how many numbers a panel has at one height for one seat, seatBytes how much memory these take.
func (t *Engine) numbers(p *panel) int   { return p.plane() * 2 * (t.Hi - t.Lo) }
func (t *Engine) seatBytes(p *panel) int { return 4 * t.numbers(p) }

// first returns where the numbers of a panel at one of its heights begin, of a seat node's.
func (t *Engine) first(p *panel, height int) int {
	return (p.first + height*p.plane()) * 2 * (t.Hi - t.Lo)
}

// panel returns the panel that holds a place and the number of its height, or nil.
func (t *Engine) panel(source r3.Vec) (*panel, int) {
	for i := range t.panels {
		p := &t.panels[i]
		if !p.x.span.Contains(source.X) || !p.y.span.Contains(source.Y) {
			continue
		}
		if z := slices.IndexFunc(p.z, func(z float64) bool { return geometry.Same(z, source.Z) }); z >= 0 {
			return p, z
		}
	}
	return nil, 0
}
