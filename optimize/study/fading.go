package study

import (
	"evenbass/model"
	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/optimize"
	"evenbass/optimize/score"
)

// Fading is how long each tone stays at the main seat with both speakers together.
type Fading struct {
	Now  *spectraldecay.Signal // nil without present places
	Best *spectraldecay.Signal // of the first layout; nil if its decays were not read
}

// fading reads how long tones stay off the transfers that the decays were read off.
func (s *Study) fading(r *optimize.Result) (f Fading, err error) {
	if r.Now != nil {
		if f.Now, err = fadingOf(s.Project, r.Now); err != nil {
			return f, err
		}
	}
	f.Best, err = fadingOf(s.Project, &r.Candidates[0])
	return f, err
}

func fadingOf(p *model.Project, c *score.Candidate) (*spectraldecay.Signal, error) {
	if len(c.OverDecays.Left) == 0 {
		return nil, nil
	}
	grid := response.DecayGrid()
	return spectraldecay.Transfer(grid, c.OverDecays.Through(p.Speakers.RollOff(), grid).Of(response.BothTogether), p.Room.Air())
}
