package optimize

import (
	"math"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// decode turns genes into a layout on the lattice: inside the zones and, where they permit,
// within the limits of the triangle. The violation measures what it cannot keep.
func (b *problem) decode(g *genes) model.Layout {
	s := b.pairAreas[g.choice(len(b.pairAreas))]
	l := model.Layout{Left: b.wooferPlace(s.left, g), AxisHeight: b.heights[0]}
	if b.project.Speakers.Free {
		l.Right = b.wooferPlace(s.right, g)
		if l.Left.Y > l.Right.Y {
			l.Left, l.Right = l.Right, l.Left
		}
	} else {
		l.Right = b.reflect(l.Left)
	}
	l.Seat = b.seat(l, g)
	return b.withHeight(l, b.heights[g.choice(len(b.heights))])
}

// wooferPlace chooses a place of a woofer's centre in an area.
func (b *problem) wooferPlace(a area, g *genes) r3.Vec {
	return r3.Vec{
		X: a.x.lattice(g.within(a.x), 0, pitch),
		Y: a.y.lattice(g.within(a.y), b.middle, pitch),
	}
}

// reflect returns a place mirrored about the mid-line.
func (b *problem) reflect(v r3.Vec) r3.Vec {
	v.Y = tidy(2*b.middle - v.Y)
	return v
}

// seat chooses a place of the ears behind the speakers of l, at a distance and under an
// angle that the project allows where the zone permits.
func (b *problem) seat(l model.Layout, g *genes) r3.Vec {
	a := b.seats[g.choice(len(b.seats))]
	half, base := model.Plan(l.Left, l.Right)/2, (l.Left.X+l.Right.X)/2
	reach := depth(b.project, half)
	x := a.x.near(span{lo: max(l.Left.X, l.Right.X), hi: math.Inf(1)}.and(span{lo: base + reach.lo, hi: base + reach.hi}))
	seat := r3.Vec{X: x.lattice(g.within(x), 0, b.seatPitch), Z: tidy(b.ears)}
	y := a.y
	if b.project.Speakers.Free {
		centre := (l.Left.Y + l.Right.Y) / 2
		y = y.near(balanced(l, seat.X, span{lo: centre - half, hi: centre + half}, b.project.SeatBalance()))
	}
	if b.seatOnLine() {
		seat.Y = tidy(a.y.lo)
	} else {
		seat.Y = y.lattice(g.within(y), b.middle, b.seatPitch)
	}
	return seat
}

// depth returns how far behind the line between two speakers, each half their distance to
// one side, ears on the mid-line may be.
func depth(p *model.Project, half float64) span {
	d := p.SeatDistance()
	s := span{lo: shortSide(d.Min, half), hi: shortSide(d.Max, half)}
	if a := p.Listening.Angle; a.Given() && a.Max > 0 {
		far := math.Inf(1)
		if a.Min > 0 {
			far = half / math.Tan(a.Min/2)
		}
		s = s.and(span{lo: half / math.Tan(a.Max/2), hi: far})
	}
	return s
}

// balanced returns the part of y in which ears at x are equally far from both woofers within
// the given difference, m. The left distance minus the right one grows with y, as long as
// the left woofer has the smaller y.
func balanced(l model.Layout, x float64, y span, most float64) span {
	edge := func(difference float64) float64 {
		in := y
		for in.length() > pitch/8 {
			ears := r3.Vec{X: x, Y: (in.lo + in.hi) / 2}
			if model.Plan(ears, l.Left)-model.Plan(ears, l.Right) < difference {
				in.lo = ears.Y
			} else {
				in.hi = ears.Y
			}
		}
		return (in.lo + in.hi) / 2
	}
	return span{lo: edge(-most), hi: edge(most)}
}

// shortSide returns the other short side of a right triangle; 0 if there is none.
func shortSide(long, short float64) float64 {
	return math.Sqrt(max(0, long*long-short*short))
}

// withHeight returns the layout with its acoustic axis at the given height, m.
func (b *problem) withHeight(l model.Layout, axis float64) model.Layout {
	l.AxisHeight = axis
	z := tidy(axis - b.project.Speakers.WooferBelow)
	l.Left.Z, l.Right.Z = z, z
	if s := &b.project.Speakers; s.Fixed {
		l.Left.Z, l.Right.Z = tidy(s.Left.Z), tidy(s.Right.Z)
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
func (g *genes) within(s span) float64 { return s.lo + g.read()*s.length() }
