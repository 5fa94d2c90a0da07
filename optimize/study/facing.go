package study

import (
	"context"
	"fmt"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/search"
)

// face adds to a result what facing other walls gives, where the project asks for it. After a
// search that was stopped it leaves that out.
func (s *Study) face(ctx context.Context, r *optimize.Result, settings PlaceSettings) error {
	walls := len(s.Project.Listening.AlsoFace)
	if walls == 0 || r.Stopped == search.Cancelled || r.Stopped == search.OutOfTime {
		return nil
	}
	turned := 0
	facings, err := optimize.Facings(ctx, s.Project, func(p *model.Project) (model.Engine, optimize.Settings, error) {
		turned++
		other, err := New(ctx, s.Kind, p)
		if err != nil {
			return nil, optimize.Settings{}, err
		}
		search := other.search(settings)
		search.Progress = other.part("facing other walls", settings.Progress, turned-1, walls)
		return other.Engine, search, nil
	})
	if ctx.Err() != nil {
		return nil
	}
	if err != nil {
		return fmt.Errorf("facing other walls: %w", err)
	}
	r.Facings = facings
	return nil
}
