package sweep

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
)

// Options holds what the recording does not tell of a measurement.
type Options struct {
	// Distance is that of the speaker which plays the first mark, to the microphone in m: it makes
	// time zero the moment at which the speaker sounds. 0 is not known.
	Distance float64

	// Later is by how much farther than that the other speaker is, m, if Both is true.
	Later       float64
	Both        bool
	Temperature float64 // K; 0 is not known
}

// OptionsFor returns how far the speakers are from the microphone of a measurement, by the room file.
func OptionsFor(p *model.Project, entry *model.Measured, s Sweep) Options {
	o := Options{Temperature: p.Room.Temperature}
	seat, ok := p.SeatOf(entry)
	if !ok || !seat.Placed || !p.Speakers.Placed {
		return o
	}
	left, right := r3.Norm(r3.Sub(p.Speakers.Left, seat.At)), r3.Norm(r3.Sub(p.Speakers.Right, seat.At))
	switch s.First() {
	case model.LeftSpeaker:
		o.Distance, o.Later, o.Both = left, right-left, true
	case model.RightSpeaker:
		o.Distance = right
	}
	return o
}

// Quality is how good a recording is.
type Quality struct {
	Start   float64     // when the signal begins in the recording, s
	Drift   float64     // δ
	Peak    model.Level // of the sweeps re full scale, dB
	Clipped float64     // share of the sweeps' samples that are cut off
	Hum     Hum
	Quiet   float64 // s of silence in which the noise was measured

	// Sum is how far left and right, added up, are from both together, dB: the power of the
	// difference over that of both. NaN if not all three were played.
	Sum model.Level

	// Later is by how much the right speaker's sound arrives after the left one's, s, by the
	// marks. NaN if not both were heard.
	Later float64
}

// Part is the response of one part.
type Part struct {
	Measurement *measure.Measurement
	Signal      model.Level // the response over its noise, mean of the band over lg f, dB
	Least       model.Level // the least of that in any third octave, dB
	Distortion  []Harmonics

	// Disturbed is how much more noise there was during the sweep than in the silence before
	// it, dB.
	Disturbed model.Level
}

// Result is what Analyse reads off a recording.
type Result struct {
	Sweep    Sweep
	Parts    []Part
	Quality  Quality
	Warnings []model.Warning
}

// Refusals. Errors of [Analyse] wrap them.
var (
	ErrNotFound  = errors.New("the sweep was not found in the recording")
	ErrCut       = errors.New("the recording ends before the sweep does")
	ErrClipped   = errors.New("the recording is overdriven")
	ErrNoise     = errors.New("the sweep drowns in noise")
	ErrRate      = errors.New("the recording's clock is too far off")
	ErrRecording = errors.New("the recording cannot be used")
)

// Limits of what is analysed.
const (
	mostClipped  = 0.002            // share of a part's samples
	leastSignal  = model.Level(10)  // dB
	fairSignal   = model.Level(25)  // dB below which a warning is due
	driftWarning = 100e-6           // δ of clocks that are worse than usual
	tapeWarning  = 0.10             // m between tape and sound
	sumWarning   = model.Level(-20) // dB
	disturbance  = model.Level(6)   // dB
	undisturbed  = model.Level(40)  // dB of signal above a disturbance that may be left unsaid
	lowestPeak   = model.Level(-40) // re full scale, dB
)

// Analyse turns a recording of a sweep, one channel at a rate in Hz, into responses. It
// refuses a recording in which the sweep is not found, is cut off, overdriven or drowned; the errors
// wrap [ErrNotFound] and its like.
func Analyse(x []float64, rate float64, s Sweep, o Options) (*Result, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	if err := usable(x, rate); err != nil {
		return nil, err
	}
	r := &Result{Sweep: s}
	start, err := r.locate(x, rate)
	if err != nil {
		return nil, err
	}
	if err := r.checkLevel(x, rate, start); err != nil {
		return nil, err
	}
	r.respond(s.align(x, rate, start, r.Quality.Drift), o)
	if err := r.judge(o); err != nil {
		return nil, err
	}
	return r, nil
}

// usable refuses what is no recording of sound.
func usable(x []float64, rate float64) error {
	if rate < lowestRate {
		return fmt.Errorf("%w: it holds %g samples a second; record with 44100 or 48000", ErrRecording, rate)
	}
	silent := true
	for i, v := range x {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%w: sample %d is %g", ErrRecording, i+1, v)
		}
		silent = silent && v == 0
	}
	if silent {
		return fmt.Errorf("%w: it is silent", ErrRecording)
	}
	return nil
}

// locate finds the signal: it returns the sample of the recording at which the timeline begins, if
// the first mark's sound took no time.
func (r *Result) locate(x []float64, rate float64) (float64, error) {
	s := r.Sweep
	r.Quality.Later = math.NaN()
	out := matched(x, rate)
	m, ok := s.find(out, rate)
	if !ok {
		return 0, s.notFound(m, float64(len(x)), rate)
	}
	q := &r.Quality
	q.Drift = s.drift(out, rate, m)
	if math.Abs(q.Drift) > 0.9*mostDrift {
		return 0, fmt.Errorf("%w: it differs from the player's by %.0f parts in a million", ErrRate, q.Drift*1e6)
	}
	before, _ := s.marks()
	first := -1
	for i, a := range m.before {
		if a.detected() && m.after[i].detected() && first < 0 {
			first = i
		}
	}
	if first > 0 {
		r.warn(model.MarkMissed{Speaker: s.Sources()[0], Zero: s.Sources()[first]})
	}
	zero := m.before[first].first
	start := zero - before[first]*(1+q.Drift)*rate
	q.Start = start / rate
	if len(before) > 1 && first == 0 && m.before[1].detected() {
		q.Later = (m.before[1].first-zero)/rate/(1+q.Drift) - (before[1] - before[0])
	}
	if end := start + (s.begins(len(s.Parts))-0.1)*(1+q.Drift)*rate; end > float64(len(x)) {
		return 0, fmt.Errorf("%w: %.1f s are missing", ErrCut, (end-float64(len(x)))/rate)
	}
	return start, nil
}

// notFound says why a sweep was not found in so many samples.
func (s Sweep) notFound(m marked, samples, rate float64) error {
	before, after := s.marks()
	if have, want := samples/rate, s.Duration(); have < want-quiet-tail {
		return fmt.Errorf("%w: it lasts %.1f s, the sweep %.1f s", ErrCut, have, want)
	}
	for i, a := range m.before {
		switch {
		case a.detected() && a.peak+(after[i]-before[i])*rate > samples:
			return fmt.Errorf("%w: the timing marks at the end are missing", ErrCut)
		case a.detected():
			return fmt.Errorf("%w: the timing mark was heard before the sweeps, not after them; is it of another test signal?", ErrNotFound)
		}
	}
	return fmt.Errorf("%w: its timing marks, chirps from 1 to 4 kHz, were not heard; subwoofers alone do not play them", ErrNotFound)
}

// checkLevel refuses what is overdriven. Each sweep is looked at alone: a slammed door may be louder.
func (r *Result) checkLevel(x []float64, rate, start float64) error {
	q := &r.Quality
	var loudest float64
	for i, p := range r.Sweep.Parts {
		from := start + r.Sweep.begins(i)*rate
		part := x[max(0, int(from)):min(len(x), int(from+r.Sweep.Length*rate))]
		clipped, peak := clipping(part, rate)
		if loudest = max(loudest, peak); !clipped {
			continue
		}
		cut := cutOff(part, peak)
		if q.Clipped = max(q.Clipped, cut); cut > mostClipped {
			return fmt.Errorf("%w: %.1f %% of the sweep of %v are cut off at %.1f dB re full scale; lower the recording level or the volume", ErrClipped, 100*cut, p, float64(model.LevelOf(peak)))
		}
	}
	if q.Peak = model.LevelOf(loudest); q.Peak < lowestPeak {
		r.warn(model.RecordingFaint{Peak: q.Peak})
	}
	if q.Clipped > 0 {
		r.warn(model.RecordingClipped{Share: q.Clipped})
	}
	return nil
}

// respond fills the parts from the recording on the sweep's timeline.
func (r *Result) respond(y []float64, o Options) {
	s := r.Sweep
	v := newInverse(s)
	from := max(0.2, -r.Quality.Start+0.1)
	var silence noise
	if n := int((quiet - 0.1) * v.rate); int(from*v.rate) < n {
		silence = newNoise(y[int(from*v.rate):n], v.rate)
	}
	if silence != nil {
		r.Quality.Quiet = quiet - 0.1 - from
		r.Quality.Hum = silence.hum(s.Band())
	}
	for i, p := range s.Parts {
		h := v.response(y, s.begins(i))
		recorded := slices.Clone(h)
		if q := &r.Quality; q.Hum.Mains > 0 {
			taken := v.takeHum(h, q.Hum.Mains, q.Hum.Multiples)
			if i == 0 || taken < q.Hum.Taken {
				q.Hum.Taken = taken
			}
		}
		m := &measure.Measurement{
			Speaker: p, Temperature: o.Temperature, Band: s.Band(), Unsure: measure.GainUnknown | measure.CorrectionUnknown,
		}
		m.Impulse = &measure.Impulse{Rate: v.rate}
		m.Impulse.Samples, m.Impulse.Zero = v.impulse(h)
		if o.Distance > 0 {
			m.Impulse.Timed = true
			m.Impulse.Zero -= o.Distance / model.AirAt(o.Temperature).Speed * v.rate
		}
		part := Part{Measurement: m, Signal: model.Level(math.NaN()), Least: model.Level(math.NaN()), Disturbed: model.Level(math.NaN())}
		if silence != nil {
			part.measureNoise(v, silence, h)
			part.Disturbed = v.disturbed(silence, recorded) // the silence hums too
		}
		r.Parts = append(r.Parts, part)
	}
	r.Quality.Sum = r.sum()
}

// measureNoise compares the response of a part with the noise.
func (p *Part) measureNoise(v *inverse, silence noise, h []float64) {
	m := p.Measurement
	length := float64(len(m.Impulse.Samples)) / v.rate
	m.Noise = v.table(silence, length)
	full := func(f float64) float64 {
		c := m.Impulse.Response(model.Grid{f})[0]
		return real(c)*real(c) + imag(c)*imag(c)
	}
	grid := thirds(v.s.Band())
	var sum float64
	p.Least = model.Level(math.Inf(1))
	var levels []float64
	for _, f := range grid {
		edges := model.Range{Min: f * math.Pow(10, -0.05), Max: f * math.Pow(10, 0.05)}
		level := v.coarse(edges, full)
		levels = append(levels, level)
		ratio := model.PowerLevel(level / v.coarse(edges, func(f float64) float64 { return v.inResponse(silence, f, length) }))
		sum += float64(ratio)
		p.Least = min(p.Least, ratio)
	}
	p.Signal = model.Level(sum / float64(len(grid)))
	p.Distortion = v.distortion(h, func(f float64) float64 { return near(grid, levels, f) }, func(f float64) float64 { return v.inResponse(silence, f, 1) })
}

// thirds returns the mid-frequencies of the third octaves that lie whole within a band.
func thirds(band model.Range) model.Grid {
	var grid model.Grid
	for third := -20; third <= 0; third++ {
		f := 1000 * math.Pow(10, float64(third)/10)
		if f*math.Pow(10, -0.05) >= band.Min && f*math.Pow(10, 0.05) <= band.Max {
			grid = append(grid, f)
		}
	}
	return grid
}

// coarse returns the mean of a power over a band at eight frequencies.
func (v *inverse) coarse(band model.Range, power func(f float64) float64) float64 {
	const n = 8
	var sum float64
	for i := range n {
		sum += power(band.Min+(band.Max-band.Min)*(float64(i)+0.5)/n) / n
	}
	return sum
}

// near returns the value of the nearest frequency.
func near(grid model.Grid, values []float64, f float64) float64 { return values[grid.Nearest(f)] }

// disturbed returns the power of what stands between the second harmonic and time zero, where an
// undisturbed sweep leaves noise alone, over that of the noise, dB.
func (v *inverse) disturbed(silence noise, h []float64) model.Level {
	gap := v.s.growth() * math.Ln2
	from, to := int(-0.75*gap*v.rate), int(-0.45*gap*v.rate)
	x := make([]float64, v.n)
	for i := from; i < to; i++ {
		x[i-from] = h[v.n+i]
	}
	length := float64(to-from) / v.rate
	fadeEnds(x[:to-from], (to-from)/10)
	spectrum := v.fft.Coefficients(nil, x)
	var have, want float64
	band := v.s.Band()
	for i, c := range spectrum {
		if f := v.rate * float64(i) / float64(v.n); f > band.Min && f < band.Max {
			share := v.power[i] // as recorded, so that no part of the band counts most
			have += (real(c)*real(c) + imag(c)*imag(c)) * share
			want += v.inResponse(silence, f, length) * share
		}
	}
	return model.PowerLevel(have / want)
}

// sum returns how far left and right together are from both.
func (r *Result) sum() model.Level {
	grid := model.NewGrid(r.Sweep.Band().Min, r.Sweep.Band().Max, 24, 0)
	found := map[model.Source][]complex128{}
	for i, p := range r.Sweep.Parts {
		found[p] = r.Parts[i].Measurement.Impulse.Response(grid)
	}
	left, right, both := found[model.LeftSpeaker], found[model.RightSpeaker], found[model.BothSpeakers]
	if left == nil || right == nil || both == nil {
		return model.Level(math.NaN())
	}
	var off, whole float64
	for i, v := range both {
		off += math.Pow(cmplx.Abs(v-left[i]-right[i]), 2)
		whole += math.Pow(cmplx.Abs(v), 2)
	}
	return model.PowerLevel(off / whole)
}

// judge refuses what drowns in noise, and warns of the rest.
func (r *Result) judge(o Options) error {
	q := r.Quality
	for _, p := range r.Parts {
		name := p.Measurement.Speaker
		switch {
		case p.Signal < 0:
			return fmt.Errorf("%w: nothing was heard of %v", ErrNoise, name)
		case p.Signal < leastSignal:
			return fmt.Errorf("%w: the response of %v is %.0f dB above it, needed are %.0f; play louder, or find what hums", ErrNoise, name, float64(p.Signal), float64(leastSignal))
		case p.Signal < fairSignal:
			r.warn(model.NoiseNear{Speaker: name, Above: p.Signal})
		}
		if p.Disturbed > disturbance && p.Signal-p.Disturbed < undisturbed {
			r.warn(model.SweepDisturbed{Speaker: name, Louder: p.Disturbed})
		}
	}
	if q.Quiet == 0 {
		r.warn(model.Remark("the silence before the sweep was not recorded, so the noise is not known; start the recording first"))
	}
	if q.Hum.Mains > 0 {
		r.warn(model.MainsHum{Frequency: q.Hum.Frequency, Above: q.Hum.Above, Taken: q.Hum.Taken})
	}
	if math.Abs(q.Drift) > driftWarning {
		r.warn(model.ClocksDiffer{Drift: q.Drift})
	}
	if q.Sum > sumWarning {
		r.warn(model.SumOff{Difference: q.Sum})
	}
	if off := q.Later*model.AirAt(o.Temperature).Speed - o.Later; o.Both && math.Abs(off) > tapeWarning {
		r.warn(model.TapeOff{Sound: q.Later * model.AirAt(o.Temperature).Speed, Taped: o.Later})
	}
	return nil
}

func (r *Result) warn(w model.Warning) { r.Warnings = append(r.Warnings, w) }
