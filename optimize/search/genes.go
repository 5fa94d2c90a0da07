package search

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/geometry"
)

// decode turns a point of the unit cube into a layout on the lattice: inside the zones and, where they
// permit, within the limits of the triangle. The violation measures what it cannot keep.
func (b *Problem) decode(x []float64) model.Layout { return b.read(&genes{x: x}) }

// Random returns a layout whose genes are drawn one by one.
func (b *Problem) Random(draw func() float64) model.Layout {
	x := make([]float64, b.dim)
	for i := range x {
		x[i] = draw()
	}
	return b.decode(x)
}

// read reads a layout off genes.
func (b *Problem) read(g *genes) model.Layout {
	s := b.PairAreas[g.choice(len(b.PairAreas))]
	l := model.Layout{Left: b.wooferPlace(s.Left, g), AxisHeight: b.Heights[0]}
	if b.Project.Speakers.Free {
		l.Right = b.wooferPlace(s.Right, g)
		if l.Left.Y > l.Right.Y {
			l.Left, l.Right = l.Right, l.Left
		}
	} else {
		l.Right = b.reflect(l.Left)
	}
	l.Seat = b.seat(l, g)
	return b.withHeight(l, b.Heights[g.choice(len(b.Heights))])
}

// wooferPlace chooses a place of a woofer's centre in an area.
func (b *Problem) wooferPlace(a geometry.Area, g *genes) r3.Vec {
	return r3.Vec{
		X: a.X.Lattice(g.within(a.X), 0, Pitch),
		Y: a.Y.Lattice(g.within(a.Y), b.Middle, Pitch),
	}
}

// reflect returns a place mirrored about the mid-line.
func (b *Problem) reflect(v r3.Vec) r3.Vec {
	v.Y = geometry.Round(2*b.Middle - v.Y)
	return v
}

// seat chooses a place of the ears behind the speakers of l, at a distance and under an
// angle that the project allows where the zone permits.
func (b *Problem) seat(l model.Layout, g *genes) r3.Vec {
	a := b.Seats[g.choice(len(b.Seats))]
	half, base := model.Plan(l.Left, l.Right)/2, (l.Left.X+l.Right.X)/2
	reach := depth(b.Project, half)
	x := a.X.Near(geometry.Span{Lo: max(l.Left.X, l.Right.X), Hi: math.Inf(1)}.And(geometry.Span{Lo: base + reach.Lo, Hi: base + reach.Hi}))
	seat := r3.Vec{X: x.Lattice(g.within(x), 0, b.SeatPitch), Z: geometry.Round(b.Ears)}
	y := a.Y
	if b.Project.Speakers.Free {
		centre := (l.Left.Y + l.Right.Y) / 2
		y = y.Near(balanced(l, seat.X, geometry.Span{Lo: centre - half, Hi: centre + half}, b.Project.SeatBalance()))
	}
	if b.SeatOnLine() {
		seat.Y = geometry.Round(a.Y.Lo)
	} else {
		seat.Y = y.Lattice(g.within(y), b.Middle, b.SeatPitch)
	}
	return seat
}

// depth returns how far behind the line between two speakers, each half their distance to
// one side, ears on the mid-line may be.
func depth(p *model.Project, half float64) geometry.Span {
	d := p.SeatDistance()
	s := geometry.Span{Lo: shortSide(d.Min, half), Hi: shortSide(d.Max, half)}
	if a := p.Listening.Angle; a.Given() && a.Max > 0 {
		far := math.Inf(1)
		if a.Min > 0 {
			far = half / math.Tan(a.Min/2)
		}
		s = s.And(geometry.Span{Lo: half / math.Tan(a.Max/2), Hi: far})
	}
	return s
}

// balanced returns the part of y in which ears at x are equally far from both woofers within
// the given difference, m. The left distance minus the right one grows with y, as long as
// the left woofer has the smaller y.
func balanced(l model.Layout, x float64, y geometry.Span, most float64) geometry.Span {
	edge := func(difference float64) float64 {
		in := y
		for in.Length() > Pitch/8 {
			ears := r3.Vec{X: x, Y: (in.Lo + in.Hi) / 2}
			if model.Plan(ears, l.Left)-model.Plan(ears, l.Right) < difference {
				in.Lo = ears.Y
			} else {
				in.Hi = ears.Y
			}
		}
		return (in.Lo + in.Hi) / 2
	}
	return geometry.Span{Lo: edge(-most), Hi: edge(most)}
}

// shortSide returns the other short side of a right triangle; 0 if there is none.
func shortSide(long, short float64) float64 {
	return math.Sqrt(max(0, long*long-short*short))
}

// withHeight returns the layout with its acoustic axis at the given height, m.
func (b *Problem) withHeight(l model.Layout, axis float64) model.Layout {
	l.AxisHeight = axis
	z := geometry.Round(axis - b.Project.Speakers.WooferBelow)
	l.Left.Z, l.Right.Z = z, z
	if s := &b.Project.Speakers; s.Fixed {
		l.Left.Z, l.Right.Z = geometry.Round(s.Left.Z), geometry.Round(s.Right.Z)
	}
	return l
}

// genes is a point of the unit cube being read.
type genes struct {
	x     []float64
	next  int
	count bool // only count how many are read
}

// read returns the next gene.
func (g *genes) read() float64 {
	g.next++
	if g.count {
		return 0.5
	}
	return g.x[g.next-1]
}

// choice returns one of n; a choice of one reads no gene.
func (g *genes) choice(n int) int {
	if n <= 1 {
		return 0
	}
	return min(int(g.read()*float64(n)), n-1)
}

// within returns a number in the span.
func (g *genes) within(s geometry.Span) float64 { return s.Lo + g.read()*s.Length() }
