package measured

import (
	"fmt"
	"io"

	"evenbass/model"
	fit "evenbass/model/measure/calibration"
	"evenbass/report/calibration"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Calibration is what measurements taught the prediction, for a page.
type Calibration struct {
	calibration.Report
	Run html.Run
}

// mostDrawn is how many measurements are drawn; all are in the table.
const mostDrawn = 8

// CalibrationPage writes what measurements taught the prediction as one HTML file that needs no network. The
// same calibration gives the same bytes.
func CalibrationPage(w io.Writer, r Calibration) error {
	words, err := calibration.NewWords(r.Report)
	if err != nil {
		return err
	}
	v := &view{
		Headline: r.headline(), Lines: []string{words.Headline}, Card: words.Fits,
		Frame: html.Frame{
			Heading: text.RoomName(r.Project.Room.Name), About: "calibration", Kicker: "What the measurements taught",
			Facts: html.Facts(r.Run, "fitted to measurements"),
		},
	}
	for _, line := range words.Tape {
		v.Lines = append(v.Lines, "Check with the tape: "+line+".")
	}
	if len(words.Tape) == 0 {
		v.Lines = append(v.Lines, "Tape: no size or place seems wrong.")
	}
	v.Lines = append(v.Lines, words.Others...)
	if words.Teaching != "" {
		v.Lines = append(v.Lines, words.Teaching)
	}
	v.Lines = append(v.Lines, words.Next)
	v.Sections = append(v.Sections, r.residuals(), section{ID: "walls", Title: "Walls", Tables: []text.Table{words.Walls}, List: words.WallLines})
	limits := section{ID: "limits", Title: "What these measurements cannot tell", List: append(words.Unknown, text.WarningSentences(r.Result.Warnings, r.Style)...)}
	if len(limits.List) > 0 {
		v.Sections = append(v.Sections, limits)
	}
	v.Sections = append(v.Sections, section{ID: "recipe", Title: "How the figures are made", List: []string{
		fmt.Sprintf("Levels: power means over 1/6 octave from %s, in steps of 1/24 octave and at most 2.5 Hz. Phases count where the measurement has a time reference.", bandText(r.Result.Fits)),
		"Fit: damped Gauss-Newton steps (Levenberg 1944; Marquardt 1963) from the usual absorption of each construction, with the range of the construction as prior.",
		"Ranges (±): standard deviations of what is left unknown (Tarantola, Inverse Problem Theory, 2005, section 3.2).",
	}})
	v.SetRun(r.Run, "room file and measurements")
	return v.write(w)
}

// headline says what the calibration brought.
func (r Calibration) headline() string {
	c := &r.Result.Calibration
	return fmt.Sprintf("Calibrated at %s: prediction and measurement differ by %s rms, before by %s.", text.Count(c.Seats, "seat"), unit.Difference(c.After), unit.Difference(c.Before))
}

// residuals draws by how much the prediction misses each measurement, before and after.
func (r Calibration) residuals() section {
	s := section{
		ID: "residuals", Title: "Prediction less measurement",
		Lead: "Dashed: before the calibration. Solid: after it. At zero both agree; the goal's band is shaded.",
	}
	for i, one := range r.Result.Fits {
		if i == mostDrawn {
			s.Note = fmt.Sprintf("The first %d measurements are drawn; the table above lists all %d.", mostDrawn, len(r.Result.Fits))
			break
		}
		name := text.Shortened(text.Printable(one.Name), 60)
		s.Graphs = append(s.Graphs, svg.NewPair(func(form svg.Form) *svg.Drawing {
			g := svg.Graph{
				ID: form.Name(fmt.Sprintf("residual-%d", i+1)), Form: form, Goal: r.Project.Goal, Title: name + ": prediction less measurement",
				Desc: fmt.Sprintf("The prediction misses %s by %s rms before the calibration and by %s after it.", name, unit.Difference(one.Before), unit.Difference(one.After)),
				Traces: []svg.Trace{
					{Class: "now", X: one.Grid, Y: floats(one.Was)}, {Class: "result", X: one.Grid, Y: floats(one.Is)},
				},
				Scale: svg.Scale{Low: -15, High: 15, Step: 5, Unit: "dB", Height: 190},
			}
			return g.Drawing()
		}))
	}
	return s
}

// bandText is the band of all that was fitted.
func bandText(fits []fit.MeasurementFit) string {
	var band model.Range
	for _, one := range fits {
		if n := len(one.Grid); n > 0 {
			if band.Max == 0 || one.Grid[0] < band.Min {
				band.Min = one.Grid[0]
			}
			band.Max = max(band.Max, one.Grid[n-1])
		}
	}
	return fmt.Sprintf("%.0f to %.0f Hz", band.Min, band.Max)
}

func floats(list []model.Level) []float64 {
	out := make([]float64, len(list))
	for i, l := range list {
		out[i] = float64(l)
	}
	return out
}
