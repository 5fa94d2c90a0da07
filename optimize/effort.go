package optimize

import (
	"runtime"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"
)

// Effort estimates how many fields a search asks for, and what it computes between them.
type Effort struct {
	Wide  int      // fields of the wide engine; 0 without one
	First []r3.Vec // the seats of the first of these, one a core
	Exact int      // fields of the engine itself, at most and roughly

	Ratings int     // layouts that a wide search rates, at most and roughly; 0 without a wide engine
	Sums    float64 // numbers weighted and added for each rating, roughly
}

// polishRatings is how many layouts the polish of one find rates: 100 to 300 in the demo
// rooms.
const polishRatings = 300

// EffortOf returns the effort of [Place] with these settings. It fails as Place does.
func EffortOf(p *model.Project, e model.Engine, s Settings) (Effort, error) {
	s = s.withDefaults()
	problem, err := search.NewProblem(p)
	if err != nil {
		return Effort{}, err
	}
	d := problem.Domain(s.Displacement, score.LeanDistance)
	seatFields := len(score.AroundSeat(r3.Vec{}, r3.Vec{})) * len(score.OtherSeats(p))
	// Each layout shown takes three fields, and the present one a fourth.
	effort := Effort{Exact: 3*(s.Layouts+1) + 1}
	if s.Wide == nil {
		effort.Exact += seatFields
		b, err := score.NewBand(e, p.Goal)
		if err != nil {
			return Effort{}, err
		}
		for t := range table.Finer(b, d) {
			effort.Exact += len(t.Seats.Places())
		}
		return effort, nil
	}
	b, err := score.NewBand(s.Wide, p.Goal)
	if err != nil {
		return Effort{}, err
	}
	t := table.Wide(b, d)
	if t == nil {
		return Effort{}, zonesTooLarge(s.Wide)
	}
	seats := t.Seats.Places()
	effort.Wide, effort.First = len(seats)+seatFields, seats[:min(len(seats), runtime.GOMAXPROCS(0))]
	effort.Exact += (refinedPerLayout+2)*s.Layouts + len(score.OtherSeats(p))
	if len(score.OtherSeats(p)) > 0 {
		effort.Exact += wideFrontPoints
	}
	effort.Ratings = s.Population*s.Generations + 4*s.Layouts*polishRatings
	effort.Sums = t.Sums(seatFields)
	return effort, nil
}
