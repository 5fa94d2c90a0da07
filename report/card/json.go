package card

import (
	"evenbass/model/response"
	"evenbass/report/data"
	"evenbass/report/unit"
)

// Doc is a card in JSON. A value that is not known is null.
type Doc struct {
	Spread    data.Fixed  `json:"spread_db"`
	Deviation data.Fixed  `json:"deviation_db"`
	Within    data.Fixed  `json:"within_6_db_share"`
	Dip       DipDoc      `json:"deepest_dip"`
	LowOctave data.Fixed  `json:"lowest_octave_db"`
	WorstFall *FallDoc    `json:"slowest_fall_20_db"`
	MeanFall  *data.Fixed `json:"mean_fall_20_db_s"`

	Others  *data.Fixed `json:"other_seats_spread_db,omitempty"`
	Between *data.Fixed `json:"seat_to_seat_db,omitempty"`
	Off     *data.Fixed `json:"least_tolerance_m,omitempty"`
	Trials  *TrialsDoc  `json:"trials,omitempty"`

	Marks      map[string]string     `json:"against_now,omitempty"` // better, worse or no difference, by figure
	Resolution map[string]data.Fixed `json:"resolution,omitempty"`  // of the change, in the figure's unit
}

// DipDoc is a dip.
type DipDoc struct {
	Channel   string     `json:"channel"`
	Frequency data.Fixed `json:"frequency_hz"`
	Level     data.Fixed `json:"level_re_mean_db"`
	Width     data.Fixed `json:"width_octaves"` // no less than the smoothing's window
}

// FallDoc is the slowest decay. Too slow to read is null; too fast to resolve has no band.
type FallDoc struct {
	Band     *data.Fixed `json:"band_hz"`
	Fall     *data.Fixed `json:"s"`
	Resolved bool        `json:"resolved"`
}

// TrialsDoc says how a layout ranks over the trials.
type TrialsDoc struct {
	Trials int `json:"trials"`
	Better int `json:"better_than_now"`
	First  int `json:"first"`
}

// keys are the names of the figures in JSON and CSV.
var keys = map[response.Figure]string{
	response.SpreadFigure: "spread_db", response.DeviationFigure: "deviation_db", response.WithinFigure: "within_6_db_share",
	response.DipFigure: "deepest_dip", response.LowOctaveFigure: "lowest_octave_db",
	response.WorstFallFigure: "slowest_fall_20_db", response.MeanFallFigure: "mean_fall_20_db_s",
}

// NewDoc returns a state's card, compared with now; nil leaves the comparison out.
func NewDoc(s, now *State) Doc {
	c := s.Card.Card
	d := Doc{
		Spread: data.Decibel(c.Spread), Deviation: data.Decibel(c.Deviation), Within: data.Rounded(c.Within, 3),
		Dip:       DipDoc{c.Dip.Channel.String(), data.Hertz(c.Dip.Frequency), data.Decibel(c.Dip.Level), data.Rounded(c.Dip.Width.Octaves, 3)},
		LowOctave: data.Decibel(c.LowOctave),
	}
	if c.Fall.Mean > 0 {
		d.MeanFall, d.WorstFall = new(data.Rounded(c.Fall.Mean, 4)), newFallDoc(c.Fall.Worst)
	}
	if others, ok := s.others(); ok {
		d.Others, d.Between = new(data.Decibel(others)), new(data.Decibel(s.Between))
	}
	if s.Tolerance.Limit > 0 {
		d.Off = new(data.Metres(s.off()))
	}
	if s.Trials > 0 {
		d.Trials = &TrialsDoc{s.Trials, s.Better, s.First}
	}
	if now != nil {
		d.Marks, d.Resolution = map[string]string{}, map[string]data.Fixed{}
		resolution := s.Card.Resolution(&now.Card)
		for f, change := range s.Card.Against(now.Card.Card, resolution) {
			if change.Known {
				d.Marks[keys[response.Figure(f)]] = change.Mark.String()
				d.Resolution[keys[response.Figure(f)]] = data.Rounded(resolution[f], 3)
			}
		}
	}
	return d
}

func newFallDoc(w response.Decay) *FallDoc {
	d := &FallDoc{Resolved: w.Band > 0 && w.Resolved()}
	if w.Band > 0 {
		d.Band = new(data.Hertz(w.Band))
		if w.Fall20 > 0 && !w.Slow() {
			d.Fall = new(data.Rounded(w.Fall20, 4))
		}
	}
	return d
}

// Columns are the names of a card's columns in CSV, in the order of [Cells].
var Columns = []string{
	"spread_db", "deviation_db", "within_6_db_share", "deepest_dip_db", "deepest_dip_hz", "deepest_dip_octaves",
	"lowest_octave_db", "slowest_fall_20_db_s", "slowest_fall_20_db_band_hz", "mean_fall_20_db_s",
}

// Cells are a card's cells in CSV. What is not known is empty; so is a slowest decay that is too
// fast to resolve or too slow to read.
func Cells(c response.Card) []string {
	number := func(v float64, places int, known bool) string {
		if !known {
			return ""
		}
		return data.Digits(unit.Round(v, places))
	}
	w := c.Fall.Worst
	return []string{
		data.Level(c.Spread), data.Level(c.Deviation), number(c.Within, 4, true),
		data.Level(c.Dip.Level), number(c.Dip.Frequency, 3, true), number(c.Dip.Width.Octaves, 4, true), data.Level(c.LowOctave),
		number(w.Fall20, 4, w.Fall20 > 0 && !w.Slow()), number(w.Band, 1, w.Band > 0), number(c.Fall.Mean, 4, c.Fall.Mean > 0),
	}
}
