package optimize

import (
	"context"
	"fmt"
	"iter"
	"math"
	"math/rand/v2"

	"evenbass/model"
	"evenbass/model/response"
	"gonum.org/v1/gonum/spatial/r3"
)

// table is an engine that interpolates a tabulated field. What is not in the table is asked
// of the engine itself.
type table struct {
	*banded
	panels []panel
	seats  seatNodes
	rows   []float32 // per seat node, per panel, per source node: re, im by frequency
	stride int       // numbers per seat node
	direct *direct
	fields *cache[r3.Vec, model.Field]

	columns *cache[float64, *column] // if the seats are on more than one line
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

// domain is where a table must answer: places of woofers and of the ears, with all their
// displacements.
type domain struct {
	sources []area
	heights []float64 // of the woofers, m
	seats   area
	line    []float64 // if not empty, all that the head's y may be, as marked first
	ears    float64   // m
}

// accuracy is the largest error of a smoothed level that a table may have, dB.
const accuracy = 0.05

// memory limits what a table may take, kept what the seats read from it may, and keptColumns
// what their columns may, in bytes.
const (
	memory      = 100 << 20
	kept        = 40 << 20
	keptColumns = 64 << 20
)

// errTooLarge means that a domain needs more memory than a table may have.
var errTooLarge = fmt.Errorf("table larger than %d MiB", memory>>20)

// tabulate returns a table good to accuracy over the domain, or with a warning the last of
// several. It stops refining where two finer ones in a row were hardly better, such as at
// the bottom of notches that the goal's smoothing leaves narrow.
func tabulate(ctx context.Context, b *banded, d domain, goal model.Goal, progress func(done, total int)) (*table, []model.Warning, error) {
	var worst model.Level
	var t *table
	idle := 0
	for next := range tables(b, d) {
		t = next
		if err := t.fill(ctx, progress); err != nil {
			return nil, nil, err
		}
		before, err := worst, error(nil)
		if worst, err = t.check(d, goal); err != nil {
			return nil, nil, err
		}
		if worst <= accuracy {
			return t, nil, nil
		}
		if before > 0 && worst > 0.6*before {
			idle++
		}
		if idle == 2 {
			break
		}
	}
	if t == nil {
		return nil, nil, errTooLarge
	}
	return t, []model.Warning{model.Warning(fmt.Sprintf(
		"the search read its levels off a table that is only good to %.2f dB; the figures shown are exact", worst))}, nil
}

// fineness is how far a table may be off in a wave that crosses the room, relative to the
// wave: on the grid of seats and sources, and in the change that displaces the ears from
// their line.
type fineness struct{ grid, side float64 }

// firstTolerance is that of the first table tried, good to 0.01 dB in the demo rooms.
const firstTolerance = 1e-2

// tables lays out finer and finer tables, as long as they fit into memory.
func tables(b *banded, d domain) iter.Seq[*table] {
	return func(yield func(*table) bool) {
		for tolerance := firstTolerance; tolerance > 1e-7; tolerance /= 10 {
			// At the top of the band, ears 5 cm off change a wave by about k·5 cm, a fifth
			// to a quarter, so the lines beside the grid may be five times less accurate.
			if t := newTable(b, d, fineness{grid: tolerance, side: 5 * tolerance}); t.bytes() > memory || !yield(t) {
				return
			}
		}
	}
}

// wideTolerance is that of the first table tried for a wide search.
const wideTolerance = 4.5e-2

// wideFineness is that of a wide search's table. Only two of the thirteen spreads of a
// robust score have the ears beside their line, so errors there count less.
func wideFineness(tolerance float64) fineness { return fineness{grid: tolerance, side: 20 * tolerance} }

// wideTable lays out the table of a wide search, whose engine is some tenths of a decibel
// off anyway: the finest of a few that fits into memory, or nil.
func wideTable(b *banded, d domain) *table {
	for tolerance := wideTolerance; tolerance < 0.2; tolerance *= 3 {
		if t := newTable(b, d, wideFineness(tolerance)); t.bytes() <= memory {
			return t
		}
	}
	return nil
}

// newTable lays out the nodes of a table and leaves it empty.
func newTable(b *banded, d domain, f fineness) *table {
	grid := b.Grid()
	k := 2 * math.Pi * grid[len(grid)-1] / b.Air().Speed
	fitter := func(tolerance float64) func(span) axis {
		return func(s span) axis { return newAxis(s, nodesFor(k, s.length(), tolerance)) }
	}
	fit := fitter(f.grid)
	t := &table{banded: b, seats: newSeatNodes(d, fit, fitter(f.side))}
	nodes := 0
	for _, a := range d.sources {
		p := panel{x: fit(a.x), y: fit(a.y), z: d.heights, first: nodes, part: len(t.panels) * len(d.heights)}
		nodes += p.nodes()
		t.panels = append(t.panels, p)
	}
	t.stride = nodes * 2 * len(grid)
	return t
}

// bytes returns how much memory the rows take.
func (t *table) bytes() int {
	return 4 * t.stride * len(t.seats.places())
}

// seatsKept returns how many seats read from the table are kept at a time.
func (t *table) seatsKept() int { return kept / (4 * t.stride) }

// check returns the largest error of a smoothed level in the goal's band, at a few dozen
// places scattered over the domain, many of them at its edges.
func (t *table) check(d domain, goal model.Goal) (model.Level, error) {
	rng := rand.New(rand.NewPCG(1, 2))
	within := func(s span) float64 { return s.lo + max(0, min(1, 1.5*rng.Float64()-0.25))*s.length() }
	reader := t.reader(goal)
	var worst model.Level
	for range 8 {
		seat := r3.Vec{X: within(d.seats.x), Y: within(d.seats.y), Z: d.ears}
		if len(d.line) > 0 {
			seat.Y = d.line[rng.IntN(len(d.line))]
		}
		exact, err := t.banded.Field(seat)
		if err != nil {
			return 0, err
		}
		field, err := t.Field(seat)
		if err != nil {
			return 0, err
		}
		for i := range 3 * len(d.sources) {
			a := d.sources[i%len(d.sources)]
			source := r3.Vec{X: within(a.x), Y: within(a.y), Z: d.heights[rng.IntN(len(d.heights))]}
			worst = max(worst, levelError(reader, field.Transfer(nil, source), exact.Transfer(nil, source), goal))
		}
	}
	return worst, nil
}

// levelError returns the largest difference of two smoothed curves in the band.
func levelError(r *response.Reader, a, b []complex128, goal model.Goal) model.Level {
	var worst float64
	ca, cb := r.Smooth(a), r.Smooth(b)
	for i, f := range r.Grid() {
		if f >= goal.From && f <= goal.To {
			worst = max(worst, math.Abs(float64(ca[i]-cb[i])))
		}
	}
	return model.Level(worst)
}

// sums returns about how many numbers are weighted and added to rate a layout for the main
// seat, at five places of the ears, and for so many other places of ears. Of the sums that
// seats share, one in five is assumed to be computed anew.
func (t *table) sums(others int) float64 {
	var plane int
	for i := range t.panels {
		plane = max(plane, t.numbers(&t.panels[i]))
	}
	transfers, nx, ny := 18+2*others, len(t.seats.x.nodes), len(t.seats.y.nodes)
	nodes := transfers + nx // by column or by line, one of five
	if ny > 1 {
		nodes = transfers + 5*ny + nx*ny
	}
	return float64(nodes) * float64(plane)
}
