package heatmap

import (
	"math"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/response/spectraldecay"
)

// falling is a map in which every tone begins at 0 dB and falls by so many dB a second.
func falling(rate float64) *spectraldecay.Map {
	m := &spectraldecay.Map{Grid: model.NewGrid(25, 300, 96, 0)}
	for k := range 101 {
		m.Times = append(m.Times, float64(k)/100)
		row := make([]model.Level, len(m.Grid))
		for i := range row {
			row[i] = model.Level(-rate * m.Times[k])
		}
		m.Levels = append(m.Levels, row)
	}
	return m
}

func TestFit(t *testing.T) {
	t.Parallel()
	fast, slow := Panel{Map: falling(200)}, Panel{Map: falling(60), Reference: -7}
	s := Fit(fast, slow)
	// The slow one begins 7 dB above its reference: the top step is 5 dB, the bottom -45 dB,
	// which it reaches after 52/60 s.
	if s.Top != 5 || math.Abs(s.Long-0.9) > 1e-9 {
		t.Errorf("%+v, want a top of 5 dB and 0.9 s", s)
	}
	if s := Fit(fast); s.Long != 0.4 {
		t.Errorf("%g s for a fast room, want the least of 0.4", s.Long)
	}
}

// What falls by 60 dB a second is 20 dB below after 333 ms, drawn and told.
func TestDraw(t *testing.T) {
	t.Parallel()
	p := Panel{ID: "before", Title: "Before", Map: falling(60)}
	s := Fit(p)
	d := Draw(p, s)
	if want := "333 ms at 63 Hz"; !strings.Contains(d.Desc, want) {
		t.Errorf("%q lacks %q", d.Desc, want)
	}
	var fall string
	for _, shape := range d.Shapes {
		if shape.Class == "fall" {
			fall = shape.D
		}
		if shape.Class == "veil" {
			t.Error("a prediction has a veil of noise")
		}
	}
	if want := "M46 100L"; !strings.HasPrefix(fall, want) { // 22 + 234·0.333/1 s
		t.Errorf("the line of what is gone begins %.20q, want %q; scale %+v", fall, want, s)
	}
	markup, err := d.SVG()
	if err != nil || !strings.Contains(string(markup), `class="area loud-9"`) {
		t.Errorf("no loud area: %v", err)
	}
	p.Map.Noise = make([]model.Level, len(p.Map.Grid))
	for i := range p.Map.Noise {
		p.Map.Noise[i] = -18
	}
	markup, err = Draw(p, s).SVG()
	if err != nil || !strings.Contains(string(markup), `class="veil"`) || strings.Contains(string(markup), `class="fall" d="M`) {
		t.Errorf("noise 18 dB below veils nothing, or a line is drawn in it: %v", err)
	}
	ridges, err := Ridges("ridges", "Before and after", s, p, p).SVG()
	if err != nil || strings.Count(string(ridges), `class="ridge state-2"`) != len(moments(s.Long)) {
		t.Errorf("not as many ridges as moments: %v", err)
	}
	key, err := Key("key", s).SVG()
	if err != nil || strings.Count(string(key), "swatchbox") != shades {
		t.Errorf("key: %v", err)
	}
}
