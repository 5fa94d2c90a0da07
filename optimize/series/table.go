package series

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"
	"evenbass/optimize/table"
)

// Table is the field between the places of a domain, packed.
type Table struct {
	Of     model.EngineInfo
	Domain table.Domain
	Seats  [2]int    // how many terms along the seats' x and y
	Panels [][2]int  // how many terms along x and y, for each area of sources
	Step   []float64 // Pa·s/m³, by frequency

	// Numbers holds the coefficients in units of Step: by degree of the seats' x and y, by panel,
	// by height, by degree of the woofers' x and y, by frequency, real part and imaginary part.
	Numbers []int16

	grid model.Grid
	air  model.Air
}

// Fineness is how exact a table is. The zero value is of no use; see [Usual].
type Fineness struct {
	Wave float64 // error of a wave that crosses the room, relative to the wave
	Step float64 // of the coefficients, relative to the rms of what is packed
}

// Usual keeps [Accuracy] in the demo rooms. Five times the step leaves 0.14 dB in dips of 20 dB; a
// third of the error of a wave changes nothing there.
var Usual = Fineness{Wave: 3e-3, Step: 1e-4}

// memory limits the samples of a table, in bytes.
const memory = 160 << 20

// ErrTooLarge means that the samples of a domain need more memory than they may have.
var ErrTooLarge = fmt.Errorf("samples larger than %d MiB", memory>>20)

// nearest is the least distance in m for which the free field is taken off and added: no listener sits inside
// a woofer.
const nearest = 0.01

// New asks the engine for the field at the nodes of a domain and packs it. The domain's lines
// are not looked at. It fails with [ErrTooLarge], as the engine does, or when the context ends.
func New(ctx context.Context, e model.Engine, d table.Domain, f Fineness) (*Table, error) {
	if len(d.Sources) == 0 || len(d.Heights) == 0 {
		return nil, errors.New("series: a domain without sources")
	}
	count, grid := f.counter(e), e.Grid()
	t := &Table{Of: e.Info(), Domain: d, Seats: [2]int{count(d.Seats.X), count(d.Seats.Y)}, grid: grid, air: e.Air()}
	for _, a := range d.Sources {
		t.Panels = append(t.Panels, [2]int{count(a.X), count(a.Y)})
	}
	if 16*t.terms()*len(grid) > memory {
		return nil, ErrTooLarge
	}
	s, err := t.sample(ctx, e)
	if err != nil {
		return nil, err
	}
	t.transform(s.rest)
	t.quantise(s, f.Step)
	return t, nil
}

// counter returns how many terms a span needs at the top of an engine's frequencies.
func (f Fineness) counter(e model.Engine) func(geometry.Span) int {
	grid := e.Grid()
	k := 2 * math.Pi * grid[len(grid)-1] / e.Air().Speed
	return func(s geometry.Span) int {
		if s.Length() < 1e-9 {
			return 1
		}
		return table.NodesFor(k, s.Length(), f.Wave)
	}
}

// SeatCount returns at how many seats [New] asks an engine for its field.
func SeatCount(e model.Engine, d table.Domain, f Fineness) int {
	count := f.counter(e)
	return count(d.Seats.X) * count(d.Seats.Y)
}

// places returns how many coefficients of each frequency the sources of one seat have.
func (t *Table) places() int {
	n := 0
	for _, p := range t.Panels {
		n += len(t.Domain.Heights) * p[0] * p[1]
	}
	return n
}

// terms returns how many coefficients each frequency has.
func (t *Table) terms() int { return t.Seats[0] * t.Seats[1] * t.places() }

// samples is a field at the nodes of a domain.
type samples struct {
	rest  []complex128 // the field less the free field: by seat, by source, by frequency
	power []float64    // mean square of that, by frequency
}

// sample asks the engine for the field at every node.
func (t *Table) sample(ctx context.Context, e model.Engine) (*samples, error) {
	n, per := len(t.grid), t.places()
	xs, ys := nodes(t.Domain.Seats.X, t.Seats[0]), nodes(t.Domain.Seats.Y, t.Seats[1])
	s := &samples{rest: make([]complex128, len(xs)*len(ys)*per*n), power: make([]float64, n)}
	err := concurrent.Each(len(xs)*len(ys), func(i int) error {
		if err := ctx.Err(); err != nil {
			return err
		}
		seat := r3.Vec{X: xs[i/len(ys)], Y: ys[i%len(ys)], Z: t.Domain.Ears}
		field, err := e.Field(ctx, seat)
		if err != nil {
			return err
		}
		t.sampleSeat(s.rest[i*per*n:(i+1)*per*n], field, seat)
		return nil
	})
	if err != nil {
		return nil, err
	}
	for i := range s.power {
		for at := i; at < len(s.rest); at += n {
			s.power[i] += square(s.rest[at]) / float64(len(s.rest)/n)
		}
	}
	return s, nil
}

func square(v complex128) float64 { return real(v)*real(v) + imag(v)*imag(v) }

// sampleSeat fills in the field of one seat.
func (t *Table) sampleSeat(dst []complex128, field model.Field, seat r3.Vec) {
	n := len(t.grid)
	free := make([]complex128, n)
	at := 0
	for i, a := range t.Domain.Sources {
		xs, ys := nodes(a.X, t.Panels[i][0]), nodes(a.Y, t.Panels[i][1])
		all := table.TransferGrid(field, n, xs, ys, t.Domain.Heights)
		for h, z := range t.Domain.Heights {
			for j := range len(xs) * len(ys) {
				source := r3.Vec{X: xs[j/len(ys)], Y: ys[j%len(ys)], Z: z}
				model.FreeField(free, t.grid, t.air, max(nearest, r3.Norm(r3.Sub(source, seat))))
				from := all[(j*len(t.Domain.Heights)+h)*n:]
				for l := range free {
					dst[at+l] = from[l] - free[l]
				}
				at += n
			}
		}
	}
}

// nodes returns n Chebyshev nodes of the first kind in a span, ascending.
func nodes(s geometry.Span, n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		list[i] = (s.Lo+s.Hi)/2 - math.Cos(float64(2*i+1)*math.Pi/float64(2*n))*s.Length()/2
	}
	return list
}
