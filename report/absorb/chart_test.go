package absorb

import (
	"encoding/json"
	"math"
	"testing"

	"evenbass/model/material"
	"evenbass/report/unit"
)

// absorptionDoc is what the tests read of a chart of absorption.
type absorptionDoc struct {
	XAxis []struct {
		Type      string
		Min, Max  float64
		AxisLabel struct{ CustomValues []float64 } `json:"axisLabel"`
	} `json:"xAxis"`
	YAxis  []struct{ Min, Max, Interval float64 } `json:"yAxis"`
	Series []struct {
		Name      string
		LineStyle struct {
			Color, Type    string
			Width, Opacity *float64
		} `json:"lineStyle"`
		AreaStyle *struct{ Opacity float64 } `json:"areaStyle"`
		Data      []struct{ Value [2]float64 }
		MarkPoint struct {
			Data []struct {
				Name  string
				Coord [2]float64
			}
		} `json:"markPoint"`
	}
}

func absorptionDocs(t *testing.T, a *Report) [2]absorptionDoc {
	t.Helper()
	var docs [2]absorptionDoc
	for i, inc := range incidences() {
		b, err := newChart(a, inc)
		if err != nil {
			t.Fatal(err)
		}
		if err := json.Unmarshal(b, &docs[i]); err != nil {
			t.Fatal(err)
		}
	}
	return docs
}

// The axes: 20 Hz to 5 kHz by octaves, 0 to 1 by fifths.
func TestAbsorptionAxes(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	for _, doc := range absorptionDocs(t, &a) {
		x, y := doc.XAxis[0], doc.YAxis[0]
		if x.Type != "log" || x.Min != 20 || x.Max != 5000 || y.Max != 1 || y.Interval != 0.2 {
			t.Errorf("axes %+v, %+v", x, y)
		}
		marks := x.AxisLabel.CustomValues
		for i := 2; i < len(marks)-1; i++ { // 31.5 is ISO 266's name for 31.6
			if ratio := marks[i] / marks[i-1]; math.Abs(ratio-2) > 0.02 {
				t.Errorf("%v is no octave above %v", marks[i], marks[i-1])
			}
		}
	}
}

// For every build-up a band and a curve: the band runs along high and back along low,
// has no name and no line; the curve is the typical value, with its letter on it; no
// two curves look alike.
func TestAbsorptionCurves(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	for len(a.BuildUps) < MaxBuildUps {
		a.BuildUps = append(a.BuildUps, a.BuildUps[0])
	}
	n := len(absorptionGrid())
	for k, doc := range absorptionDocs(t, &a) {
		if len(doc.Series) != 2*MaxBuildUps {
			t.Fatalf("%d series", len(doc.Series))
		}
		looks := map[string]bool{}
		for i := range a.BuildUps {
			spans := [2][]material.Span{a.BuildUps[i].Figure.Random, a.BuildUps[i].Figure.Normal}[k]
			band, curve := doc.Series[i], doc.Series[MaxBuildUps+i]
			if band.Name != "" || band.AreaStyle == nil || band.LineStyle.Opacity == nil || *band.LineStyle.Opacity != 0 || len(band.Data) != 2*n {
				t.Errorf("band %d: %+v", i, band)
			}
			letter := a.letter(i)
			if curve.Name != letter || len(curve.Data) != n || curve.MarkPoint.Data[0].Name != letter {
				t.Errorf("curve %d is %q with %d points and %+v", i, curve.Name, len(curve.Data), curve.MarkPoint)
			}
			on := false
			for j := range n {
				on = on || curve.Data[j].Value == curve.MarkPoint.Data[0].Coord
				if curve.Data[j].Value[1] != unit.Round(spans[j].Typical, 4) || band.Data[j].Value[1] != unit.Round(spans[j].High, 4) ||
					band.Data[2*n-1-j].Value[1] != unit.Round(spans[j].Low, 4) || band.Data[j].Value[0] != band.Data[2*n-1-j].Value[0] {
					t.Fatalf("build-up %s at %v Hz: curve %v, band %v", letter, curve.Data[j].Value[0], curve.Data[j], band.Data[j])
				}
			}
			if !on {
				t.Errorf("the letter %s stands beside its curve", letter)
			}
			look := curve.LineStyle.Type + map[bool]string{true: " fine"}[*curve.LineStyle.Width < 2]
			if looks[look] {
				t.Errorf("two curves are %s, and differ by colour alone", look)
			}
			looks[look] = true
		}
	}
}
