package optimize

import (
	"runtime"

	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// Effort is how many fields a search asks for, as counted beforehand, and what it does
// between them.
type Effort struct {
	Wide  int      // fields of the wide engine; 0 if there is none
	First []r3.Vec // the seats of the first of them, as many as there are cores
	Exact int      // fields of the engine itself, at most, roughly

	Ratings int     // layouts that a wide search rates, at most, roughly; 0 without a wide engine
	Sums    float64 // numbers that are weighed and added up for a rating, roughly
}

// polishRatings is how many layouts the polish of one find rates: in the demo rooms it was
// 100 to 300.
const polishRatings = 300

// EffortOf returns the effort of [Place] with these settings. It fails as Place does.
func EffortOf(p *model.Project, e model.Engine, s Settings) (Effort, error) {
	s = s.withDefaults()
	problem, err := newProblem(p)
	if err != nil {
		return Effort{}, err
	}
	d := problem.domain(s.Displacement)
	heads := len(headBox(r3.Vec{}, r3.Vec{})) * len(others(p))
	// The layouts and what stands now take three each, the latter a fourth.
	effort := Effort{Exact: 3*(s.Layouts+1) + 1}
	if s.Wide == nil {
		effort.Exact += heads
		b, err := newBanded(e, p.Goal)
		if err != nil {
			return Effort{}, err
		}
		for t := range tables(b, d) {
			effort.Exact += len(t.seats.places())
		}
		return effort, nil
	}
	b, err := newBanded(s.Wide, p.Goal)
	if err != nil {
		return Effort{}, err
	}
	t := wideTable(b, d)
	if t == nil {
		return Effort{}, zonesTooLarge(s.Wide)
	}
	seats := t.seats.places()
	effort.Wide, effort.First = len(seats)+heads, seats[:min(len(seats), runtime.GOMAXPROCS(0))]
	effort.Exact += (refinedPerLayout+2)*s.Layouts + len(others(p))
	if len(others(p)) > 0 {
		effort.Exact += wideFrontPoints
	}
	effort.Ratings = s.Population*s.Generations + 4*s.Layouts*polishRatings
	effort.Sums = t.sums(heads)
	return effort, nil
}
