package data

import (
	"evenbass/model"
	"evenbass/model/response"
)

// Walls is the spread with walls that absorb as little and as much as is likely.
type Walls struct {
	Hard Fixed `json:"hard"`
	Soft Fixed `json:"soft"`
}

type Channels struct {
	Left  Channel `json:"left"`
	Right Channel `json:"right"`
	Both  Channel `json:"both"`
}

type Channel struct {
	Spread    Fixed   `json:"spread_db"`
	Deviation Fixed   `json:"deviation_db"`
	Mean      Fixed   `json:"mean_db"`
	Highest   Extreme `json:"highest"`
	Lowest    Extreme `json:"lowest"`
	Reach     Fixed   `json:"reach_hz"`
	Level     []Fixed `json:"level_db"`
}

type Extreme struct {
	Frequency Fixed `json:"frequency_hz"`
	Level     Fixed `json:"level_re_mean_db"`
}

func NewChannel(f response.Figures, curve []model.Level) Channel {
	d := Channel{
		Spread: Decibel(f.Spread), Deviation: Decibel(f.Deviation), Mean: Decibel(f.Mean), Reach: Hertz(f.Reach),
		Highest: Extreme{Hertz(f.Highest.Frequency), Decibel(f.Highest.Level)},
		Lowest:  Extreme{Hertz(f.Lowest.Frequency), Decibel(f.Lowest.Level)},
		Level:   make([]Fixed, len(curve)),
	}
	for i, l := range curve {
		d.Level[i] = Decibel(l)
	}
	return d
}
