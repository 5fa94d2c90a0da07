package wave

// dragFaces marches the faces that have flow resistance: porous material and
// sheets that air passes through.
//
// The air has mass m, the skeleton mass s if it is limp, and r acts on their
// difference d = u - v:
//
//	m du/dt + r d = Δp + F,   s dv/dt = r d - F
//
// With r taken as the mean of before and after, one state per face is enough:
//
//	δd = A Δp + E F - B d,   δu = C Δp + G F - D d
//
// Between two faces the velocity changes evenly, and with it the drag: a cell of
// resistance σ has
//
//	∫ σ d² dx = a d0² + b d1² - c (d0 - d1)²,   c = ∫ σ ξ(1-ξ) dx
//
// of which a and b are in r and the rest is F = c (d0 - d1) on either face, from
// the step before. Without it a layer of one cell would have half its resistance
// in place of a third.
type dragFaces struct {
	low, high        []int32   // the two cells
	open             []float64 // open share of the face, for the cells
	a, b, c, d, e, g []float32 // the coefficients
	before, after    []int32   // faces on the other sides of the two cells; 0 is none
	tieLow, tieHigh  []float32 // c of the two cells, Pa·s/m
	slip             [2][]float32
	change           []float32 // δu of the step under way, m/s
}

// dragFace is what one face is made of.
type dragFace struct {
	low, high       int
	open            float64
	mass, skeleton  float64 // kg/m²; a skeleton of 0 stands still
	drag            float64 // Pa·s/m
	before, after   int
	tieLow, tieHigh float64
}

// add appends a face. The first one added must be empty: it stands for "none".
func (f *dragFaces) add(n dragFace, step float64) {
	inverse, own := 0.0, 0.0
	if n.mass > 0 {
		own = step / n.mass
		inverse = own
	}
	if n.skeleton > 0 {
		inverse += step / n.skeleton
	}
	damping := 1 + n.drag*inverse/2
	a, b, e := own/damping, n.drag*inverse/damping, inverse/damping
	f.low, f.high = append(f.low, int32(n.low)), append(f.high, int32(n.high))
	f.open = append(f.open, n.open)
	f.a, f.b, f.e = append(f.a, float32(a)), append(f.b, float32(b)), append(f.e, float32(e))
	f.c = append(f.c, float32(own*(1-n.drag*a/2)))
	f.d = append(f.d, float32(own*n.drag*(1-b/2)))
	f.g = append(f.g, float32(own*(1-n.drag*e/2)))
	f.before, f.after = append(f.before, int32(n.before)), append(f.after, int32(n.after))
	f.tieLow, f.tieHigh = append(f.tieLow, float32(n.tieLow)), append(f.tieHigh, float32(n.tieHigh))
	f.slip[0], f.slip[1] = append(f.slip[0], 0), append(f.slip[1], 0)
	f.change = append(f.change, 0)
}

// march finds the change of velocity of the faces from..to in step n.
func (f *dragFaces) march(now []float32, n, from, to int) {
	was, is := f.slip[n&1], f.slip[n&1^1]
	for i := from; i < to; i++ {
		p := now[f.low[i]] - now[f.high[i]]
		d := was[i]
		tie := f.tieLow[i]*(d-was[f.before[i]]) + f.tieHigh[i]*(d-was[f.after[i]])
		f.change[i] = f.c[i]*p + f.g[i]*tie - f.d[i]*d
		is[i] = d + f.a[i]*p + f.e[i]*tie - f.b[i]*d
	}
}

// addDrag lists the faces with flow resistance.
func (s *system) addDrag() {
	if s.loads[0] == nil {
		return
	}
	number := map[face]int{}
	var order []face
	s.each(func(i int, _ [3]int) {
		for a := range 3 {
			if at := (face{a, i}); s.loads[a][i].drag > 0 && s.open[a][i] > 0 {
				order = append(order, at)
				number[at] = len(order)
			}
		}
	})
	s.drag.add(dragFace{}, s.step)
	for _, at := range order {
		l, step := &s.loads[at.axis][at.cell], s.stride[at.axis]
		cross := l.cross()
		s.drag.add(dragFace{
			low: at.cell, high: at.cell + step,
			open:     cross * s.open[at.axis][at.cell],
			mass:     s.medium.air.Density*s.h[at.axis] + l.film + l.mass/cross,
			skeleton: l.skeleton / cross, drag: l.drag / cross,
			before: number[face{at.axis, at.cell - step}], tieLow: s.tie(at.axis, at.cell, at.cell),
			after: number[face{at.axis, at.cell + step}], tieHigh: s.tie(at.axis, at.cell, at.cell+step),
		}, s.step)
	}
}

// tie returns the drag per area of a face that it shares with the other face of a
// cell. Both give the same force on their common area, so that nothing is won.
func (s *system) tie(a, at, cell int) float64 {
	low, high := s.open[a][cell-s.stride[a]], s.open[a][cell]
	common := min(low, high)
	if common == 0 {
		common = max(low, high)
	}
	return s.ties[a][cell] * common / (s.open[a][at] * s.loads[a][at].cross())
}
