package measured

import (
	"fmt"

	"evenbass/model/measure/analysis"
	"evenbass/report/unit"
)

// recipeSection says how every figure was made.
func recipeSection(list ...*analysis.Analysis) section {
	s := section{ID: "recipe", Title: "How the figures are made"}
	goal := list[0].Goal
	s.List = append(s.List,
		fmt.Sprintf("Levels: power means over 1/%d octave. Spread is half the distance from the highest to the lowest within %g–%g Hz; the deviation is taken over lg f.", goal.Smoothing, goal.From, goal.To),
		"Falls: the same filters and fits as for predictions, so that both compare.")
	for _, a := range list {
		if a.Decays == nil {
			continue
		}
		s.List = append(s.List,
			fmt.Sprintf("Levels are read from %s before the sound begins to %s after it; the end fades out over 0.1 s.", unit.Seconds(-a.Window.Start), unit.Seconds(a.Window.End)),
			"Decay times: backward integration in third octaves by a filter without phase; noise subtracted, the part beyond the noise replaced by an exponential (ISO 3382-2; Lundeby et al. 1995). T20 asks for 35 dB above the noise, T30 for 45 dB.",
			"Modes: rotation of the signal space (ESPRIT, Roy & Kailath 1989) in bands of 20 Hz, for several numbers of modes and windows; what most trials agree on is listed.",
			"How long tones stay: cumulative spectra of a tone that fades over five periods (Bunton & Small 1982). Colours are at even distances in OKLab (Ottosson 2020).")
		break
	}
	return s
}
