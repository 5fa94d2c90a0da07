package live

import (
	"math"

	"evenbass/model"
	"evenbass/report/text"
)

// rules are what limits.js needs of a project.
type rules struct {
	Words     map[string][2]string `json:"words"` // of the left and of the right speaker
	Size      [3]float64           `json:"size"`
	Plain     bool                 `json:"plain"`
	Outline   [][2]float64         `json:"outline"`
	Slopes    [][3]float64         `json:"slopes"` // z = a + b x + c y
	Fixed     bool                 `json:"fixed"`
	Box       [3]float64           `json:"box"`
	Below     float64              `json:"below"`
	Rear      float64              `json:"rear"`
	Side      float64              `json:"side"`
	Stands    []zone               `json:"stands"`
	Seats     []zone               `json:"seats"`
	Obstacles []obstacle           `json:"obstacles"`
	Ears      []ears               `json:"ears"`
	EarsClear float64              `json:"earsClear"`
	Back      float64              `json:"back"`
	Distance  []*float64           `json:"distance"`
	Apart     []*float64           `json:"apart"`
	Angle     []*float64           `json:"angle"`
	Balance   *float64             `json:"balance"`
	Now       presentPlaces        `json:"now"`
}

// presentPlaces are on plan; what is tied keeps its way to them.
type presentPlaces struct {
	Pair [2]float64 `json:"pair"` // midway between the speakers
	Seat [2]float64 `json:"seat"`
}

type zone struct {
	X []*float64 `json:"x"`
	Y []*float64 `json:"y"`
}

type obstacle struct {
	Words [2]string  `json:"words"` // of the left and of the right speaker
	Stand [2]string  `json:"stand"` // empty where the speakers may stand on it
	Seat  string     `json:"seat"`
	Min   [3]float64 `json:"min"`
	Max   [3]float64 `json:"max"`
	With  string     `json:"with"`  // speakers, seat or nothing
	Along float64    `json:"along"` // how far it may be moved along the room
}

// ears are those of a seat beside the main one.
type ears struct {
	Words [2]string  `json:"words"`
	At    [3]float64 `json:"at"`
	Mate  string     `json:"mate"` // not empty for a seat that goes with the main one
}

// ruleNames are what limits.js calls the rules. Those of an obstacle and of other seats' ears
// travel with these.
var ruleNames = map[string]model.RuleKind{
	"rear": model.SpeakerRear, "leftWall": model.SpeakerLeftWall, "rightWall": model.SpeakerRightWall, "beyond": model.SpeakerBeyond,
	"floor": model.SpeakerFloor, "ceiling": model.SpeakerCeiling, "plan": model.SpeakerPlan, "slope": model.SpeakerSlope, "zone": model.SpeakerZone,
	"seatRoom": model.SeatRoom, "seatBackWall": model.SeatBackWall, "seatPlan": model.SeatPlan, "seatWallBehind": model.SeatWallBehind,
	"seatSlope": model.SeatSlope, "seatZone": model.SeatZone, "seatNear": model.SeatNear, "seatFar": model.SeatFar, "seatUneven": model.SeatUneven,
	"seatAhead": model.SeatAhead, "near": model.SpeakersNear, "far": model.SpeakersFar, "narrow": model.AngleNarrow, "wide": model.AngleWide,
}

// sides words a rule for either speaker.
func sides(r model.Rule) [2]string {
	var words [2]string
	for i := range words {
		r.Side = model.Side(i)
		words[i] = text.RuleText(r)
	}
	return words
}

// newRules gathers what layouts must keep.
func newRules(p *model.Project) rules {
	s := &p.Speakers
	r := rules{
		Words: map[string][2]string{},
		Size:  vector(p.Room.Size), Plain: p.Room.Plain(), Outline: [][2]float64{}, Slopes: [][3]float64{}, Fixed: s.Fixed,
		Box: [3]float64{s.Box.Depth, s.Box.Width, s.Box.Height}, Below: s.WooferBelow, Rear: s.RearClearance, Side: s.SideClearance,
		Stands: zones(s.Zones), Seats: zones(p.Seats[0].Zones), Obstacles: []obstacle{}, Ears: []ears{}, EarsClear: model.EarsClear,
		Back: p.Listening.BackDistance, Distance: limits(p.SeatDistance()), Apart: limits(p.SpeakersApart()), Angle: limits(p.Listening.Angle),
	}
	for name, kind := range ruleNames {
		r.Words[name] = sides(model.Rule{Kind: kind})
	}
	for _, v := range p.Room.Plan() {
		r.Outline = append(r.Outline, [2]float64{v.X, v.Y})
	}
	for _, slope := range p.Room.Slopes {
		height, rise := slope.Plane()
		r.Slopes = append(r.Slopes, [3]float64{height, rise.X, rise.Y})
	}
	for b := range p.Obstacles() {
		o := obstacle{
			Words: sides(model.Rule{Kind: model.SpeakerObstacle, Name: b.Name}), Seat: text.RuleText(model.Rule{Kind: model.SeatObstacle, Name: b.Name}),
			Min: vector(b.Min), Max: vector(b.Max), With: b.With.String(), Along: b.Along,
		}
		if !p.Carried(b) {
			o.Stand = sides(model.Rule{Kind: model.SpeakerStand, Name: b.Name})
		}
		r.Obstacles = append(r.Obstacles, o)
	}
	for i, seat := range p.Seats[1:] {
		if seat.Placed {
			rule := model.Rule{Kind: model.SpeakerEars, Name: seat.Name}
			if seat.Name == "" {
				rule.Seat = i + 2
			}
			e := ears{Words: sides(rule), At: vector(seat.At)}
			if p.TiedSeat(i + 1) {
				mate := rule
				mate.Kind = model.SeatMate
				e.Mate = text.RuleText(mate)
			}
			r.Ears = append(r.Ears, e)
		}
	}
	if s.Placed {
		r.Now.Pair = [2]float64{(s.Left.X + s.Right.X) / 2, (s.Left.Y + s.Right.Y) / 2}
	}
	if at := p.Seats[0].At; p.Seats[0].Placed {
		r.Now.Seat = [2]float64{at.X, at.Y}
	}
	if balance := p.SeatBalance(); !math.IsInf(balance, 1) {
		r.Balance = &balance
	}
	return r
}

// limits returns a range as its ends, of which an infinite one is null; nil if it is not given.
func limits(r model.Range) []*float64 {
	if !r.Given() {
		return nil
	}
	list := []*float64{&r.Min, &r.Max}
	if math.IsInf(r.Max, 1) {
		list[1] = nil
	}
	return list
}

func zones(list []model.Zone) []zone {
	out := []zone{}
	for _, z := range list {
		out = append(out, zone{limits(z.X), limits(z.Y)})
	}
	return out
}
