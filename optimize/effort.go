package optimize

import (
	"evenbass/model"
	"gonum.org/v1/gonum/spatial/r3"
)

// Effort is how many fields a search asks for, as counted beforehand.
type Effort struct {
	Wide  int // of the wide engine; 0 if there is none
	Exact int // of the engine itself, at most, roughly
}

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
	effort := Effort{Exact: 3*(s.Layouts+1) + 1 + heads}
	if len(others(p)) > 0 {
		effort.Exact += 3 * frontPoints
	}
	if s.Wide == nil {
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
	effort.Wide = len(t.seats.places()) + heads
	effort.Exact += (refinedPerLayout + 2) * s.Layouts
	return effort, nil
}
