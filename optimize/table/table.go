package table

import (
	"context"
	"fmt"
	"iter"
	"math"
	"math/rand/v2"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// Engine is an engine that interpolates a tabulated field. What is not in the table is asked
// of the engine itself.
type Engine struct {
	*score.Band
	panels []panel
	Seats  seatNodes
	rows   []float32 // per seat node, per panel, per source node: re, im by frequency
	stride int       // numbers per seat node
	direct *direct

	parts   *concurrent.Cache[seatPart, []float32]
	columns *concurrent.Cache[columnPart, []float32] // if the seats are on more than one line
}

// Domain is where a table must answer: places of woofers and of the ears, with all their
// displacements.
type Domain struct {
	Sources []geometry.Area
	Heights []float64 // of the woofers, m
	Seats   geometry.Area
	Line    []float64 // if not empty, all that the head's y may be, as marked first
	Ears    float64   // m
}

// Accuracy is the largest error that a spread read off a table may have, dB. A spread beyond
// [wideSpread] may be off in proportion: it is ruled by the bottom of a dip, and no layout of
// that kind is chosen. A few dozen places are checked: see MEASURED.md of package optimize for pockets
// between them.
const Accuracy = 0.05

const wideSpread model.Level = 10 // dB

// Inaccurate is the error of [Tabulate] where no table keeps what [Accuracy] promises.
type Inaccurate struct {
	Off model.Level // of the best table tried, dB, as [Accuracy] counts
}

// Error implements error.
func (e *Inaccurate) Error() string {
	return fmt.Sprintf("the spreads of the best table are off by up to %.2f dB", float64(e.Off))
}

// Tabulate returns a table good to [Accuracy] over the domain, save where woofers are near the
// ears: there it asks the engine. It fails with an [*Inaccurate], or with [ErrTooLarge].
func Tabulate(ctx context.Context, b *score.Band, d Domain, goal model.Goal, progress model.Progress) (*Engine, error) {
	d = d.aroundEars()
	var failed error = ErrTooLarge
	best := model.Level(math.Inf(1))
	idle := 0
	for t := range Finer(b, d) {
		if err := t.Fill(ctx, progress); err != nil {
			return nil, err
		}
		off, err := t.check(ctx, d, goal)
		if err != nil {
			return nil, err
		}
		if off <= Accuracy {
			return t, nil
		}
		if off > 0.6*best {
			idle++
		}
		best = min(best, off)
		if failed = (&Inaccurate{best}); idle == 2 {
			break // what is left does not come from too few nodes
		}
	}
	return nil, failed
}

// Fineness is how far a table may be off in a wave that crosses the room, relative to the
// wave: on the grid of seats and sources, and in the change that displaces the ears from
// their line.
type Fineness struct {
	Grid, Side float64

	// PanelNodes is the most nodes that a panel of sources has along either axis. An area that needs
	// more is laid out as several panels beside one another: fewer nodes count for a source, and a seat is read only
	// where the speakers are. 0 does not limit them, so that the engine is asked for the fewest.
	PanelNodes int
}

// firstTolerance is that of the first table tried, good to 0.01 dB in the demo rooms.
const firstTolerance = 1e-2

// Finer lays out finer and finer tables, as long as they fit into memory.
func Finer(b *score.Band, d Domain) iter.Seq[*Engine] {
	return func(yield func(*Engine) bool) {
		for tolerance := firstTolerance; tolerance > 1e-7; tolerance /= 10 {
			// At the top of the band, ears 10 cm off change a wave by about k·10 cm, 0.4 to 0.5,
			// so the lines beside the grid may be two and a half times less accurate.
			if t := New(b, d, Fineness{Grid: tolerance, Side: 2.5 * tolerance}); t.bytes() > memory || !yield(t) {
				return
			}
		}
	}
}

// WideTolerance is that of the first table tried for a wide search.
const WideTolerance = 4.5e-2

// widePanelNodes limits the panels of a wide search's table. Half an axis of 8 nodes takes 5, so that a
// source has 25 rows for 64.
const widePanelNodes = 6

// WideFineness is that of a wide search's table. Few of the spreads of a robust score have the
// ears beside their line, and more nodes there hardly improved it (see MEASURED.md of optimize).
func WideFineness(tolerance float64) Fineness {
	return Fineness{Grid: tolerance, Side: 10 * tolerance, PanelNodes: widePanelNodes}
}

// Wide lays out the table of a wide search, whose engine is some tenths of a decibel
// off anyway: the finest of a few that fits into memory, or nil.
func Wide(b *score.Band, d Domain) *Engine {
	for tolerance := WideTolerance; tolerance < 0.2; tolerance *= 3 {
		f := WideFineness(tolerance)
		for _, f.PanelNodes = range []int{f.PanelNodes, 0} {
			if t := New(b, d, f); t.bytes() <= memory {
				return t
			}
		}
	}
	return nil
}

// New lays out the nodes of a table and leaves it empty.
func New(b *score.Band, d Domain, f Fineness) *Engine {
	grid := b.Grid()
	k := 2 * math.Pi * grid[len(grid)-1] / b.Air().Speed
	fitter := func(tolerance float64) func(geometry.Span) axis {
		return func(s geometry.Span) axis { return newAxis(s, NodesFor(k, s.Length(), tolerance)) }
	}
	fit := fitter(f.Grid)
	t := &Engine{Band: b, Seats: newSeatNodes(d, fit, fitter(f.Side))}
	nodes := 0
	for _, a := range d.Sources {
		for _, x := range f.cut(a.X, fit) {
			for _, y := range f.cut(a.Y, fit) {
				p := panel{x: x, y: y, z: d.Heights, first: nodes}
				nodes += p.nodes()
				t.panels = append(t.panels, p)
			}
		}
	}
	t.stride = nodes * 2 * len(grid)
	return t
}

// check returns the largest error of a spread, as [Accuracy] counts, at a few dozen places
// scattered over the domain, many of them at its edges. No layout has woofers near the ears.
func (t *Engine) check(ctx context.Context, d Domain, goal model.Goal) (model.Level, error) {
	rng := rand.New(rand.NewPCG(1, 2))
	within := func(s geometry.Span) float64 { return s.Lo + max(0, min(1, 1.5*rng.Float64()-0.25))*s.Length() }
	reader := response.NewReader(t.Grid(), t.Air(), goal)
	var worst model.Level
	for range 8 {
		seat := r3.Vec{X: within(d.Seats.X), Y: within(d.Seats.Y), Z: d.Ears}
		if len(d.Line) > 0 {
			seat.Y = d.Line[rng.IntN(len(d.Line))]
		}
		exact, err := t.Band.Field(ctx, seat)
		if err != nil {
			return 0, err
		}
		field, err := t.Field(ctx, seat)
		if err != nil {
			return 0, err
		}
		var before [2][]complex128
		for i := range 3 * max(2, len(d.Sources)) {
			a := d.Sources[i%len(d.Sources)]
			source := r3.Vec{X: within(a.X), Y: within(a.Y), Z: d.Heights[rng.IntN(len(d.Heights))]}
			if isNear(source, seat) {
				continue
			}
			now := [2][]complex128{field.Transfer(nil, source), exact.Transfer(nil, source)}
			if before[0] != nil {
				worst = max(worst, spreadError(reader, [2]response.Pair{{Left: before[0], Right: now[0]}, {Left: before[1], Right: now[1]}}))
			}
			before = now
		}
	}
	return worst, nil
}

// spreadError returns how far the spread of a pair is off, as [Accuracy] counts: what a table
// gives comes first, then the exact transfers.
func spreadError(r *response.Reader, of [2]response.Pair) model.Level {
	got, want := r.Spread(of[0], new(response.Scratch)), r.Spread(of[1], new(response.Scratch))
	return model.Level(math.Abs(float64(got-want))) / max(1, want/wideSpread)
}

// Sums returns about how many numbers are weighted and added to rate a layout for the main
// seat, at five places of the ears, and for so many other places of ears. Of the sums that
// seats share, one in five is assumed to be computed anew.
func (t *Engine) Sums(others int) float64 {
	var plane int
	for i := range t.panels {
		plane = max(plane, t.numbers(&t.panels[i]))
	}
	transfers, nx, ny := 18+2*others, len(t.Seats.x.nodes), len(t.Seats.y.nodes)
	nodes := transfers + nx // by column or by line, one of five
	if ny > 1 {
		nodes = transfers + 5*ny + nx*ny
	}
	return float64(nodes) * float64(plane)
}
