package uncertainty

import (
	"context"
	"errors"
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/trust"
	"evenbass/model/wave"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
)

// variedRoom is a project with two layouts in it that the wave solver answers for, and its
// room by any trial.
type variedRoom struct {
	project *model.Project
	result  *optimize.Result
	cell    float64
	room    *wave.Room
	typical *wave.Room // the same by a trial of nothing
}

// newVariedRoom places two layouts, the first as things stand.
func newVariedRoom(t *testing.T, p *model.Project, cell float64, layouts ...model.Layout) *variedRoom {
	t.Helper()
	if p.Room.Temperature == 0 {
		p.Room.Temperature = model.ReferenceTemperature
	}
	d := &variedRoom{project: p, cell: cell, result: &optimize.Result{Goal: p.Goal}}
	for _, l := range layouts {
		d.result.Candidates = append(d.result.Candidates, score.Candidate{Layout: l})
	}
	d.room = d.at(t, p.Room.Temperature)
	return d
}

// as is what a trial's walls and wool make of the room, nil for nothing.
func (d *variedRoom) as(trial Trial) (model.Engine, error) {
	as, err := d.room.As(wave.Variation{Walls: trial.Walls, Resistivity: trial.Resistivity()}, nil)
	if err != nil || as.Same(d.typical) {
		return nil, err
	}
	return as, nil
}

// at returns the typical room at a temperature, K.
func (d *variedRoom) at(t *testing.T, kelvin float64) *wave.Room {
	t.Helper()
	room := d.project.Room
	room.Temperature = kelvin
	var zones []model.Block
	for _, c := range d.result.Candidates {
		for _, at := range []r3.Vec{c.Layout.Left, c.Layout.Right} {
			zones = append(zones, model.Block{Min: at, Max: at})
		}
	}
	r, err := wave.NewRoom(&room, material.Typical, model.DefaultGrid(), wave.Settings{Cell: d.cell, Zones: zones, Fits: new(fit.Memory)})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func (d *variedRoom) sensitivity(t *testing.T) *Sensitivity {
	t.Helper()
	var err error
	if d.typical, err = d.room.As(wave.Variation{}, nil); err != nil {
		t.Fatal(err)
	}
	s, err := NewSensitivity(t.Context(), d.project, d.result, d.room, func(trial Trial) (model.Engine, error) {
		if trial == (Trial{}) {
			return d.typical, nil
		}
		return d.as(trial)
	}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// truth gives the spread of a layout by a run of the room just as in the trial.
func (d *variedRoom) truth(t *testing.T, trial Trial, l model.Layout) float64 {
	t.Helper()
	e, err := d.at(t, d.project.Room.Temperature+trial.Temperature).As(wave.Variation{Walls: trial.Walls, Resistivity: trial.Resistivity()}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return spreadBy(t, d.project, e, trial.layout(l, d.project.Room.Size))
}

func spreadBy(t *testing.T, p *model.Project, e model.Engine, l model.Layout) float64 {
	t.Helper()
	v, err := score.NewScorer(e, p, 0).Plain(t.Context(), l)
	if err != nil {
		t.Fatal(err)
	}
	return float64(v)
}

// hut is a small room of common constructions with wool on a wall, and two layouts in it.
func hut(t *testing.T) *variedRoom {
	t.Helper()
	p := testroom.Nook(t)
	for i, name := range []string{"brick plastered", "plasterboard on studs", "brick plastered", "plasterboard on studs", "timber on joists", "plasterboard on joists"} {
		p.Room.Walls[i] = model.Surface{Construction: name}
	}
	return newVariedRoom(t, p, 0.175,
		model.Layout{Left: r3.Vec{X: 0.3, Y: 0.55, Z: 0.85}, Right: r3.Vec{X: 0.3, Y: 1.45, Z: 0.85}, Seat: r3.Vec{X: 1.1, Y: 1, Z: 1}, AxisHeight: 0.9},
		model.Layout{Left: r3.Vec{X: 0.5, Y: 0.5, Z: 0.85}, Right: r3.Vec{X: 0.5, Y: 1.5, Z: 0.85}, Seat: r3.Vec{X: 1.4, Y: 1, Z: 1}, AxisHeight: 0.9})
}

// Draws of everything give the spreads of runs that have the walls, the wool, the
// temperature, the marks and the seat as in the trial. A trial of nothing is the room itself, and
// one that moves one part to its end is the run that was made for it: the interpolation
// reproduces its nodes.
func TestSensitivityAgainstRuns(t *testing.T) {
	t.Parallel()
	d := hut(t)
	s := d.sensitivity(t)
	d.compare(t, s, 3, 0.1, 0.3)
	if !s.wool() {
		t.Error("the wool changes nothing")
	}
	for i, trial := range edgeTrials() {
		if i%3 != 0 {
			continue // a third will do
		}
		run, err := d.room.As(wave.Variation{Walls: trial.Walls, Resistivity: trial.Resistivity()}, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, c := range d.result.Candidates {
			l := c.Layout
			want := transfer(t, run, l.Seat, l.Left)
			got := transfer(t, s.Engine(trial), l.Seat, l.Left)
			var most float64
			for _, v := range want {
				most = max(most, cmplx.Abs(v))
			}
			for i := range want {
				if cmplx.Abs(got[i]-want[i]) > 1e-3*most { // single precision
					t.Fatalf("%+v at %.1f Hz: %.5g, want %.5g", trial, s.grid[i], got[i], want[i])
				}
			}
		}
	}
}

func transfer(t *testing.T, e model.Engine, seat, source r3.Vec) []complex128 {
	t.Helper()
	f, err := e.Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	return f.Transfer(nil, source)
}

// The same for the example rooms with all their layouts' sizes. It takes a minute.
func TestSensitivityAgainstRunsInExamples(t *testing.T) {
	if !testroom.Long() {
		t.Skip("takes a minute: EVENBASS_LONG=1")
	}
	pair := func(x, y, seat, middle float64) model.Layout {
		return model.Layout{Left: r3.Vec{X: x, Y: y, Z: 1.06}, Right: r3.Vec{X: x, Y: 2*middle - y, Z: 1.06}, Seat: r3.Vec{X: seat, Y: middle, Z: 1.18}, AxisHeight: 1.18}
	}
	rms := map[string]float64{}
	for name, layouts := range map[string][]model.Layout{
		"treated-room": {pair(0.58, 1.03, 2.23, 1.8), pair(1.06, 1.20, 2.27, 1.8), pair(0.60, 0.70, 2.27, 1.8), pair(0.80, 1.05, 2.20, 1.8)},
		"l-room":       {pair(0.48, 1.20, 2.19, 2), pair(1.31, 1.25, 2.39, 2), pair(1.02, 1.25, 2.21, 2), pair(0.50, 1.30, 1.80, 2)},
	} {
		t.Run(name, func(t *testing.T) {
			d := newVariedRoom(t, testroom.Read(t, name), 0.14, layouts...)
			rms[name] = d.compare(t, d.sensitivity(t), 10, 0.2, 0.6)
		})
	}
	trust.Seen(t, "trials by `wave`", "within %.2f and %.2f dB rms", rms["treated-room"], rms["l-room"])
}

// compare returns by how many dB rms the spreads of trials are off, and fails if that is more than most,
// or the worst of them more than worst.
func (d *variedRoom) compare(t *testing.T, s *Sensitivity, trials int, most, worst float64) (rms float64) {
	t.Helper()
	var square, far, change, n float64
	for _, trial := range Trials(trials, 3) {
		trial.Size = r3.Vec{}
		e := s.Engine(trial)
		for i, c := range d.result.Candidates {
			got := spreadBy(t, d.project, e, trial.layout(c.Layout, d.project.Room.Size))
			want := d.truth(t, trial, c.Layout)
			typical := spreadBy(t, d.project, d.room, c.Layout)
			t.Logf("layout %d: %.2f dB, by a run %.2f dB, undrawn %.2f dB", i+1, got, want, typical)
			square += (got - want) * (got - want)
			change += (typical - want) * (typical - want)
			far = max(far, math.Abs(got-want))
			n++
		}
	}
	t.Logf("%.3f dB rms, %.2f dB at worst, of %.2f dB rms", math.Sqrt(square/n), far, math.Sqrt(change/n))
	if rms = math.Sqrt(square / n); rms > most || far > worst || rms > 0.5*math.Sqrt(change/n) {
		t.Errorf("off by %.3f dB rms and %.2f dB at worst, of %.2f dB rms", rms, far, math.Sqrt(change/n))
	}
	return rms
}

// Between walls that are rigid, warmer air is the same room at higher frequencies:
// p depends on ω/c alone but for the factor jωρ.
func TestTemperatureStretchesFrequencies(t *testing.T) {
	t.Parallel()
	d := hut(t)
	for i := range d.project.Room.Walls {
		d.project.Room.Walls[i] = model.Surface{Impedance: 20}
	}
	d.project.Room.Treatments = nil
	d.room = d.at(t, 293.15)
	s := d.sensitivity(t)
	if s.wool() {
		t.Error("there is no wool")
	}
	trial := Trial{Temperature: 4}
	e := s.Engine(trial)
	room := d.project.Room
	room.Temperature = 297.15
	warm, err := wave.NewRoom(&room, material.Typical, e.Grid()[1:], wave.Settings{Cell: d.cell, Zones: []model.Block{{Min: d.result.Candidates[0].Layout.Left, Max: d.result.Candidates[0].Layout.Left}}})
	if err != nil {
		t.Fatal(err)
	}
	if e.Air() != warm.Air() {
		t.Errorf("air %+v, want %+v", e.Air(), warm.Air())
	}
	l := d.result.Candidates[0].Layout
	got, want := transfer(t, e, l.Seat, l.Left)[1:], transfer(t, warm, l.Seat, l.Left)
	for i := range want {
		if off := 20 * math.Log10(cmplx.Abs(got[i]/want[i])); math.Abs(off) > 0.1 {
			t.Errorf("%.1f Hz: %.3f dB off", warm.Grid()[i], off)
		}
	}
}

// Where a transfer is all but gone, as in a dip, the change of several walls is the sum of
// theirs and not their product, which would be out of all proportion.
func TestChangesInADipAddUp(t *testing.T) {
	t.Parallel()
	c := &change{typical: []complex128{1e-4, 1}}
	for part := range trialParts {
		c.ends[part] = [2][]complex128{{0.01, 1.1}, {0.02, 0.9}}
	}
	d := Trial{Walls: [6]float64{1, 1, -1, -1, 0.5, 0}}
	dst := slices.Clone(c.typical)
	c.add(dst, &d)
	if want := complex(1e-4+2.5*(0.02-1e-4)+2*(0.01-1e-4), 0); cmplx.Abs(dst[0]-want) > 1e-12 {
		t.Errorf("in the dip %v, want %v", dst[0], want)
	}
	if want := complex(math.Pow(0.9, 2.5)*1.1*1.1, 0); cmplx.Abs(dst[1]-want) > 1e-12 {
		t.Errorf("elsewhere %v, want %v", dst[1], want)
	}
}

// All trials of a result count, the second seat counts, sizes do not matter, and the result says
// that it was interpolated. An engine for which nothing changes is asked once.
func TestSensitivityRank(t *testing.T) {
	t.Parallel()
	p := testroom.SofaRoom(0.5)
	r := found(t, p)
	e := testroom.New(p.Room.Size)
	var asked atomic.Int64
	share := 0.0
	s, err := NewSensitivity(t.Context(), p, r, e, func(d Trial) (model.Engine, error) {
		asked.Add(1)
		if d != (Trial{}) {
			return nil, nil
		}
		return e, nil
	}, func(_ string, done float64) { share = done })
	if err != nil {
		t.Fatal(err)
	}
	if asked.Load() != 15 || share != 1 {
		t.Errorf("%d rooms asked for, want 15; progress ended at %v", asked.Load(), share)
	}
	trials := Trials(20, 4)
	st, err := s.Rank(t.Context(), trials)
	if err != nil {
		t.Fatal(err)
	}
	if !st.Interpolated || st.Wool || st.Trials != 20 {
		t.Errorf("%+v", st)
	}
	for i := range trials { // marks alone, by the engine itself
		trials[i].Size, trials[i].Temperature = r3.Vec{}, 0
	}
	if st, err = s.Rank(t.Context(), trials); err != nil {
		t.Fatal(err)
	}
	want, err := Rank(t.Context(), p, r, trials, func(Trial) (model.Engine, error) { return e, nil })
	if err != nil {
		t.Fatal(err)
	}
	for i, l := range want.Layouts {
		got := st.Layouts[i]
		if math.Abs(got.Spread.Median-l.Spread.Median) > 0.05 || math.Abs(got.Spread.High-l.Spread.High) > 0.1 || got.First < l.First-2 || got.First > l.First+2 {
			t.Errorf("layout %d: %+v, by the engine itself %+v", i+1, got, l)
		}
	}
}

// Errors are returned, a context that ends ends it, and a place that is not of the trial
// is a mistake.
func TestSensitivityFails(t *testing.T) {
	t.Parallel()
	p := testroom.Small()
	r := found(t, p)
	e := testroom.New(p.Room.Size)
	fault := errors.New("no room")
	if _, err := NewSensitivity(t.Context(), p, r, e, func(Trial) (model.Engine, error) { return nil, fault }, nil); !errors.Is(err, fault) {
		t.Errorf("error %v", err)
	}
	ctx, cancel := context.WithCancel(t.Context())
	same := func(Trial) (model.Engine, error) { return e, nil }
	s, err := NewSensitivity(ctx, p, r, e, same, nil)
	if err != nil {
		t.Fatal(err)
	}
	cancel()
	if _, err := NewSensitivity(ctx, p, r, e, same, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	if _, err := s.Rank(ctx, Trials(3, 1)); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
	defer func() {
		if text, _ := recover().(string); !strings.Contains(text, "are not of this trial") {
			t.Errorf("recovered %q", text)
		}
	}()
	transfer(t, s.Engine(Trial{}), r.Candidates[0].Layout.Seat, r3.Vec{X: 1})
}
