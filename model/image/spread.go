package image

import "math"

// series is the band-limited time response under construction: samples[i*columns+c]
// is column c at time (i - lead)/rate. Columns are bands, or the real and the
// imaginary parts of bands by turns.
type series struct {
	columns int
	samples []float64
}

// spreader adds images to a series. Its fields do not change once set.
type spreader struct {
	kernel   *kernel
	bands    *bands
	tables   *tables // nil to evaluate every amplitude itself
	length   float64 // m; longer paths are left out
	perMetre float64 // samples per metre of path
}

// width of the kernel for which quick and quickComplex are written.
const quickWidth = 6

// samples returns the number of samples of a series.
func (s *spreader) samples() int { return int(s.length*s.perMetre) + s.kernel.width + 1 }

// newSeries returns an empty series.
func (s *spreader) newSeries() *series {
	c := s.bands.columns()
	return &series{columns: c, samples: make([]float64, s.samples()*c)}
}

// add adds all images of the lattice, A/r each, and returns their number.
func (s *spreader) add(to *series, l *lattice) int {
	if s.tables == nil {
		weights := make([]float64, s.kernel.width)
		return l.columns(func(x, y *axisImage, z []axisImage) { s.exact(to, weights, x, y, z) })
	}
	s.tables.attach(l)
	if s.bands.real {
		return l.columns(func(x, y *axisImage, z []axisImage) { s.quick(to.samples, x, y, z) })
	}
	return l.columns(func(x, y *axisImage, z []axisImage) { s.quickComplex(to.samples, x, y, z) })
}

// quick adds a column of images with real amplitudes from the tables.
func (s *spreader) quick(samples []float64, x, y *axisImage, zs []axisImage) {
	bands, table := s.tables.columns, s.kernel.table[quickWidth:]
	perMetre, rows := s.perMetre, float64(s.kernel.rows)
	flat := x.sq + y.sq
	for i := range zs {
		z := &zs[i]
		r := math.Sqrt(flat + z.sq)
		inverse := 1 / r
		ix, fx := split(x.scale * inverse)
		iy, fy := split(y.scale * inverse)
		iz, fz := split(z.scale * inverse)
		m, u := split(r * perMetre)
		p, u := split(u * rows)
		k := (*[2 * quickWidth]float64)(table[quickWidth*p:])
		k0 := k[0] + u*(k[6]-k[0])
		k1 := k[1] + u*(k[7]-k[1])
		k2 := k[2] + u*(k[8]-k[2])
		k3 := k[3] + u*(k[9]-k[3])
		k4 := k[4] + u*(k[10]-k[4])
		k5 := k[5] + u*(k[11]-k[5])
		for b := range bands {
			a := inverse * between(x.row, ix*bands+b, bands, fx) *
				between(y.row, iy*bands+b, bands, fy) *
				between(z.row, iz*bands+b, bands, fz)
			h := samples[m*bands+b:]
			h[5*bands] += a * k5
			h[4*bands] += a * k4
			h[3*bands] += a * k3
			h[2*bands] += a * k2
			h[bands] += a * k1
			h[0] += a * k0
		}
	}
}

// quickComplex adds a column of images with complex amplitudes from the tables.
func (s *spreader) quickComplex(samples []float64, x, y *axisImage, zs []axisImage) {
	columns, table := s.tables.columns, s.kernel.table[quickWidth:]
	perMetre, rows := s.perMetre, float64(s.kernel.rows)
	flat := x.sq + y.sq
	for i := range zs {
		z := &zs[i]
		r := math.Sqrt(flat + z.sq)
		inverse := 1 / r
		ix, fx := split(x.scale * inverse)
		iy, fy := split(y.scale * inverse)
		iz, fz := split(z.scale * inverse)
		m, u := split(r * perMetre)
		p, u := split(u * rows)
		k := (*[2 * quickWidth]float64)(table[quickWidth*p:])
		for c := 0; c < columns; c += 2 {
			a := complexBetween(x.row, ix*columns+c, columns, fx) *
				complexBetween(y.row, iy*columns+c, columns, fy) *
				complexBetween(z.row, iz*columns+c, columns, fz)
			re, im := inverse*real(a), inverse*imag(a)
			for t := range quickWidth {
				w := k[t] + u*(k[t+quickWidth]-k[t])
				h := samples[(m+t)*columns+c:]
				h[1] += im * w
				h[0] += re * w
			}
		}
	}
}

// exact adds a column of images, each amplitude evaluated at its own angle.
func (s *spreader) exact(to *series, weights []float64, x, y *axisImage, zs []axisImage) {
	for i := range zs {
		z := &zs[i]
		r := math.Sqrt(x.sq + y.sq + z.sq)
		m, u := split(r * s.perMetre)
		s.kernel.weights(weights, u)
		for b := range s.bands.walls {
			a := s.bands.walls[b].amplitude(x, y, z, r) / complex(r, 0)
			for t, w := range weights {
				if s.bands.real {
					to.samples[(m+t)*to.columns+b] += w * real(a)
					continue
				}
				h := to.samples[(m+t)*to.columns+2*b:]
				h[0] += w * real(a)
				h[1] += w * imag(a)
			}
		}
	}
}

// amplitude returns the product of all reflection factors of an image.
func (w *walls) amplitude(x, y, z *axisImage, r float64) complex128 {
	return w.pair(0, x.near, x.far, min(x.dist/r, 1)) *
		w.pair(1, y.near, y.far, min(y.dist/r, 1)) *
		w.pair(2, z.near, z.far, min(z.dist/r, 1))
}

// split returns the whole part of v >= 0 and the rest.
func split(v float64) (int, float64) {
	i := int(v)
	return i, v - float64(i)
}

// between interpolates a row between entry i and the one a stride on.
func between(row []float64, i, stride int, u float64) float64 {
	a := row[i]
	return a + u*(row[i+stride]-a)
}

func complexBetween(row []float64, i, stride int, u float64) complex128 {
	re, im := row[i], row[i+1]
	return complex(re+u*(row[i+stride]-re), im+u*(row[i+stride+1]-im))
}
