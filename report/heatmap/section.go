package heatmap

import (
	"fmt"
	"math"

	"evenbass/model/response"
	"evenbass/model/response/spectraldecay"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// Section is the pictures of several states on one scale, with their key, for the template
// "fading" of a page.
type Section struct {
	Panels      []*svg.Drawing
	Key, Ridges *svg.Drawing
	Note        string
}

// note explains the drawings.
const note = "A speaker plays a steady tone and fades it out over five periods. Each picture shows how loud the tone still is, against the mean level of its own curve. " +
	"Solid line: from here on the tone is 20 dB below that mean. Dashed line: the tone itself takes that long, so above it the picture does not show the room. Levels are averaged over 1/24 octave."

// NewSection draws panels. The ridge lines show the first one, and over it the last; its ids begin
// with the given one.
func NewSection(id string, panels ...Panel) *Section {
	scale := Fit(panels...)
	s := &Section{Key: Key(id+"-key", scale), Note: note}
	for i, p := range panels {
		p.ID = id + "-" + string(rune('a'+i))
		s.Panels = append(s.Panels, Draw(p, scale))
	}
	first, last := panels[0], panels[len(panels)-1]
	if len(panels) == 1 {
		s.Ridges = Ridges(id+"-ridges", first.Title, scale, first)
	} else {
		s.Ridges = Ridges(id+"-ridges", "Area: "+first.Title+". Line: "+last.Title, scale, first, last)
	}
	return s
}

// NewPanel returns a state in which both speakers together play; without a map if there is no signal.
func NewPanel(title string, s *spectraldecay.Signal, j *response.Judgement) Panel {
	p := Panel{Title: title, Reference: j.Figures[response.BothTogether].Mean}
	if s != nil {
		p.Map = spectraldecay.New(s, spectraldecay.Settings{Long: 1})
	}
	return p
}

// describe says in words what a panel shows, for those who cannot see it: the frequencies whose
// tones stay longest.
func describe(p Panel) string {
	fall := p.Map.Below(p.Reference - gone)
	text := "Time until a tone is 20 dB below the mean level: "
	for i, f := range []float64{40, 63, 100, 160, 250} {
		k := p.Map.Grid.Nearest(f)
		if i > 0 {
			text += ", "
		}
		text += fmt.Sprintf("%s at %g Hz", span(fall[k]), f)
	}
	worst := 0
	for i, t := range fall {
		if t > fall[worst] {
			worst = i
		}
	}
	return text + fmt.Sprintf(". The longest is %s at %s Hz.", span(fall[worst]), unit.Decimal(p.Map.Grid[worst], 0))
}

// span writes a time in s.
func span(t float64) string {
	if math.IsInf(t, 1) {
		return "longer than shown"
	}
	return unit.Decimal(1000*t, 0) + " ms"
}
