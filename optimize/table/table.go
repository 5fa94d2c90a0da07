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
	fields *concurrent.Cache[r3.Vec, model.Field]

	columns *concurrent.Cache[float64, *column] // if the seats are on more than one line
}

// panel is a tensor grid of source places.
type panel struct {
	x, y  axis
	z     []float64 // the woofers' heights, all that occur
	first int       // number of its first source node, of all panels'
	part  int       // number of its first height, of all panels'
}

// plane returns how many nodes share a height.
func (p *panel) plane() int { return len(p.x.nodes) * len(p.y.nodes) }

func (p *panel) nodes() int { return p.plane() * len(p.z) }

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
// that kind is chosen.
const Accuracy = 0.05

const wideSpread model.Level = 10 // dB

// memory limits what a table may take, kept what the seats read from it may, mostKept what they may
// where [Engine.Keep] asks for more, and keptColumns what their columns may, in bytes.
const (
	memory      = 100 << 20
	kept        = 40 << 20
	mostKept    = 192 << 20
	keptColumns = 64 << 20
)

// ErrTooLarge means that a domain needs more memory than a table may have.
var ErrTooLarge = fmt.Errorf("table larger than %d MiB", memory>>20)

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
type Fineness struct{ Grid, Side float64 }

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

// WideFineness is that of a wide search's table. Few of the spreads of a robust score have the
// ears beside their line, and more nodes there hardly improved it (see MEASURED.md of optimize).
func WideFineness(tolerance float64) Fineness { return Fineness{Grid: tolerance, Side: 10 * tolerance} }

// Wide lays out the table of a wide search, whose engine is some tenths of a decibel
// off anyway: the finest of a few that fits into memory, or nil.
func Wide(b *score.Band, d Domain) *Engine {
	for tolerance := WideTolerance; tolerance < 0.2; tolerance *= 3 {
		if t := New(b, d, WideFineness(tolerance)); t.bytes() <= memory {
			return t
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
		p := panel{x: fit(a.X), y: fit(a.Y), z: d.Heights, first: nodes, part: len(t.panels) * len(d.Heights)}
		nodes += p.nodes()
		t.panels = append(t.panels, p)
	}
	t.stride = nodes * 2 * len(grid)
	return t
}

// bytes returns how much memory the rows take.
func (t *Engine) bytes() int {
	return 4 * t.stride * len(t.Seats.Places())
}

// Need returns how many bytes the table, filled, takes at most where a search reads n seats from it and asks to
// keep them.
func (t *Engine) Need(n int) int {
	bytes := t.bytes() + 4*t.stride*min(n, t.keeps(n)) + directBytes(len(t.Grid()), t.reach())
	if len(t.Seats.y.nodes) > 1 {
		bytes += keptColumns
	}
	return bytes
}

// SeatsKept returns how many seats read from the table are kept at a time at least.
func (t *Engine) SeatsKept() int { return kept / (4 * t.stride) }

// Keep forgets the seats read from the table and from now on keeps n of them if memory allows that,
// or else [Engine.SeatsKept]. A search that goes back and forth between n seats has each computed once.
func (t *Engine) Keep(n int) { t.fields = concurrent.NewCache[r3.Vec, model.Field](t.keeps(n)) }

// keeps returns how many seats are kept where a search goes between n.
func (t *Engine) keeps(n int) int {
	if n*4*t.stride > mostKept {
		n = 0
	}
	return max(1, n, t.SeatsKept())
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
