package table

import (
	"context"
	"testing"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// openAir is an engine without a room.
type openAir struct {
	model.Engine
	grid model.Grid
}

func (o openAir) Grid() model.Grid { return o.grid }
func (o openAir) Air() model.Air   { return model.AirAt(293) }
func (o openAir) Field(_ context.Context, seat r3.Vec) (model.Field, error) {
	return openField{o, seat}, nil
}

type openField struct {
	openAir
	seat r3.Vec
}

func (f openField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	return model.FreeField(dst, f.grid, f.Air(), r3.Norm(r3.Sub(source, f.seat)))
}

// What a table is said to take is what its slices hold once seats are read from it: seats on a line, and seats
// all over an area, whose columns have a limit of their own.
func TestNeed(t *testing.T) {
	t.Parallel()
	b, err := score.NewBand(openAir{grid: model.DefaultGrid()}, model.Goal{From: 20, To: 200, Smoothing: 3})
	if err != nil {
		t.Fatal(err)
	}
	sources := []geometry.Area{{X: geometry.Span{Lo: 0.4, Hi: 1.2}, Y: geometry.Span{Lo: 0.5, Hi: 1}}}
	x := geometry.Span{Lo: 2, Hi: 3.4}
	for name, d := range map[string]Domain{
		"line": {Sources: sources, Heights: []float64{1, 1.2}, Seats: geometry.Area{X: x, Y: geometry.Span{Lo: 1.5, Hi: 1.5}}, Line: Lines(1.5, 0.1, geometry.Span{Lo: 0, Hi: 3}), Ears: 1.2},
		"area": {Sources: sources, Heights: []float64{1}, Seats: geometry.Area{X: x, Y: geometry.Span{Lo: 1.2, Hi: 1.8}}, Ears: 1.2},
	} {
		table := New(b, d, WideFineness(WideTolerance))
		if err := table.Fill(t.Context(), nil); err != nil {
			t.Fatal(err)
		}
		seats := table.SeatsKept() + 7
		table.Keep(seats)
		columns := 0
		held := 4*len(table.rows) + 16*len(table.direct.rows)*len(table.direct.rows[0])
		for i := range seats {
			seat := r3.Vec{X: x.Lo + x.Length()*float64(i)/float64(seats), Y: 1.5, Z: 1.2}
			f, err := table.Field(t.Context(), seat)
			if err != nil {
				t.Fatal(err)
			}
			for _, z := range d.Heights {
				f.Transfer(nil, r3.Vec{X: 0.7, Y: 0.8, Z: z})
			}
			read := f.(*tableField)
			for i := range read.parts {
				held += 4 * len(read.parts[i].rows)
			}
			if c := read.column; c != nil && i < table.columnsKept() {
				for i := range c.parts {
					columns += 4 * len(c.parts[i].rows)
				}
			}
		}
		need := table.Need(seats)
		if name == "area" {
			need -= keptColumns
		}
		if held != need || columns > keptColumns || (columns > 0) != (name == "area") {
			t.Errorf("%s: %d bytes are held and %d in columns, and %d are said to be", name, held, columns, need)
		}
	}
}
