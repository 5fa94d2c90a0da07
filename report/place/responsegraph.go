package place

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/cause"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// responseGraph draws one channel of layout n, counted from 1, over the present one.
func responseGraph(in *Report, id string, c response.Channel, form svg.Form, n int) *svg.Graph {
	g := &svg.Graph{
		ID: form.Name(id), Form: form, Goal: in.Result.Goal,
		Title: text.Sentence(text.ChannelText(c)) + ": level over frequency", Desc: responseLabel(in, c, n),
	}
	if now := in.Result.Now; now != nil {
		g.Traces = append(g.Traces, svg.NewTrace("now", text.NowName, in.Grid, &now.Judgement, c))
	}
	result := svg.NewTrace("result", text.LayoutName(n), in.Grid, &in.Result.Candidates[n-1].Judgement, c)
	if s := in.Stability; s != nil && n <= len(s.Ranges) {
		r := &s.Ranges[n-1][c]
		result.Range = svg.Range{X: s.Grid, Low: r.Low, High: r.High}
	}
	g.Traces = append(g.Traces, result)
	return g
}

// leadGraph draws the curve behind the verdict's figure, with the dips that stay.
func leadGraph(in *Report, form svg.Form) *svg.Graph {
	g := responseGraph(in, "response", in.best().Judgement.Worst, form, 1)
	for i, d := range bestDips(in) {
		g.Notes = append(g.Notes, svg.Note{
			X: d.Feature.Frequency, Y: float64(d.Feature.Level), Letter: dipLetter(i), Lines: dipLines(d, in),
		})
	}
	return g
}

// bestDips are the worst dips of the first layout that show in the channel that the verdict is
// about, the lowest first.
func bestDips(in *Report) []cause.Dip {
	var list []cause.Dip
	for _, f := range in.Faults {
		for _, d := range f.Faults {
			if f.Number != 1 || d.Feature.Peak {
				continue
			}
			if d, ok := inChannel(in, d); ok {
				list = append(list, d)
			}
		}
	}
	list = list[:min(len(list), 3)]
	slices.SortFunc(list, func(a, b cause.Dip) int { return cmp.Compare(a.Feature.Frequency, b.Feature.Frequency) })
	return list
}

// Two channels have the same dip if their lowest points are within sameDip of each other, as a
// ratio of frequencies, and about as deep, dB. Common practice, no source.
const (
	sameDip   = 1.03
	sameDepth = 3
)

// inChannel returns a dip as the channel of the verdict has it, and whether that has it at all.
func inChannel(in *Report, d cause.Dip) (cause.Dip, bool) {
	j := &in.best().Judgement
	if d.Feature.Channel == j.Worst {
		return d, true
	}
	curve, lowest := j.Curves[j.Worst], -1
	for i, f := range in.Grid {
		if near := f > d.Feature.Frequency/sameDip && f < d.Feature.Frequency*sameDip; near && (lowest < 0 || curve[i] < curve[lowest]) {
			lowest = i
		}
	}
	if lowest < 0 {
		return d, false
	}
	level := curve[lowest] - j.Figures[j.Worst].Mean
	if math.Abs(float64(level-d.Feature.Level)) > sameDepth {
		return d, false
	}
	d.Feature.Frequency, d.Feature.Level = in.Grid[lowest], level
	return d, true
}

// dipLetter names a dip in the graph and in the list under it.
func dipLetter(i int) string { return string(rune('A' + i)) }

// dipLines is what is written at a dip: where it is, what causes it, what cures it.
func dipLines(d cause.Dip, in *Report) []string {
	s := in.Style
	lines := []string{fmt.Sprintf("%s, %s", unit.Frequency(d.Feature.Frequency), unit.Decibels(d.Feature.Level))}
	switch {
	case len(d.Causes) == 0:
		lines = append(lines, "no single cause")
	case d.Named()[0].Kind == cause.ModeSuspect:
		m := d.Named()[0].Mode
		lines = append(lines, fmt.Sprintf("mode (%d,%d,%d)", m.N[0], m.N[1], m.N[2]))
	default:
		lines = append(lines, "reflection off the "+d.Named()[0].Boundary.Wall())
	}
	r := d.Remedy
	switch {
	case r == nil:
	case r.Move != nil && r.Move.After <= r.Move.Before+0.05:
		lines = append(lines, text.StepText(r.Move.Step.From, r.Move.Step.To, s))
	case r.Wall != nil && r.Wall.Boundary != model.Floor:
		lines = append(lines, "absorb on the "+r.Wall.Boundary.Wall())
	case r.Narrow:
		lines = append(lines, "narrow: leave it")
	default:
		lines = append(lines, "no cure found")
	}
	return lines
}

// responseLabel says in words what a graph of responses shows.
func responseLabel(in *Report, c response.Channel, n int) string {
	words := ""
	if in.Result.Now != nil {
		f := in.Result.Now.Judgement.Figures[c]
		words = fmt.Sprintf("The spread now is %s, the lowest point %s. ", unit.Spread(f.Spread), text.PointText(f.Lowest))
	}
	f := in.Result.Candidates[n-1].Judgement.Figures[c]
	return words + fmt.Sprintf("With layout %d it is %s, the lowest point %s.", n, unit.Spread(f.Spread), text.PointText(f.Lowest))
}
