package optimize

import (
	"context"
	"errors"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
)

// Facing is the best layout for a listener who faces one of the walls.
type Facing struct {
	Wall    model.Face         // of the room as its file has it
	Project *model.Project     // turned, so that this wall is the front wall
	Best    *score.Candidate   // in the coordinates of Project; nil if nothing fits
	Failure *search.Infeasible // why nothing fits; nil if something does
}

// Turned returns the layout in the coordinates of the project before it was turned; its left
// and right stay those of the listener.
func (f *Facing) Turned(p *model.Project) model.Layout {
	l := f.Best.Layout
	l.Left, l.Right, l.Seat = p.FromFacing(f.Wall, l.Left), p.FromFacing(f.Wall, l.Right), p.FromFacing(f.Wall, l.Seat)
	return l
}

// Facings searches for the best places with the listener facing each of the walls that the
// project also allows, one after another. Room returns the engine for the room turned and
// the settings of its search, of which Layouts is ignored. In a turned room no speakers have
// a present place. Where nothing fits, Failure says so and there is no error. Otherwise
// Facings fails as [Place] does; it keeps nothing of a search that was stopped.
func Facings(ctx context.Context, p *model.Project, room func(*model.Project) (model.Engine, Settings, error)) ([]Facing, error) {
	var list []Facing
	for _, wall := range p.Listening.AlsoFace {
		f := Facing{Wall: wall, Project: p.Facing(wall)}
		f.Project.Speakers.Placed = false
		e, s, err := room(f.Project)
		if err != nil {
			return nil, err
		}
		s.Layouts = 1
		r, err := Place(ctx, f.Project, e, s)
		var none *search.Infeasible
		switch {
		case errors.As(err, &none):
			f.Failure = none
		case err != nil:
			return nil, err
		default:
			f.Best = &r.Candidates[0]
		}
		list = append(list, f)
	}
	return list, nil
}
