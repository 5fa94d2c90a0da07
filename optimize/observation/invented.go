package observation

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/measure"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/uncertainty"
)

// Invented is a pair of synthetic measurements for trying the program out: the main seat of a room before and
// after it was treated, from left, right and both.
type Invented struct {
	Before, After []*measure.Measurement
}

// ErrNoStates says that a room file has no treatments to compare before and after.
var ErrNoStates = errors.New("the room has no treatments, and no option that adds any")

// What is invented beside the room. Our own choice, no source.
const (
	inventedHum   = 50.0 // Hz
	inventedNoise = -38  // dB re the response's mean at 30 Hz; 3 dB less per octave
)

// synthesis is how invented responses are sampled.
func synthesis() measure.Synthesis {
	return measure.Synthesis{Rate: 2000, Step: 0.5, Lead: 0.5, Band: model.Range{Min: 19, Max: 316}, Below: 0.6, Above: 0.08}
}

// Invent computes what a microphone might measure in a room that differs a little from its file: one trial of
// the walls, the wool and the temperature, tape errors of speakers and microphone, two speakers that are not
// quite alike and fall off below their limit, noise and hum. Before is the room without its treatments and
// after with them; for a room without any, before is the room as it is, and after has the first option that
// adds some. The same seed gives the same pair.
func Invent(ctx context.Context, p *model.Project, seed int64, progress model.Progress) (*Invented, error) {
	before, after, err := inventedStates(p)
	if err != nil {
		return nil, err
	}
	if _, ok := p.Now(); !ok {
		return nil, errors.New("the room file does not say where speakers and seat are")
	}
	trial := uncertainty.Trials(1, seed)[0]
	rng := rand.New(rand.NewPCG(uint64(seed), 0x696e76656e74))
	out := &Invented{}
	for i, q := range []*model.Project{before, after} {
		progress.Report("inventing measurements", float64(i)/2)
		list, err := invent(ctx, unlike(q, trial), q, trial, rng)
		if err != nil {
			return nil, err
		}
		if i == 0 {
			out.Before = list
		} else {
			out.After = list
		}
	}
	return out, nil
}

// inventedStates returns the two states of a room.
func inventedStates(p *model.Project) (before, after *model.Project, err error) {
	if furniture := p.Room.Furniture(); len(p.Room.Treatments) > len(furniture) {
		q := *p
		q.Room.Treatments, q.Options = furniture, nil
		return &q, p, nil
	}
	for i := range p.Options {
		if len(p.Options[i].Add) > 0 {
			q, err := p.With(&p.Options[i])
			return p, q, err
		}
	}
	return nil, nil, ErrNoStates
}

// unlike returns a project whose walls, wool and temperature are those of a trial.
func unlike(p *model.Project, trial uncertainty.Trial) *model.Project {
	q := *p
	for f := range q.Room.Walls {
		q.Room.Walls[f] = otherWall(p.Room.Walls[f], trial.Walls[f])
	}
	q.Room.Treatments = slices.Clone(p.Room.Treatments)
	for i := range q.Room.Treatments {
		t := &q.Room.Treatments[i]
		t.Layers = slices.Clone(t.Layers)
		for k := range t.Layers {
			t.Layers[k].Resistivity *= trial.Resistivity()
		}
	}
	if q.Room.Temperature == 0 {
		q.Room.Temperature = model.ReferenceTemperature
	}
	q.Room.Temperature += trial.Temperature
	return &q
}

// otherWall returns a wall that absorbs less or more than is typical of its construction. A wall described by
// figures stays as it is.
func otherWall(s model.Surface, more float64) model.Surface {
	c, known := material.Lookup(s.Construction)
	if !known {
		return s
	}
	const most = 0.95
	var table []model.Absorption
	for i, f := range material.Bands() {
		span := c.Absorption[i]
		a := span.Typical + more*(span.High-span.Typical)
		if more < 0 {
			a = span.Typical + more*(span.Typical-span.Low)
		}
		table = append(table, model.Absorption{Frequency: f, Coefficient: max(0, min(most, a))})
	}
	return model.Surface{Absorption: table}
}

// invent computes the responses of a room at the main seat, labelled as the owner would label them.
func invent(ctx context.Context, room, told *model.Project, trial uncertainty.Trial, rng *rand.Rand) ([]*measure.Measurement, error) {
	s := synthesis()
	now, _ := told.Now()
	off := func() r3.Vec {
		return r3.Vec{X: uncertainty.TapeError * (2*rng.Float64() - 1), Y: uncertainty.TapeError * (2*rng.Float64() - 1)}
	}
	at := now
	at.Left, at.Right = r3.Add(now.Left, trial.Marks[0]), r3.Add(now.Right, trial.Marks[1])
	at.Seat = r3.Add(now.Seat, off())
	moved := *room
	moved.Speakers.Left, moved.Speakers.Right = at.Left, at.Right
	solve := engines.ModalSolver
	if engines.Irregular(&room.Room) != "" {
		solve = engines.WaveSolver()
	}
	engine, err := solve(&moved, s.Grid(), nil)
	if err != nil {
		return nil, err
	}
	if ringing, ok := engine.(*wave.Room); ok {
		engine = ringing.Whole() // a recording holds all that can be heard of the sound
	}
	field, err := engine.Field(ctx, at.Seat)
	if err != nil {
		return nil, err
	}
	speaker := func(transfer []complex128, gain model.Level) []complex128 {
		h := make([]complex128, len(transfer))
		for i, f := range s.Grid() {
			h[i] = transfer[i] / complex(0, f*engine.Air().Density/2) * rollOff(f, told.Speakers.RollOff()) * complex(gain.Ratio(), 0)
		}
		return h
	}
	gain := model.Level(0.4 * (2*rng.Float64() - 1))
	left := speaker(field.Transfer(nil, at.Left), gain)
	right := speaker(field.Transfer(nil, at.Right), gain+model.Level(0.6*(2*rng.Float64()-1)))
	both := make([]complex128, len(left))
	for i := range both {
		both[i] = left[i] + right[i]
	}
	var list []*measure.Measurement
	for i, h := range [][]complex128{left, right, both} {
		list = append(list, inventedMeasurement(s, h, told, model.Sources[i], engine.Info().Kind, rng))
	}
	return list, nil
}

// rollOff returns a speaker's high-pass response with its phase: the high-pass whose level [model.RollOff]
// gives, from the poles of Butterworth 1930.
func rollOff(f float64, r model.RollOff) complex128 {
	if r.Limit == 0 {
		return 1
	}
	x := complex(0, f/r.Limit)
	h := complex128(1)
	for k, n := 0, r.Alignment.Order(); k < n/2; k++ {
		damping := 2 * math.Sin(math.Pi*float64(2*k+1)/float64(2*n))
		h *= x * x / (x*x + complex(damping, 0)*x + 1)
	}
	return h
}

// inventedMeasurement adds noise and hum to a response and says that it is invented.
func inventedMeasurement(s measure.Synthesis, h []complex128, told *model.Project, source model.Source, kind model.EngineKind, rng *rand.Rand) *measure.Measurement {
	var mean float64
	for _, v := range h {
		mean += real(v)*real(v) + imag(v)*imag(v)
	}
	mean = math.Sqrt(mean / float64(len(h)))
	noise := &measure.Table{}
	noisy := slices.Clone(h)
	for i, f := range s.Grid() {
		level := mean * model.Level(inventedNoise).Ratio() * math.Sqrt(30/f)
		if math.Abs(f-inventedHum) < s.Step {
			level *= 4
		}
		noisy[i] += complex(level/math.Sqrt2, 0) * complex(rng.NormFloat64(), rng.NormFloat64())
		if f >= s.Band.Min && f <= s.Band.Max {
			noise.Frequencies, noise.Levels = append(noise.Frequencies, f), append(noise.Levels, model.LevelOf(level))
		}
	}
	seat := told.Seats[0]
	m := &measure.Measurement{
		Seat: seat.Name, Speaker: source, Placed: true, At: seat.At, Date: "never", StateKnown: true, Temperature: told.Room.Temperature,
		Impulse: s.Impulse(noisy), Band: s.Band, Noise: noise, Unsure: measure.GainUnknown,
		Notes: []string{fmt.Sprintf(measure.InventedNote+". Its response is computed (%s), with other walls, wool and temperature than the room file says, with tape errors, noise and hum", kind)},
	}
	for _, t := range told.Room.Treatments {
		if t.Name != "" && !t.Furnished() {
			m.State = append(m.State, t.Name)
		}
	}
	return m
}

// InventCost bounds what [Invent] takes at the very most.
func InventCost(p *model.Project) (engines.Cost, error) {
	before, after, err := inventedStates(p)
	if err != nil {
		return engines.Cost{}, nil // Invent says so
	}
	var sum engines.Cost
	for _, q := range []*model.Project{before, after} {
		if engines.Irregular(&q.Room) == "" {
			continue
		}
		room, err := engines.StandingRoom(q, synthesis().Grid(), nil, nil)
		if err != nil {
			return engines.Cost{}, err
		}
		cost := room.Cost()
		sum.Time += time.Duration(cost.Seconds * float64(time.Second))
		sum.Cells = max(sum.Cells, cost.Cells)
	}
	return sum, nil
}
