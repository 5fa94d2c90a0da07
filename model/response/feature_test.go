package response

import (
	"math"
	"slices"
	"testing"

	"evenbass/model"
)

func testReader(b int) *Reader {
	return NewReader(model.DefaultGrid(), testAir, model.Goal{From: 30, To: 300, Smoothing: b})
}

// A speaker 1 m in front of a rigid wall and a listener 3 m ahead (paths 3 and
// 5 m): the quarter-wave rule c/(4d) puts the first null at 85.75 Hz, where the
// level is -7.9588 dB re free field, not minus infinity, since the reflection is
// weaker than the direct sound (20 lg(1 - 3/5); closed form).
func TestQuarterWaveDip(t *testing.T) {
	r := testReader(48)
	p := twoPaths(r.Grid(), 3, 5, 1)
	found := r.Features(LeftAlone, p, 3)
	var dips []Feature
	for _, f := range found {
		if !f.Peak {
			dips = append(dips, f)
		}
	}
	if len(dips) != 2 {
		t.Fatalf("found dips %+v, want the nulls at 85.75 and 257.25 Hz", dips)
	}
	for i, want := range []float64{85.75, 257.25} {
		if dips[i].Frequency/want > 1.02 && dips[1-i].Frequency/want > 1.02 {
			t.Errorf("no dip near %v Hz: %+v", want, dips)
		}
	}
	raw := r.Raw(p)
	free := model.LevelOf(1.0 / 3)
	i := r.Grid().Nearest(85.75)
	if got := raw[i] - free; math.Abs(float64(got)+7.9588) > 0.02 {
		t.Errorf("level at %.2f Hz re free field %.4f dB, want -7.9588", r.Grid()[i], got)
	}
}

// A triangular notch in level, 12 dB deep and one octave wide at the brim, has
// 12 dB of prominence and is half an octave wide at half depth.
func TestFeatureSize(t *testing.T) {
	r := NewReader(model.NewGrid(20, 315, 192, 0), testAir, model.Goal{From: 30, To: 300, Smoothing: 192})
	p := transferOf(r.Grid(), func(f float64) float64 {
		return -12 * max(0, 1-2*math.Abs(math.Log2(f/100)))
	})
	// The brim is flat, so whether rounding makes it a peak does not matter.
	found := slices.DeleteFunc(r.Features(RightAlone, p, 6), func(f Feature) bool { return f.Peak })
	if len(found) != 1 {
		t.Fatalf("found %+v, want one dip", found)
	}
	d := found[0]
	if d.Peak || d.Channel != RightAlone || math.Abs(d.Frequency-100) > 0.5 {
		t.Errorf("found %+v, want a dip of the right channel at 100 Hz", d)
	}
	if math.Abs(float64(d.Prominence)-12) > 0.2 || math.Abs(d.Width.Octaves-0.5) > 0.03 || d.Width.Narrow || d.Width.Cut {
		t.Errorf("prominence %.2f dB, width %.3f octave; want 12 and 0.5", d.Prominence, d.Width.Octaves)
	}
}

// A ripple of 20 periods an octave, of which a window of 1/12 octave leaves a sixth, reads as no narrower than that
// window, and a notch whose middle is the edge of the band as cut.
func TestFeatureWidthIsBounded(t *testing.T) {
	grid := model.NewGrid(20, 400, 192, 0)
	r := NewReader(grid, testAir, model.Goal{From: 30, To: 300, Smoothing: 12})
	ripple := transferOf(grid, func(f float64) float64 { return 3 * math.Sin(2*math.Pi*20*math.Log2(f/100)) })
	found := r.Features(LeftAlone, ripple, 0.2)
	if len(found) < 60 { // of 66 periods in the band
		t.Errorf("%d dips and peaks", len(found))
	}
	for _, d := range found {
		if w := d.Width; w.Octaves < 1.0/12-1e-12 || !w.Narrow && !w.Cut {
			t.Errorf("%v at %.0f Hz, whose window is 1/12 octave wide", w, d.Frequency)
		}
	}
	edge := transferOf(grid, func(f float64) float64 { o := math.Log2(f/300) / 0.3; return -12 * math.Exp(-o*o) })
	if found = r.Features(LeftAlone, edge, 3); len(found) != 1 || !found[0].Width.Cut || found[0].Width.Narrow {
		t.Errorf("at the edge: %+v", found)
	}
}

func TestPeaksAreFound(t *testing.T) {
	r := testReader(24)
	p := transferOf(r.Grid(), func(f float64) float64 { return 9 * math.Exp(-math.Pow(12*math.Log2(f/60), 2)) })
	found := r.Features(BothTogether, p, 3)
	if len(found) != 1 || !found[0].Peak || math.Abs(found[0].Frequency-60) > 1 {
		t.Fatalf("found %+v, want one peak at 60 Hz", found)
	}
}

// The suspect that makes the dip is named and the one that does not is not.
func TestExplainNamesTheCause(t *testing.T) {
	r := testReader(24)
	direct := model.FreeField(nil, r.Grid(), testAir, 2)
	guilty := model.FreeField(nil, r.Grid(), testAir, 3.7)
	innocent := model.FreeField(nil, r.Grid(), testAir, 25)
	sum := func(parts ...[]complex128) Pair {
		p := make([]complex128, len(direct))
		for _, q := range parts {
			for i := range p {
				p[i] += q[i]
			}
		}
		return Pair{Left: p, Right: p}
	}
	all := sum(direct, guilty, innocent)
	var dip Feature
	for _, f := range r.Features(BothTogether, all.Of(BothTogether), 3) {
		if !f.Peak {
			dip = f
			break
		}
	}
	if math.Abs(dip.Frequency-343/(2*1.7)) > 6 { // half a wave of detour
		t.Fatalf("deepest dip at %v Hz, want near 100.9", dip.Frequency)
	}
	cures := r.Cures(dip, []Pair{sum(direct, guilty), sum(direct, innocent)})
	if len(cures) != 1 || cures[0].Without != 1 {
		t.Fatalf("cures %+v, want the removal of the guilty path alone", cures)
	}
	if cures[0].Gain < -dip.Level/2 {
		t.Errorf("cure of %.1f dB is less than half of the dip's %.1f", cures[0].Gain, dip.Level)
	}
}

// A dip that only moves is not cured.
func TestExplainFollowsTheDip(t *testing.T) {
	r := testReader(24)
	pair := func(detour float64) Pair {
		p := twoPaths(r.Grid(), 2, 2+detour, 1.3)
		return Pair{Left: p, Right: p}
	}
	there := pair(1.7)
	var dip Feature
	for _, f := range r.Features(LeftAlone, there.Left, 3) {
		if !f.Peak {
			dip = f
			break
		}
	}
	if got := r.Cures(dip, []Pair{pair(1.6)}); len(got) != 0 {
		t.Errorf("the dip moved by 6 %% and was called cured: %+v", got)
	}
}
