package table

import (
	"context"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// corner is an engine for the space between two hard walls, x = 0 and y = 0: three mirror images.
type corner struct{ openAir }

func (c corner) Field(_ context.Context, seat r3.Vec) (model.Field, error) {
	return cornerField{openField{c.openAir, seat}}, nil
}

type cornerField struct{ openField }

func (f cornerField) Transfer(dst []complex128, source r3.Vec) []complex128 {
	dst = f.openField.Transfer(dst, source)
	for _, image := range []r3.Vec{{X: -source.X, Y: source.Y, Z: source.Z}, {X: source.X, Y: -source.Y, Z: source.Z}, {X: -source.X, Y: -source.Y, Z: source.Z}} {
		for i, v := range f.openField.Transfer(nil, image) {
			dst[i] += v
		}
	}
	return dst
}

// cutTable returns a table of the corner whose area of woofers is cut into panels.
func cutTable(t *testing.T) *Engine {
	t.Helper()
	b, err := score.NewBand(corner{openAir{grid: model.DefaultGrid()}}, model.Goal{From: 20, To: 200, Smoothing: 3})
	if err != nil {
		t.Fatal(err)
	}
	table := New(b, inArea, WideFineness(WideTolerance))
	if err := table.Fill(t.Context(), nil); err != nil {
		t.Fatal(err)
	}
	return table
}

// farthestApart returns the largest difference of two transfers.
func farthestApart(a, b []complex128) float64 {
	worst := 0.0
	for i := range a {
		worst = max(worst, cmplx.Abs(a[i]-b[i]))
	}
	return worst
}

// A table that is cut into panels gives the engine's field to within its tolerance, relative to the
// waves that the walls reflect, and steps from one panel to the next by no more.
func TestPanelsMeet(t *testing.T) {
	t.Parallel()
	table := cutTable(t)
	seat := r3.Vec{X: 2.71, Y: 1.47, Z: 1.2}
	read, err := table.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	exact, err := table.Band.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	var step, off float64
	area := sources[0]
	const aside = 1e-6
	try := func(before, after r3.Vec) {
		a, b := read.Transfer(nil, before), read.Transfer(nil, after)
		step = max(step, farthestApart(a, b))
		off = max(off, farthestApart(a, exact.Transfer(nil, before)), farthestApart(b, exact.Transfer(nil, after)))
	}
	borders := 0
	for _, p := range table.panels {
		for i := range 21 {
			share := float64(i) / 20
			if x := p.x.span.Hi; x < area.X.Hi {
				y := p.y.span.Lo + share*p.y.span.Length()
				try(r3.Vec{X: x - aside, Y: y, Z: 1}, r3.Vec{X: x + aside, Y: y, Z: 1})
				borders++
			}
			if y := p.y.span.Hi; y < area.Y.Hi {
				x := p.x.span.Lo + share*p.x.span.Length()
				try(r3.Vec{X: x, Y: y - aside, Z: 1}, r3.Vec{X: x, Y: y + aside, Z: 1})
				borders++
			}
		}
	}
	if borders == 0 {
		t.Fatal("there is no inner border")
	}
	grid := table.Grid()
	reflected := 3 * cmplx.Abs(model.FreeField(nil, grid[len(grid)-1:], table.Air(), 2)[0]) // three images, about 2 m away and more
	t.Logf("%d panels, steps up to %.2g, off up to %.2g of %.2g", len(table.panels), step, off, reflected)
	if most := WideTolerance * reflected; step > most || off > most {
		t.Errorf("the panels step by %.2g and are off by %.2g, allowed %.2g", step, off, most)
	}
}

// Every place of an area is on a panel, those on borders included, and no panel has more nodes than
// are allowed along either axis. Without a limit an area is one panel.
func TestPanelsCoverAreas(t *testing.T) {
	t.Parallel()
	b, err := score.NewBand(openAir{grid: model.DefaultGrid()}, model.Goal{From: 20, To: 200, Smoothing: 3})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		span := func(name string) geometry.Span {
			lo := rapid.Float64Range(0, 3).Draw(t, name)
			return geometry.Span{Lo: lo, Hi: lo + rapid.SampledFrom([]float64{0, 0.01, 0.7, 1.5, 4}).Draw(t, name+" length")}
		}
		d := inArea
		d.Sources = []geometry.Area{{X: span("x"), Y: span("y")}, {X: span("x2"), Y: span("y2")}}
		most := rapid.SampledFrom([]int{0, 3, 5, 6, 9}).Draw(t, "nodes")
		table := New(b, d, Fineness{Grid: WideTolerance, Side: 1, PanelNodes: most})
		if whole := len(table.panels) == len(d.Sources); most == 0 && !whole {
			t.Errorf("%d panels without a limit", len(table.panels))
		}
		for _, p := range table.panels {
			if n := max(len(p.x.nodes), len(p.y.nodes)); most > 0 && n > most {
				t.Errorf("%d nodes along an axis, allowed %d", n, most)
			}
		}
		share := func(name string) float64 { return rapid.Float64Range(0, 1).Draw(t, name) }
		a := rapid.SampledFrom(d.Sources).Draw(t, "area")
		x, y := a.X.Lo+share("share x")*a.X.Length(), a.Y.Lo+share("share y")*a.Y.Length()
		border := rapid.SampledFrom(table.panels).Draw(t, "panel")
		for _, at := range []r3.Vec{{X: x, Y: y, Z: 1}, {X: border.x.span.Lo, Y: border.y.span.Hi, Z: 1}, {X: a.X.Hi, Y: a.Y.Hi, Z: 1}} {
			p, height := table.panel(at)
			if p == nil || height != 0 || !p.x.span.Contains(at.X) || !p.y.span.Contains(at.Y) {
				t.Fatalf("%v is on panel %v", at, p)
			}
		}
	})
}

// Where the panels would take more memory than a table may have, a wide search takes whole areas rather than
// fewer nodes.
func TestWideGivesUpPanelsFirst(t *testing.T) {
	t.Parallel()
	b, err := score.NewBand(openAir{grid: model.DefaultGrid()}, model.Goal{From: 20, To: 200, Smoothing: 3})
	if err != nil {
		t.Fatal(err)
	}
	d := inArea
	d.Seats = geometry.Area{X: geometry.Span{Lo: 2, Hi: 5}, Y: geometry.Span{Lo: 0.5, Hi: 3.5}}
	for len(d.Heights) < 100 {
		whole, cut := WideFineness(WideTolerance), WideFineness(WideTolerance)
		whole.PanelNodes = 0
		if w := New(b, d, whole); New(b, d, cut).bytes() > memory {
			got := Wide(b, d)
			if got == nil || len(got.panels) != len(w.panels) || got.bytes() != w.bytes() {
				t.Errorf("the table takes %d bytes on %d panels, want %d on %d", got.bytes(), len(got.panels), w.bytes(), len(w.panels))
			}
			return
		}
		d.Heights = append(d.Heights, 1+0.01*float64(len(d.Heights)))
	}
	t.Fatal("no table was too large")
}
