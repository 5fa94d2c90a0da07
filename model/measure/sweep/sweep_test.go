package sweep

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/measure/analysis"
	"evenbass/model/trust"

	"gonum.org/v1/gonum/floats"
)

// one is a sweep of the left speaker alone, as long as the usual one.
func one() Sweep {
	s := Default()
	s.Parts = []model.Source{model.LeftSpeaker}
	return s
}

// deviation returns rms and largest error in dB of a measured response, 20 to 300 Hz, where the
// true one is within 25 dB of its maximum. Frequencies near those in skip are left out.
func deviation(t *testing.T, p Part, want func(f float64) complex128, skip ...float64) (rms, most float64) {
	t.Helper()
	grid := model.DefaultGrid()[:0]
	for _, f := range model.DefaultGrid() {
		near := f > 300
		for _, g := range skip {
			near = near || math.Abs(f-g) < 3
		}
		if !near {
			grid = append(grid, f)
		}
	}
	h, err := p.Measurement.Response(grid)
	if err != nil {
		t.Fatal(err)
	}
	var loudest float64
	for _, f := range grid {
		loudest = max(loudest, cmplx.Abs(want(f)))
	}
	var sum, count float64
	for i, f := range grid {
		w := cmplx.Abs(want(f))
		if w < loudest*math.Pow(10, -25.0/20) {
			continue
		}
		d := math.Abs(20 * math.Log10(cmplx.Abs(h[i])/w))
		sum, count, most = sum+d*d, count+1, max(most, d)
	}
	return math.Sqrt(sum / count), most
}

// TestLoop sends a sweep of 10 s through a known room and holds what comes back to the room.
func TestLoop(t *testing.T) {
	const rate = 48000
	s := one()
	room := newTestRoom(rate, 0)
	clean := room.play(s, 1.2345, 22)
	left := func(f float64) complex128 { return room.response(0, f) }
	hum := func(i int, f, a float64) float64 { return a * math.Sin(2*math.Pi*f*float64(i)/rate) }
	level := s.Level.Ratio()
	var noisyRMS, noisyMost []float64
	for _, c := range []struct {
		name      string
		x         []float64
		rms, most float64
		warns     string
		skip      []float64
	}{
		{"clean", clean, 0.001, 0.005, "", nil},
		{"noise 40 dB down", noisy(clean, s, 40), 0.01, 0.06, "", nil},
		{"noise 20 dB down", noisy(clean, s, 20), 0.08, 0.6, "", nil},
		{"noise 10 dB down", noisy(clean, s, 10), 0.25, 2, "", nil},
		{"hum", mapped(noisy(clean, s, 40), func(i int, v float64) float64 {
			return v + hum(i, 50.04, 0.03*level) + hum(i, 150.12, 0.01*level)
		}), 0.01, 0.06, "model.MainsHum{50 ", nil},
		{"16 bits, faint", mapped(clean, func(_ int, v float64) float64 { return math.Round(v*0.003*32768) / 32768 }), 0.01, 0.05, "model.RecordingFaint", nil},
	} {
		r, err := Analyse(c.x, rate, s, Options{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if c.name == "16 bits, faint" {
			floats.Scale(1/0.003, r.Parts[0].Measurement.Impulse.Samples)
		}
		rms, most := deviation(t, r.Parts[0], left, c.skip...)
		t.Logf("%-17s error %.4f dB rms, %.3f dB at worst; signal %.1f dB over noise, drift %.2f ppm, disturbed %.1f dB; %v",
			c.name, rms, most, float64(r.Parts[0].Signal), r.Quality.Drift*1e6, float64(r.Parts[0].Disturbed), r.Warnings)
		if rms > c.rms || most > c.most {
			t.Errorf("%s: error %.4f dB rms, %.3f dB at worst, want %g and %g", c.name, rms, most, c.rms, c.most)
		}
		if strings.HasPrefix(c.name, "noise") {
			noisyRMS, noisyMost = append(noisyRMS, rms), append(noisyMost, most)
		}
		if math.Abs(r.Quality.Start-1.2345-room.delay[0]) > 1e-4 || math.Abs(r.Quality.Drift) > 1e-6 {
			t.Errorf("%s: found at %.5f s with drift %g", c.name, r.Quality.Start, r.Quality.Drift)
		}
		got := ""
		for _, w := range r.Warnings {
			got += fmt.Sprintf("%T%v", w, w)
		}
		if c.warns == "" && len(r.Warnings) > 0 || !strings.Contains(got, c.warns) {
			t.Errorf("%s: warnings %q, want %q", c.name, got, c.warns)
		}
	}
	trust.Seen(t, "`measure`, a 10 s sweep of 15 to 400 Hz", "%s dB rms, %s dB at worst", trust.Figures(2, noisyRMS...), trust.Figures(2, noisyMost...))
	refuses(t, s, clean)
}

func mapped(x []float64, f func(i int, v float64) float64) []float64 {
	y := make([]float64, len(x))
	for i, v := range x {
		y[i] = f(i, v)
	}
	return y
}

// refuses holds a clean recording, spoilt in many ways, to the right refusals.
func refuses(t *testing.T, s Sweep, clean []float64) {
	t.Helper()
	const rate = 48000
	var top float64
	for _, v := range clean {
		top = max(top, math.Abs(v))
	}
	clip := func(at float64) []float64 {
		return mapped(clean, func(_ int, v float64) float64 { return max(-at*top, min(at*top, v)) })
	}
	var rumble float64
	loud := noisy(make([]float64, len(clean)), s, -10)
	for i := range loud { // below about 40 Hz per octave less
		rumble += 0.005 * (20*loud[i] - rumble)
		loud[i] = rumble + clean[i]
	}
	silence := make([]float64, len(clean))
	slammed := clip(0.5) // a door before the sweep is louder than where the sweep is cut off
	slammed[rate/2] = top
	broken := mapped(clean, func(_ int, v float64) float64 { return v })
	broken[777] = math.NaN()
	for _, c := range []struct {
		name string
		x    []float64
		rate float64
		want error
	}{
		{"clipped by 6 dB", clip(0.5), rate, ErrClipped},
		{"clipped, after a door", slammed, rate, ErrClipped},
		{"clipped by 1.5 dB", clip(0.84), rate, ErrClipped},
		{"ends in the sweep", clean[:12*rate], rate, ErrCut},
		{"ends before the last mark", clean[:18*rate], rate, ErrCut},
		{"begins in the sweep", clean[8*rate:], rate, ErrCut},
		{"noise", noisy(silence, s, 0), rate, ErrNotFound},
		{"drowned", loud, rate, ErrNoise},
		{"silence", silence, rate, ErrRecording},
		{"NaN", broken, rate, ErrRecording},
		{"one sample", clean[:1], rate, ErrRecording},
		{"wrong rate", clean, 44100, ErrNotFound},
		{"telephone", clean, 8000, ErrRecording},
	} {
		_, err := Analyse(c.x, c.rate, s, Options{})
		if !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %v", c.name, err, c.want)
		}
	}
}

// A tone that peaks freely is not cut off, however coarse its samples are; one that is cut off by 1 dB is, unless
// they are so coarse that nobody can tell. 20 and 300 Hz, full scale to 60 dB below it, 16 bits.
func TestClipping(t *testing.T) {
	t.Parallel()
	const rate = 48000.0
	for _, f := range []float64{20, 300} {
		for _, level := range []float64{1, 0.1, 0.01, 0.001, 0.0003} {
			for _, limit := range []float64{1, 0.89} {
				x := make([]float64, rate)
				for i := range x {
					v := max(-limit, min(limit, math.Sin(2*math.Pi*f*float64(i)/rate)))
					x[i] = math.Round(v*level*32767) / 32768
				}
				clipped, _ := clipping(x, rate)
				if clipped && limit == 1 || !clipped && limit < 1 && level > 0.005 {
					t.Errorf("%g Hz at %g of full scale, limit %g: cut off is %v", f, level, limit, clipped)
				}
			}
		}
	}
}

// TestDriftAndSides measures all three parts with a clock that is off by 50 parts in a million.
func TestDriftAndSides(t *testing.T) {
	const rate, drift = 44100, 50e-6
	s := Default()
	s.Length, s.Pause = 5, 2
	room := newTestRoom(rate, -drift) // a recorder that counts more slowly
	air := model.AirAt(0)
	x := noisy(room.play(s, 0.777, s.Duration()+2), s, 50)
	o := Options{Distance: room.delay[0] * air.Speed, Both: true, Later: (room.delay[1] - room.delay[0]) * air.Speed}
	r, err := Analyse(x, rate, s, o)
	if err != nil {
		t.Fatal(err)
	}
	q := r.Quality
	t.Logf("drift %.3f ppm, right later by %.4f ms, left + right off both by %.1f dB, %v", q.Drift*1e6, q.Later*1e3, float64(q.Sum), r.Warnings)
	if math.Abs(q.Drift+drift) > 0.5e-6 {
		t.Errorf("drift %.3f parts in a million, want %g", q.Drift*1e6, -drift*1e6)
	}
	if math.Abs(q.Later-0.8e-3) > 2e-5 {
		t.Errorf("right is later by %.4f ms, want 0.8", q.Later*1e3)
	}
	if q.Sum > -35 {
		t.Errorf("left and right are off both by %.1f dB", float64(q.Sum))
	}
	turn := func(channel int, f float64) complex128 {
		return room.response(channel, f) * cmplx.Rect(1, -2*math.Pi*f*room.delay[channel])
	}
	var off float64
	for i, want := range []func(f float64) complex128{
		func(f float64) complex128 { return turn(0, f) },
		func(f float64) complex128 { return turn(1, f) },
		func(f float64) complex128 { return turn(0, f) + turn(1, f) },
	} {
		rms, most := deviation(t, r.Parts[i], want)
		t.Logf("%v: error %.4f dB rms, %.3f dB at worst", r.Parts[i].Measurement.Speaker, rms, most)
		off = max(off, rms)
		if rms > 0.005 || most > 0.03 {
			t.Errorf("%v: error %.4f dB rms, %.3f dB at worst", r.Parts[i].Measurement.Speaker, rms, most)
		}
		if !r.Parts[i].Measurement.HasTime() {
			t.Errorf("%v: no time reference, though the distance is known", r.Parts[i].Measurement.Speaker)
		}
		// The phase holds the distance: 0.02 ms are 2° at 300 Hz.
		for _, f := range []float64{45, 120, 280} {
			h, _ := r.Parts[i].Measurement.Response(model.Grid{f})
			if d := cmplx.Phase(h[0] / want(f)); math.Abs(d) > 0.06 {
				t.Errorf("%v: phase off by %.3f rad at %g Hz", r.Parts[i].Measurement.Speaker, d, f)
			}
		}
	}
	trust.Seen(t, "`measure`, clocks 50 millionths apart", "%s dB rms; drift within %s millionths", trust.Within(off, 1), trust.Within(1e6*math.Abs(q.Drift+drift), 1))
	o.Later += 0.3
	if r, err = Analyse(x, rate, s, o); err != nil || len(r.Warnings) != 1 || r.Warnings[0].(model.TapeOff).Taped != o.Later {
		t.Errorf("a tape error of 30 cm: %v, %v", r.Warnings, err)
	}
}

// TestDistortion holds the counted harmonics to those of a known non-linearity, and the linear
// response to that without it.
func TestDistortion(t *testing.T) {
	const rate = 48000
	s := one()
	x := make([]float64, int(22*rate))
	s.add(x, 1.0/rate, 1, 0, 1)
	a := s.Level.Ratio()
	// v + c v²/a: a tone of amplitude a gets a second harmonic of c/2.
	const c = 0.06
	y := noisy(mapped(x, func(_ int, v float64) float64 { return v + c*v*v/a }), s, 50)
	r, err := Analyse(y, rate, s, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Parts[0].Distortion) < 8 {
		t.Fatalf("harmonics at %d frequencies", len(r.Parts[0].Distortion))
	}
	for _, d := range r.Parts[0].Distortion {
		if math.Abs(d.Share-c/2) > 0.1*c/2 || d.Floor > 0.2*d.Share {
			t.Errorf("at %.0f Hz: %.4f with a floor of %.4f, want %.4f", d.Frequency, d.Share, d.Floor, c/2)
		}
	}
	if rms, most := deviation(t, r.Parts[0], func(float64) complex128 { return 1 }); rms > 0.02 || most > 0.1 {
		t.Errorf("the linear response is off by %.3f dB rms, %.3f dB at worst", rms, most)
	}
}

func TestParse(t *testing.T) {
	for _, s := range []Sweep{Default(), one(), {From: 20.5, To: 200, Length: 4, Pause: 2.5, Level: -20.25, Rate: 96000, Parts: []model.Source{model.SubSpeaker, model.BothSpeakers}}} {
		got, err := Parse(s.String())
		if err != nil || got.String() != s.String() {
			t.Errorf("%v reads back as %v, %v", s, got, err)
		}
	}
	for _, text := range []string{"", "evenbass sweep 2: x", strings.Replace(Default().String(), "left", "top", 1), strings.Replace(Default().String(), "400 Hz", "4000 Hz", 1)} {
		if _, err := Parse(text); err == nil {
			t.Errorf("%q is read", text)
		}
	}
}

// TestRecording holds the signal to its level, and a changed one to a refusal.
func TestRecording(t *testing.T) {
	s := Default()
	s.Length, s.Level = 2, 0
	rec, err := s.Recording()
	if err != nil {
		t.Fatal(err)
	}
	for c, x := range rec.Channels {
		var top float64
		for _, v := range x {
			top = max(top, math.Abs(v))
		}
		if top > 1-1.0/(1<<23) || top < 0.999 {
			t.Errorf("channel %d peaks at %g", c, top)
		}
		if ends := math.Abs(x[0]) + math.Abs(x[len(x)-1]); ends != 0 {
			t.Errorf("channel %d does not begin and end in silence", c)
		}
	}
	if got, err := Of(rec); err != nil || got.String() != s.String() {
		t.Errorf("%v, %v", got, err)
	}
	rec.Channels[1][200_000] += 1e-3
	if _, err := Of(rec); err == nil || !strings.Contains(err.Error(), "was changed") {
		t.Errorf("a changed sweep: %v", err)
	}
}

// BenchmarkAnalyse analyses 10 s of sweep, 48 kHz: the marks, the alignment and the deconvolution
// of one channel.
func BenchmarkAnalyse(b *testing.B) {
	const rate = 48000
	s := one()
	x := noisy(newTestRoom(rate, 0).play(s, 1, 22), s, 40)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Analyse(x, rate, s, Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkStereo turns one recording of a sweep for the left and the right speaker, 10 s each at 48 kHz, into
// responses with their figures, decay times and modes. B/op bounds what it keeps in memory at once.
func BenchmarkStereo(b *testing.B) {
	const rate = 48000
	s := one()
	s.Parts = append(s.Parts, model.RightSpeaker)
	x := noisy(newTestRoom(rate, 0).play(s, 1, s.Duration()+2), s, 40)
	b.ReportAllocs()
	for b.Loop() {
		r, err := Analyse(x, rate, s, Options{})
		if err != nil {
			b.Fatal(err)
		}
		for _, p := range r.Parts {
			if _, err := analysis.New(p.Measurement, model.Goal{From: 30, To: 300, Smoothing: 12}); err != nil {
				b.Fatal(err)
			}
		}
	}
}
