package place

import (
	"io"
	"math"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
	"evenbass/optimize/cause"
	"evenbass/optimize/score"
	"evenbass/optimize/study"
	"evenbass/report/card"
	"evenbass/report/data"
	"evenbass/report/present"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// FormatName is the first value of every JSON document that [JSON] writes. The
// number at its end grows when a key changes its meaning or disappears, not when a key is added.
const FormatName = "evenbass places 2"

// JSON writes a result for other programs: one object, keys in a fixed order,
// SI units named in the keys, positions in the room's coordinates, levels to 0.01
// dB and lengths to 0.1 mm. "layouts" is ordered, the best first; "now" is null
// if nothing has a place yet. Curves are the smoothed room gain in dB relative to the
// same source at 1 m in the free field. A value that does not exist is null. It
// carries no date, so that equal runs give equal bytes.
func JSON(w io.Writer, in Report) error {
	if err := in.check(); err != nil {
		return err
	}
	r, room := in.Result, &in.Project.Room
	doc := placesDoc{
		Format: FormatName, Version: in.Run.Version, Command: in.Run.Command,
		Engine: r.Engine.Kind, Seed: r.Seed, Evaluations: r.Evaluations, Stopped: string(r.Stopped),
		Room: roomDoc{
			Name: room.Name, Length: data.Metres(room.Size.X), Width: data.Metres(room.Size.Y), Height: data.Metres(room.Size.Z),
			Temperature: data.Rounded(kelvin(room)-273.15, 2),
		},
		Goal:      data.NewGoal(r.Goal),
		Frequency: data.NewGrid(in.Grid),
		Steps:     newStepDocs(r.Steps),
		TradeOff:  newTradeDocs(r.Front),
		Facings:   newFacingDocs(&in),
		Thumb:     newThumbDoc(in.Thumb),
		Widened:   newWidenedDoc(in.Widened),
		Dips:      newDipDocs(&in),
		Measured:  present.NewDoc(in.Present),
		Stability: newStabilityDoc(in.Stability),
		Warnings:  text.WarningTexts(in.AllWarnings(), unit.Metric),
		Batch:     in.Batch,
	}
	if r.Now != nil {
		now := newLayoutDoc(0, r.Now)
		now.Card = card.NewDoc(new(in.now()), nil)
		doc.Now = &now
	}
	for i := range r.Candidates {
		d := newLayoutDoc(i+1, &r.Candidates[i])
		d.Card = card.NewDoc(new(in.layout(i)), in.nowOrNil())
		doc.Layouts = append(doc.Layouts, d)
	}
	return data.WriteJSON(w, doc)
}

// kelvin returns the room's temperature.
func kelvin(room *model.Room) float64 {
	if room.Temperature == 0 {
		return model.ReferenceTemperature
	}
	return room.Temperature
}

type placesDoc struct {
	Format      string           `json:"format"`
	Version     string           `json:"version"`
	Command     string           `json:"command"`
	Engine      model.EngineKind `json:"engine"`
	Seed        int64            `json:"seed"`
	Evaluations int              `json:"evaluations"`
	Stopped     string           `json:"stopped"`
	Room        roomDoc          `json:"room"`
	Goal        data.Goal        `json:"goal"`
	Now         *layoutDoc       `json:"now"`
	Layouts     []layoutDoc      `json:"layouts"`
	Steps       []stepDoc        `json:"steps"`               // from now to layout 1
	TradeOff    []tradeDoc       `json:"trade_off,omitempty"` // main seat versus the others
	Facings     []facingDoc      `json:"facings,omitempty"`
	Thumb       *thumbDoc        `json:"rules_of_thumb,omitempty"`
	Widened     *widenedDoc      `json:"wider_default_rules,omitempty"`
	Dips        []dipDoc         `json:"dips,omitempty"`
	Measured    *present.Doc     `json:"measured_now,omitempty"`
	Stability   *stabilityDoc    `json:"stability,omitempty"`
	Frequency   []data.Fixed     `json:"frequency_hz"`
	Warnings    []string         `json:"warnings"`
	Batch       any              `json:"batch,omitempty"` // of a batch: what its next run asks for
}

type roomDoc struct {
	Name        string     `json:"name"`
	Length      data.Fixed `json:"length_m"`
	Width       data.Fixed `json:"width_m"`
	Height      data.Fixed `json:"height_m"`
	Temperature data.Fixed `json:"temperature_c"`
}

type layoutDoc struct {
	Rank int `json:"rank"` // 0 is the present layout
	data.Layout
	Axis       data.Fixed    `json:"axis_height_m"`
	Robust     data.Fixed    `json:"robust_spread_db"`
	OffMarks   data.Fixed    `json:"spread_off_marks_db"` // mean
	Leaning    *leanDoc      `json:"leaning,omitempty"`
	Spread     data.Fixed    `json:"spread_db"`
	Walls      *data.Walls   `json:"spread_with_walls_db,omitempty"`
	Worst      string        `json:"worst_channel"`
	Difference data.Fixed    `json:"left_right_difference_db"`
	Tolerance  toleranceDoc  `json:"tolerance_m"`
	Breaches   []breachDoc   `json:"breaches"`
	Seats      *seatsDoc     `json:"seats,omitempty"`
	Card       card.Doc      `json:"card"`
	Channels   data.Channels `json:"channels"`
}

// leanDoc is what the worst lean of the listener does.
type leanDoc struct {
	By     data.Fixed `json:"by_m"`
	Where  string     `json:"where"`
	Spread data.Fixed `json:"spread_db"`
}

type toleranceDoc struct {
	Left  data.Fixed `json:"left"`
	Right data.Fixed `json:"right"`
	Seat  data.Fixed `json:"seat"`
	Limit data.Fixed `json:"limit"`
}

type breachDoc struct {
	What   string      `json:"what"`
	Amount data.Fixed  `json:"amount_m"`
	Angle  *data.Fixed `json:"angle_deg,omitempty"` // of a breach that is an angle's
}

// stepDoc is one move: where things stand after it.
type stepDoc struct {
	Parts []optimize.Part `json:"parts"`
	data.Layout
	Before data.Fixed `json:"spread_before_db"`
	After  data.Fixed `json:"spread_after_db"`
	Breaks bool       `json:"breaks_rules"`
}

// thumbDoc is the layout by rules of thumb.
type thumbDoc struct {
	data.Layout
	Spread data.Fixed `json:"spread_db"`
	Breaks bool       `json:"breaks_rules"`
}

func newThumbDoc(t *study.Thumb) *thumbDoc {
	if t == nil {
		return nil
	}
	return &thumbDoc{data.NewLayout(t.Layout), data.Decibel(t.Spread), t.Breaks}
}

func newStepDocs(steps []optimize.Step) []stepDoc {
	docs := make([]stepDoc, len(steps))
	for i, s := range steps {
		docs[i] = stepDoc{
			Parts: s.Parts, Layout: data.NewLayout(s.To),
			Before: data.Decibel(s.Before), After: data.Decibel(s.After), Breaks: s.Breaks,
		}
	}
	return docs
}

func newLayoutDoc(rank int, c *score.Candidate) layoutDoc {
	d := layoutDoc{
		Rank: rank, Layout: data.NewLayout(c.Layout),
		Axis: data.Metres(c.Layout.AxisHeight), Robust: data.Decibel(c.Robust), Spread: data.Decibel(c.Judgement.Spread()),
		Worst: c.Judgement.Worst.String(), Difference: data.Decibel(c.Judgement.Difference),
		Tolerance: toleranceDoc{data.Metres(c.Tolerance.Left), data.Metres(c.Tolerance.Right), data.Metres(c.Tolerance.Seat), data.Metres(c.Tolerance.Limit)},
		Breaches:  []breachDoc{}, Seats: newSeatsDoc(c),
		OffMarks: data.Decibel(c.Steadiness.Mean),
	}
	if t := c.Steadiness; t.Lean != score.Upright {
		d.Leaning = &leanDoc{data.Metres(score.LeanDistance), t.Lean.String(), data.Decibel(t.Leaning)}
	}
	if c.Walls.Given() {
		d.Walls = &data.Walls{Hard: data.Decibel(c.Walls.Hard), Soft: data.Decibel(c.Walls.Soft)}
	}
	for _, b := range c.Breaches {
		doc := breachDoc{What: text.RuleText(b.Rule), Amount: data.Metres(b.Amount)}
		if b.Angle != 0 {
			doc.Angle = new(data.Rounded(b.Angle*180/math.Pi, 2))
		}
		d.Breaches = append(d.Breaches, doc)
	}
	for ch, dst := range map[response.Channel]*data.Channel{
		response.LeftAlone: &d.Channels.Left, response.RightAlone: &d.Channels.Right, response.BothTogether: &d.Channels.Both,
	} {
		*dst = data.NewChannel(c.Judgement.Figures[ch], c.Judgement.Curves[ch])
	}
	return d
}

// seatDoc holds a layout's figures at one seat. counted_spread_db is what ranks the layout:
// with marks slightly off at the main seat, averaged over head positions at any other.
type seatDoc struct {
	Name    string     `json:"name"`
	At      data.Point `json:"at"`
	Weight  data.Fixed `json:"weight"`
	Spread  data.Fixed `json:"spread_db"`
	Counted data.Fixed `json:"counted_spread_db"`
}

// seatsDoc holds a layout's figures at all seats.
type seatsDoc struct {
	Each    []seatDoc  `json:"each"`
	Score   data.Fixed `json:"weighted_spread_db"`
	Between data.Fixed `json:"seat_to_seat_db"`
}

// tradeDoc is one layout of the trade-off between the main seat and the others.
type tradeDoc struct {
	data.Layout
	Main data.Fixed `json:"main_spread_db"`
	Rest data.Fixed `json:"others_spread_db"`
}

// newSeatsDoc returns nil for a layout with one seat.
func newSeatsDoc(c *score.Candidate) *seatsDoc {
	if len(c.Seats) == 0 {
		return nil
	}
	d := &seatsDoc{Score: data.Decibel(c.Score), Between: data.Decibel(c.Between)}
	for _, f := range c.Seats {
		d.Each = append(d.Each, seatDoc{f.Name, data.NewPoint(f.At), data.Rounded(f.Weight, 4), data.Decibel(f.Spread), data.Decibel(f.Counted)})
	}
	return d
}

func newTradeDocs(front []optimize.FrontPoint) []tradeDoc {
	var docs []tradeDoc
	for _, p := range front {
		l := p.Layout
		docs = append(docs, tradeDoc{data.NewLayout(l), data.Decibel(p.Main), data.Decibel(p.Rest)})
	}
	return docs
}

// dipDoc is one of the deepest dips of a layout with the causes that the text names.
type dipDoc struct {
	Layout    int        `json:"layout"` // its rank; 0 is the present layout
	Channel   string     `json:"channel"`
	Frequency data.Fixed `json:"frequency_hz"`
	Level     data.Fixed `json:"level_db"` // against the band's mean
	Width     data.Fixed `json:"width_octaves"`
	Causes    []causeDoc `json:"causes"`
}

type causeDoc struct {
	Kind string      `json:"kind"`           // boundary, mode or speakers
	Wall string      `json:"wall,omitempty"` // of a boundary
	Mode *data.Fixed `json:"mode_hz,omitempty"`
	Cure data.Fixed  `json:"cure_db"` // how far the dip shrinks without it
}

func newDipDocs(in *Report) []dipDoc {
	var docs []dipDoc
	for _, layout := range in.Faults {
		for _, d := range layout.Faults {
			doc := dipDoc{
				Layout: layout.Number, Channel: d.Feature.Channel.String(), Frequency: data.Hertz(d.Feature.Frequency),
				Level: data.Decibel(d.Feature.Level), Width: data.Rounded(d.Feature.Width.Octaves, 3), Causes: []causeDoc{},
			}
			for _, c := range d.Named() {
				doc.Causes = append(doc.Causes, newCauseDoc(c))
			}
			docs = append(docs, doc)
		}
	}
	return docs
}

func newCauseDoc(c cause.Cause) causeDoc {
	doc := causeDoc{Kind: "boundary", Cure: data.Decibel(c.Cure)}
	switch c.Kind {
	case cause.ModeSuspect:
		doc.Kind, doc.Mode = "mode", new(data.Hertz(c.Mode.Frequency))
	case cause.SpeakerSuspect:
		doc.Kind = "speakers"
	default:
		doc.Wall = c.Boundary.String()
	}
	return doc
}
