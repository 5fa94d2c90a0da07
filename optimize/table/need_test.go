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

// openTable returns a filled table of open air, for woofers in one area.
func openTable(t *testing.T, d Domain, f Fineness) *Engine {
	t.Helper()
	b, err := score.NewBand(openAir{grid: model.DefaultGrid()}, model.Goal{From: 20, To: 200, Smoothing: 3})
	if err != nil {
		t.Fatal(err)
	}
	table := New(b, d, f)
	if err := table.Fill(t.Context(), nil); err != nil {
		t.Fatal(err)
	}
	return table
}

// Domains with seats on a line, and with seats all over an area. The woofers' area is cut into
// panels for a wide search.
var (
	seatsX  = geometry.Span{Lo: 2, Hi: 3.4}
	sources = []geometry.Area{{X: geometry.Span{Lo: 0.4, Hi: 2.4}, Y: geometry.Span{Lo: 0.5, Hi: 3.5}}}
	onLine  = Domain{Sources: sources, Heights: []float64{1, 1.2}, Seats: geometry.Area{X: seatsX, Y: geometry.Span{Lo: 1.5, Hi: 1.5}}, Line: Lines(1.5, 0.1, geometry.Span{Lo: 0, Hi: 3}), Ears: 1.2}
	inArea  = Domain{Sources: sources, Heights: []float64{1}, Seats: geometry.Area{X: seatsX, Y: geometry.Span{Lo: 1.2, Hi: 1.8}}, Ears: 1.2}
)

// readSeats reads a seat after another, each from a woofer on every panel and height.
func readSeats(t *testing.T, table *Engine, seats int) {
	t.Helper()
	for i := range seats {
		f, err := table.Field(t.Context(), r3.Vec{X: seatsX.Lo + seatsX.Length()*float64(i)/float64(seats), Y: 1.5, Z: 1.2})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range table.panels {
			for _, z := range p.z {
				f.Transfer(nil, r3.Vec{X: p.x.nodes[0], Y: p.y.nodes[0], Z: z})
			}
		}
	}
}

// What a table is said to take is what its slices hold once seats are read from it: seats on a line, and seats
// all over an area, whose columns have a limit of their own. Once it is to spare memory it holds little more than itself.
func TestNeed(t *testing.T) {
	t.Parallel()
	for name, d := range map[string]Domain{"line": onLine, "area": inArea} {
		table := openTable(t, d, WideFineness(WideTolerance))
		if len(table.panels) < 4 {
			t.Fatalf("%s: %d panels", name, len(table.panels))
		}
		itself := 4*len(table.rows) + 16*len(table.direct.rows)*len(table.direct.rows[0])
		seats := table.SeatsKept() + 7
		table.Keep(seats)
		readSeats(t, table, seats)
		held, columns, need := itself+table.parts.Held(), table.columns.Held(), table.Need(seats)
		if name == "area" {
			need -= keptColumns
		}
		if held != need || columns > keptColumns || (columns > keptColumns*9/10) != (name == "area") {
			t.Errorf("%s: %d bytes are held and %d in columns, and %d are said to be", name, held, columns, need)
		}
		table.Spare()
		readSeats(t, table, seats)
		if parts, columns := table.parts.Held(), table.columns.Held(); parts > spare || columns > spareColumns || parts < spare/2 {
			t.Errorf("%s: %d bytes are held and %d in columns where memory is spared", name, parts, columns)
		}
	}
}

// The sizes that the limits count are those of the slices.
func TestSizesOfParts(t *testing.T) {
	t.Parallel()
	table := openTable(t, inArea, WideFineness(WideTolerance))
	p := &table.panels[1]
	seat, column := table.part(seatPart{r3.Vec{X: 2.5, Y: 1.5, Z: 1.2}, p, 0}), table.column(columnPart{2.5, p, 0})
	if table.parts.Held() != 4*len(seat) || table.columns.Held() != 4*len(column) {
		t.Errorf("slices of %d and %d numbers count as %d and %d bytes", len(seat), len(column), table.parts.Held(), table.columns.Held())
	}
}

// Whoever goes back and forth between more seats than are kept finds them all kept after asking for
// that, none that was kept before, and none beyond the usual number once memory would not do.
func TestKeep(t *testing.T) {
	t.Parallel()
	table := openTable(t, onLine, WideFineness(WideTolerance))
	first := func() *float32 {
		return &table.part(seatPart{r3.Vec{X: seatsX.Lo, Y: 1.5, Z: 1.2}, &table.panels[0], 0})[0]
	}
	seats := table.SeatsKept() + 5
	for _, c := range []struct {
		keep int
		kept bool
	}{{0, false}, {seats, true}, {1 << 30, false}} {
		before := first()
		table.Keep(c.keep)
		now := first()
		if now == before {
			t.Errorf("keep %d: the seat was not forgotten", c.keep)
		}
		readSeats(t, table, seats)
		if got := first() == now; got != c.kept {
			t.Errorf("keep %d: the first of %d seats is kept: %v", c.keep, seats, got)
		}
	}
}
