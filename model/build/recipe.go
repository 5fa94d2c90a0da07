package build

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/material/absorber"
)

// recipe is what a treatment's layers are made of.
type recipe struct {
	plies  []ply
	films  []int // indexes into the plan's films, one a layer of film
	boards []model.Layer
	gap    float64 // air, m
	depth  float64 // of all but the air, as the batts make it, m
}

// recipe finds what the layers of a treatment are made of, and notes what differs from the request.
func (m *maker) recipe(i int) (recipe, error) {
	var r recipe
	t := &m.project.Room.Treatments[i]
	for _, l := range t.Layers {
		switch absorber.FormOf(l) {
		case absorber.Wool:
			if t.Form == model.InCorner {
				l.Thickness = 0
			}
			plies, note, err := m.plies(l)
			if err != nil {
				return r, err
			}
			if note != nil {
				m.note(i, note...)
			}
			r.plies = append(r.plies, plies...)
			for _, p := range plies {
				r.depth += float64(p.count) * m.plan.Batts[p.batt].Batt.Layer.Thickness
			}
		case absorber.Film:
			film, err := m.film(i, l)
			if err != nil {
				return r, err
			}
			r.films = append(r.films, film)
		case absorber.Air:
			r.gap += l.Thickness
		default:
			r.boards = append(r.boards, l)
			r.depth += l.Thickness
		}
	}
	if len(r.boards) > 0 {
		m.note(i, "its boards are listed by size, not laid out on sheets")
	}
	return r, nil
}

// filmMass is the mass of a film, kg/m².
func filmMass(l model.Layer) (float64, error) {
	s, _, err := absorber.NewStack([]model.Layer{l}, nil)
	if err != nil {
		return 0, err
	}
	kg, _ := s.Weights()
	return kg[0], nil
}

// assumedRoll is how wide film is taken to be, m. Common practice, no source.
const assumedRoll = 2.0

// film chooses the roll whose mass is nearest to what a layer asks for; without rolls
// it assumes one.
func (m *maker) film(treatment int, l model.Layer) (int, error) {
	asked, err := filmMass(l)
	if err != nil {
		return 0, err
	}
	best, off := -1, math.Inf(1)
	for i, f := range m.plan.Films {
		mass, err := filmMass(f.Roll.Layer)
		if err != nil {
			return 0, err
		}
		if d := math.Abs(math.Log(mass / asked)); d < off && (!f.Assumed || d < 0.01) {
			best, off = i, d
		}
	}
	if best < 0 {
		m.note(-1, "the stock has no film by the roll: planned with rolls ", Metres(assumedRoll), " wide, and the length alone is listed")
		m.plan.Films = append(m.plan.Films, RollUse{Roll: model.Roll{Layer: l, Width: assumedRoll}, Assumed: true})
		return len(m.plan.Films) - 1, nil
	}
	if off > math.Log(alike) {
		m.note(treatment, fmt.Sprintf("no film has the %.3g kg/m² asked for; %s is the nearest", asked, m.plan.Films[best].Roll.Title()))
	}
	return best, nil
}
