package mode

import (
	"fmt"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Term returns the share of one mode, with n half waves along x, y, z, in the
// transfer from a source: jωρ times
//
//	ψψ(x) ψψ(y) ψψ(z) / (Λx Λy Λz (qx² + qy² + qz² - k²))
//
// with the driven axis modes at each frequency, where ψψ is the product of source
// and seat. The sum over all modes is [Field.Transfer], so the transfer less the
// term is what would arrive if this mode were not there: that tells whether it
// causes a peak or a dip. 0-0-0, the uniform pressure, has a term too.
//
// The axis modes at each frequency are numbered by ascending Re q. Behind walls
// that absorb much, waves that cling to a wall take low numbers and the half waves
// cannot be counted any more.
//
// A nil dst is allocated; any other must have the grid's length. Term panics if the
// source is outside the box or n is negative or beyond the modes that the engine
// keeps, which reach far beyond the grid.
func (f *Field) Term(dst []complex128, source r3.Vec, n [3]int) []complex128 {
	f.mustContain(source)
	e := f.engine
	source = e.box.Clamp(source)
	dst = model.Transfers(dst, len(e.grid))
	for i := range dst {
		top, square := e.pressure(i), -e.k[i]*e.k[i]
		for d := range 3 {
			ax := &e.axes[i][d]
			if n[d] < 0 || n[d] >= len(ax.modes) {
				panic(fmt.Sprintf("mode: term of mode %v", n))
			}
			m := &ax.modes[n[d]]
			top *= m.at(component(source, d)) * f.shapes[d].first(i, n[d]+1)[n[d]] / m.norm
			square += m.square
		}
		dst[i] = top / square
	}
	return dst
}
