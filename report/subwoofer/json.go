package subwoofer

import (
	"fmt"
	"io"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/subwoofer"
	"evenbass/report/card"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// FormatName is the first value of every JSON document that [JSON] writes.
const FormatName = "evenbass subwoofers 1"

type document struct {
	data.Head
	data.Layout
	Filter      string       `json:"filter"`
	HighPass    *data.Fixed  `json:"mains_high_pass_hz"`
	Places      int          `json:"places"`
	Recommended int          `json:"recommended"`
	Plans       []planDoc    `json:"plans"`
	Now         *planDoc     `json:"now"`
	Frequency   []data.Fixed `json:"frequency_hz"`
	Warnings    []string     `json:"warnings"`
}

type planDoc struct {
	Count      int            `json:"count"`
	Robust     data.Fixed     `json:"robust_spread_db"`
	Subwoofers []subwooferDoc `json:"subwoofers"`
	Seats      []seatDoc      `json:"seats"`
}

type subwooferDoc struct {
	At       data.Point `json:"driver"`
	Turned   bool       `json:"turned"`
	Reversed bool       `json:"reversed"`
	Delay    data.Fixed `json:"delay_ms"`
	Gain     data.Fixed `json:"gain_db"`
	LowPass  data.Fixed `json:"low_pass_hz"`
}

type seatDoc struct {
	Name     string        `json:"name"`
	Weight   data.Fixed    `json:"weight"`
	At       data.Point    `json:"ears"`
	Spread   data.Fixed    `json:"spread_db"`
	Card     card.Doc      `json:"card"` // of another seat or of the speakers alone without a comparison
	Walls    *data.Walls   `json:"spread_with_walls_db,omitempty"`
	Channels data.Channels `json:"channels"`
}

// JSON writes a search for subwoofers for other programs, by the rules of place.JSON.
// "plans" holds the best with none, one, two ... subwoofers; "recommended" is how many pay;
// "now" is null unless the room file says where subwoofers stand.
func JSON(w io.Writer, m Report) error {
	if err := m.check(); err != nil {
		return err
	}
	r, s := m.Result, m.Project.Subwoofers
	doc := document{
		Head:   data.Head{Format: FormatName, Version: m.Run.Version, Command: m.Run.Command, Engine: r.Engine.Kind, Room: m.Project.Room.Name, Goal: data.NewGoal(r.Goal)},
		Layout: data.NewLayout(r.Layout),
		Filter: s.Filter.String(), Places: r.Places, Recommended: m.worthwhile(), Frequency: data.NewGrid(m.Grid),
		Warnings: text.WarningTexts(text.UniqueWarnings(text.ProjectWarnings(m.Project), r.Warnings, m.Warnings), unit.Metric),
	}
	if s.HighPass > 0 {
		high := data.Hertz(s.HighPass)
		doc.HighPass = &high
	}
	for i := range r.Plans {
		doc.Plans = append(doc.Plans, m.planDoc(&r.Plans[i]))
	}
	if r.Now != nil {
		now := m.planDoc(r.Now)
		doc.Now = &now
	}
	return data.WriteJSON(w, doc)
}

func (m *Report) planDoc(p *subwoofer.Plan) planDoc {
	d := planDoc{Count: len(p.Units), Robust: data.Decibel(p.Robust), Subwoofers: []subwooferDoc{}}
	for _, s := range p.Units {
		d.Subwoofers = append(d.Subwoofers, subwooferDoc{
			At: data.NewPoint(s.Place.Driver), Turned: s.Place.Turned, Reversed: s.Setting.Reversed,
			Delay: data.Rounded(1000*s.Setting.Delay, 2), Gain: data.Decibel(s.Setting.Gain), LowPass: data.Hertz(s.Setting.LowPass),
		})
	}
	for i := range p.Seats {
		j := &p.Seats[i].Judgement
		seat := seatDoc{Name: p.Seats[i].Name, Weight: data.Rounded(p.Seats[i].Weight, 4), At: data.NewPoint(p.Seats[i].At), Spread: data.Decibel(j.Spread()), Card: m.cardDoc(p, i)}
		if w := p.Seats[i].Walls; w.Given() {
			seat.Walls = &data.Walls{Hard: data.Decibel(w.Hard), Soft: data.Decibel(w.Soft)}
		}
		for ch, dst := range map[response.Channel]*data.Channel{
			response.LeftAlone: &seat.Channels.Left, response.RightAlone: &seat.Channels.Right, response.BothTogether: &seat.Channels.Both,
		} {
			*dst = data.NewChannel(j.Figures[ch], j.Curves[ch])
		}
		d.Seats = append(d.Seats, seat)
	}
	return d
}

// CSV writes the ways of the plan that pays, at the main seat, as comma-separated
// values, one row per frequency under one row of names:
//
//	frequency_hz
//	left_re, left_im, left_level_db, right_..., subwoofer_1_..., subwoofer_2_...
//	sum_left_..., sum_right_..., sum_both_...
//
// left and right are the speakers alone, high-pass included; subwoofer_n is one subwoofer
// as set, for a signal in one channel; the sums are what the figures judge. Figures are those of
// place.CSV, with the loudspeakers flat outdoors above their low limits.
func CSV(w io.Writer, m Report, air model.Air) error {
	if err := m.check(); err != nil {
		return err
	}
	seat := m.Result.Plans[m.worthwhile()].Seats[0]
	type way struct {
		name string
		p    []complex128
	}
	ways := []way{{"left", seat.Mains.Left}, {"right", seat.Mains.Right}}
	for i, p := range seat.Units {
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
		row := []string{data.Digits(f)}
		for _, v := range ways {
			row = append(row, data.Digits(real(v.p[i])), data.Digits(imag(v.p[i])), data.Level(model.RoomGain(v.p[i], f, air)))
		}
		rows = append(rows, row)
	}
	return data.WriteRows(w, rows)
}

// cardDoc is the card of a plan at a seat, compared with the speakers alone.
func (m *Report) cardDoc(p *subwoofer.Plan, seat int) card.Doc {
	is, none := card.State{Card: p.Seats[seat].Card}, card.State{Card: m.Result.Plans[0].Seats[seat].Card}
	if p == &m.Result.Plans[0] {
		return card.NewDoc(&is, nil)
	}
	return card.NewDoc(&is, &none)
}
