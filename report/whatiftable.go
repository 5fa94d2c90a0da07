package report

import (
	"fmt"
	"io"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// WhatIfFormatName is the first value of every JSON document that [WhatIfJSON] writes.
const WhatIfFormatName = "evenbass whatif 1"

type whatIfDoc struct {
	Format    string          `json:"format"`
	Version   string          `json:"version"`
	Command   string          `json:"command"`
	Engine    string          `json:"engine"`
	Room      string          `json:"room"`
	Goal      goalDoc         `json:"goal"`
	Left      pointDoc        `json:"left"`
	Right     pointDoc        `json:"right"`
	Seat      pointDoc        `json:"seat"`
	Now       stateDoc        `json:"now"`
	Options   []stateDoc      `json:"options"`
	Frequency []fixed         `json:"frequency_hz"`
	Warnings  []model.Warning `json:"warnings"`
}

// stateDoc is the room as it is or with an option.
type stateDoc struct {
	Name     string         `json:"name"`
	Spread   fixed          `json:"spread_db"`
	LowEnd   fixed          `json:"low_end_db"` // mean level over the goal's lowest octave
	Fall     fixed          `json:"mean_fall_20_db_s"`
	Floor    fixed          `json:"floor_m2"`
	Weight   *fixed         `json:"weight_kg"` // null where nothing is to be built, or it is not known
	CostLow  *fixed         `json:"cost_low"`
	CostHigh *fixed         `json:"cost_high"`
	Unpriced int            `json:"without_price"`
	Healed   []dipDoc       `json:"dips_healed"`
	Made     []dipDoc       `json:"dips_made"`
	Breaches []string       `json:"breaches"`
	Decay    []decayDoc     `json:"decay"`
	Modes    []modeDecayDoc `json:"modes"` // null unless all states are plain boxes
	Best     *bestDoc       `json:"best_places"`
	Channels channelsDoc    `json:"channels"`
}

type dipDoc struct {
	Channel   string `json:"channel"`
	Frequency fixed  `json:"frequency_hz"`
	Before    fixed  `json:"before_re_mean_db"`
	After     fixed  `json:"after_re_mean_db"`
}

type decayDoc struct {
	Band     fixed `json:"band_hz"`
	Fall20   fixed `json:"fall_20_db_s"` // 0 is not known
	Fall30   fixed `json:"fall_30_db_s"`
	Resolved bool  `json:"resolved"`
}

type modeDecayDoc struct {
	N         [3]int `json:"half_waves"`
	Frequency fixed  `json:"frequency_hz"`
	Fall20    fixed  `json:"fall_20_db_s"`
}

type bestDoc struct {
	Spread fixed    `json:"spread_db"`
	Left   pointDoc `json:"left"`
	Right  pointDoc `json:"right"`
	Seat   pointDoc `json:"seat"`
}

// WhatIfJSON writes a comparison of options for other programs, by the rules of [JSON].
func WhatIfJSON(out io.Writer, w WhatIf) error {
	r := w.Result
	doc := whatIfDoc{
		Format: WhatIfFormatName, Version: w.Run.Version, Command: w.Run.Command, Engine: r.Engine, Room: w.Project.Room.Name,
		Goal: goalDoc{From: hertz(r.Goal.From), To: hertz(r.Goal.To), Smoothing: fmt.Sprintf("1/%d", r.Goal.Smoothing)},
		Left: newPointDoc(r.Layout.Left), Right: newPointDoc(r.Layout.Right), Seat: newPointDoc(r.Layout.Seat),
		Now: w.stateDoc(&r.Now), Options: []stateDoc{}, Warnings: append([]model.Warning{}, w.warnings()...),
	}
	for i := range r.Variants {
		doc.Options = append(doc.Options, w.stateDoc(&r.Variants[i]))
	}
	for _, f := range r.Grid {
		doc.Frequency = append(doc.Frequency, hertz(f))
	}
	return writeJSON(out, doc)
}

func (w *WhatIf) stateDoc(v *optimize.Variant) stateDoc {
	d := stateDoc{
		Name: v.Name, Spread: decibel(v.Judgement.Spread()), LowEnd: decibel(v.LowEnd), Fall: rounded(v.MeanFall(), 4), Floor: rounded(v.Floor, 3),
		Healed: newDipDocs(v.Healed), Made: newDipDocs(v.Made), Breaches: append([]string{}, v.Breaches...),
	}
	if v.Build != nil {
		d.Weight = new(rounded(v.Build.Weight().Typical, 2))
	}
	if low, high, unpriced, ok := w.price(v); ok {
		d.CostLow, d.CostHigh, d.Unpriced = new(rounded(low, 2)), new(rounded(high, 2)), unpriced
	}
	for _, b := range v.Decay {
		d.Decay = append(d.Decay, decayDoc{hertz(b.Band), rounded(b.Fall20, 4), rounded(b.Fall30, 4), b.Resolved()})
	}
	for _, m := range v.Modes {
		d.Modes = append(d.Modes, modeDecayDoc{m.N, hertz(m.Frequency), rounded(m.Fall20, 4)})
	}
	if c := v.Places; c != nil {
		d.Best = &bestDoc{decibel(c.Judgement.Spread()), newPointDoc(c.Layout.Left), newPointDoc(c.Layout.Right), newPointDoc(c.Layout.Seat)}
	}
	for ch, dst := range map[response.Channel]*channelDoc{
		response.LeftAlone: &d.Channels.Left, response.RightAlone: &d.Channels.Right, response.BothTogether: &d.Channels.Both,
	} {
		*dst = newChannelDoc(v.Judgement.Figures[ch], v.Judgement.Curves[ch])
	}
	return d
}

func newDipDocs(list []optimize.DipChange) []dipDoc {
	docs := []dipDoc{}
	for _, d := range list {
		docs = append(docs, dipDoc{d.Channel.String(), hertz(d.Frequency), decibel(d.Before), decibel(d.After)})
	}
	return docs
}

// price returns what a state costs to buy and how much is without a price; false where
// that is not known.
func (w *WhatIf) price(v *optimize.Variant) (low, high float64, unpriced int, ok bool) {
	if v.Build == nil || w.Project.Stock == nil {
		return 0, 0, 0, false
	}
	sum, unpriced := v.Build.Cost()
	return sum.Min, sum.Max, unpriced, true
}

// WhatIfCSV writes a comparison of options as comma-separated values, one row for the
// room as it is and one for each option, under the names
//
//	state, name, spread_db, low_end_db, mean_fall_20_db_s, floor_m2, weight_kg,
//	cost_low, cost_high, without_price, best_places_db, fall_20_db_31.5_hz_s ...
//
// with a column for each third octave. What is not known is empty.
func WhatIfCSV(out io.Writer, w WhatIf) error {
	head := strings.Split("state,name,spread_db,low_end_db,mean_fall_20_db_s,floor_m2,weight_kg,cost_low,cost_high,without_price,best_places_db", ",")
	for _, d := range w.Result.Now.Decay {
		head = append(head, fmt.Sprintf("fall_20_db_%g_hz_s", d.Band))
	}
	rows := [][]string{head}
	for i, v := range w.states() {
		row := []string{stateName(i), safeCell(v.Name), level(v.Judgement.Spread()), level(v.LowEnd), digits(round(v.MeanFall(), 4)), digits(round(v.Floor, 3))}
		row = append(row, w.builtCells(v)...)
		if v.Places != nil {
			row = append(row, level(v.Places.Judgement.Spread()))
		} else {
			row = append(row, "")
		}
		for _, d := range v.Decay {
			cell := ""
			if d.Fall20 > 0 {
				cell = digits(round(d.Fall20, 4))
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	return writeRows(out, rows)
}

// builtCells are weight, prices and how much is without one.
func (w *WhatIf) builtCells(v *optimize.Variant) []string {
	cells := make([]string, 4)
	if v.Build != nil {
		cells[0] = digits(round(v.Build.Weight().Typical, 2))
	}
	if low, high, unpriced, ok := w.price(v); ok {
		cells[1], cells[2], cells[3] = digits(round(low, 2)), digits(round(high, 2)), fmt.Sprint(unpriced)
	}
	return cells
}
