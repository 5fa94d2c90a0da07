package measured

import (
	"encoding/json"
	"fmt"
	"io"

	"evenbass/model/measure/analysis"
	"evenbass/model/measure/comparison"
	"evenbass/model/response"
	"evenbass/report/recording"
	"evenbass/report/unit"
)

// figureKeys name the figures of a card in JSON, in the order of response.FigureList.
var figureKeys = [len(response.FigureList)]string{
	"spread_db", "deviation_db", "within_6_db_share", "deepest_dip_db", "lowest_octave_db", "worst_fall_20_db_s", "mean_fall_20_db_s",
}

// comparisonData is a comparison as JSON.
type comparisonData struct {
	Before          sideData                          `json:"before"`
	After           sideData                          `json:"after"`
	Goal            goalData                          `json:"goal"`
	Fair            bool                              `json:"fair"`
	Objections      []string                          `json:"objections"`
	OffsetDB        float64                           `json:"offset_db"`
	Aligned         bool                              `json:"aligned"`
	TypicalDB       float64                           `json:"mean_difference_db"`
	Figures         map[string]*figureData            `json:"figures"`
	Difference      []differencePoint                 `json:"difference"`
	PredictedChange map[string]*predictedChangeData   `json:"predicted_change,omitempty"`
	Verdict         string                            `json:"verdict"`
	Decays          map[string][]recording.DecayPoint `json:"decays,omitempty"`
	Modes           map[string][]recording.ModePoint  `json:"modes,omitempty"`
}

type sideData struct {
	Name      string `json:"name"`
	Predicted bool   `json:"predicted"`
	Invented  bool   `json:"invented,omitempty"`
}

type goalData struct {
	From      float64 `json:"from_hz"`
	To        float64 `json:"to_hz"`
	Smoothing int     `json:"smoothing_octave_fraction"`
}

type figureData struct {
	Before     float64 `json:"before"`
	After      float64 `json:"after"`
	Mark       string  `json:"mark"`
	Resolution float64 `json:"resolution"`
}

type predictedChangeData struct {
	Predicted float64 `json:"predicted"`
	Low       float64 `json:"low"`
	High      float64 `json:"high"`
	Measured  float64 `json:"measured"`
	Outcome   string  `json:"outcome"`
}

type differencePoint struct {
	Hz float64 `json:"hz"`
	DB float64 `json:"db"`
}

// ComparisonJSON writes a comparison as JSON. Frequencies are in Hz, levels in dB, times in s.
func ComparisonJSON(w io.Writer, r Comparison) error {
	c := r.Result
	d := comparisonData{
		Before: sideData{r.Names[0], isPredicted(c.Before), isInvented(c.Before)}, After: sideData{r.Names[1], isPredicted(c.After), isInvented(c.After)},
		Goal: goalData{c.Goal.From, c.Goal.To, c.Goal.Smoothing}, Fair: c.Fair(), Objections: []string{},
		OffsetDB: unit.Round(float64(c.Offset), 3), Aligned: c.Aligned, TypicalDB: unit.Round(float64(c.Typical), 3),
		Figures: map[string]*figureData{}, Verdict: r.headline(),
		Decays: map[string][]recording.DecayPoint{}, Modes: map[string][]recording.ModePoint{},
	}
	for _, o := range c.Objections {
		d.Objections = append(d.Objections, r.objectionText(o))
	}
	for f, change := range c.Figures {
		d.Figures[figureKeys[f]] = nil
		if change.Known {
			d.Figures[figureKeys[f]] = &figureData{unit.Round(change.Before, 4), unit.Round(change.After, 4), change.Mark.String(), unit.Round(c.Resolution[f], 4)}
		}
	}
	if r.PredictedChange != nil {
		d.PredictedChange = map[string]*predictedChangeData{}
		for f, k := range r.PredictedChange.Figures {
			if k.Outcome != comparison.NotKnown {
				d.PredictedChange[figureKeys[f]] = &predictedChangeData{unit.Round(k.Predicted, 4), unit.Round(k.Low, 4), unit.Round(k.High, 4), unit.Round(k.Measured, 4), outcomes[k.Outcome]}
			}
		}
	}
	for i, f := range c.Grid {
		d.Difference = append(d.Difference, differencePoint{unit.Round(f, 3), unit.Round(float64(c.Difference[i]), 3)})
	}
	for side, a := range map[string]*analysis.Analysis{"before": c.Before, "after": c.After} {
		if a.Decays != nil {
			d.Decays[side] = recording.DecayPoints(a)
		}
		if a.Modes != nil {
			d.Modes[side] = recording.ModePoints(a)
		}
	}
	e := json.NewEncoder(w)
	e.SetIndent("", "  ")
	if err := e.Encode(d); err != nil {
		return fmt.Errorf("report: %w", err)
	}
	return nil
}
