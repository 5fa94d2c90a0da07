package report

import (
	"fmt"
	"io"
	"math"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// FormatName is the first value of every JSON document that [JSON] writes. The
// number at its end grows when a key changes its meaning or goes; new keys may
// come without that.
const FormatName = "evenbass places 1"

// JSON writes a result for other programs: one object, keys in a fixed order,
// SI units named in the keys, positions in the room's coordinates, levels to 0.01
// dB and lengths to 0.1 mm. "layouts" is ordered, the best first; "now" is null
// if nothing stands yet. Curves are the smoothed room gain in dB relative to the
// same source at 1 m in the free field. A value that does not exist is null. It
// carries no date, so that equal runs give equal bytes.
func JSON(w io.Writer, in Input) error {
	if err := in.check(); err != nil {
		return err
	}
	r, room := in.Result, &in.Project.Room
	doc := placesDoc{
		Format: FormatName, Version: in.Run.Version, Command: in.Run.Command,
		Engine: r.Engine, Seed: r.Seed, Evaluations: r.Evaluations, Stopped: string(r.Stopped),
		Room: roomDoc{
			Name: room.Name, Length: metres(room.Size.X), Width: metres(room.Size.Y), Height: metres(room.Size.Z),
			Temperature: rounded(kelvin(room)-273.15, 2),
		},
		Goal:      goalDoc{From: hertz(r.Goal.From), To: hertz(r.Goal.To), Smoothing: fmt.Sprintf("1/%d", r.Goal.Smoothing)},
		Frequency: make([]fixed, len(in.Grid)),
		Steps:     newStepDocs(r.Steps),
		TradeOff:  newTradeDocs(r.Front),
		Facings:   newFacingDocs(&in),
		Stability: newStabilityDoc(in.Stability),
		Warnings:  in.allWarnings(),
		Batch:     in.Batch,
	}
	if doc.Warnings == nil {
		doc.Warnings = []model.Warning{}
	}
	for i, f := range in.Grid {
		doc.Frequency[i] = hertz(f)
	}
	if r.Now != nil {
		now := newLayoutDoc(0, r.Now)
		doc.Now = &now
	}
	for i := range r.Candidates {
		doc.Layouts = append(doc.Layouts, newLayoutDoc(i+1, &r.Candidates[i]))
	}
	return writeJSON(w, doc)
}

// kelvin returns the room's temperature.
func kelvin(room *model.Room) float64 {
	if room.Temperature == 0 {
		return model.ReferenceTemperature
	}
	return room.Temperature
}

type placesDoc struct {
	Format      string          `json:"format"`
	Version     string          `json:"version"`
	Command     string          `json:"command"`
	Engine      string          `json:"engine"`
	Seed        int64           `json:"seed"`
	Evaluations int             `json:"evaluations"`
	Stopped     string          `json:"stopped"`
	Room        roomDoc         `json:"room"`
	Goal        goalDoc         `json:"goal"`
	Now         *layoutDoc      `json:"now"`
	Layouts     []layoutDoc     `json:"layouts"`
	Steps       []stepDoc       `json:"steps"`               // from now to layout 1
	TradeOff    []tradeDoc      `json:"trade_off,omitempty"` // main seat versus the others
	Facings     []facingDoc     `json:"facings,omitempty"`
	Stability   *stabilityDoc   `json:"stability,omitempty"`
	Frequency   []fixed         `json:"frequency_hz"`
	Warnings    []model.Warning `json:"warnings"`
	Batch       any             `json:"batch,omitempty"` // of a batch: what its next run asks for
}

type roomDoc struct {
	Name        string `json:"name"`
	Length      fixed  `json:"length_m"`
	Width       fixed  `json:"width_m"`
	Height      fixed  `json:"height_m"`
	Temperature fixed  `json:"temperature_c"`
}

type layoutDoc struct {
	Rank       int          `json:"rank"` // 0 is the present layout
	Left       pointDoc     `json:"left"`
	Right      pointDoc     `json:"right"`
	Seat       pointDoc     `json:"seat"`
	Axis       fixed        `json:"axis_height_m"`
	Robust     fixed        `json:"robust_spread_db"`
	Spread     fixed        `json:"spread_db"`
	Walls      *wallsDoc    `json:"spread_with_walls_db,omitempty"`
	Worst      string       `json:"worst_channel"`
	Difference fixed        `json:"left_right_difference_db"`
	Tolerance  toleranceDoc `json:"tolerance_m"`
	Breaches   []breachDoc  `json:"breaches"`
	Seats      *seatsDoc    `json:"seats,omitempty"`
	Channels   channelsDoc  `json:"channels"`
}

type toleranceDoc struct {
	Left  fixed `json:"left"`
	Right fixed `json:"right"`
	Seat  fixed `json:"seat"`
	Limit fixed `json:"limit"`
}

type breachDoc struct {
	What   string `json:"what"`
	Amount fixed  `json:"amount_m"`
	Angle  *fixed `json:"angle_deg,omitempty"` // of a breach that is an angle's
}

// stepDoc is one move: where things stand after it.
type stepDoc struct {
	Part   optimize.Part `json:"part"`
	Left   pointDoc      `json:"left"`
	Right  pointDoc      `json:"right"`
	Seat   pointDoc      `json:"seat"`
	Before fixed         `json:"spread_before_db"`
	After  fixed         `json:"spread_after_db"`
	Breaks bool          `json:"breaks_rules"`
}

func newStepDocs(steps []optimize.Step) []stepDoc {
	docs := make([]stepDoc, len(steps))
	for i, s := range steps {
		docs[i] = stepDoc{
			Part: s.Part, Left: newPointDoc(s.To.Left), Right: newPointDoc(s.To.Right), Seat: newPointDoc(s.To.Seat),
			Before: decibel(s.Before), After: decibel(s.After), Breaks: s.Breaks,
		}
	}
	return docs
}

func newLayoutDoc(rank int, c *optimize.Candidate) layoutDoc {
	d := layoutDoc{
		Rank: rank, Left: newPointDoc(c.Layout.Left), Right: newPointDoc(c.Layout.Right), Seat: newPointDoc(c.Layout.Seat),
		Axis: metres(c.Layout.AxisHeight), Robust: decibel(c.Robust), Spread: decibel(c.Judgement.Spread()),
		Worst: c.Judgement.Worst.String(), Difference: decibel(c.Judgement.Difference),
		Tolerance: toleranceDoc{metres(c.Tolerance.Left), metres(c.Tolerance.Right), metres(c.Tolerance.Seat), metres(c.Tolerance.Limit)},
		Breaches:  []breachDoc{}, Seats: newSeatsDoc(c),
	}
	if c.Walls.Given() {
		d.Walls = &wallsDoc{Hard: decibel(c.Walls.Hard), Soft: decibel(c.Walls.Soft)}
	}
	for _, b := range c.Breaches {
		doc := breachDoc{What: b.What, Amount: metres(b.Amount)}
		if b.Angle != 0 {
			doc.Angle = new(rounded(b.Angle*180/math.Pi, 2))
		}
		d.Breaches = append(d.Breaches, doc)
	}
	for ch, dst := range map[response.Channel]*channelDoc{
		response.LeftAlone: &d.Channels.Left, response.RightAlone: &d.Channels.Right, response.BothTogether: &d.Channels.Both,
	} {
		*dst = newChannelDoc(c.Judgement.Figures[ch], c.Judgement.Curves[ch])
	}
	return d
}
