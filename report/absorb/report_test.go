package absorb

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/rivo/uniseg"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/absorption"
	"evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// fixtureBuildUp computes a build-up on a rigid wall over a grid; its "third octaves"
// are the values at three frequencies, which is enough to look like a table.
func fixtureBuildUp(grid model.Grid, name string, layers ...model.Layer) BuildUp {
	v, doubts, err := absorber.NewVariants(layers, nil)
	if err != nil {
		panic(err)
	}
	words, err := absorber.Explain(layers, nil)
	if err != nil {
		panic(err)
	}
	stack := v.At(material.Typical)
	b := BuildUp{
		Name: name, Wall: "a rigid wall", Layers: stack.Layers(), Depth: stack.Depth(), Figure: v.Curves(grid), Words: words, Warnings: doubts,
	}
	b.Weights, _ = stack.Weights()
	b.HalfFrom, _ = stack.HalfFrom()
	var phrases []string
	for _, l := range layers {
		phrases = append(phrases, l.Text)
	}
	b.Text = strings.Join(phrases, ", ")
	for _, f := range []float64{31.5, 125, 1000} {
		b.Bands = append(b.Bands, absorption.Band{Frequency: f, Normal: v.Normal(f), Random: v.Random(f)})
	}
	b.Sources = []string{"wool: no source but this test"}
	return b
}

func fixtureWool(sigma, d float64) model.Layer {
	return model.Layer{
		Kind: model.PorousLayer, Text: fmt.Sprintf("wool %.0f mm %.0f kPa·s/m²", d*1000, sigma/1000),
		Resistivity: sigma, Thickness: d, Density: 20, Frame: model.FrameFixed,
	}
}

func fixtureFilm() model.Layer {
	return model.Layer{Kind: model.FilmLayer, Text: "film 200 µm", Thickness: 200e-6}
}

func fixtureAbsorption(grid model.Grid) Report {
	return Report{
		Title: "Spare room",
		BuildUps: []BuildUp{
			fixtureBuildUp(grid, "rear layer", fixtureWool(10000, 0.05), fixtureFilm(), fixtureWool(5000, 0.2)),
			fixtureBuildUp(grid, "", fixtureWool(5000, 0.1), model.Layer{Kind: model.GapLayer, Text: "air 100 mm", Thickness: 0.1}),
		},
		Run: html.Run{
			Command: "evenbass absorb --from 'spare-room.yaml'", Version: "0.1.0", Date: time.Date(2026, 11, 25, 9, 0, 0, 0, time.UTC),
			File: "spare-room.yaml", Source: "room: {name: Spare room}\n",
		},
	}
}

func absorptionGrid() model.Grid { return model.NewGrid(20, 5000, 6, 0) }

func TestAbsorptionTextGolden(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	reporttest.Golden(t, "absorption-short.txt", Text(a))
	reporttest.CheckFits(t, Text(a))
	a.Full = true
	reporttest.Golden(t, "absorption-metric.txt", Text(a))
	a.Style, a.BuildUps = unit.Both, a.BuildUps[:1]
	reporttest.Golden(t, "absorption-both.txt", Text(a))
	a.Style = unit.Imperial
	for i := range a.BuildUps { // the owner's words for the layers, and sentences about them, stay as they are
		a.BuildUps[i].Text, a.BuildUps[i].Words = "", nil
	}
	reporttest.CheckImperial(t, Text(a))
}

// Whatever the names, no line is wider than a terminal of 100 columns, and nothing
// reaches the terminal that is not printable.
func TestAbsorptionTextWidth(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	one := a.BuildUps[0]
	rapid.Check(t, func(t *rapid.T) {
		narrow := rapid.StringN(0, 150, -1).Filter(func(s string) bool {
			return !strings.ContainsFunc(s, func(r rune) bool { return r > 0x2fff })
		})
		one.Name, a.Title = narrow.Draw(t, "name"), narrow.Draw(t, "title")
		one.Text, one.Wall = narrow.Draw(t, "text"), narrow.Draw(t, "wall")
		a.BuildUps = nil
		for range rapid.IntRange(1, MaxBuildUps).Draw(t, "how many") {
			a.BuildUps = append(a.BuildUps, one)
		}
		a.Style = rapid.SampledFrom([]unit.Style{unit.Metric, unit.Imperial}).Draw(t, "style")
		a.Full = true
		for _, line := range strings.Split(Text(a), "\n") {
			if n := uniseg.StringWidth(line); n > text.Columns || line != text.Printable(line) {
				t.Fatalf("line of %d characters: %q", n, line)
			}
		}
	})
}

// The headline follows the figures: it names the build-up that reaches lowest, the
// others if they are few, and those that never absorb half.
func TestAbsorptionHeadline(t *testing.T) {
	for _, test := range []struct {
		half []float64
		want string
	}{
		{[]float64{62.4}, "Absorbs at least half of head-on sound from 62 Hz up."},
		{[]float64{0}, "At no frequency does it absorb half of head-on sound."},
		{[]float64{0, 0}, "None of them absorbs half of head-on sound at any frequency."},
		{[]float64{120, 62, 0}, "B reaches lowest: it absorbs at least half of head-on sound from 62 Hz up; A from 120 Hz, C never does."},
		{[]float64{120, 62, 0, 1240}, "B reaches lowest: it absorbs at least half of head-on sound from 62 Hz up."},
		{[]float64{0, 1240}, "B reaches lowest: it absorbs at least half of head-on sound from 1.24 kHz up; A never does."},
	} {
		var a Report
		for _, f := range test.half {
			a.BuildUps = append(a.BuildUps, BuildUp{HalfFrom: f})
		}
		if got := a.headline(); got != test.want {
			t.Errorf("%v: %q, want %q", test.half, got, test.want)
		}
	}
}

// What does not fit together is refused by name.
func TestAbsorptionCheck(t *testing.T) {
	for want, spoil := range map[string]func(a *Report){
		"1 to 5 build-ups, have 0":            func(a *Report) { a.BuildUps = nil },
		"1 to 5 build-ups, have 6":            func(a *Report) { a.BuildUps = make([]BuildUp, 6) },
		"figure of build-up B does not match": func(a *Report) { a.BuildUps[1].Figure.Random = nil },
		"2 layers and 1 weights":              func(a *Report) { a.BuildUps[1].Weights = a.BuildUps[1].Weights[:1] },
		"different frequencies":               func(a *Report) { a.BuildUps[1].Bands = a.BuildUps[1].Bands[:1] },
	} {
		a := fixtureAbsorption(absorptionGrid())
		spoil(&a)
		for _, err := range []error{Page(&bytes.Buffer{}, a), CSV(&bytes.Buffer{}, a)} {
			if err == nil || !strings.Contains(err.Error(), want) {
				t.Errorf("got %v, want %q", err, want)
			}
		}
	}
	defer func() {
		if recover() == nil {
			t.Error("the text of nothing did not panic")
		}
	}()
	Text(Report{})
}

// Frequencies keep the digits that matter in the headline and the table.
func TestRoundHertz(t *testing.T) {
	for want, got := range map[string]string{"62 Hz": roundHertz(62.4), "1.24 kHz": roundHertz(1240), "never": orNever(0)} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The table for other programs gives back what went in, to its digits, and no value of
// absorption outside 0 to 1.
func TestAbsorptionCSV(t *testing.T) {
	a := fixtureAbsorption(absorptionGrid())
	b := reporttest.Written(t, CSV, a)
	rows, err := csv.NewReader(strings.NewReader(b)).ReadAll()
	if err != nil || len(rows) != len(absorptionGrid())+1 || len(rows[0]) != 17 {
		t.Fatalf("%d rows of %d, %v", len(rows), len(rows[0]), err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for n, row := range rows[1:] {
		read := func(name string) float64 {
			v, err := strconv.ParseFloat(row[column[name]], 64)
			if err != nil {
				t.Fatal(err)
			}
			return v
		}
		f := a.BuildUps[1].Figure
		if read("frequency_hz") != unit.Round(f.Grid[n], 4) || read("b_normal") != unit.Round(f.Normal[n].Typical, 6) ||
			read("b_random_high") != unit.Round(f.Random[n].High, 6) {
			t.Errorf("row %d: %v", n+1, row)
		}
		if zeta := complex(read("b_zeta_re"), read("b_zeta_im")); math.Abs(material.AbsorptionAt(1/zeta, 1)-read("b_normal")) > 1e-4 {
			t.Errorf("the impedance %v does not have the absorption %v", zeta, read("b_normal"))
		}
		for _, name := range []string{"a_normal", "a_random", "b_normal", "b_random"} {
			if low, typical, high := read(name+"_low"), read(name), read(name+"_high"); low < 0 || low > typical || typical > high || high > 1 {
				t.Errorf("%s: %v to %v to %v", name, low, typical, high)
			}
		}
	}
}
