package sweep

import (
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/measure"
)

// Sweep is a test signal. See [Default].
type Sweep struct {
	From, To float64     // f1, f2, Hz
	Length   float64     // T of one sweep, s
	Pause    float64     // silence after each sweep, in which the room decays, s
	Level    model.Level // of the sweeps' peaks re full scale, dB
	Rate     float64     // fs, Hz
	Parts    []model.Source
}

// Default is a sweep that spares tweeters and ears: 15 to 400 Hz in 10 s, a quarter of full
// scale, for the left speaker, the right one and both.
func Default() Sweep {
	return Sweep{
		From: 15, To: 400, Length: 10, Pause: 3, Level: -12, Rate: 48000,
		Parts: []model.Source{model.LeftSpeaker, model.RightSpeaker, model.BothSpeakers},
	}
}

// The timeline, s.
const (
	quiet      = 3.0 // silence at the beginning, in which the noise is measured
	markEvery  = 0.6 // from one timing mark to the next
	afterMarks = 1.0 // silence between the marks and the first sweep
	tail       = 1.0 // silence at the end
)

// Fades of a sweep, in octaves, and the share of an octave beyond which its ends are not used.
const (
	fadeIn  = 1.0 / 4
	fadeOut = 1.0 / 8
	margin  = 1.0 / 6
)

// Limits of a sweep.
const (
	lowestFrequency  = 5.0
	highestFrequency = 1000.0
	shortest         = 2.0 // s
	longest          = 60.0
	mostParts        = 8
)

// Check reports what cannot be played or analysed.
func (s Sweep) Check() error {
	switch {
	case !(s.From >= lowestFrequency && s.To <= highestFrequency && s.To >= 4*s.From):
		return fmt.Errorf("a sweep goes from %g Hz or more to %g Hz or less and over two octaves at least, have %g to %g Hz", lowestFrequency, highestFrequency, s.From, s.To)
	case !(s.Length >= shortest && s.Length <= longest):
		return fmt.Errorf("a sweep takes %g to %g s, have %g s", shortest, longest, s.Length)
	case !(s.Pause >= 1 && s.Pause <= 20):
		return fmt.Errorf("the pause takes 1 to 20 s, have %g s", s.Pause)
	case !(s.Level <= 0 && s.Level >= -60):
		return fmt.Errorf("the level is -60 to 0 dB re full scale, have %g dB", float64(s.Level))
	case s.Rate != math.Trunc(s.Rate) || s.Rate < lowestRate || s.Rate > 192000:
		return fmt.Errorf("the sampling rate is %g to 192000 Hz, have %g Hz", lowestRate, s.Rate)
	case len(s.Parts) == 0 || len(s.Parts) > mostParts:
		return fmt.Errorf("a sweep has 1 to %d parts, have %d", mostParts, len(s.Parts))
	}
	for i, p := range s.Parts {
		if !slices.Contains(model.Sources, p) || slices.Contains(s.Parts[:i], p) {
			return fmt.Errorf("each part is another of left, right, both and sub, have %v", s.Parts)
		}
	}
	return nil
}

// String describes the sweep in one line; [Parse] reads it.
func (s Sweep) String() string {
	text := fmt.Sprintf("evenbass sweep 1: %g to %g Hz in %g s, pause %g s, level %g dB, rate %g Hz, parts", s.From, s.To, s.Length, s.Pause, float64(s.Level), s.Rate)
	for _, p := range s.Parts {
		text += " " + p.String()
	}
	return text
}

// Parse reads the line that describes a sweep.
func Parse(text string) (Sweep, error) {
	var s Sweep
	var level float64
	var words [mostParts]string
	n, _ := fmt.Sscanf(text, "evenbass sweep 1: %g to %g Hz in %g s, pause %g s, level %g dB, rate %g Hz, parts %s %s %s %s %s %s %s %s",
		&s.From, &s.To, &s.Length, &s.Pause, &level, &s.Rate, &words[0], &words[1], &words[2], &words[3], &words[4], &words[5], &words[6], &words[7])
	s.Level = model.Level(level)
	for _, w := range words[:max(0, n-6)] {
		at := slices.IndexFunc(model.Sources, func(p model.Source) bool { return p.String() == w })
		if at < 0 {
			return s, fmt.Errorf("no part of a sweep is called %q", w)
		}
		s.Parts = append(s.Parts, model.Sources[at])
	}
	if n < 7 {
		return s, fmt.Errorf("no description of a sweep")
	}
	return s, s.Check()
}

// growth returns L in s.
func (s Sweep) growth() float64 { return s.Length / math.Log(s.To/s.From) }

// Band returns where a measurement with this sweep holds, Hz.
func (s Sweep) Band() model.Range {
	return model.Range{Min: s.From * math.Exp2(margin), Max: s.To * math.Exp2(-margin)}
}

// wave returns the sweep, with a peak of 1, at t seconds after its beginning.
func (s Sweep) wave(t float64) float64 {
	if t < 0 || t >= s.Length {
		return 0
	}
	l := s.growth()
	gain := 1.0
	if in := l * fadeIn * math.Ln2; t < in {
		gain *= ramp(t / in)
	}
	if out := l * fadeOut * math.Ln2; s.Length-t < out {
		gain *= ramp((s.Length - t) / out)
	}
	return gain * math.Sin(2*math.Pi*s.From*l*math.Expm1(t/l))
}

// ramp rises from 0 to 1 as half a cosine.
func ramp(x float64) float64 {
	return (1 - math.Cos(math.Pi*max(0, min(1, x)))) / 2
}

// Sources returns what each timing mark is played by: each speaker once.
func (s Sweep) Sources() []model.Source {
	var list []model.Source
	pair := slices.Contains(s.Parts, model.LeftSpeaker) || slices.Contains(s.Parts, model.RightSpeaker)
	for _, p := range s.Parts {
		if p != model.BothSpeakers || !pair {
			list = append(list, p)
		}
	}
	return list
}

// First returns what plays the first timing mark.
func (s Sweep) First() model.Source { return s.Sources()[0] }

// marks returns when the marks begin, those before the parts and those after them, s.
func (s Sweep) marks() (before, after []float64) {
	end := s.begins(len(s.Parts))
	for i := range s.Sources() {
		before = append(before, quiet+float64(i)*markEvery)
		after = append(after, end+float64(i)*markEvery)
	}
	return before, after
}

// begins returns when a part begins, s. One more than the last is the end of all.
func (s Sweep) begins(part int) float64 {
	return quiet + float64(len(s.Sources()))*markEvery + afterMarks + float64(part)*(s.Length+s.Pause)
}

// Duration returns the length of the whole signal in s.
func (s Sweep) Duration() float64 {
	return s.begins(len(s.Parts)) + float64(len(s.Sources()))*markEvery + tail
}

// Recording returns the signal as it is to be played: two channels, 24 bits, with its description.
func (s Sweep) Recording() (*measure.Recording, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	n := int(math.Ceil(s.Duration() * s.Rate))
	rec := &measure.Recording{Rate: s.Rate, Bits: 24, Comment: s.String(), Channels: [][]float64{make([]float64, n), make([]float64, n)}}
	// The largest value of 24 bits is one step below full scale.
	gain := s.Level.Ratio() * (1 - 1.0/(1<<22))
	add := func(at float64, from model.Source, length, gain float64, wave func(t float64) float64) {
		for i := int(math.Ceil(at * s.Rate)); i < n && float64(i)/s.Rate < at+length; i++ {
			v := gain * wave(float64(i)/s.Rate-at)
			if from != model.RightSpeaker {
				rec.Channels[0][i] += v
			}
			if from != model.LeftSpeaker {
				rec.Channels[1][i] += v
			}
		}
	}
	for i, p := range s.Parts {
		add(s.begins(i), p, s.Length, gain, s.wave)
	}
	before, after := s.marks()
	for i, p := range s.Sources() {
		for _, at := range []float64{before[i], after[i]} {
			add(at, p, markLength, gain*markLevel.Ratio(), mark)
		}
	}
	return rec, nil
}

// Of returns the sweep that a file holds, by its description, and checks that it is the signal
// that the description makes.
func Of(rec *measure.Recording) (Sweep, error) {
	s, err := Parse(rec.Comment)
	if err != nil {
		return s, fmt.Errorf("this is no file of `evenbass sweep`: %w", err)
	}
	want, err := s.Recording()
	if err != nil {
		return s, err
	}
	if rec.Rate != want.Rate || len(rec.Channels) != 2 || len(rec.Channels[0]) != len(want.Channels[0]) {
		return s, fmt.Errorf("the sweep was changed after it was written: it has another length, rate or number of channels")
	}
	for c := range want.Channels {
		for i, v := range want.Channels[c] {
			if math.Abs(v-rec.Channels[c][i]) > 1e-6 {
				return s, fmt.Errorf("the sweep was changed after it was written: sample %d is another", i+1)
			}
		}
	}
	return s, nil
}
