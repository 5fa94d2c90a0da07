package floormap

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/floormap"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// View is what the page's template of the maps reads.
type View struct {
	Advice    string // whether to move the chair; "" where there is nothing to compare
	Lead      string
	Places    []string
	Chairs    text.Table
	Forgiving text.Table
	Figures   []figure // of the whole floor
	About     []figure
	Note      string
}

// First returns the maps that come first: of the spread, and of the level at one frequency.
func (v *View) First() []figure { return v.Figures[:min(2, len(v.Figures))] }

// Others returns the maps at further frequencies.
func (v *View) Others() []figure { return v.Figures[min(2, len(v.Figures)):] }

// figure is one map with what is said under it.
type figure struct {
	Drawing *svg.Drawing
	Caption string
	Tuner   *tuner // nil except on the map with a choice of frequency
	Data    json.RawMessage
}

// tuner is the choice of a frequency.
type tuner struct {
	Last, Value int    // of the frequencies, as numbers
	Tone        string // the one shown
}

// floorData is what the page's script needs to read out a map and to redraw it at another
// frequency.
type floorData struct {
	Tiles tiles    `json:"tiles"`
	X     []string `json:"x"` // of each row, from the front wall
	Y     []string `json:"y"` // of each column, from the left wall

	Spread []int    `json:"spread,omitempty"` // tenths of a decibel by place; -1 is blank
	Best   int      `json:"best,omitempty"`   // the reference
	Rules  []string `json:"rules,omitempty"`
	Rule   []int    `json:"rule,omitempty"` // by place: 0 is allowed, n is Rules[n-1]

	Bands    *bands     `json:"bands,omitempty"`
	Tones    []string   `json:"tones,omitempty"`
	Channels []string   `json:"channels,omitempty"`
	Means    [][]string `json:"means,omitempty"`  // by channel and frequency: the floor's mean relative to the band's
	Labels   []int      `json:"labels,omitempty"` // the places with a figure in the drawing
	Levels   []string   `json:"levels,omitempty"` // by channel, base64: a byte per place of each frequency, see levelByte
}

func NewView(m *Report) (*View, error) {
	v := &View{
		Lead: fmt.Sprintf("The spread with the speakers %s and the chair anywhere on the floor, ears %s above it (%s).",
			m.stay(), m.Style.Tape(m.Survey.Chair.Height), m.recipe()),
		Advice: m.advice(), Places: m.summary(), Chairs: m.chairsTable(), Forgiving: m.forgiving(),
		Note: "To scale, the front wall at the top. The stronger the tint, the smaller the spread; numbers are ± dB, rounded. Levels are smoothed like the curves and relative to the mean " +
			"over the floor at the same frequency; the stronger the colour, the louder. Predicted, not measured.",
	}
	if v.Advice != "" {
		v.Places = v.Places[1:] // which begin with it
	}
	add := func(list *[]figure, f figure, data floorData) error {
		var err error
		f.Data, err = json.Marshal(data)
		*list = append(*list, f)
		return err
	}
	d, t := chairDrawing(m)
	if err := add(&v.Figures, figure{Drawing: d, Caption: d.Title + ", ± dB"}, spreadData(m, &m.Survey.Chair, t, m.reference())); err != nil {
		return nil, err
	}
	for k, f := range m.Survey.Frequencies {
		i := m.Survey.Levels.Grid.Nearest(f)
		d, t, labels := toneDrawing(m, fmt.Sprintf("floor-tone-%d", k+1), i)
		figure, data := figure{Drawing: d, Caption: d.Title + ", dB"}, toneData(m, t, labels, k == 0, i)
		if k == 0 {
			figure.Tuner = &tuner{Last: len(m.Survey.Levels.Grid) - 1, Value: i, Tone: unit.Frequency(m.Survey.Levels.Grid[i])}
		}
		if err := add(&v.Figures, figure, data); err != nil {
			return nil, err
		}
	}
	for i := range m.Survey.Around {
		d, t := aboutDrawing(m, i, fmt.Sprintf("floor-about-%d", i+1))
		if err := add(&v.About, figure{Drawing: d, Caption: d.Title + ", ± dB"}, spreadData(m, &m.Survey.Around[i], t, m.Survey.Here)); err != nil {
			return nil, err
		}
	}
	return v, nil
}

// newFloorData returns the places of a lattice in words.
func newFloorData(f floormap.Floor, t tiles, s unit.Style) floorData {
	d := floorData{Tiles: t}
	for _, x := range f.X {
		d.X = append(d.X, s.Tape(x))
	}
	for _, y := range f.Y {
		d.Y = append(d.Y, s.Tape(y))
	}
	return d
}

func spreadData(m *Report, s *floormap.Spread, t tiles, best model.Level) floorData {
	d := newFloorData(s.Floor, t, m.Style)
	d.Best = tenths(best)
	for n, v := range s.Spread {
		value, rule := -1, 0
		if s.Open(n) {
			value = tenths(v)
		}
		if words := text.RuleText(s.Rule[n]); words != "" {
			if rule = slices.Index(d.Rules, words) + 1; rule == 0 {
				d.Rules = append(d.Rules, words)
				rule = len(d.Rules)
			}
		}
		d.Spread, d.Rule = append(d.Spread, value), append(d.Rule, rule)
	}
	return d
}

func tenths(l model.Level) int { return int(math.Round(10 * float64(l))) }

// toneData returns the levels of one frequency of both speakers together, or, where
// the frequency is to be chosen, those of all frequencies and channels.
func toneData(m *Report, t tiles, labels []int, all bool, only int) floorData {
	l := &m.Survey.Levels
	d := newFloorData(l.Floor, t, m.Style)
	d.Bands, d.Labels = &levelBands, labels
	tones, channels := []int{only}, []response.Channel{response.BothTogether}
	if all {
		tones, channels = nil, append(channels, response.LeftAlone, response.RightAlone)
		for i := range l.Grid {
			tones = append(tones, i)
		}
	}
	for _, i := range tones {
		d.Tones = append(d.Tones, unit.Frequency(l.Grid[i]))
	}
	for _, c := range channels {
		d.Channels = append(d.Channels, text.ChannelText(c))
		var bytes []byte
		var means []string
		for _, i := range tones {
			means = append(means, aboutBand(l.Means[c][i]))
			for n := range l.Len() {
				bytes = append(bytes, levelByte(l.At(c, n, i)))
			}
		}
		d.Means = append(d.Means, means)
		d.Levels = append(d.Levels, base64.StdEncoding.EncodeToString(bytes))
	}
	return d
}

// levelByte packs a level into a byte: 0 is blank, b is (b-1)/4 - 40 dB. That resolves a
// quarter of a decibel from -40 to +23.5 dB; levels beyond are clamped.
func levelByte(l model.Level) byte {
	if math.IsNaN(float64(l)) {
		return 0
	}
	return byte(max(1, min(255, math.Round((float64(l)+40)*4)+1)))
}

// chairDesc says in words what the map of the chair shows.
func chairDesc(m *Report) string {
	c, s := &m.Survey.Chair, m.Style
	words := "The floor seen from above, the front wall at the top. "
	for _, line := range m.summary() {
		words += line + " "
	}
	if n, ok := c.Worst(c.Open); ok {
		words += fmt.Sprintf("The worst place of all is %s with %s. %s of the whole floor is within 1 dB of its best place.",
			where(c.Place(n), s), unit.Spread(c.Spread[n]), text.Sentence(unit.Percent(c.Within(1, c.Open))))
	}
	return words
}

// toneDesc says in words what the map of a frequency shows.
func toneDesc(m *Report, i int) string {
	return "The floor seen from above, the front wall at the top. The level is " + m.toneText(i) + "."
}

// aboutDesc says in words what a map about a mark shows.
func aboutDesc(m *Report, i int) string {
	a := &m.Survey.Around[i]
	return fmt.Sprintf("Exactly in place the spread is %s. With %s off by up to %s it is %s at worst, by up to %s %s.",
		unit.Spread(m.Survey.Here), m.offName(i), m.Style.Tape(0.1), unit.Spread(a.Reach(0.1)), m.Style.Tape(0.3), unit.Spread(a.Reach(0.3)))
}
