package solver

import (
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/wave/wavetest"
)

// flat is a zone at one height.
func flat(x1, x2, y1, y2, z float64) model.Block {
	return model.Block{Min: r3.Vec{X: x1, Y: y1, Z: z}, Max: r3.Vec{X: x2, Y: y2, Z: z}}
}

// cellByCell returns the engine without planes.
func cellByCell(e *Engine) *Engine {
	o := *e
	o.rows = newRows(e.medium, nil, e.record, e.top())
	return &o
}

// A field kept by columns answers in its zones as one kept cell by cell, also beside a solid block and
// against walls, in less than half of the memory.
func TestPlanesAnswerAsCells(t *testing.T) {
	t.Parallel()
	s := wavetest.Den()
	zones := []model.Block{flat(0.6, 2.88, 0, 1.5, 1), flat(0.6, 1, 0, 2.7, 1.07), flat(1.1, 1.1, 0.9, 0.9, 1.6)}
	e, err := New(s, model.Grid{45, 90, 200}, Settings{Cell: 0.1, Longest: 0.3, Zones: zones})
	if err != nil {
		t.Fatal(err)
	}
	if len(e.rows.planes) != 3 {
		t.Fatalf("%d planes, want one for each height", len(e.rows.planes))
	}
	run := func(e *Engine) *Field {
		f, err := e.Run(t.Context(), r3.Vec{X: 1.62, Y: 1.77, Z: 1.21})
		if err != nil {
			t.Fatal(err)
		}
		return f
	}
	columns, cells := run(e), run(cellByCell(e))
	if 2*len(columns.values) >= len(cells.values) || 8*len(columns.values) != e.FieldBytes() {
		t.Errorf("%d values by columns, %d by cells, said to take %d bytes", len(columns.values), len(cells.values), e.FieldBytes())
	}
	size := e.medium.Extent()
	rapid.Check(t, func(t *rapid.T) {
		z := rapid.SampledFrom(zones).Draw(t, "zone")
		at := r3.Vec{
			X: min(rapid.Float64Range(z.Min.X, z.Max.X).Draw(t, "x"), size.X),
			Y: min(rapid.Float64Range(z.Min.Y, z.Max.Y).Draw(t, "y"), size.Y), Z: z.Min.Z,
		}
		if columns.Covers(at) != cells.Covers(at) {
			t.Fatalf("%v is covered by columns: %v, by cells: %v", at, columns.Covers(at), cells.Covers(at))
		}
		if !cells.Covers(at) {
			return
		}
		most := 1e-4
		if list, _ := columns.at(at); len(list) < 16 {
			most = 0.02 // where the block is smaller, it is by cells smaller along z too
		}
		got, want := columns.Transfer(nil, at), cells.Transfer(nil, at)
		for i := range want {
			if d := cmplx.Abs(got[i] - want[i]); d > most*cmplx.Abs(want[i]) {
				t.Fatalf("%v, frequency %d: %v by columns, %v by cells", at, i, got[i], want[i])
			}
		}
	})
}

// A place at a height that was not asked for is not covered; the nearest covered one is at a height that was.
func TestPlanesKeepTheirHeights(t *testing.T) {
	t.Parallel()
	e, err := New(wavetest.Den(), wavetest.Coarse, Settings{Cell: 0.2, Longest: 0.2, Zones: []model.Block{flat(0.6, 1.5, 0.8, 1.5, 0.9), flat(0.6, 1.5, 0.8, 1.5, 1.3)}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Run(t.Context(), r3.Vec{X: 1.62, Y: 1.77, Z: 1.21})
	if err != nil {
		t.Fatal(err)
	}
	between := r3.Vec{X: 1, Y: 1, Z: 1.15}
	if f.Covers(between) {
		t.Errorf("%v is covered", between)
	}
	if got, want := f.Nearest(between), (r3.Vec{X: 1, Y: 1, Z: 1.3}); got != want {
		t.Errorf("the nearest place is %v, want %v", got, want)
	}
}

// Zones with a height, the whole room, zones at nearly as many heights as there are layers, and zones with
// places less than two cells above a block or under a slope are kept cell by cell.
func TestPlanesOnlyWhereTheyServe(t *testing.T) {
	t.Parallel()
	one, tall := flat(0.4, 1.5, 0.4, 1.5, 0.9), flat(0.4, 1.5, 0.4, 1.5, 0.9)
	tall.Max.Z = 1.2
	many := []model.Block{one, one, one, one}
	for i := range many {
		many[i].Min.Z += 0.02 * float64(i)
		many[i].Max.Z = many[i].Min.Z
	}
	above := flat(2.5, 3.2, 0.2, 1.2, 2.05) // the block is 1.91 m high there, and the ceiling slopes from 1.5 to 3.9 m
	under := flat(0.5, 2, 0.2, 1, 1.5)
	for i, c := range []struct {
		zones  []model.Block
		planes int
	}{{nil, 0}, {[]model.Block{tall}, 0}, {[]model.Block{one, tall}, 0}, {[]model.Block{one}, 1}, {many, 0}, {[]model.Block{above}, 0}, {[]model.Block{one, under}, 0}} {
		e, err := New(wavetest.Den(), wavetest.Coarse, Settings{Cell: 0.1, Zones: c.zones})
		if err != nil {
			t.Fatal(err)
		}
		if got := len(e.rows.planes); got != c.planes {
			t.Errorf("case %d: %d planes, want %d", i, got, c.planes)
		}
	}
}
