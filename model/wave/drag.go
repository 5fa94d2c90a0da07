package wave

// dragFaces marches the faces that have flow resistance: porous material and
// sheets that air passes through.
//
// The air has mass m, the skeleton mass s if it is limp, and r acts on their
// difference d = u - v:
//
//	m du/dt + r d = Δp,   s dv/dt = r d
//
// With r taken as the mean of before and after, one state per face is enough:
//
//	δd = A Δp - B d,   δu = C Δp - D d
type dragFaces struct {
	low, high  []int32   // the two cells
	a, b, c, d []float32 // the four coefficients
	slip       []float32 // d, m/s
	change     []float32 // δu of the step under way, m/s
}

// add appends a face with air mass and skeleton in kg/m² and drag in Pa·s/m; a
// skeleton of 0 stands still.
func (f *dragFaces) add(low, high int, mass, skeleton, drag, step float64) {
	inverse := 1 / mass
	if skeleton > 0 {
		inverse += 1 / skeleton
	}
	damping := drag * step * inverse
	a := step / mass / (1 + damping/2)
	b := damping / (1 + damping/2)
	f.low = append(f.low, int32(low))
	f.high = append(f.high, int32(high))
	f.a = append(f.a, float32(a))
	f.b = append(f.b, float32(b))
	f.c = append(f.c, float32(step/mass*(1-drag*a/2)))
	f.d = append(f.d, float32(step/mass*drag*(1-b/2)))
	f.slip = append(f.slip, 0)
	f.change = append(f.change, 0)
}

// march finds the change of velocity of the faces from..to.
func (f *dragFaces) march(now []float32, from, to int) {
	for i := from; i < to; i++ {
		p := now[f.low[i]] - now[f.high[i]]
		d := f.slip[i]
		f.change[i] = f.c[i]*p - f.d[i]*d
		f.slip[i] = d + f.a[i]*p - f.b[i]*d
	}
}
