package comparison

import (
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/response"
)

var goal = model.Goal{From: 30, To: 300, Smoothing: 12}

// measured is a made-up room with three modes that decay at so many times their rates; the
// sound begins at sample 300 of 2 kHz.
func measured(damping float64, seed uint64) *measure.Measurement {
	const rate, begin = 2000.0, 300
	x := make([]float64, 4000)
	random := rand.New(rand.NewPCG(seed, 2))
	x[begin] = 1
	for i := range x {
		if t := float64(i-begin) / rate; t > 0 {
			for _, m := range [][3]float64{{41, 6, 0.03}, {66, 9, 0.04}, {110, 8, 0.03}} {
				x[i] += m[2] * math.Exp(-m[1]*damping*t) * math.Cos(2*math.Pi*m[0]*t)
			}
		}
		x[i] += 1e-4 * random.NormFloat64()
	}
	return &measure.Measurement{
		Name: "made up", Seat: "chair", Speaker: model.LeftSpeaker, Temperature: 293.15, StateKnown: true,
		Placed: true, At: r3.Vec{X: 2, Y: 1.5, Z: 1.2},
		Impulse: &measure.Impulse{Samples: x, Rate: rate, Zero: begin - 12, Timed: true},
	}
}

// analysed holds the analyses of the made-up room by damping and seed, each made once.
var analysed = sync.OnceValue(func() map[[2]float64]*analysis.Analysis {
	list := map[[2]float64]*analysis.Analysis{}
	for _, k := range [][2]float64{{1, 1}, {1, 2}, {3, 2}} {
		a, err := analysis.New(measured(k[0], uint64(k[1])), goal)
		if err != nil {
			panic(err)
		}
		list[k] = a
	}
	return list
})

// A response that ends before the goal's smoothing is reached is blunted, which looks like an improvement.
func TestBrief(t *testing.T) {
	t.Parallel()
	m := measured(1, 1)
	m.Impulse.Samples = m.Impulse.Samples[:700] // 0.2 s after the sound begins
	short, err := analysis.New(m, goal)
	if err != nil {
		t.Fatal(err)
	}
	whole := with(1, 1, func(*measure.Measurement) {})
	c, err := New(whole, short, response.Resolution{})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(c.Objections, func(o Objection) bool { return o.Matter == Brief })
	// 1/12 octave at f is 0.0578 f wide, and 0.2 s resolve 5 Hz.
	if i < 0 || c.Objections[i].Weight != Doubt || math.Abs(c.Objections[i].Amount-86.5) > 2 {
		t.Errorf("objections to a response of 0.2 s: %+v", c.Objections)
	}
	if c, err = New(whole, whole, response.Resolution{}); err != nil || slices.ContainsFunc(c.Objections, func(o Objection) bool { return o.Matter == Brief }) {
		t.Errorf("objections to a response of 1.85 s: %+v, %v", c.Objections, err)
	}
}

// with returns the analysis of the made-up room as if something else had been noted of it.
func with(damping, seed float64, change func(m *measure.Measurement)) *analysis.Analysis {
	a := *analysed()[[2]float64{damping, seed}]
	m := measured(damping, uint64(seed))
	change(m)
	a.Measurement = m
	return &a
}

func asItIs(*measure.Measurement) {}

func analyse(t *testing.T, m *measure.Measurement) *analysis.Analysis {
	t.Helper()
	a, err := analysis.New(m, goal)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func compare(t *testing.T, a, b *analysis.Analysis) *Comparison {
	t.Helper()
	c, err := New(a, b, response.Resolution{})
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// Two measurements of one state differ by nothing that counts, and there is no objection.
func TestNothingChanged(t *testing.T) {
	t.Parallel()
	c := compare(t, with(1, 1, asItIs), with(1, 2, asItIs))
	if better, worse := c.Counts(); better+worse > 0 || len(c.Objections) > 0 || c.Typical > 0.2 || c.Aligned {
		t.Errorf("%d better, %d worse, objections %v, typical difference %.2f dB", better, worse, c.Objections, float64(c.Typical))
	}
}

// Damping makes decays shorter and the curve more even; a gain turned up by 4 dB is noticed,
// taken off, and changes no figure.
func TestDamped(t *testing.T) {
	t.Parallel()
	plain := compare(t, with(1, 1, asItIs), with(3, 2, asItIs))
	if better, worse := plain.Counts(); better < 4 || worse > 0 {
		t.Errorf("%d better, %d worse: %+v", better, worse, plain.Figures)
	}
	louder := measured(3, 2)
	floats.Scale(model.Level(4).Ratio(), louder.Impulse.Samples)
	louder.Unsure |= measure.GainUnknown
	c := compare(t, with(1, 1, asItIs), analyse(t, louder))
	if d := float64(c.Offset - plain.Offset); math.Abs(d-4) > 0.01 || !c.Aligned {
		t.Errorf("offset %.2f dB more, want 4; aligned %v", d, c.Aligned)
	}
	for f, change := range c.Figures {
		if change.Mark != plain.Figures[f].Mark || math.Abs(change.After-plain.Figures[f].After) > 1e-9 {
			t.Errorf("figure %d: %+v, without the gain %+v", f, change, plain.Figures[f])
		}
	}
	if got := find(c, LevelOff); got == nil || math.Abs(got.Amount-float64(c.Offset)) > 1e-9 {
		t.Errorf("objections %+v", c.Objections)
	}
	// At 66 Hz the mode falls from |1 + 0.04·2000/(2·9)| to a third of its share.
	want := 20 * math.Log10((1+0.04*2000/54)/(1+0.04*2000/18))
	if d := float64(plain.After.At(plain.After.Raw, 66) - plain.Before.At(plain.Before.Raw, 66)); math.Abs(d-want) > 0.3 {
		t.Errorf("%.2f dB at 66 Hz, want %.2f", d, want)
	}
}

func find(c *Comparison, m Matter) *Objection {
	for i := range c.Objections {
		if c.Objections[i].Matter == m {
			return &c.Objections[i]
		}
	}
	return nil
}

// Every matter is reported with its amount, and comparing two different things is unfair.
func TestObjections(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change func(m *measure.Measurement)
		matter Matter
		weight Weight
		amount float64
	}{
		{"speaker", func(m *measure.Measurement) { m.Speaker = model.RightSpeaker }, SpeakerDiffers, Unfair, 0},
		{"seat", func(m *measure.Measurement) { m.Seat = "couch" }, SeatDiffers, Unfair, 0},
		{"moved", func(m *measure.Measurement) { m.At.X += 0.05 }, Moved, Note, 0.05},
		{"moved far", func(m *measure.Measurement) { m.At.Y += 0.3 }, Moved, Doubt, 0.3},
		{"place", func(m *measure.Measurement) { m.Placed, m.Seat = false, "" }, PlaceUnknown, Note, 0},
		{"delay", func(m *measure.Measurement) { m.Impulse.Zero -= 5 }, Later, Doubt, 2.5e-3},
		{"cold", func(m *measure.Measurement) { m.Temperature -= 10 }, Warmer, Doubt, -10},
		{"temperature", func(m *measure.Measurement) { m.Temperature = 0 }, TemperatureUnknown, Note, 0},
		{"state", func(m *measure.Measurement) { m.StateKnown = false }, StateUnknown, Note, 0},
		{"band", func(m *measure.Measurement) { m.Band = model.Range{Min: 50, Max: 400} }, BandCut, Note, 0},
	} {
		after := with(1, 2, c.change)
		if c.matter == BandCut {
			after = analyse(t, after.Measurement)
		}
		got := compare(t, with(1, 1, asItIs), after)
		o := find(got, c.matter)
		if o == nil || o.Weight != c.weight || math.Abs(o.Amount-c.amount) > 1e-9 || len(got.Objections) != 1 {
			t.Errorf("%s: %+v", c.name, got.Objections)
		}
		if got.Fair() == (c.weight == Unfair) {
			t.Errorf("%s: fair %v", c.name, got.Fair())
		}
	}
}

// A table that was smoothed to a third of an octave, with rows a sixth apart, does not hold what
// is compared.
func TestTables(t *testing.T) {
	t.Parallel()
	table := &measure.Table{Smoothing: 3}
	for f := 20.0; f < 330; f *= math.Exp2(1.0 / 6) {
		table.Frequencies, table.Levels = append(table.Frequencies, f), append(table.Levels, 0)
	}
	m := &measure.Measurement{Table: table, Seat: "chair", Speaker: model.LeftSpeaker, Temperature: 293, StateKnown: true}
	c := compare(t, analyse(t, m), analyse(t, m))
	if o := find(c, SmoothingDiffers); o == nil || o.Amount != 3 {
		t.Errorf("%+v", c.Objections)
	}
	if o := find(c, RowsCoarse); o == nil || math.Abs(o.Amount-1.0/6) > 1e-9 {
		t.Errorf("%+v", c.Objections)
	}
	doubtful := *m
	doubtful.Unsure |= measure.SmoothingUnknown
	if o := find(compare(t, analyse(t, m), analyse(t, &doubtful)), SmoothingUnknown); o == nil || o.Weight != Doubt {
		t.Error("an unknown smoothing is no doubt")
	}
}

// Noise that comes near the level over a good part of the band is a doubt.
func TestNoisy(t *testing.T) {
	t.Parallel()
	loud := measured(1, 2)
	loud.Noise = &measure.Table{Frequencies: []float64{20, 100, 101, 315}, Levels: []model.Level{-5, -5, -60, -60}}
	o := find(compare(t, with(1, 1, asItIs), analyse(t, loud)), Noisy)
	if o == nil || o.Weight != Doubt || o.Amount < 0.3 || o.Amount > 0.6 { // half of the band lies below 100 Hz, its peaks stand out
		t.Errorf("%+v", o)
	}
}

// A prediction has no measurement: the same figures without objections of its own.
func TestPredictedAgainstMeasured(t *testing.T) {
	t.Parallel()
	a := with(1, 1, asItIs)
	grid := model.NewGrid(20, 315, 96, 0.5)
	air := model.AirAt(0)
	p, err := measured(1, 2).Transfer(grid, air)
	if err != nil {
		t.Fatal(err)
	}
	over, err := measured(1, 2).Transfer(response.DecayGrid(), air)
	if err != nil {
		t.Fatal(err)
	}
	predicted := analysis.Predict(response.LeftAlone, grid, p, over, air, goal)
	predicted.Flat = true
	c, err := New(predicted, a, response.Resolution{})
	if err != nil {
		t.Fatal(err)
	}
	if better, worse := c.Counts(); better+worse > 0 || find(c, RollOff) == nil || !c.Aligned || c.Before.Fading == nil {
		t.Errorf("%d better, %d worse, %+v", better, worse, c.Objections)
	}
	if _, err := New(analysis.Predict(response.LeftAlone, grid, p, nil, air, model.Goal{From: 20, To: 50, Smoothing: 12}), a, response.Resolution{}); err == nil {
		t.Error("half an octave in common is accepted")
	}
}

// A change that came as predicted is kept. One where no change was predicted is more than
// predicted, and a predicted one that did not come is less.
func TestPromise(t *testing.T) {
	t.Parallel()
	damped := compare(t, with(1, 1, asItIs), with(3, 2, asItIs))
	nothing := compare(t, with(1, 1, asItIs), with(1, 2, asItIs))
	for _, c := range []struct {
		name                string
		measured, predicted *Comparison
		want                Outcome
	}{
		{"as predicted", damped, damped, AsPredicted}, {"nothing at all", nothing, nothing, AsPredicted},
		{"more", damped, nothing, MoreThanPredicted}, {"less", nothing, damped, LessThanPredicted},
	} {
		p := NewPredictedChange(c.measured, c.predicted)
		for _, f := range []response.Figure{response.SpreadFigure, response.DeviationFigure, response.MeanFallFigure} {
			if k := p.Figures[f]; k.Outcome != c.want || k.Low != k.Predicted || k.High != k.Predicted {
				t.Errorf("%s: figure %d: %+v", c.name, f, k)
			}
		}
	}
	// A range from one to the other holds both.
	p := NewPredictedChange(damped, nothing, damped)
	k := p.Figures[response.SpreadFigure]
	if k.Outcome != AsPredicted || k.Low >= k.High || k.Predicted != k.High {
		t.Errorf("within the range: %+v", k)
	}
	at := 0
	for i, f := range damped.Grid {
		if f < 66 {
			at = i
		}
	}
	if d := p.Difference; !(d.Low[at] < d.Typical[at]) || d.High[at] < d.Typical[at] || len(d.Low) != len(damped.Grid) {
		t.Errorf("at 66 Hz from %.1f by %.1f to %.1f dB", float64(d.Low[at]), float64(d.Typical[at]), float64(d.High[at]))
	}
}

// A repeated measurement differs in every figure.
func TestRepeatOfEveryFigure(t *testing.T) {
	t.Parallel()
	for _, f := range response.FigureList {
		if !(Repeat[f] > 0) {
			t.Errorf("figure %d repeats to the digit", f)
		}
	}
}
