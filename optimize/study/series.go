package study

import (
	"context"
	"errors"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/series"
	"evenbass/optimize/table"
)

// largestSeries is the most bytes that a packed field may have, so that a page with it stays
// below 2 MB.
const largestSeries = 700 << 10

// mostWork is the most products of one step of a page, see [series.Table.Work]: browsers take about a nanosecond for
// each, and a frame has 16 ms.
const mostWork = 8e6

// mostSeatRuns is the most seats that are run on the wave solver for a packed field.
const mostSeatRuns = 16

// ErrNoSeries means that no table over the zones is small and exact enough for a page.
var ErrNoSeries = errors.New("no table small enough for a page is exact over these zones")

// Series packs the field between the zones of speakers and of the main seat for a page. Places
// as they are now are included where they stand on the seat's line. Where the seat's whole zone
// is too much for a page, the table holds the line through the given layout's seat along the
// room. It fails with [ErrNoSeries] if that is still too much or not exact to
// [series.Accuracy], as the engine does, or when the context ends.
func (s *Study) Series(ctx context.Context, about model.Layout) (*series.Table, error) {
	whole, err := s.seriesDomain()
	if err != nil {
		return nil, err
	}
	for _, d := range []table.Domain{whole, onLine(whole, about.Seat.Y)} {
		if t, err := s.packed(ctx, d, about.Seat, largestSeries); t != nil || err != nil {
			return t, err
		}
	}
	return nil, ErrNoSeries
}

// packed packs the field over a domain, and checks it about a seat. It returns nil if that takes too many runs
// or more bytes than given, or is not exact to [series.Accuracy].
func (s *Study) packed(ctx context.Context, d table.Domain, seat r3.Vec, largest int) (*series.Table, error) {
	engine := s.Engine
	if room, ok := s.Engine.(*wave.Room); ok {
		if series.SeatCount(engine, d, series.Usual) > mostSeatRuns {
			return nil, nil
		}
		var err error
		if engine, err = room.Over(seriesZones(d)); err != nil {
			return nil, err
		}
	}
	t, err := series.New(ctx, engine, d, series.Usual)
	if errors.Is(err, series.ErrTooLarge) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if fits, err := s.seriesFits(ctx, t, engine, seat, largest); !fits {
		return nil, err
	}
	return t, nil
}

// onLine returns a domain with its seats on one line along the room.
func onLine(d table.Domain, y float64) table.Domain {
	d.Seats.Y = geometry.Span{Lo: y, Hi: y}
	return d
}

// seriesFits reports whether a table is small, quick and exact enough.
func (s *Study) seriesFits(ctx context.Context, t *series.Table, e model.Engine, seat r3.Vec, largest int) (bool, error) {
	packed, err := t.Packed()
	if err != nil || len(packed) > largest || t.Work() > mostWork {
		return false, err
	}
	off, err := t.Off(ctx, e, score.NewReader(s.Engine, s.Project), seat)
	return off <= series.Accuracy, err
}

// seriesRuns returns about how many seats are run for a packed field, the check included.
func (s *Study) seriesRuns() int {
	d, err := s.seriesDomain()
	if err != nil {
		return 0
	}
	return min(series.SeatCount(s.Engine, d, series.Usual), mostSeatRuns) + 1
}

// seriesDomain returns the domain of a search, with the present places of the speakers.
func (s *Study) seriesDomain() (table.Domain, error) {
	d, err := search.Domain(s.Project)
	now, stands := s.Project.Now()
	if err != nil || !stands {
		return d, err
	}
	last := len(d.Sources) - 1
	d.Sources[0] = d.Sources[0].Hull(geometry.PointArea(now.Left))
	d.Sources[last] = d.Sources[last].Hull(geometry.PointArea(now.Right))
	for _, z := range []float64{now.Left.Z, now.Right.Z} {
		if z = geometry.Round(z); !holds(d.Heights, z) {
			d.Heights = append(d.Heights, z)
		}
	}
	if geometry.Same(now.Seat.Z, d.Ears) && d.Seats.Y.Contains(now.Seat.Y) {
		d.Seats.X = d.Seats.X.Hull(geometry.Span{Lo: now.Seat.X, Hi: now.Seat.X})
	}
	return d, nil
}

func holds(list []float64, v float64) bool {
	for _, l := range list {
		if geometry.Same(l, v) {
			return true
		}
	}
	return false
}

// seriesZones returns the boxes that hold a domain's sources.
func seriesZones(d table.Domain) []model.Block {
	low, high := math.Inf(1), math.Inf(-1)
	for _, z := range d.Heights {
		low, high = min(low, z), max(high, z)
	}
	var zones []model.Block
	for _, a := range d.Sources {
		zones = append(zones, model.Block{Min: r3.Vec{X: a.X.Lo, Y: a.Y.Lo, Z: low}, Max: r3.Vec{X: a.X.Hi, Y: a.Y.Hi, Z: high}})
	}
	return zones
}

// Variant is the packed field of a room with one or two of its options carried out, over the same places as
// that of the room as it stands.
type Variant struct {
	Options []string // their names
	Engine  model.EngineKind
	Table   *series.Table
}

// largestVariants is the most bytes that all packed fields of a page may have, that of the room as
// it stands included. A page takes four characters for three bytes.
const largestVariants = 1000 << 10

// Variants packs the field with each option of the room file and, if they are wanted, with each two that go
// together, over the places of a table and checked about a seat, as far as a page has room for. Options that
// are left out are warnings.
func (s *Study) Variants(ctx context.Context, base *series.Table, seat r3.Vec, pairs bool, progress model.Progress) (list []Variant, warnings []model.Warning, err error) {
	packed, err := base.Packed()
	if err != nil {
		return nil, nil, err
	}
	free, changes := largestVariants-len(packed), s.changes(pairs)
	var missing []string
	for i, c := range changes {
		progress.Report("packing the field with the options", float64(i)/float64(len(changes)))
		if slices.ContainsFunc(c.names, func(name string) bool { return slices.Contains(missing, name) }) {
			continue
		}
		t, kind, err := s.variant(ctx, &c.option, base, seat, min(free, largestSeries))
		if ctx.Err() != nil {
			return list, warnings, ctx.Err()
		}
		if t == nil {
			untried := model.OptionUntried{Name: strings.Join(c.names, " and ")}
			if err != nil {
				untried.Why = err.Error()
			}
			if len(c.names) == 1 {
				missing = append(missing, c.names[0])
			}
			warnings = append(warnings, untried)
			continue
		}
		if packed, err = t.Packed(); err != nil {
			return list, warnings, err
		}
		free -= len(packed)
		list = append(list, Variant{c.names, kind, t})
	}
	return list, warnings, nil
}

// change is one option of the room file, or two carried out together.
type change struct {
	names  []string
	option model.Option
}

// changes returns the options of the room file and, if they are wanted, each two that go together: that neither
// change the same nor take each other's place.
func (s *Study) changes(pairs bool) []change {
	var list []change
	options := s.Project.Options
	for _, o := range options {
		list = append(list, change{[]string{o.Name}, o})
	}
	if !pairs {
		return list
	}
	for i := range options {
		for j := range options[:i] {
			both, apart := options[j].And(&options[i])
			if _, err := s.Project.With(&both); apart && err == nil {
				list = append(list, change{[]string{options[j].Name, options[i].Name}, both})
			}
		}
	}
	return list
}

// variant packs the field with an option; nil if that is too much for a page.
func (s *Study) variant(ctx context.Context, o *model.Option, base *series.Table, seat r3.Vec, largest int) (*series.Table, model.EngineKind, error) {
	p, err := s.Project.With(o)
	if err != nil {
		return nil, "", err
	}
	with, err := New(ctx, engines.Auto, p)
	if err != nil {
		return nil, "", err
	}
	t, err := with.packed(ctx, base.Domain, seat, largest)
	if err != nil {
		return nil, "", err
	}
	return t, with.Kind, nil
}
