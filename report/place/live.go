package place

import (
	"evenbass/report/live"
	"evenbass/report/text"
)

// newLive returns the part of the page that answers for other places, or nil without a table.
func newLive(in *Report) (*live.View, error) {
	if in.Series == nil {
		return nil, nil
	}
	r := live.Report{Project: in.Project, Table: in.Series, Style: in.Style}
	if now := in.Result.Now; now != nil {
		r.Layouts = append(r.Layouts, live.Layout{Name: text.NowName, Layout: now.Layout, Judgement: &now.Judgement})
		r.Start, r.Resolution = 1, in.best().Card.Resolution(&now.Card)
	}
	for i := range in.Result.Candidates {
		c := &in.Result.Candidates[i]
		r.Layouts = append(r.Layouts, live.Layout{Name: text.LayoutName(i + 1), Layout: c.Layout, Judgement: &c.Judgement})
	}
	for _, v := range in.Variants {
		r.Options = append(r.Options, live.Option{Name: text.Printable(v.Option), Engine: v.Engine, Table: v.Table})
	}
	for _, m := range in.Modes {
		if m.Decay > 0 {
			r.Modes = append(r.Modes, live.Mode{Name: m.Name(), Frequency: m.Frequency, Width: bandwidth / m.Decay})
		}
	}
	return live.NewView(&r)
}

// bandwidth is that of a resonance in Hz between its points 3 dB down, times its decay time:
// 3 ln 10/π (Kuttruff, Room Acoustics, 6th ed. 2016, eq. 3.20).
const bandwidth = 2.2
