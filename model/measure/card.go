package measure

import (
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
)

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

// Card returns the figures of the measurement by the recipe of predictions. Its goal is what
// the data cover of the one asked for; less than an octave is an error. The fall comes from an
// impulse response that covers [response.DecayGrid]; else it is not computed.
func (m *Measurement) Card(goal model.Goal) (response.Card, error) {
	covered := m.Covered(goal)
	if !(covered.To >= 2*covered.From) {
		limits := m.Limits()
		return response.Card{}, fmt.Errorf("the data hold from %.4g to %.4g Hz, less than an octave of the goal %v", limits.Min, limits.Max, goal)
	}
	air := m.Air()
	p, err := m.Transfer(m.Grid(), air)
	if err != nil {
		return response.Card{}, err
	}
	return response.NewReader(m.Grid(), air, covered).ChannelCard(m.channel(), p, m.falls()), nil
}

// falls returns the decays; nil if the data cannot tell them.
func (m *Measurement) falls() []response.Decay {
	grid := response.DecayGrid()
	if m.Impulse == nil || len(m.Within(grid)) != len(grid) {
		return nil
	}
	p, err := m.Transfer(grid, m.Air())
	if err != nil {
		return nil
	}
	return response.NewDecayReader().Read(p)
}

// channel returns what played as a channel of a pair; subwoofers play what both play.
func (m *Measurement) channel() response.Channel {
	switch m.Speaker {
	case model.LeftSpeaker:
		return response.LeftAlone
	case model.RightSpeaker:
		return response.RightAlone
	}
	return response.BothTogether
}
