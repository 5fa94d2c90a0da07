package place

import (
	"cmp"
	"fmt"
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
	g.Traces = append(g.Traces, svg.NewTrace("result", text.LayoutName(n), in.Grid, &in.Result.Candidates[n-1].Judgement, c))
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

// bestDips are the worst dips of the first layout, of the channel that the verdict is about, the
// lowest first.
func bestDips(in *Report) []cause.Dip {
	var list []cause.Dip
	for _, f := range in.Faults {
		for _, d := range f.Faults {
			if f.Number == 1 && !d.Feature.Peak && d.Feature.Channel == in.best().Judgement.Worst {
				list = append(list, d)
			}
		}
	}
	list = list[:min(len(list), 3)]
	slices.SortFunc(list, func(a, b cause.Dip) int { return cmp.Compare(a.Feature.Frequency, b.Feature.Frequency) })
	return list
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
	case d.Causes[0].Kind == cause.ModeSuspect:
		m := d.Causes[0].Mode
		lines = append(lines, fmt.Sprintf("mode (%d,%d,%d)", m.N[0], m.N[1], m.N[2]))
	default:
		lines = append(lines, "reflection off the "+d.Causes[0].Boundary.Wall())
	}
	r := d.Remedy
	switch {
	case r == nil:
	case r.Move != nil && r.Move.After <= r.Move.Before+0.05:
		lines = append(lines, StepText(r.Move.Step, s))
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
	text := ""
	if in.Result.Now != nil {
		f := in.Result.Now.Judgement.Figures[c]
		text = fmt.Sprintf("The spread now is %s, the lowest point %s. ", unit.Spread(f.Spread), inline(f.Lowest))
	}
	f := in.Result.Candidates[n-1].Judgement.Figures[c]
	return text + fmt.Sprintf("With layout %d it is %s, the lowest point %s.", n, unit.Spread(f.Spread), inline(f.Lowest))
}
