package whatif

import (
	"fmt"
	"io"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/whatif"
	"evenbass/report/card"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// FormatName is the first value of every JSON document that [JSON] writes.
const FormatName = "evenbass whatif 1"

type document struct {
	data.Head
	data.Layout
	Now       stateDoc     `json:"now"`
	Options   []stateDoc   `json:"options"`
	Frequency []data.Fixed `json:"frequency_hz"`
	Warnings  []string     `json:"warnings"`
}

// stateDoc is the room as it is or with an option.
type stateDoc struct {
	Name     string         `json:"name"`
	Card     card.Doc       `json:"card"`
	Spread   data.Fixed     `json:"spread_db"`
	LowEnd   data.Fixed     `json:"low_end_db"` // mean level over the goal's lowest octave
	Fall     data.Fixed     `json:"mean_fall_20_db_s"`
	Floor    data.Fixed     `json:"floor_m2"`
	Weight   *data.Fixed    `json:"weight_kg"` // null where nothing is to be built, or it is not known
	CostLow  *data.Fixed    `json:"cost_low"`
	CostHigh *data.Fixed    `json:"cost_high"`
	Unpriced int            `json:"without_price"`
	Healed   []dipDoc       `json:"dips_healed"`
	Made     []dipDoc       `json:"dips_made"`
	Breaches []string       `json:"breaches"`
	Decay    []decayDoc     `json:"decay"`
	Modes    []modeDecayDoc `json:"modes"` // null unless all states are plain boxes
	Best     *bestDoc       `json:"best_places"`
	Channels data.Channels  `json:"channels"`
}

type dipDoc struct {
	Channel   string     `json:"channel"`
	Frequency data.Fixed `json:"frequency_hz"`
	Before    data.Fixed `json:"before_re_mean_db"`
	After     data.Fixed `json:"after_re_mean_db"`
}

type decayDoc struct {
	Band     data.Fixed `json:"band_hz"`
	Fall20   data.Fixed `json:"fall_20_db_s"` // 0 is not known
	Fall30   data.Fixed `json:"fall_30_db_s"`
	Resolved bool       `json:"resolved"`
}

type modeDecayDoc struct {
	N         [3]int     `json:"half_waves"`
	Frequency data.Fixed `json:"frequency_hz"`
	Fall20    data.Fixed `json:"fall_20_db_s"`
}

type bestDoc struct {
	Spread data.Fixed `json:"spread_db"`
	data.Layout
}

// JSON writes a comparison of options for other programs, by the rules of place.JSON.
func JSON(out io.Writer, w Report) error {
	r := w.Result
	doc := document{
		Head:   data.Head{Format: FormatName, Version: w.Run.Version, Command: w.Run.Command, Engine: r.Engine.Kind, Room: w.Project.Room.Name, Goal: data.NewGoal(r.Goal)},
		Layout: data.NewLayout(r.Layout),
		Now:    w.stateDoc(&r.Now), Options: []stateDoc{}, Frequency: data.NewGrid(r.Grid), Warnings: text.WarningTexts(w.warnings(text.ProjectWarnings(w.Project)), unit.Metric),
	}
	for i := range r.States {
		doc.Options = append(doc.Options, w.stateDoc(&r.States[i]))
	}
	return data.WriteJSON(out, doc)
}

func (w *Report) stateDoc(v *whatif.State) stateDoc {
	d := stateDoc{
		Name: v.Name, Card: w.cardDoc(v), Spread: data.Decibel(v.Judgement.Spread()), LowEnd: data.Decibel(v.LowEnd), Fall: data.Rounded(v.MeanFall(), 4), Floor: data.Rounded(v.Floor, 3),
		Healed: newDipDocs(v.Cured), Made: newDipDocs(v.Created), Breaches: ruleTexts(v.Breaches),
	}
	if v.Build != nil {
		d.Weight = new(data.Rounded(v.Build.Weight().Typical, 2))
	}
	if low, high, unpriced, ok := w.price(v); ok {
		d.CostLow, d.CostHigh, d.Unpriced = new(data.Rounded(low, 2)), new(data.Rounded(high, 2)), unpriced
	}
	for _, b := range v.Decay {
		d.Decay = append(d.Decay, decayDoc{data.Hertz(b.Band), data.Rounded(b.Fall20, 4), data.Rounded(b.Fall30, 4), b.Resolved()})
	}
	for _, m := range v.Modes {
		d.Modes = append(d.Modes, modeDecayDoc{m.N, data.Hertz(m.Frequency), data.Rounded(m.Fall20, 4)})
	}
	if c := v.Places; c != nil {
		d.Best = &bestDoc{data.Decibel(c.Judgement.Spread()), data.NewLayout(c.Layout)}
	}
	for ch, dst := range map[response.Channel]*data.Channel{
		response.LeftAlone: &d.Channels.Left, response.RightAlone: &d.Channels.Right, response.BothTogether: &d.Channels.Both,
	} {
		*dst = data.NewChannel(v.Judgement.Figures[ch], v.Judgement.Curves[ch])
	}
	return d
}

// cardDoc is the card of a state, compared with the room as it is.
func (w *Report) cardDoc(v *whatif.State) card.Doc {
	now, is := w.state(-1), card.State{Card: v.Card}
	if v == &w.Result.Now {
		return card.NewDoc(&is, nil)
	}
	return card.NewDoc(&is, &now)
}

func newDipDocs(list []whatif.DipChange) []dipDoc {
	docs := []dipDoc{}
	for _, d := range list {
		docs = append(docs, dipDoc{d.Channel.String(), data.Hertz(d.Frequency), data.Decibel(d.Before), data.Decibel(d.After)})
	}
	return docs
}

// price returns what a state costs to buy and how much is without a price; false where
// that is not known.
func (w *Report) price(v *whatif.State) (low, high float64, unpriced int, ok bool) {
	if v.Build == nil || w.Project.Stock == nil {
		return 0, 0, 0, false
	}
	sum, unpriced := v.Build.Cost()
	return sum.Min, sum.Max, unpriced, true
}

// CSV writes a comparison of options as comma-separated values, one row for the
// room as it is and one for each option, under the names
//
//	state, name, the columns of a card (card.Columns), low_end_db, floor_m2, weight_kg,
//	cost_low, cost_high, without_price, best_places_db, fall_20_db_31.5_hz_s ...
//
// with a column for each third octave. What is not known is empty.
func CSV(out io.Writer, w Report) error {
	head := append([]string{"state", "name"}, card.Columns...)
	head = append(head, strings.Split("low_end_db,floor_m2,weight_kg,cost_low,cost_high,without_price,best_places_db", ",")...)
	for _, d := range w.Result.Now.Decay {
		head = append(head, fmt.Sprintf("fall_20_db_%g_hz_s", d.Band))
	}
	rows := [][]string{head}
	for i, v := range w.states() {
		row := append([]string{stateName(i), data.SafeCell(v.Name)}, card.Cells(v.Card.Card)...)
		row = append(row, data.Level(v.LowEnd), data.Digits(unit.Round(v.Floor, 3)))
		row = append(row, w.builtCells(v)...)
		if v.Places != nil {
			row = append(row, data.Level(v.Places.Judgement.Spread()))
		} else {
			row = append(row, "")
		}
		for _, d := range v.Decay {
			cell := ""
			if d.Fall20 > 0 {
				cell = data.Digits(unit.Round(d.Fall20, 4))
			}
			row = append(row, cell)
		}
		rows = append(rows, row)
	}
	return data.WriteRows(out, rows)
}

// builtCells are weight, prices and how much is without one.
func (w *Report) builtCells(v *whatif.State) []string {
	cells := make([]string, 4)
	if v.Build != nil {
		cells[0] = data.Digits(unit.Round(v.Build.Weight().Typical, 2))
	}
	if low, high, unpriced, ok := w.price(v); ok {
		cells[1], cells[2], cells[3] = data.Digits(unit.Round(low, 2)), data.Digits(unit.Round(high, 2)), fmt.Sprint(unpriced)
	}
	return cells
}

// ruleTexts puts rules into words.
func ruleTexts(rules []model.Rule) []string {
	list := make([]string, len(rules))
	for i, r := range rules {
		list[i] = text.RuleText(r)
	}
	return list
}
