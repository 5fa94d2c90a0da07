package response

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
)

var cardGoal = model.Goal{From: 30, To: 300, Smoothing: 48}

// A sine of 12 dB over lg f has the power mean 10 lg I0(1.2 ln 10) = 6.061 dB (Abramowitz and
// Stegun 1964, eq. 9.6.10 and 9.6.16). It is within 6 dB of that from 0.061 dB up to its crest:
// (π/2 - asin(0.061/12))/π of the time.
func TestWithinOfASine(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 315, 192, 0)
	p := transferOf(grid, func(f float64) float64 { return 12 * math.Sin(2*math.Pi*3*math.Log10(f/30)) })
	const mean = 6.061
	want := (math.Pi/2 - math.Asin((mean-6)/12)) / math.Pi
	if got := NewReader(grid, testAir, cardGoal).ChannelCard(LeftAlone, p, nil).Within; math.Abs(got-want) > 0.01 {
		t.Errorf("within ±6 dB for %.3f of the band, want %.3f", got, want)
	}
}

// A notch of 15 dB at 60 Hz in a flat response: the card names it, with the width of its
// half depth. A Gaussian over lg f of standard deviation s octaves is 2 s √(2 ln 2) wide there.
func TestDeepestDip(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 315, 192, 0)
	const sigma = 0.15
	notch := func(f float64) float64 { o := math.Log2(f/60) / sigma; return -15 * math.Exp(-o*o/2) }
	c := NewReader(grid, testAir, cardGoal).ChannelCard(RightAlone, transferOf(grid, notch), nil)
	if math.Abs(c.Dip.Frequency-60) > 0.5 || math.Abs(float64(c.Dip.Level)+14.4) > 0.6 || c.Dip.Channel != RightAlone {
		t.Errorf("dip %+v, want about -14.4 dB at 60 Hz", c.Dip)
	}
	if want := 2 * sigma * math.Sqrt(2*math.Ln2); math.Abs(c.Dip.Width.Octaves-want) > 0.02 {
		t.Errorf("%.3f octaves wide, want %.3f", c.Dip.Width.Octaves, want)
	}
}

// With the lowest octave 6 dB up and the rest flat, the power means are 3.98 and, over the
// log of a decade, (3.98 lg 2 + 1 lg 5)/1 = 1.898.
func TestLowOctave(t *testing.T) {
	t.Parallel()
	grid := model.NewGrid(20, 315, 192, 0)
	step := func(f float64) float64 {
		if f < 60 {
			return 6
		}
		return 0
	}
	c := NewReader(grid, testAir, cardGoal).ChannelCard(BothTogether, transferOf(grid, step), nil)
	ratio := math.Pow(10, 0.6)
	want := 10 * math.Log10(ratio/(ratio*math.Log10(2)+math.Log10(5)))
	if math.Abs(float64(c.LowOctave)-want) > 0.05 {
		t.Errorf("lowest octave %+.2f dB re the band, want %+.2f", float64(c.LowOctave), want)
	}
}

// No figure of a pair is better than that of any of its channels, and its spread is the one
// that Judge gives.
func TestCardOfAPairIsTheWorst(t *testing.T) {
	t.Parallel()
	grid := model.DefaultGrid()
	r := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	rapid.Check(t, func(t *rapid.T) {
		path, strength := rapid.Float64Range(0.8, 12), rapid.Float64Range(-0.95, 0.95)
		pair := Pair{
			Left:  twoPaths(grid, path.Draw(t, "direct"), path.Draw(t, "reflected"), strength.Draw(t, "k")),
			Right: twoPaths(grid, path.Draw(t, "direct"), path.Draw(t, "reflected"), strength.Draw(t, "k")),
		}
		card := r.Card(pair, nil)
		if spread := r.Judge(pair).Spread(); math.Abs(float64(card.Spread-spread)) > 1e-9 {
			t.Fatalf("card ±%v, judgement ±%v", card.Spread, spread)
		}
		for _, c := range Channels {
			alone := r.ChannelCard(c, pair.Of(c), nil)
			for f, change := range alone.Against(card, Resolution{}) {
				if change.Mark == Worse && change.Known {
					t.Fatalf("figure %d: %v alone has %v, the pair %v", f, c, change.After, change.Before)
				}
			}
		}
	})
}

// The slowest band that the filter resolves is named, bands outside the goal do not count,
// and what is too fast to resolve is never called the worst.
func TestFall(t *testing.T) {
	t.Parallel()
	list := []Decay{
		{Band: 31.5, Fall20: 0.15, Filter: 0.1}, {Band: 63, Fall20: 0.3, Filter: 0.05}, {Band: 100, Fall20: 0.2, Filter: 0.03}, {Band: 250, Fall20: 0.5, Filter: 0.01},
	}
	goal := model.Goal{From: 31.5, To: 200, Smoothing: 12}
	f := FallOf(list, goal)
	if f.Worst.Band != 63 || math.Abs(f.Mean-(0.2+0.3+0.2)/3) > 1e-12 {
		t.Errorf("%+v", f)
	}
	if f := FallOf(list[:1], goal); f.Worst.Band != 0 || f.Mean != 0.2 {
		t.Errorf("unresolved: %+v", f)
	}
	list[0].Fall20 = 0 // the level never gets that far down
	if f := FallOf(list, goal); f.Worst.Band != 31.5 {
		t.Errorf("a fall that never ends is the slowest: %+v", f)
	}
	if f := FallOf(list, model.Goal{From: 110, To: 120}); f != (Fall{}) {
		t.Errorf("no band of the goal: %+v", f)
	}
}

// A change counts if it is larger than the resolution, and too much bass in the lowest
// octave is as bad as too little.
func TestAgainst(t *testing.T) {
	t.Parallel()
	before := Card{Spread: 10, Deviation: 4, Within: 0.5, Dip: Dip{Level: -15}, LowOctave: -5, Fall: Fall{Mean: 0.4, Worst: Decay{Band: 63, Fall20: 0.6}}}
	after := Card{Spread: 8, Deviation: 3.8, Within: 0.4, Dip: Dip{Level: -16}, LowOctave: 4.9}
	got := after.Against(before, Resolution{0.5, 0.5, 0.05, 0.5, 0.5, 0.05, 0.05})
	want := [...]Mark{Better, NoDifference, Worse, Worse, NoDifference, NoDifference, NoDifference}
	for f, c := range got {
		if c.Mark != want[f] {
			t.Errorf("figure %d: %v, want %v", f, c.Mark, want[f])
		}
	}
	if got[MeanFallFigure].Known || !got[SpreadFigure].Known {
		t.Error("a fall that was not computed is not known; a spread is")
	}
}

// Of a band that is less even as a whole the extremes say nothing; a few per cent less within
// bounds are nothing where the deviation falls. Yet any figure of the band that is worse impairs it.
func TestLessEven(t *testing.T) {
	t.Parallel()
	before := Card{Spread: 10, Deviation: 4, Within: 0.5, LowOctave: -1}
	for _, c := range []struct {
		after                Card
		less, more, impaired bool
	}{
		{Card{Spread: 8, Deviation: 4, Within: 0.5, LowOctave: -1}, false, false, false},
		{Card{Spread: 8, Deviation: 5, Within: 0.6, LowOctave: -1}, true, false, true},
		{Card{Spread: 8, Deviation: 4, Within: 0.4, LowOctave: -1}, true, false, true},
		{Card{Spread: 8, Deviation: 3, Within: 0.4, LowOctave: -1}, false, false, true},
		{Card{Spread: 8, Deviation: 3, Within: 0.5, LowOctave: -1}, false, true, false},
		{Card{Spread: 8, Deviation: 4, Within: 0.6, LowOctave: 0.5}, false, true, false},
		{Card{Spread: 8, Deviation: 4, Within: 0.6, LowOctave: -12}, false, true, true},
		{Card{Spread: 8, Deviation: 4, Within: 0.6, LowOctave: 12}, false, true, true},
	} {
		got := c.after.Against(before, Resolution{})
		if got.LessEven() != c.less || got.MoreEven() != c.more || got.Impaired() != c.impaired {
			t.Errorf("%+v: less even %v, more even %v, impaired %v", c.after, got.LessEven(), got.MoreEven(), got.Impaired())
		}
	}
}

// What is uncertain in the same way before and after cancels out: of two predictions that
// are 3 dB off together the resolution is what they are off by apart.
func TestResolution(t *testing.T) {
	t.Parallel()
	var before, after []Card
	for i := range 101 {
		common := model.Level(3 * math.Sin(float64(i)))
		own := model.Level(float64(i)) / 100 // 0 in the typical room, up to 1 dB
		before = append(before, Card{Spread: 10 + common})
		after = append(after, Card{Spread: 8 + common + own})
	}
	if r := NewResolution(before, after); math.Abs(r[SpreadFigure]-0.9) > 1e-9 {
		t.Errorf("resolution %v dB, want 0.9: nine of ten are within", r[SpreadFigure])
	}
	two := NewResolution([]Card{{Spread: 10}, {Spread: 12}, {Spread: 9}}, []Card{{Spread: 8}, {Spread: 10.5}, {Spread: 7.2}})
	if math.Abs(two[SpreadFigure]-0.5) > 1e-9 {
		t.Errorf("resolution of hard and soft walls %v dB, want 0.5: all are within", two[SpreadFigure])
	}
	larger := NewResolution([]Card{{Spread: 10}, {Spread: 12}, {Spread: 9}}, []Card{{Spread: 8}, {Spread: 7}, {Spread: 6.8}})
	if larger[SpreadFigure] != 0 {
		t.Errorf("a gain that hard and soft walls only enlarge resolves %v dB, want 0", larger[SpreadFigure])
	}
	if one := NewResolution(before[:1], after[:1]); one != (Resolution{}) {
		t.Errorf("a single room: %v", one)
	}
}

// The resolution comes from the trials where a figure is known in them, else from hard and soft
// walls, and is never finer than the engine or than what a listener notices.
func TestRangedResolution(t *testing.T) {
	t.Parallel()
	with := func(spread model.Level, fall float64) Card { return Card{Spread: spread, Fall: Fall{Mean: fall}} }
	before := Ranged{
		Card: with(10, 0.5), Ends: []Card{with(10, 0.5), with(12, 0.7), with(9, 0.3)}, Trials: []Card{{Spread: 11}, {Spread: 9}},
		Least: Resolution{MeanFallFigure: 0.01},
	}
	after := Ranged{
		Card: with(8, 0.4), Ends: []Card{with(8, 0.4), with(12, 0.57), with(9, 0.24)}, Trials: []Card{{Spread: 9.6}, {Spread: 6.6}},
		Least: Resolution{DeviationFigure: 0.3},
	}
	got := after.Resolution(&before)
	for f, want := range map[Figure]float64{SpreadFigure: 0.6, MeanFallFigure: 0.04, DeviationFigure: 0.3, DipFigure: 1} {
		if math.Abs(got[f]-want) > 1e-9 {
			t.Errorf("figure %d resolves %v, want %v", f, got[f], want)
		}
	}
	if c := after.Compare(&before); c[SpreadFigure].Mark != Better || c[MeanFallFigure].Mark != Better || c[DipFigure].Mark != NoDifference {
		t.Errorf("%+v", c)
	}
}

// Of equal changes up and down one is never marked where the other is not, and a change that nobody notices is
// never marked, however well the engine resolves it: decays of 371, 357 and 390 ms are alike. The just noticeable
// difference of a decay is 5 %, of a level 1 dB (ISO 3382-1:2009, table A.1, from memory).
func TestNoticeable(t *testing.T) {
	t.Parallel()
	decay := func(s float64) *Ranged {
		return &Ranged{Card: Card{Fall: Fall{Mean: s, Worst: Decay{Band: 63, Fall20: s}}}, Least: Resolution{WorstFallFigure: 0.005, MeanFallFigure: 0.005}}
	}
	for _, c := range []struct {
		before, after float64
		want          Mark
	}{
		{0.371, 0.357, NoDifference}, {0.371, 0.385, NoDifference}, {0.371, 0.390, NoDifference}, {0.371, 0.342, Better}, {0.342, 0.371, Worse},
		{0.100, 0.094, Better}, {0.094, 0.100, Worse},
	} {
		got := decay(c.after).Compare(decay(c.before))
		if got[WorstFallFigure].Mark != c.want || got[MeanFallFigure].Mark != c.want {
			t.Errorf("%v to %v s: %v and %v, want %v", c.before, c.after, got[WorstFallFigure].Mark, got[MeanFallFigure].Mark, c.want)
		}
	}
	opposite := map[Mark]Mark{Better: Worse, Worse: Better, NoDifference: NoDifference}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) *Ranged {
			level := func(what string, from, to float64) model.Level {
				return model.Level(rapid.Float64Range(from, to).Draw(t, name+" "+what))
			}
			r := decay(rapid.Float64Range(0.05, 1).Draw(t, name+" decay"))
			r.Spread, r.Deviation, r.Within = level("spread", 4, 8), level("deviation", 2, 4), float64(level("share", 0, 1))
			r.Dip.Level, r.LowOctave = level("dip", -12, -8), level("octave", -3, 3)
			return r
		}
		a, b := draw("a"), draw("b")
		there, back := b.Compare(a), a.Compare(b)
		for _, f := range FigureList {
			if back[f].Mark != opposite[there[f].Mark] {
				t.Fatalf("figure %d: %v there, %v back", f, there[f].Mark, back[f].Mark)
			}
		}
		if by := math.Abs(float64(a.Spread - b.Spread)); by < 0.5 && there[SpreadFigure].Mark != NoDifference {
			t.Fatalf("%v dB of spread are marked", by)
		}
	})
}

// What is worse beyond a resolution counts in multiples of it: 2 dB of spread beyond 0.5 dB are 3, 10 % less within
// bounds beyond 5 % are 1. It is 0 exactly where no figure is marked as worse.
func TestExcess(t *testing.T) {
	t.Parallel()
	least := Resolution{0.5, 0.25, 0.05, 1, 1, 0.02, 0.02}
	before := Card{Spread: 10, Deviation: 4, Within: 0.6, Dip: Dip{Level: -12}, LowOctave: 1}
	after := Card{Spread: 12, Deviation: 3, Within: 0.5, Dip: Dip{Level: -12.9}, LowOctave: -1.9}
	if got := after.Excess(before, least); math.Abs(got-4) > 1e-9 {
		t.Errorf("excess %v, want 4", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string) Card {
			level := func(what string, from, to float64) model.Level {
				return model.Level(rapid.Float64Range(from, to).Draw(t, name+" "+what))
			}
			c := Card{Spread: level("spread", 9, 11), Deviation: level("deviation", 3, 4), Within: float64(level("share", 0.4, 0.6)), LowOctave: level("octave", -2, 2)}
			c.Dip.Level = level("dip", -12, -9)
			return c
		}
		a, b := draw("a"), draw("b")
		worse := false
		for _, change := range b.Against(a, least) {
			worse = worse || change.Known && change.Mark == Worse
		}
		if excess := b.Excess(a, least); (excess > 0) != worse {
			t.Fatalf("excess %v, worse %v", excess, worse)
		}
	})
}
