package response

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
)

var testAir = model.Air{Speed: 343, Density: 1.21}

// transferOf returns a transfer whose room gain is level(f) in dB.
func transferOf(grid model.Grid, level func(f float64) float64) []complex128 {
	p := model.FreeField(nil, grid, testAir, 1)
	for i, f := range grid {
		p[i] *= complex(math.Pow(10, level(f)/20), 0)
	}
	return p
}

// twoPaths returns the sum of a direct sound over r1 metres and a reflection of
// strength k over r2.
func twoPaths(grid model.Grid, r1, r2, k float64) []complex128 {
	p := model.FreeField(nil, grid, testAir, r1)
	q := model.FreeField(nil, grid, testAir, r2)
	for i := range p {
		p[i] += complex(k, 0) * q[i]
	}
	return p
}

// A level that swings as a 5 dB sine has half-range 5 and standard deviation
// 5/√2 = 3.535534 dB: the two usual "±" figures differ, so both are named.
func TestSineRipple(t *testing.T) {
	grid := model.NewGrid(20, 315, 192, 0)
	goal := model.Goal{From: 30, To: 300, Smoothing: 48}
	p := transferOf(grid, func(f float64) float64 { return 5 * math.Sin(2*math.Pi*2*math.Log10(f/30)) })
	f := NewReader(grid, testAir, goal).Read(p)
	if math.Abs(float64(f.Spread)-5) > 0.01 {
		t.Errorf("half-range %.4f dB, want 5", f.Spread)
	}
	if math.Abs(float64(f.Deviation)-3.535534) > 0.01 {
		t.Errorf("standard deviation %.4f dB, want 3.5355", f.Deviation)
	}
	if got := f.String(); got != "±5.0 dB (30–300 Hz, 1/48 octave)" {
		t.Errorf("written as %q", got)
	}
}

// The spread without its recipe means nothing: the same data give less and less
// as smoothing widens. Here a detour of 14 m interferes with the direct sound.
func ExampleReader_Read() {
	grid := model.DefaultGrid()
	p := twoPaths(grid, 3, 17, 4)
	for _, b := range []int{48, 12, 3} {
		r := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: b})
		fmt.Println(r.Read(p))
	}
	// Output:
	// ±7.6 dB (30–300 Hz, 1/48 octave)
	// ±7.2 dB (30–300 Hz, 1/12 octave)
	// ±4.3 dB (30–300 Hz, 1/3 octave)
}

// Louder or softer, later or earlier: the spread is the same; and [Reader.Spread], which the search
// calls, agrees with [Reader.Judge].
func TestSpreadInvariance(t *testing.T) {
	grid := model.DefaultGrid()
	r := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	rapid.Check(t, func(t *rapid.T) {
		path := rapid.Float64Range(0.8, 12)
		strength := rapid.Float64Range(-0.95, 0.95)
		pair := Pair{
			Left:  twoPaths(grid, path.Draw(t, "direct"), path.Draw(t, "reflected"), strength.Draw(t, "k")),
			Right: twoPaths(grid, path.Draw(t, "direct"), path.Draw(t, "reflected"), strength.Draw(t, "k")),
		}
		j := r.Judge(pair)
		if fast := r.Spread(pair, new(Scratch)); math.Abs(float64(fast-j.Spread())) > 1e-9 {
			t.Fatalf("the search sees ±%v dB, the judgement ±%v", fast, j.Spread())
		}
		whole, most := r.Spread(pair, new(Scratch)), model.Level(rapid.Float64Range(0, 25).Draw(t, "most"))
		switch got := r.SpreadWithin(pair, most, new(Scratch)); {
		case whole <= most && got != whole:
			t.Fatalf("±%v dB is within ±%v, but ±%v is returned", whole, most, got)
		case whole > most && (got <= most || got > whole):
			t.Fatalf("±%v dB is beyond ±%v, and ±%v is returned", whole, most, got)
		}
		for _, c := range Channels {
			if j.Figures[c].Spread > j.Spread() {
				t.Fatalf("%v is worse than the worst", c)
			}
		}
		factor := cmplx.Rect(rapid.Float64Range(0.01, 100).Draw(t, "gain"), rapid.Float64Range(0, 6).Draw(t, "phase"))
		scaled := Pair{Left: make([]complex128, len(grid)), Right: make([]complex128, len(grid))}
		for i := range grid {
			scaled.Left[i], scaled.Right[i] = factor*pair.Left[i], factor*pair.Right[i]
		}
		if s := r.Judge(scaled); math.Abs(float64(s.Spread()-j.Spread())) > 1e-6 {
			t.Fatalf("spread ±%v, scaled ±%v", j.Spread(), s.Spread())
		}
	})
}

func TestDifference(t *testing.T) {
	grid := model.DefaultGrid()
	r := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	flat := func(level float64) []complex128 { return transferOf(grid, func(float64) float64 { return level }) }
	j := r.Judge(Pair{Left: flat(3), Right: flat(1)})
	if math.Abs(float64(j.Difference)-2) > 1e-9 {
		t.Errorf("left-right difference %v dB, want 2", j.Difference)
	}
	if both := j.Curves[BothTogether][0]; math.Abs(float64(both-model.LevelOf(math.Pow(10, 0.15)+math.Pow(10, 0.05)))) > 0.01 { // interpolated at the grid's end
		t.Errorf("both together: %v dB; in-phase pressures must add", both)
	}
}

// A curve flat above 40 Hz that falls by 24 dB an octave below reaches 6 dB down
// at 40/2^(1/4) = 33.6 Hz; smoothing to 1/3 octave lifts a falling slope, so it
// is found a little lower.
func TestReach(t *testing.T) {
	grid := model.DefaultGrid()
	r := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	p := transferOf(grid, func(f float64) float64 { return min(0, 24*math.Log2(f/40)) })
	if got := r.reach(r.power(p)); got < 31.5 || got > 34.5 {
		t.Errorf("reach %.2f Hz, want about 33", got)
	}
	flat := transferOf(grid, func(float64) float64 { return 0 })
	if got := r.reach(r.power(flat)); got != 20 {
		t.Errorf("reach of a flat curve %v Hz, want the grid's 20", got)
	}
}

func TestNewReaderPanicsOutsideTheGrid(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a band without grid points was accepted")
		}
	}()
	NewReader(model.DefaultGrid(), testAir, model.Goal{From: 400, To: 500, Smoothing: 12})
}

func BenchmarkSpread(b *testing.B) {
	grid := model.DefaultGrid()
	r := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	pair := Pair{Left: twoPaths(grid, 1, 3, 0.9), Right: twoPaths(grid, 1.1, 4, 0.8)}
	s := new(Scratch)
	b.ReportAllocs()
	for b.Loop() {
		r.Spread(pair, s)
	}
}

// Of two curves a constant d apart the standard deviation is d/2 at every frequency;
// of three at 0, d and 2d it is d·√(2/3); by hand.
func TestBetweenOfEvenCurves(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 320, 12, 0)
	r := NewReader(grid, model.AirAt(0), model.Goal{From: 30, To: 300, Smoothing: 12})
	even := func(l model.Level) []model.Level {
		c := make([]model.Level, len(grid))
		for i := range c {
			c[i] = l + model.Level(i%3) // a shape that all share does not count
		}
		return c
	}
	for _, c := range []struct {
		curves [][]model.Level
		want   float64
	}{
		{nil, 0}, {[][]model.Level{even(3)}, 0}, {[][]model.Level{even(3), even(3)}, 0},
		{[][]model.Level{even(0), even(6)}, 3}, {[][]model.Level{even(0), even(3), even(6)}, 3 * math.Sqrt(2.0/3)},
	} {
		if got := float64(r.Between(c.curves)); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%d curves: %g dB, want %g", len(c.curves), got, c.want)
		}
	}
}

// What differs outside the band does not count, and half the band in octaves counts
// half.
func TestBetweenKeepsToTheBand(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 320, 48, 0)
	r := NewReader(grid, model.AirAt(0), model.Goal{From: 40, To: 160, Smoothing: 12})
	a, b, c := make([]model.Level, len(grid)), make([]model.Level, len(grid)), make([]model.Level, len(grid))
	for i, f := range grid {
		switch {
		case f < 39 || f > 161:
			b[i] = 10
		case f < 80:
			c[i] = 4
		}
	}
	if got := r.Between([][]model.Level{a, b}); got > 1e-9 {
		t.Errorf("%g dB from beyond the band", got)
	}
	if got := float64(r.Between([][]model.Level{a, c})); math.Abs(got-1) > 0.03 {
		t.Errorf("4 dB over one octave of two give %g dB, want 1", got)
	}
}

// A level that is 3 dB everywhere is 3 dB in every third octave, and the bands are those that
// lie in 20 to 315 Hz as a whole: 25 to 250 Hz (edges of 20 Hz: 17.8 and 22.4 Hz, of 315 Hz:
// 282 and 355 Hz; IEC 61260-1:2014).
func TestThirdOctavesOfEvenCurve(t *testing.T) {
	grid := model.DefaultGrid()
	curve := make([]model.Level, len(grid))
	for i := range curve {
		curve[i] = 3
	}
	list := ThirdOctaves(grid, curve)
	if len(list) != 11 || list[0].Band != 25 || list[10].Band != 250 {
		t.Fatalf("bands are %v", list)
	}
	for _, o := range list {
		if math.Abs(float64(o.Level-3)) > 1e-9 {
			t.Errorf("%v Hz: %v dB", o.Band, o.Level)
		}
	}
}

// Of a response with a deep dip, a band reads the same from the smoothed curve as from a
// reader that smooths the transfer to a third octave, within what the first smoothing blurs.
func TestThirdOctavesOfTransfer(t *testing.T) {
	grid := model.DefaultGrid()
	p := twoPaths(grid, 1.5, 4.1, 0.8)
	fine := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	wide := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 3})
	smooth := wide.Smooth(p)
	for i, o := range ThirdOctaves(grid, fine.Smooth(p)) {
		exact := math.Pow(10, (float64(14+i))/10)
		if d := math.Abs(float64(o.Level - smooth[grid.Nearest(exact)])); d > 0.5 {
			t.Errorf("%v Hz: %v dB, the reader has %v", o.Band, o.Level, smooth[grid.Nearest(exact)])
		}
	}
}
