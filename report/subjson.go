package report

import (
	"fmt"
	"io"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// SubFormatName is the first value of every JSON document that [SubJSON] writes.
const SubFormatName = "evenbass subwoofers 1"

type subsDoc struct {
	Format      string          `json:"format"`
	Version     string          `json:"version"`
	Command     string          `json:"command"`
	Engine      string          `json:"engine"`
	Room        string          `json:"room"`
	Goal        goalDoc         `json:"goal"`
	Left        pointDoc        `json:"left"`
	Right       pointDoc        `json:"right"`
	Seat        pointDoc        `json:"seat"`
	Filter      string          `json:"filter"`
	HighPass    *fixed          `json:"mains_high_pass_hz"`
	Places      int             `json:"places"`
	Recommended int             `json:"recommended"`
	Plans       []subPlanDoc    `json:"plans"`
	Now         *subPlanDoc     `json:"now"`
	Frequency   []fixed         `json:"frequency_hz"`
	Warnings    []model.Warning `json:"warnings"`
}

type subPlanDoc struct {
	Count      int          `json:"count"`
	Robust     fixed        `json:"robust_spread_db"`
	Subwoofers []subDoc     `json:"subwoofers"`
	Seats      []subSeatDoc `json:"seats"`
}

type subDoc struct {
	At       pointDoc `json:"driver"`
	Turned   bool     `json:"turned"`
	Reversed bool     `json:"reversed"`
	Delay    fixed    `json:"delay_ms"`
	Gain     fixed    `json:"gain_db"`
	LowPass  fixed    `json:"low_pass_hz"`
}

type subSeatDoc struct {
	Name     string      `json:"name"`
	Weight   fixed       `json:"weight"`
	At       pointDoc    `json:"ears"`
	Spread   fixed       `json:"spread_db"`
	Walls    *wallsDoc   `json:"spread_with_walls_db,omitempty"`
	Channels channelsDoc `json:"channels"`
}

// SubJSON writes a search for subwoofers for other programs, by the rules of [JSON].
// "plans" holds the best with none, one, two ... subwoofers; "recommended" is how many pay;
// "now" is null unless the room file says where subwoofers stand.
func SubJSON(w io.Writer, m SubReport) error {
	if err := m.check(); err != nil {
		return err
	}
	r, s := m.Result, m.Project.Subwoofers
	doc := subsDoc{
		Format: SubFormatName, Version: m.Run.Version, Command: m.Run.Command, Engine: r.Engine, Room: m.Project.Room.Name,
		Goal: goalDoc{From: hertz(r.Goal.From), To: hertz(r.Goal.To), Smoothing: fmt.Sprintf("1/%d", r.Goal.Smoothing)},
		Left: newPointDoc(r.Layout.Left), Right: newPointDoc(r.Layout.Right), Seat: newPointDoc(r.Layout.Seat),
		Filter: s.Filter.String(), Places: r.Places, Recommended: m.worthwhile(), Frequency: make([]fixed, len(m.Grid)),
		Warnings: uniqueWarnings(m.Project.Warnings, r.Warnings, m.Warnings),
	}
	if s.HighPass > 0 {
		high := hertz(s.HighPass)
		doc.HighPass = &high
	}
	if doc.Warnings == nil {
		doc.Warnings = []model.Warning{}
	}
	for i, f := range m.Grid {
		doc.Frequency[i] = hertz(f)
	}
	for i := range r.Plans {
		doc.Plans = append(doc.Plans, newSubPlanDoc(&r.Plans[i]))
	}
	if r.Now != nil {
		now := newSubPlanDoc(r.Now)
		doc.Now = &now
	}
	return writeJSON(w, doc)
}

func newSubPlanDoc(p *optimize.SubPlan) subPlanDoc {
	d := subPlanDoc{Count: len(p.Subs), Robust: decibel(p.Robust), Subwoofers: []subDoc{}}
	for _, s := range p.Subs {
		d.Subwoofers = append(d.Subwoofers, subDoc{
			At: newPointDoc(s.Perch.Driver), Turned: s.Perch.Turned, Reversed: s.Knobs.Reversed,
			Delay: rounded(1000*s.Knobs.Delay, 2), Gain: decibel(s.Knobs.Gain), LowPass: hertz(s.Knobs.LowPass),
		})
	}
	for i := range p.Seats {
		j := &p.Seats[i].Judgement
		seat := subSeatDoc{Name: p.Seats[i].Name, Weight: rounded(p.Seats[i].Weight, 4), At: newPointDoc(p.Seats[i].At), Spread: decibel(j.Spread())}
		if w := p.Seats[i].Walls; w.Given() {
			seat.Walls = &wallsDoc{Hard: decibel(w.Hard), Soft: decibel(w.Soft)}
		}
		for ch, dst := range map[response.Channel]*channelDoc{
			response.LeftAlone: &seat.Channels.Left, response.RightAlone: &seat.Channels.Right, response.BothTogether: &seat.Channels.Both,
		} {
			*dst = newChannelDoc(j.Figures[ch], j.Curves[ch])
		}
		d.Seats = append(d.Seats, seat)
	}
	return d
}

// SubCSV writes the ways of the plan that pays, at the main seat, as comma-separated
// values, one row per frequency under one row of names:
//
//	frequency_hz
//	left_re, left_im, left_level_db, right_..., subwoofer_1_..., subwoofer_2_...
//	sum_left_..., sum_right_..., sum_both_...
//
// left and right are the speakers alone, high-pass included; subwoofer_n is one subwoofer
// as set, for a signal in one channel; the sums are what the figures judge. Figures are those of
// [CSV], with the loudspeakers flat outdoors above their low limits.
func SubCSV(w io.Writer, m SubReport, air model.Air) error {
	if err := m.check(); err != nil {
		return err
	}
	seat := m.Result.Plans[m.worthwhile()].Seats[0]
	type way struct {
		name string
		p    []complex128
	}
	ways := []way{{"left", seat.Mains.Left}, {"right", seat.Mains.Right}}
	for i, p := range seat.Subs {
		ways = append(ways, way{fmt.Sprintf("subwoofer_%d", i+1), p})
	}
	for _, c := range response.Channels {
		ways = append(ways, way{"sum_" + c.String(), seat.Pair.Of(c)})
	}
	header := []string{"frequency_hz"}
	for _, v := range ways {
		header = append(header, v.name+"_re", v.name+"_im", v.name+"_level_db")
	}
	rows := [][]string{header}
	for i, f := range m.Grid {
		row := []string{digits(f)}
		for _, v := range ways {
			row = append(row, digits(real(v.p[i])), digits(imag(v.p[i])), level(model.RoomGain(v.p[i], f, air)))
		}
		rows = append(rows, row)
	}
	return writeRows(w, rows)
}
