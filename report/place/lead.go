package place

import (
	"fmt"
	"slices"
	"unicode/utf8"

	"evenbass/model/response"
	"evenbass/report/card"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// dipNote is a dip of the first graph, for a screen too small to write it there.
type dipNote struct{ Letter, Text string }

// lead is what the first sheet shows beside the verdict.
type lead struct {
	Response     svg.Pair
	ResponseText string
	Dips         []dipNote
	Plan         svg.Pair
	Steps        []string
	StepsTitle   string
	Card         text.Table
	CardNote     string
}

func newLead(in *Report) lead {
	l := lead{
		Response:     svg.NewPair(func(f svg.Form) *svg.Drawing { return leadGraph(in, f).Drawing() }),
		ResponseText: leadText(in),
		Plan:         svg.NewPair(func(f svg.Form) *svg.Drawing { return newPlan(in, f) }),
		Steps:        stepLines(in), StepsTitle: stepsHeading,
	}
	l.Card, l.CardNote = leadCard(in)
	if len(l.Steps) == 0 {
		l.Steps, l.StepsTitle = placingLines(in), "Place them like this"
	}
	for i, d := range bestDips(in) {
		lines := dipLines(d, in)
		words := lines[0] + ": " + lines[1]
		if len(lines) > 2 {
			words += "; " + lines[2]
		}
		l.Dips = append(l.Dips, dipNote{Letter: dipLetter(i), Text: words})
	}
	return l
}

// How many letters the column of steps holds on paper beside the plan, and how many a row of the card counts for.
const (
	leadLetters = 1100
	rowLetters  = 60
)

// cautioned says how much of the first sheet caveats take, as classes of the page: with " cautioned" they are small
// on paper and end after four lines each, since the appendix has them whole; with " full", where the column is
// crowded without them, after three, and the graph above is smaller.
func (l *lead) cautioned(trust string, caveats []string, s unit.Style) string {
	if len(caveats) == 0 {
		return ""
	}
	letters := utf8.RuneCountInString(trust) + rowLetters*len(l.Card.Rows)
	for _, words := range slices.Concat(l.Steps, caveats) {
		letters += min(utf8.RuneCountInString(words), 4*rowLetters)
	}
	if s == unit.Both || letters > leadLetters {
		return " cautioned full"
	}
	return " cautioned"
}

// placingLines are the steps where nothing stands yet, or where no single step gains.
func placingLines(in *Report) []string {
	l, s := in.best().Layout, in.Style
	return []string{
		fmt.Sprintf("Woofers: left %s, right %s from the front wall.", s.Tape(l.Left.X), s.Tape(l.Right.X)),
		fmt.Sprintf("Left woofer %s from the left wall, right woofer %s from the right wall, both %s above the floor.",
			s.Tape(l.Left.Y), s.Tape(s.Rest(in.Project.Room.Size.Y, l.Right.Y)), s.Tape(l.Left.Z)),
		fmt.Sprintf("Ears %s from the front wall and %s from the left wall.", s.Tape(l.Seat.X), s.Tape(l.Seat.Y)),
	}
}

// leadText says what the first graph shows and how to read it.
func leadText(in *Report) string {
	c, goal := in.best().Judgement.Worst, in.Result.Goal
	words := fmt.Sprintf("Level at the seat, %s", text.ChannelText(c))
	if now := in.Result.Now; now != nil && now.Judgement.Worst != c {
		words += fmt.Sprintf(" (now the %s is the worst, with %s)", text.ChannelText(now.Judgement.Worst), unit.Spread(now.Judgement.Spread()))
	}
	words += fmt.Sprintf(", smoothed to 1/%d octave; 0 dB is the mean of %g to %g Hz. "+
		"A bracket reaches from the lowest to the highest point: the spread is half of it.", goal.Smoothing, goal.From, goal.To)
	if s := in.Stability; s != nil && s.Ranges != nil {
		words += fmt.Sprintf(" The tint holds %d of %d trials with other walls, temperatures and errors of the tape measure.", s.Trials*8/10, s.Trials)
	}
	return words
}

// commonSpread helps a reader to judge a spread. Common practice, no source.
const commonSpread = "In small rooms ±10 dB is common; ±5 dB is rare (common practice, no source)."

// markWords are the signs of a card in words.
var markWords = map[string]string{
	card.Signs[response.Better]: "better", card.Signs[response.Worse]: "worse",
}

// leadCard is the card of the first layout beside the present one: the spread, and what gets
// better or worse; the note says what is left out.
func leadCard(in *Report) (t text.Table, note string) {
	t = text.Table{Caption: fmt.Sprintf("What changes (%v; the worst of left, right, both)", in.Result.Goal), Head: []string{"", text.LayoutName(1)}}
	states := []card.State{in.layout(0)}
	if in.Result.Now != nil {
		t.Head, t.Align = []string{"", text.NowName, text.LayoutName(1), ""}, "lrrl"
		states = []card.State{in.now(), states[0]}
	} else {
		t.Caption = fmt.Sprintf("What to expect (%v; the worst of left, right, both)", in.Result.Goal)
	}
	alike := 0
	for i, r := range card.Rows(states, in.Result.Now != nil, in.Style) {
		cells := []string{r.Name}
		for _, c := range r.Cells {
			if c == unit.Unknown {
				c = ""
			}
			cells = append(cells, c)
		}
		word := markWords[r.Marks[len(r.Marks)-1]]
		switch {
		case in.Result.Now == nil:
			t.Rows = append(t.Rows, cells)
		case i == 0 || word != "" || r.Marks[1] == "":
			t.Rows = append(t.Rows, append(cells, word))
		default:
			alike++
		}
	}
	if alike > 0 {
		note = fmt.Sprintf("%s more show no difference that can be told or heard. ", unit.Plural(alike, "figure"))
	}
	return t, note + commonSpread
}

// channel is the part of the appendix about one channel.
type channel struct {
	Heading string
	Graph   svg.Pair
	Octaves text.Table
}

func newChannels(in *Report) []channel {
	var list []channel
	for _, c := range []response.Channel{response.BothTogether, response.LeftAlone, response.RightAlone} {
		list = append(list, channel{
			Heading: text.Sentence(text.ChannelText(c)),
			Graph:   svg.NewPair(func(f svg.Form) *svg.Drawing { return responseGraph(in, "response-"+c.String(), c, f, 1).Drawing() }),
			Octaves: octavesTable(in, c),
		})
	}
	return list
}

// octavesTable lists the level of every layout in third octaves.
func octavesTable(in *Report, c response.Channel) text.Table {
	var columns []text.OctaveColumn
	for i, layout := range in.Result.Shown() {
		name := text.LayoutName(i + 1)
		switch {
		case layout == in.Result.Now:
			name = text.NowName
		case in.Result.Now != nil:
			name = text.LayoutName(i)
		}
		columns = append(columns, text.OctaveColumn{Name: name, Curve: layout.Judgement.Curves[c], Mean: layout.Judgement.Figures[c].Mean})
	}
	return text.OctavesTable(c, in.Result.Goal, in.Grid, columns)
}

// multiple is one layout against the present one.
type multiple struct {
	Heading string
	Graph   *svg.Drawing
	Plan    *svg.Drawing
}

func newMultiples(in *Report) []multiple {
	var list []multiple
	for i := range in.Result.Candidates {
		c := &in.Result.Candidates[i]
		list = append(list, multiple{
			Heading: text.Sentence(text.LayoutName(i+1)) + ": " + unit.Spread(c.Judgement.Spread()),
			Graph:   responseGraph(in, fmt.Sprintf("layout-%d", i+1), c.Judgement.Worst, svg.Small, i+1).Drawing(),
			Plan:    smallPlan(in, i+1),
		})
	}
	return list
}
