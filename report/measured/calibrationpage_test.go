package measured

import (
	"io"
	"math"
	"testing"

	"github.com/chromedp/chromedp"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	fit "evenbass/model/measure/calibration"
	"evenbass/report/calibration"
	"evenbass/report/html"
	"evenbass/report/reporttest"
)

// learned is a calibration with one measurement, of which a ripple of 4 dB is left with 0.5 dB.
func learned(name string) Calibration {
	wall := model.Surface{Construction: "brick plastered"}
	p := &model.Project{
		Room: model.Room{Name: name, Size: r3.Vec{X: 4.2, Y: 3.39, Z: 2.4}, Walls: [6]model.Surface{wall, wall, wall, wall, wall, wall}},
		Goal: model.Goal{From: 30, To: 300, Smoothing: 12},
	}
	one := fit.MeasurementFit{Name: name, Complex: true, Before: 2.8, After: 0.35, Grid: model.NewGrid(20, 225, 24, 2.5)}
	for _, f := range one.Grid {
		one.Was, one.Is = append(one.Was, model.Level(4*math.Sin(f/9))), append(one.Is, model.Level(0.5*math.Cos(f/5)))
	}
	r := &fit.Result{Engine: model.ModeEngine, Mismatch: 0.8, Calibration: model.Calibration{Seats: 1, Before: 2.8, After: 0.35}, Fits: []fit.MeasurementFit{one}}
	for i := range r.Walls {
		r.Walls[i] = model.WallFit{Shift: model.Fitted{Value: 0, Deviation: 0.2}, Slope: model.Fitted{Value: 0, Deviation: 0.2}}
	}
	r.Calibration.Size = [3]model.Fitted{{Value: 0.002, Deviation: 0.005}, {Value: -0.1, Deviation: 0.01}, {Value: 0.001, Deviation: 0.02}}
	r.Next = []fit.Gain{{Place: fit.Place{Seat: name, At: r3.Vec{X: 3.5, Y: 1.1, Z: 1.05}}, Speakers: []model.Source{model.LeftSpeaker}, Before: 0.9, After: 0.6}}
	return Calibration{Report: calibration.Report{Project: p, Result: r}}
}

// The page says what to measure again, draws what is left, and keeps the names as text.
func TestCalibrationPage(t *testing.T) {
	t.Parallel()
	page := reporttest.Written(t, CalibrationPage, learned("chair"))
	reporttest.CheckHarmless(t, page, reporttest.Written(t, CalibrationPage, learned("chair")), reporttest.Written(t, CalibrationPage, learned(reporttest.Hostile)))
	holds(t, "the page", squeezed(page),
		"your resonance at 52.2 Hz along the width suggests 329 cm", "Calibrated at 1 seat: prediction and measurement differ by 0.3 dB rms, before by 2.8 dB.", "differed by 2.8 dB rms before the calibration and differ by 0.3 dB after it",
		"put the microphone at chair (350 cm from the front wall", "The prediction misses chair by 2.8 dB rms before the calibration and by 0.3 dB after it.",
		`class="curve now"`, `class="curve result"`, "whether the height by tape is right", "from 20 to 225 Hz", "Nothing was written.", "!NaN")
}

// The pages have no barriers, are silent in a browser and no wider than a phone.
func TestBarriers(t *testing.T) {
	t.Parallel()
	list := states()
	browser := reporttest.NewBrowser(t)
	for name, page := range map[string]func(io.Writer) error{
		"measured":    func(w io.Writer) error { return Page(w, Report{Room: "Box", Analyses: list[:2]}) },
		"comparison":  func(w io.Writer) error { return ComparisonPage(w, compared(t, list[0], list[2])) },
		"calibration": func(w io.Writer) error { return CalibrationPage(w, learned("chair")) },
	} {
		t.Run(name, func(t *testing.T) {
			b := reporttest.NewTab(t, browser)
			b.Run(t, chromedp.Navigate(reporttest.File(t, page, html.ErrNoLibrary)))
			b.CheckBarriers(t)
			b.Run(t, chromedp.EmulateViewport(390, 844, chromedp.EmulateScale(2), chromedp.EmulateMobile))
			if width := reporttest.Value[int](t, b, `document.documentElement.scrollWidth`); width > 390 {
				t.Errorf("on a phone the page is %d px wide", width)
			}
			b.Quiet(t)
		})
	}
}
