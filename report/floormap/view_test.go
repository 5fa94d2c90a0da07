package floormap

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/floormap"
	"evenbass/report/reporttest"
	"evenbass/report/text"
	"evenbass/report/unit"
)

func floorOf(t *testing.T, m Report) *View {
	t.Helper()
	v, err := NewView(&m)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// Every level falls into the band whose step holds it, those beyond the ends into the
// first and the last.
func TestBands(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		bands *bands
		level model.Level
		want  string
	}{
		{&spreadBands, -2, "s0"}, {&spreadBands, 0.99, "s0"}, {&spreadBands, 1, "s1"}, {&spreadBands, 6.5, "s6"}, {&spreadBands, 30, "s7"},
		{&levelBands, -40, "l0"}, {&levelBands, -15.1, "l0"}, {&levelBands, -15, "l1"}, {&levelBands, -0.1, "l5"}, {&levelBands, 0, "l6"}, {&levelBands, 9, "l9"}, {&levelBands, 25, "l9"},
	} {
		if got := c.bands.Names[c.bands.of(c.level)]; got != c.want {
			t.Errorf("%v dB is in band %s, want %s", c.level, got, c.want)
		}
	}
	keys := levelBands.key("")
	if keys[0].Text != "below −15 dB" || keys[6].Text != "0 to +3 dB" || keys[9].Text != "+9 dB and more" {
		t.Errorf("the key is %v", keys)
	}
}

// A byte gives a level back to an eighth of a decibel, beyond its ends the end, and
// nothing but no air is nought.
func TestLevelByte(t *testing.T) {
	t.Parallel()
	if levelByte(model.Level(math.NaN())) != 0 || levelByte(-90) != 1 || levelByte(90) != 255 {
		t.Error("blank, silence and noise")
	}
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Float64Range(-40, 23.5).Draw(t, "level")
		if back := float64(levelByte(model.Level(l))-1)/4 - 40; math.Abs(back-l) > 0.125+1e-9 {
			t.Fatalf("%v dB comes back as %v", l, back)
		}
	})
}

// tiled sums the area of a path of upright rectangles as fill draws them.
func tiled(t *testing.T, d string) float64 {
	t.Helper()
	var area float64
	for _, part := range regexp.MustCompile(`M ([\d.]+) ([\d.]+)H ([\d.]+)V ([\d.]+)H`).FindAllStringSubmatch(d, -1) {
		var v [4]float64
		for i := range v {
			var err error
			if v[i], err = strconv.ParseFloat(part[i+1], 64); err != nil {
				t.Fatal(err)
			}
		}
		area += (v[2] - v[0]) * (v[3] - v[1])
	}
	return area
}

// The tinted cells cover all of the floor that is air, no more, and the hatching what
// the rules forbid, with a line in each cell.
func TestMapDrawingCoversTheFloor(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	d, tile := chairDrawing(&m)
	open, forbidden := 0, 0
	for n := range m.Survey.Chair.Len() {
		if m.Survey.Chair.Open(n) {
			open++
			if !m.Survey.Chair.Allowed(n) {
				forbidden++
			}
		}
	}
	var tinted, barred float64
	for _, s := range d.Shapes {
		switch {
		case strings.HasPrefix(s.Class, "cell "):
			tinted += tiled(t, s.D)
		case s.Class == "barred":
			for _, line := range regexp.MustCompile(`M ([\d.]+) [\d.]+L ([\d.]+) `).FindAllStringSubmatch(s.D, -1) {
				from, err := strconv.ParseFloat(line[1], 64)
				if err != nil {
					t.Fatal(err)
				}
				to, err := strconv.ParseFloat(line[2], 64)
				if err != nil {
					t.Fatal(err)
				}
				barred += (to - from) / tile.W
			}
		}
	}
	cell := tile.W * tile.H
	if got := tinted / cell; math.Abs(got-float64(open)) > 0.01*float64(open) {
		t.Errorf("%.1f cells are tinted, %d are air", got, open)
	}
	if got := barred; math.Abs(got-float64(forbidden)) > 0.02*float64(forbidden) {
		t.Errorf("%.1f cells are hatched, %d are forbidden", got, forbidden)
	}
	if forbidden == 0 || open == m.Survey.Chair.Len() {
		t.Error("the fixture forbids nothing or is all air")
	}
}

// Colour is never alone: figures are strewn over the map, each that of the cell it
// stands in, none over a mark.
func TestMapDrawingHasFigures(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	d, tile := chairDrawing(&m)
	count := 0
	for _, s := range d.Shapes {
		if s.Class != "mapvalue" {
			continue
		}
		count++
		row, column := int((float64(s.Y)-tile.Y)/tile.H), int((float64(s.X)-tile.X)/tile.W)
		if want := unit.Decimal(float64(m.Survey.Chair.Spread[row*tile.Columns+column]), 0); s.Text != want {
			t.Errorf("the cell in row %d, column %d says %s, want %s", row, column, s.Text, want)
		}
	}
	if count < 50 {
		t.Errorf("%d figures", count)
	}
	for _, words := range []string{"The spread is least 145 cm from the front wall and 165 cm from the left wall", "within 1 dB of the least", "The worst place of all"} {
		if !strings.Contains(d.Desc, words) {
			t.Errorf("the map's words lack %q: %s", words, d.Desc)
		}
	}
}

// What the script is given are the survey's own figures, and no more bytes than a page
// can bear.
func TestMapData(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	v := floorOf(t, m)
	if len(v.Figures) != 4 || len(v.About) != 2 || v.Figures[1].Tuner == nil || v.Figures[2].Tuner != nil {
		t.Fatalf("%d maps of the floor and %d about the marks", len(v.Figures), len(v.About))
	}
	var chair, tones floorData
	for i, into := range []*floorData{&chair, &tones} {
		if err := json.Unmarshal(v.Figures[i].Data, into); err != nil {
			t.Fatal(err)
		}
	}
	l := &m.Survey.Levels
	for n := range l.Len() {
		if open := m.Survey.Chair.Open(n); open != (chair.Spread[n] >= 0) || open && chair.Spread[n] != tenths(m.Survey.Chair.Spread[n]) {
			t.Fatalf("place %d: %d tenths", n, chair.Spread[n])
		}
		if r := chair.Rule[n]; (r > 0) != (m.Survey.Chair.Rule[n] != (model.Rule{})) || r > 0 && chair.Rules[r-1] != text.RuleText(m.Survey.Chair.Rule[n]) {
			t.Fatalf("place %d: rule %d of %v", n, r, chair.Rules)
		}
	}
	if len(tones.Levels) != 3 || len(tones.Tones) != len(l.Grid) || tones.Tones[3] != "79.6 Hz" {
		t.Fatalf("%d channels, tones %v", len(tones.Levels), tones.Tones)
	}
	bytes, err := base64.StdEncoding.DecodeString(tones.Levels[1])
	if err != nil || len(bytes) != l.Len()*len(l.Grid) {
		t.Fatalf("%d bytes: %v", len(bytes), err)
	}
	for n := range l.Len() {
		if bytes[3*l.Len()+n] != levelByte(l.At(response.LeftAlone, n, 3)) {
			t.Fatalf("place %d of the left speaker at 79.6 Hz: byte %d", n, bytes[3*l.Len()+n])
		}
	}
}

// The maps add less than 400 kB to a page, as large as a survey becomes: 2,100 places
// and 27 frequencies.
func TestMapPageSize(t *testing.T) {
	t.Parallel()
	m := fixtureMaps()
	floor := floormap.Floor{Height: 1.2}
	for i := range 60 {
		floor.X = append(floor.X, 4.3*(float64(i)+0.5)/60)
	}
	for i := range 35 {
		floor.Y = append(floor.Y, 3.3*(float64(i)+0.5)/35)
	}
	m.Survey = reporttest.SurveyOver(m.Project, m.Survey.Layout, floor, model.NewGrid(30, 300, 8, 0))
	if n := len(m.Survey.Levels.Grid); n < 27 {
		t.Fatalf("%d frequencies", n)
	}
	b := reporttest.Written(t, Page, m)
	t.Logf("the page has %d bytes", len(b))
	if len(b) > 400e3 {
		t.Errorf("a large page has %d bytes", len(b))
	}
}

// The same survey gives the same bytes, and a page without a survey is an error.
func TestMapPageRepeats(t *testing.T) {
	t.Parallel()
	var a, b bytes.Buffer
	if err := Page(&a, fixtureMaps()); err != nil {
		t.Fatal(err)
	}
	if err := Page(&b, fixtureMaps()); err != nil || a.String() != b.String() {
		t.Errorf("two pages differ (%v)", err)
	}
	if err := Page(&a, Report{Project: reporttest.Project()}); err == nil {
		t.Error("a page without a survey")
	}
}
