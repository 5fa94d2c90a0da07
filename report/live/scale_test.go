package live

import (
	"math"
	"testing"

	"github.com/chromedp/chromedp"

	"evenbass/model/response"
	"evenbass/report/reporttest"
)

// testScale plays the scale of the first layout: silent until asked, quiet then, and as loud note against note
// as the program's own curve.
func testScale(t *testing.T, b *reporttest.Tab, r *Report) {
	reporttest.Value[bool](t, b, `document.getElementById("live-reset").click(), true`)
	if reporttest.Value[bool](t, b, `live.trial.scale.context != null || live.trial.scale.tones.length > 0`) {
		t.Error("it sounds before anybody asked")
	}
	press := func(value string) [][2]float64 {
		b.Run(t, chromedp.Click(chromedp.CSS(`#live-scale button[value="`+value+`"]`)))
		return reporttest.Value[[][2]float64](t, b, `live.trial.scale.tones.map(t => [t.hz, t.gain])`)
	}
	tones := press("first")
	if len(tones) != 24 || math.Abs(tones[0][0]-46.249) > 0.001 { // two octaves of semitones from 45 Hz: F sharp, as 440 Hz is A
		t.Fatalf("%d notes: %v", len(tones), tones)
	}
	judged, grid := r.Layouts[0].Judgement.Curves[response.BothTogether], r.Table.Grid()
	level := func(hz float64) float64 {
		i := 1
		for i < len(grid)-1 && grid[i] < hz {
			i++
		}
		share := math.Log(hz/grid[i-1]) / math.Log(grid[i]/grid[i-1])
		return float64(judged[i-1]) + share*float64(judged[i]-judged[i-1])
	}
	loudest := 0.0
	for _, tone := range tones {
		loudest = max(loudest, tone[1])
		want, got := level(tone[0])-level(tones[0][0]), 20*math.Log10(tone[1]/tones[0][1])
		if math.Abs(got-want) > 0.3 {
			t.Errorf("%.1f Hz sounds %.2f dB above the first note, the program says %.2f dB", tone[0], got, want)
		}
	}
	if loudest > 0.1 {
		t.Errorf("a first note of %.2f of full scale is not quiet", loudest)
	}
	if here := press("here"); len(here) != len(tones) {
		t.Errorf("here: %v", here)
	}
	if left := press(""); len(left) != 0 || reporttest.Value[bool](t, b, `live.trial.scale.context != null`) {
		t.Errorf("stopped, it still sounds: %v", left)
	}
	b.Quiet(t)
}
