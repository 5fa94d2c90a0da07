package place

import (
	"fmt"

	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// figure is one of the three on the first sheet: from the present to the best.
type figure struct{ Name, Now, Best, Recipe string }

// dip is a dip of the first graph, for a screen too small to write it there.
type dip struct{ Letter, Text string }

// lead is what the first sheet shows beside the verdict.
type lead struct {
	Response     svg.Pair
	ResponseText string
	Dips         []dip
	Plan         svg.Pair
	Steps        []string
	StepsTitle   string
	Figures      []figure
}

func newLead(in *Report) lead {
	l := lead{
		Response:     svg.NewPair(func(f svg.Form) *svg.Drawing { return leadGraph(in, f).Drawing() }),
		ResponseText: leadText(in),
		Plan:         svg.NewPair(func(f svg.Form) *svg.Drawing { return newPlan(in, f) }),
		Steps:        stepLines(in), StepsTitle: stepsHeading,
		Figures: newFigures(in.Result),
	}
	if len(l.Steps) == 0 {
		l.Steps, l.StepsTitle = placingLines(in), "Place them like this"
	}
	for i, d := range bestDips(in) {
		lines := dipLines(d, in)
		words := lines[0] + ": " + lines[1]
		if len(lines) > 2 {
			words += "; " + lines[2]
		}
		l.Dips = append(l.Dips, dip{Letter: dipLetter(i), Text: words})
	}
	return l
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
		words += fmt.Sprintf(" The tint holds eight tenths of %d trials with other walls, temperatures and tape errors.", s.Trials)
	}
	return words
}

func newFigures(r *optimize.Result) []figure {
	all := []figure{
		{Name: "Spread", Recipe: r.Goal.String() + ", worst of left, right, both"},
		{Name: "Deepest point", Recipe: "relative to the mean of the same curve"},
		{Name: "Left versus right", Recipe: "mean difference in the same band"},
	}
	read := func(c *score.Candidate) [3]string {
		j := &c.Judgement
		return [3]string{unit.Spread(j.Spread()), unit.Decibels(j.Figures[j.Worst].Lowest.Level), unit.Difference(j.Difference)}
	}
	best := read(&r.Candidates[0])
	for i := range all {
		all[i].Best = best[i]
		if r.Now != nil {
			all[i].Now = read(r.Now)[i]
		}
	}
	return all
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
