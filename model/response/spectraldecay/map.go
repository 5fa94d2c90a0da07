package spectraldecay

import (
	"math"
	"math/cmplx"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
)

// Map is the level of a tone over its frequency and the time since it stops.
type Map struct {
	Grid   model.Grid      // Hz, in steps of 1/96 octave
	Times  []float64       // s, from 0 on
	Levels [][]model.Level // dB, by time, then by frequency
	Noise  []model.Level   // the level at which noise would stand, dB, by frequency; nil is not known
}

// periods is how many of its own periods a tone takes to fade.
const periods = 5.0

// Fade returns the time in s in which the tone itself falls by 20 dB at a frequency in Hz: the
// least that a map resolves.
func Fade(f float64) float64 { return periods / f * math.Acos(2*0.1-1) / math.Pi }

// Settings say over what time a map reaches. The zero value is 0.6 s in steps of 10 ms.
type Settings struct {
	Long float64 // s
	Step float64 // s
}

// New returns the map of a signal.
func New(s *Signal, set Settings) *Map {
	if set.Long == 0 {
		set.Long = 0.6
	}
	if set.Step == 0 {
		set.Step = 0.01
	}
	m := &Map{Grid: model.NewGrid(s.from, s.to, 96, 0)}
	for i := range int(math.Round(set.Long/set.Step)) + 1 {
		m.Times = append(m.Times, float64(i)*set.Step)
	}
	powers := make([][]float64, len(m.Grid)) // by frequency, then time; the noise last
	concurrent.Each(len(m.Grid), func(i int) error {
		powers[i] = s.powers(m.Grid[i], m.Times)
		return nil
	})
	smoother := response.NewSmoother(m.Grid, 24)
	row := func(t int) []model.Level {
		power := make([]float64, len(m.Grid))
		for i := range power {
			power[i] = powers[i][t]
		}
		list := make([]model.Level, len(power))
		for i, p := range smoother.Power(make([]float64, len(power)), power) {
			list[i] = model.PowerLevel(p)
		}
		return list
	}
	for t := range m.Times {
		m.Levels = append(m.Levels, row(t))
	}
	if s.tail > 0 {
		m.Noise = row(len(m.Times))
	}
	return m
}

// powers returns the power of a tone at each time, then that of the noise.
func (s *Signal) powers(f float64, times []float64) []float64 {
	n := len(s.values)
	turned := make([]complex128, n)
	rest := make([]complex128, n+1) // of turned, from each place to the end
	turn := cmplx.Rect(1, -2*math.Pi*f*s.step)
	at := complex(1, 0)
	for i, v := range s.values {
		turned[i] = v * at
		if at *= turn; i%256 == 255 {
			at = cmplx.Rect(1, -math.Mod(2*math.Pi*f*s.step*float64(i+1), 2*math.Pi))
		}
	}
	for i := n - 1; i >= 0; i-- {
		rest[i] = rest[i+1] + turned[i]
	}
	list := make([]float64, len(times), len(times)+1)
	long := periods / f
	for k, t := range times {
		whole := s.index(t)
		sum := rest[whole]
		for i := s.index(t - long); i < whole; i++ {
			u := t - s.first - float64(i)*s.step
			sum += turned[i] * complex((1+math.Cos(math.Pi*u/long))/2, 0)
		}
		list[k] = square(sum) * s.step * s.step
	}
	if s.tail > 0 {
		// Noise adds by power, so that it grows with the time that it is gathered for.
		list = append(list, square(rest[n-s.tail])*s.step*s.step*float64(n)/float64(s.tail))
	}
	return list
}

// index returns the first value at a time or later.
func (s *Signal) index(t float64) int {
	return max(0, min(len(s.values), int(math.Ceil((t-s.first)/s.step-1e-9))))
}

func square(v complex128) float64 { return real(v)*real(v) + imag(v)*imag(v) }

// Below returns, by frequency, the time in s after which the level stays below a threshold in
// dB; 0 if it never reaches it, +Inf if it does not sink below it within the map.
func (m *Map) Below(threshold model.Level) []float64 {
	list := make([]float64, len(m.Grid))
	for i := range m.Grid {
		list[i] = math.Inf(1)
		for t := len(m.Times) - 1; t >= 0; t-- {
			above := m.Levels[t][i] - threshold
			if above < 0 {
				list[i] = m.Times[t]
				continue
			}
			if t+1 < len(m.Times) {
				under := m.Levels[t+1][i] - threshold
				list[i] = m.Times[t] + (m.Times[t+1]-m.Times[t])*float64(above/(above-under))
			}
			break
		}
	}
	return list
}
