package measure

import "evenbass/model"

// Grid returns frequencies for the figures of a goal: steps of 1/48 octave or 0.5 Hz, over the
// range that predictions cover too, as far as the data reach.
func (m *Measurement) Grid() model.Grid {
	usual := model.DefaultGrid()
	limits := m.Limits()
	from, to := max(usual[0], limits.Min), min(usual[len(usual)-1], limits.Max)
	if !(to > from) {
		return nil
	}
	return model.NewGrid(from, to, 48, 0.5)
}

// Covered returns the part of a goal that the data cover: its band may be narrower.
func (m *Measurement) Covered(goal model.Goal) model.Goal {
	if grid := m.Grid(); grid != nil {
		goal.From, goal.To = max(goal.From, grid[0]), min(goal.To, grid[len(grid)-1])
	}
	return goal
}
