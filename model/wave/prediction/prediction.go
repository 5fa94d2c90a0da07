// Package prediction tells how a record of pressures goes on after its end.
//
// Once its source is silent a room rings in decaying modes, which all places share. So each value of any record
// is the same weighted sum of the values before it,
//
//	x[n] = Σ a[k] x[n-k],  k = 1..P
//
// and the weights a, found where the record is known, hold beyond it: linear prediction by the covariance
// method (Makhoul 1975, "Linear prediction: a tutorial review", Proc. IEEE 63, section II), for decaying
// oscillations as in Kumaresan and Tufts 1982. Modes of which the record holds too little are left out, so that
// what follows is least sure where modes are close together.
package prediction

import (
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// Predictor holds the weights a[1]..a[P] of a value's predecessors, the latest first. Nil predicts silence.
type Predictor []float64

// orderShare is the number of predecessors as a share of the record, and mostOrder the most of them.
const (
	orderShare = 0.5
	mostOrder  = 200
)

// ridge is added to the variances, as a share of them, so that noise far below the signal is not followed.
const ridge = 1e-8

// Fit returns the predictor of some records, which must be of one length and begin after the source has fallen
// silent. It returns nil for records too short or without sound.
func Fit(records [][]float64) Predictor {
	if len(records) == 0 {
		return nil
	}
	length := len(records[0])
	order := min(int(orderShare*float64(length)), mostOrder)
	if order < 1 {
		return nil
	}
	// Without their common decay, early and late values count alike.
	growth := decay(records)
	level := make([][]float64, len(records))
	for c, x := range records {
		level[c] = make([]float64, length)
		for n, v := range x {
			level[c][n] = v * math.Exp(growth*float64(n-length))
		}
	}
	products := covariance(level, order)
	system := blas64.Symmetric{Uplo: blas.Upper, N: order, Stride: order + 1, Data: products[order+2:]}
	right := products[1 : order+1] // the last value's with those before it
	variances := 0.0
	for i := range order {
		variances += system.Data[i*(order+2)]
	}
	for i := range order {
		system.Data[i*(order+2)] += ridge * variances / float64(order)
	}
	factor, ok := lapack64.Potrf(system)
	if !ok {
		return nil
	}
	weights := blas64.General{Rows: order, Cols: 1, Stride: 1, Data: right}
	lapack64.Potrs(factor, weights)
	p := Predictor(slices.Clone(right))
	for k := range p {
		p[k] *= math.Exp(-growth * float64(k+1))
	}
	return p
}

// decay returns by which exponent a value the records decay together, from their first quarter to their last.
func decay(records [][]float64) float64 {
	length := len(records[0])
	quarter := length / 4
	var first, last float64
	for _, x := range records {
		first += floats.Dot(x[:quarter], x[:quarter])
		last += floats.Dot(x[length-quarter:], x[length-quarter:])
	}
	if !(first > 0 && last > 0) {
		return 0
	}
	return math.Log(first/last) / 2 / float64(length-quarter)
}

// covariance returns the sums of y[n-i] y[n-j] over all records and over n from order on, for i <= j up to
// order, row by row. Each follows from its neighbour on the diagonal, since only its first and last terms differ.
func covariance(records [][]float64, order int) []float64 {
	length := len(records[0])
	size := order + 1
	// By lag and record: what comes in at the beginning and goes out at the end.
	in, out := mat.NewDense(order, len(records), nil), mat.NewDense(order, len(records), nil)
	g := make([]float64, size*size)
	for c, y := range records {
		for j := range size {
			g[j] += floats.Dot(y[order:], y[order-j:length-j])
		}
		for i := range order {
			in.Set(i, c, y[order-1-i])
			out.Set(i, c, y[length-1-i])
		}
	}
	var more, less mat.SymDense
	more.SymOuterK(1, in)
	less.SymOuterK(1, out)
	coming, going := more.RawSymmetric(), less.RawSymmetric()
	for i := range order {
		row, next := g[i*size:][:size], g[(i+1)*size:][:size]
		for j := i; j < order; j++ {
			next[j+1] = row[j] + coming.Data[i*coming.Stride+j] - going.Data[i*going.Stride+j]
		}
	}
	return g
}

// Tail returns the weights by which a record's last values, the latest first, sum to the transform of all that
// follows it at a phase in rad per value, the first value after its end at phase 0:
//
//	Σ x[N+i] e^{-jφi},  i = 0, 1, ...
//
// It appends them to dst.
func (p Predictor) Tail(dst []complex128, phase complex128) []complex128 {
	first := len(dst)
	dst = append(dst, make([]complex128, len(p))...)
	one := cmplx.Exp(-1i * phase)
	var sum complex128
	for m := len(p) - 1; m >= 0; m-- {
		sum = complex(p[m], 0) + one*sum
		dst[first+m] = sum
	}
	whole := 1 / (1 - one*sum)
	for m := range p {
		dst[first+m] *= whole
	}
	return dst
}
