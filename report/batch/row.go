package batch

import (
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/report/place"
	"evenbass/report/unit"
)

// Row is what a batch reports of one room.
type Row struct {
	File      string       `json:"file"`
	Page      string       `json:"page,omitempty"` // name of the room's page, beside the index
	Room      string       `json:"room,omitempty"`
	Engine    string       `json:"engine,omitempty"`
	Goal      string       `json:"goal,omitempty"`
	Seed      int64        `json:"seed,omitempty"`
	Now       *model.Level `json:"now_db"`             // the spread as things stand; nil if nothing stands
	Best      *model.Level `json:"best_db"`            // the spread of the first layout; nil if the room failed
	Least     *model.Level `json:"least_db,omitempty"` // its range over the likely walls
	Most      *model.Level `json:"most_db,omitempty"`
	Headline  string       `json:"headline,omitempty"` // of the room's own page
	FirstMove string       `json:"first_move,omitempty"`
	Places    *Places      `json:"places,omitempty"` // of the first layout
	Card      *Card        `json:"card,omitempty"`   // likewise
	Curves    *Curves      `json:"curves,omitempty"` // for the index; only in the JSON of the room itself
	Warnings  int          `json:"warnings"`
	Kept      bool         `json:"kept"` // from an earlier run
	Fault     string       `json:"fault,omitempty"`
}

// Places are those of a layout: x, y, z in m of both woofers and of the ears.
type Places struct {
	Left  [3]float64 `json:"left_m"`
	Right [3]float64 `json:"right_m"`
	Seat  [3]float64 `json:"seat_m"`
}

// Card holds the figures of the main seat beside the spread; see [response.Card].
type Card struct {
	Deviation float64 `json:"deviation_db"`
	Within    float64 `json:"within_6_db"` // share of the band
	Dip       float64 `json:"dip_db"`
	DipAt     float64 `json:"dip_hz"`
	LowOctave float64 `json:"low_octave_db"`
}

// Curves are those of a small graph: levels in dB re the mean of the band over frequencies in Hz,
// of the worst channel of the first layout.
type Curves struct {
	From      float64   `json:"from_hz"` // the goal's band
	To        float64   `json:"to_hz"`
	Frequency []float64 `json:"frequency_hz"`
	Now       []float64 `json:"now_db,omitempty"` // empty if nothing stands
	Best      []float64 `json:"best_db"`
}

// NewRow returns the row of a room that has been searched.
func NewRow(in *place.Report) Row {
	r, best := in.Result, &in.Result.Candidates[0]
	low, high := best.Range()
	row := Row{
		File: in.Run.File, Room: in.Project.Room.Name, Engine: string(r.Engine.Kind), Goal: r.Goal.String(), Seed: r.Seed,
		Best: rounded(best.Judgement.Spread()), Least: rounded(low), Most: rounded(high),
		Places:   &Places{vector(best.Layout.Left), vector(best.Layout.Right), vector(best.Layout.Seat)},
		Warnings: len(in.Project.PresentBreaches()) + len(in.AllWarnings()), Curves: newCurves(in),
	}
	if c := best.Card.Card; c.Goal != (model.Goal{}) {
		row.Card = &Card{
			Deviation: unit.Round(float64(c.Deviation), 2), Within: unit.Round(c.Within, 3), Dip: unit.Round(float64(c.Dip.Level), 2),
			DipAt: unit.Round(c.Dip.Frequency, 1), LowOctave: unit.Round(float64(c.LowOctave), 2),
		}
	}
	if r.Now != nil {
		row.Now = rounded(r.Now.Judgement.Spread())
	}
	row.Headline, row.FirstMove = place.Headline(in), place.FirstMove(in)
	return row
}

// whole reports whether a row that was read is one that a batch writes: with a result, figures that are
// levels, and curves that can be drawn.
func (r *Row) whole() bool {
	if r.Best == nil || r.Fault != "" {
		return false
	}
	for _, l := range []*model.Level{r.Now, r.Best, r.Least, r.Most} {
		if l != nil && !isLevel(float64(*l)) {
			return false
		}
	}
	return r.Curves == nil || r.Curves.drawable()
}

// drawable reports whether the curves have a level for each of rising frequencies, and a band.
func (c *Curves) drawable() bool {
	n := len(c.Frequency)
	if n < 2 || len(c.Best) != n || len(c.Now) != 0 && len(c.Now) != n || !(c.From > 0 && c.From < c.To && c.To < 1e6) {
		return false
	}
	for i, f := range c.Frequency {
		if !(f > 0 && f < 1e6) || i > 0 && f <= c.Frequency[i-1] || !isLevel(c.Best[i]) || len(c.Now) > 0 && !isLevel(c.Now[i]) {
			return false
		}
	}
	return true
}

// isLevel reports whether a number can be a level or a difference of levels in dB.
func isLevel(v float64) bool { return math.Abs(v) <= 500 }

func rounded(l model.Level) *model.Level {
	l = model.Level(unit.Round(float64(l), 2))
	return &l
}

func vector(v r3.Vec) [3]float64 {
	return [3]float64{unit.Round(v.X, 4), unit.Round(v.Y, 4), unit.Round(v.Z, 4)}
}

// thinned is the least ratio of two frequencies of a small graph: 1/48 octave.
const thinned = 1.0145

// newCurves thins the curves of the first layout and of the present one.
func newCurves(in *place.Report) *Curves {
	c := &Curves{From: in.Result.Goal.From, To: in.Result.Goal.To}
	channel, last := in.Result.Candidates[0].Judgement.Worst, 0.0
	for i, f := range in.Grid {
		if f < last*thinned {
			continue
		}
		last = f
		c.Frequency = append(c.Frequency, unit.Round(f, 2))
		c.Best = append(c.Best, levelAt(&in.Result.Candidates[0], channel, i))
		if in.Result.Now != nil {
			c.Now = append(c.Now, levelAt(in.Result.Now, channel, i))
		}
	}
	return c
}

// levelAt returns a level re the mean of the band.
func levelAt(c *score.Candidate, channel response.Channel, i int) float64 {
	return unit.Round(float64(c.Judgement.Curves[channel][i]-c.Judgement.Figures[channel].Mean), 1)
}
