package text

import (
	"cmp"
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/report/unit"
)

// brokenRules says in one clause of each rule that it is broken.
var brokenRules = map[model.RuleKind]string{
	model.SpeakerRear:      "{side} speaker's back is too near the front wall",
	model.SpeakerLeftWall:  "{side} speaker is too near the left wall",
	model.SpeakerRightWall: "{side} speaker is too near the right wall",
	model.SpeakerBeyond:    "{side} speaker is beyond the back wall",
	model.SpeakerFloor:     "{side} speaker's box is below the floor",
	model.SpeakerCeiling:   "{side} speaker's box is above the ceiling",
	model.SpeakerPlan:      "{side} speaker is too near a wall of the floor plan",
	model.SpeakerSlope:     "{side} speaker's box is above the sloped ceiling",
	model.SpeakerZone:      "{side} speaker is outside the zones where speakers may stand",
	model.SpeakerObstacle:  "{side} speaker's box is inside {name}",
	model.SpeakerStand:     "{side} speaker's stand would go through {name}",
	model.SpeakerEars:      "the {side} woofer is too close to the ears at {seat}",
	model.SeatRoom:         "the seat is outside the room",
	model.SeatMate:         "{seat}, which moves with the seat, is outside the room or too near the back wall",
	model.SeatBackWall:     "the seat is too near the back wall",
	model.SeatPlan:         "the seat is outside the floor plan",
	model.SeatWallBehind:   "the seat is too near the wall behind it",
	model.SeatSlope:        "the ears are above the sloped ceiling",
	model.SeatZone:         "the seat is outside the zones where it may be",
	model.SeatObstacle:     "the seat is inside {name}",
	model.SeatNear:         "the seat is too near the {side} speaker",
	model.SeatFar:          "the seat is too far from the {side} speaker",
	model.SeatUneven:       "the seat's distances to the two speakers differ too much",
	model.SeatAhead:        "the seat is not behind the speakers",
	model.SpeakersNear:     "the speakers are too near each other",
	model.SpeakersFar:      "the speakers are too far apart",
	model.AngleNarrow:      "the angle between the speakers is too narrow",
	model.AngleWide:        "the angle between the speakers is too wide",
}

// RuleText says in one clause that a rule is broken: "left speaker is too near the left wall".
func RuleText(r model.Rule) string {
	seat := cmp.Or(Printable(r.Name), fmt.Sprintf("seat %d", r.Seat))
	return strings.NewReplacer("{side}", r.Side.String(), "{name}", model.Quote(r.Name), "{seat}", seat).Replace(brokenRules[r.Kind])
}

// BreachLines names the rules that a layout breaks, and by how much.
func BreachLines(breaches []model.Breach, s unit.Style) []string {
	var lines []string
	for _, b := range breaches {
		lines = append(lines, RuleText(b.Rule)+", by "+BreachAmount(b, s))
	}
	return lines
}

// BreachAmount writes by how much a rule is broken: an angle, or a length, one under 10 cm
// to the millimetre.
func BreachAmount(b model.Breach, s unit.Style) string {
	switch {
	case b.Angle != 0:
		return unit.Degrees(b.Angle)
	case b.Amount < 0.0995:
		return s.Fine(b.Amount)
	}
	return s.Tape(b.Amount)
}

// PresentBreaches names the rules that the present places break, in the reader's units.
func PresentBreaches(p *model.Project, s unit.Style) []string {
	return BreachLines(p.PresentBreaches(), s)
}

// BreachesHeading stands above the lines of [PresentBreaches].
const BreachesHeading = "The present places break these rules"

// ObstructionText says in one clause, of which the treatment is the subject, what prevents building
// it: "covers the window in the left wall".
func ObstructionText(o model.Obstruction, s unit.Style) string {
	switch o.Kind {
	case model.BeyondCover:
		return "leaves what may be covered of the " + Printable(o.Wall)
	case model.TooDeep:
		return fmt.Sprintf("stands %s out from the %s, where %s are allowed", s.Tape(o.Depth), Printable(o.Wall), s.Tape(o.Allowed))
	case model.CoversOpening:
		return fmt.Sprintf("covers the %s in the %s", o.Name, Printable(o.Wall))
	case model.TakesFreeSpace:
		return "takes what must stay free: " + model.Quote(o.Name)
	case model.InsideBlock:
		return "would be inside the block " + model.Quote(o.Name)
	case model.InKeptClear:
		return "stands in what is kept clear: " + model.Quote(o.Name)
	case model.InSwing:
		return "stands in the swing of the door in the " + Printable(o.Wall)
	}
	return ""
}
