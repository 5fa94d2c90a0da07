// Package testroom holds what the tests of several packages need: an engine that needs no
// other, and a few projects. Nothing in it is any real room's, and nothing but tests
// imports it.
package testroom

import (
	"context"
	"errors"
	"math"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// Cosine is an engine for tests: the damped cosine sum of a rigid box,
//
//	p = jωρ Σ ψ(r)ψ(r0) / (V Λ (k_n² - k² + jk δ)),
//
// cut off well above the band. It needs no other package and is smooth
// everywhere, so what it gets wrong close to a source does not matter here.
type Cosine struct {
	Size  r3.Vec // of the room, m
	grid  model.Grid
	modes []term
	coef  []complex128 // per mode and frequency
}

type term struct{ x, y, z float64 }

// New returns the engine of a room of a size in m, with modes up to twice the top of a coarse grid.
func New(size r3.Vec) *Cosine { return Over(model.NewGrid(25, 225, 24, 8), size) }

// Over returns the same over another grid.
func Over(grid model.Grid, size r3.Vec) *Cosine {
	m := &Cosine{Size: size, grid: grid}
	air := m.Air()
	const top = 400
	for i := 0; air.Speed*float64(i)/2/size.X < top; i++ {
		for j := 0; air.Speed*float64(j)/2/size.Y < top; j++ {
			for l := 0; air.Speed*float64(l)/2/size.Z < top; l++ {
				t := term{float64(i) * math.Pi / size.X, float64(j) * math.Pi / size.Y, float64(l) * math.Pi / size.Z}
				kn := math.Sqrt(t.x*t.x + t.y*t.y + t.z*t.z)
				if kn*air.Speed/2/math.Pi > top {
					continue
				}
				norm := size.X * size.Y * size.Z
				for _, n := range []int{i, j, l} {
					if n > 0 {
						norm /= 2
					}
				}
				m.modes = append(m.modes, t)
				for _, f := range m.grid {
					k := 2 * math.Pi * f / air.Speed
					m.coef = append(m.coef, complex(0, 2*math.Pi*f*air.Density/norm)/complex(kn*kn-k*k, 0.12*k))
				}
			}
		}
	}
	return m
}

// Name implements [model.Engine].
func (m *Cosine) Info() model.EngineInfo { return model.EngineInfo{Kind: "cosine"} }

// Grid implements [model.Engine].
func (m *Cosine) Grid() model.Grid { return m.grid }

// Air implements [model.Engine].
func (m *Cosine) Air() model.Air { return model.AirAt(0) }

// Warnings implements [model.Engine].
func (m *Cosine) Warnings() []model.Warning { return []model.Warning{model.Remark("a room for tests")} }

func (m *Cosine) shape(t term, v r3.Vec) float64 {
	return math.Cos(t.x*v.X) * math.Cos(t.y*v.Y) * math.Cos(t.z*v.Z)
}

// Field implements [model.Engine].
func (m *Cosine) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	if seat.X < 0 || seat.Y < 0 || seat.X > m.Size.X || seat.Y > m.Size.Y {
		return nil, errors.New("the seat is outside the room")
	}
	f := &cosineField{m, make([]float64, len(m.modes))}
	for i, t := range m.modes {
		f.seat[i] = m.shape(t, seat)
	}
	return f, nil
}

// cosineField is a seat in the room.
type cosineField struct {
	room *Cosine
	seat []float64
}

// Transfer implements [model.Field].
func (f *cosineField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	n := len(f.room.grid)
	dst = model.Transfers(dst, n)
	clear(dst)
	for i, t := range f.room.modes {
		a := complex(f.seat[i]*f.room.shape(t, source), 0)
		for j, c := range f.room.coef[i*n : (i+1)*n] {
			dst[j] += a * c
		}
	}
	return dst
}

// TransferGrid implements [model.GridField] by a plain loop, so that tables are filled
// that way too.
func (f *cosineField) TransferGrid(dst []complex128, xs, ys, zs []float64) []complex128 {
	n := len(f.room.grid)
	dst = model.Transfers(dst, len(xs)*len(ys)*len(zs)*n)
	for i, x := range xs {
		for j, y := range ys {
			for k, z := range zs {
				at := ((i*len(ys)+j)*len(zs) + k) * n
				f.Transfer(dst[at:at+n], r3.Vec{X: x, Y: y, Z: z})
			}
		}
	}
	return dst
}
