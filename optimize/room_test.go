package optimize

import (
	"errors"
	"math"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// modal is an engine for tests: the damped cosine sum of a rigid box,
//
//	p = jωρ Σ ψ(r)ψ(r0) / (V Λ (k_n² - k² + jk δ)),
//
// cut off well above the band. It needs no other package and is smooth
// everywhere, so what it gets wrong close to a source does not matter here.
type modal struct {
	size  r3.Vec
	grid  model.Grid
	modes []modalTerm
	coef  []complex128 // per mode and frequency
}

type modalTerm struct{ x, y, z float64 }

// newModal returns a room with modes up to twice the top of a coarse grid.
func newModal(size r3.Vec) *modal {
	m := &modal{size: size, grid: model.NewGrid(25, 225, 24, 8)}
	air := m.Air()
	const top = 400
	for i := 0; air.Speed*float64(i)/2/size.X < top; i++ {
		for j := 0; air.Speed*float64(j)/2/size.Y < top; j++ {
			for l := 0; air.Speed*float64(l)/2/size.Z < top; l++ {
				t := modalTerm{float64(i) * math.Pi / size.X, float64(j) * math.Pi / size.Y, float64(l) * math.Pi / size.Z}
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

func (m *modal) Name() string              { return "cosine" }
func (m *modal) Grid() model.Grid          { return m.grid }
func (m *modal) Air() model.Air            { return model.AirAt(0) }
func (m *modal) Warnings() []model.Warning { return []model.Warning{"a room for tests"} }

func (m *modal) shape(t modalTerm, v r3.Vec) float64 {
	return math.Cos(t.x*v.X) * math.Cos(t.y*v.Y) * math.Cos(t.z*v.Z)
}

func (m *modal) Field(seat r3.Vec) (model.Field, error) {
	if seat.X < 0 || seat.Y < 0 || seat.X > m.size.X || seat.Y > m.size.Y {
		return nil, errors.New("the seat is outside the room")
	}
	f := &modalField{m, make([]float64, len(m.modes))}
	for i, t := range m.modes {
		f.seat[i] = m.shape(t, seat)
	}
	return f, nil
}

// modalField is a seat in the room.
type modalField struct {
	room *modal
	seat []float64
}

func (f *modalField) Transfer(dst []complex128, source r3.Vec) []complex128 {
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

// TransferGrid implements [model.GridField] by the plain loop, so that the table is
// filled by that way too.
func (f *modalField) TransferGrid(dst []complex128, xs, ys, zs []float64) []complex128 {
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

// plainEngine hides TransferGrid.
type plainEngine struct{ *modal }

func (e plainEngine) Field(seat r3.Vec) (model.Field, error) {
	f, err := e.modal.Field(seat)
	return struct{ model.Field }{f}, err
}

// studio is a small room with a mirrored pair and a chair that may go along the
// mid-line; nothing in it is any real room's.
func studio() *model.Project {
	return &model.Project{
		Room: model.Room{Size: r3.Vec{X: 4.2, Y: 3.1, Z: 2.4}},
		Speakers: model.Speakers{
			Box: model.Dimensions{Depth: 0.25, Width: 0.2, Height: 0.32}, WooferBelow: 0.12,
			AxisHeights: []float64{1.1, 1.25}, RearClearance: 0.05, SideClearance: 0.1,
			Zones: []model.Zone{{X: model.Range{Min: 0.3, Max: 1.1}}},
		},
		Seats: []model.Seat{{Name: "chair", Height: 1.2, Zones: []model.Zone{{X: model.Range{Min: 1.2, Max: 3.2}}}}},
		Listening: model.Listening{
			Distance: model.Range{Min: 0.9, Max: 2}, BackDistance: 0.6,
			Angle: model.Range{Min: 50 * math.Pi / 180, Max: 70 * math.Pi / 180},
		},
		Goal: model.Goal{From: 30, To: 200, Smoothing: 12},
	}
}

// freeStudio is the studio with two speakers that each go their own way and a
// chair that may leave the mid-line.
func freeStudio() *model.Project {
	p := studio()
	p.Speakers.Free = true
	p.Speakers.AxisHeights = []float64{1.2}
	p.Speakers.Zones = []model.Zone{
		{X: model.Range{Min: 0.3, Max: 0.9}, Y: model.Range{Min: 0.3, Max: 1.2}},
		{X: model.Range{Min: 0.3, Max: 0.9}, Y: model.Range{Min: 1.8, Max: 2.8}},
	}
	p.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.4, Max: 2.4}, Y: model.Range{Min: 1.2, Max: 1.9}}}
	p.KeepClear = []model.Block{{Name: "radiator", Min: r3.Vec{X: 0.3, Y: 0}, Max: r3.Vec{X: 0.8, Y: 0.45, Z: 0.7}}}
	return p
}
