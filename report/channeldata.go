package report

import (
	"evenbass/model"
	"evenbass/model/response"
)

// wallsDoc is the spread with walls that absorb as little and as much as they may.
type wallsDoc struct {
	Hard fixed `json:"hard"`
	Soft fixed `json:"soft"`
}

type channelsDoc struct {
	Left  channelDoc `json:"left"`
	Right channelDoc `json:"right"`
	Both  channelDoc `json:"both"`
}

type channelDoc struct {
	Spread    fixed      `json:"spread_db"`
	Deviation fixed      `json:"deviation_db"`
	Mean      fixed      `json:"mean_db"`
	Highest   extremeDoc `json:"highest"`
	Lowest    extremeDoc `json:"lowest"`
	Reach     fixed      `json:"reach_hz"`
	Level     []fixed    `json:"level_db"`
}

type extremeDoc struct {
	Frequency fixed `json:"frequency_hz"`
	Level     fixed `json:"level_re_mean_db"`
}

func newChannelDoc(f response.Figures, curve []model.Level) channelDoc {
	d := channelDoc{
		Spread: decibel(f.Spread), Deviation: decibel(f.Deviation), Mean: decibel(f.Mean), Reach: hertz(f.Reach),
		Highest: extremeDoc{hertz(f.Highest.Frequency), decibel(f.Highest.Level)},
		Lowest:  extremeDoc{hertz(f.Lowest.Frequency), decibel(f.Lowest.Level)},
		Level:   make([]fixed, len(curve)),
	}
	for i, l := range curve {
		d.Level[i] = decibel(l)
	}
	return d
}
