package text

import (
	"cmp"
	"fmt"

	"evenbass/model"
	"evenbass/report/unit"
)

// RuleText says in one clause that a rule is broken: "left speaker is too near the left wall".
func RuleText(r model.Rule) string {
	speaker := r.Side.String() + " speaker"
	switch r.Kind {
	case model.SpeakerRear:
		return speaker + "'s back is too near the front wall"
	case model.SpeakerLeftWall:
		return speaker + " is too near the left wall"
	case model.SpeakerRightWall:
		return speaker + " is too near the right wall"
	case model.SpeakerBeyond:
		return speaker + " is beyond the back wall"
	case model.SpeakerFloor:
		return speaker + "'s box is below the floor"
	case model.SpeakerCeiling:
		return speaker + "'s box is above the ceiling"
	case model.SpeakerPlan:
		return speaker + " is too near a wall of the floor plan"
	case model.SpeakerSlope:
		return speaker + "'s box is above the sloped ceiling"
	case model.SpeakerZone:
		return speaker + " is outside the zones where speakers may stand"
	case model.SpeakerObstacle:
		return speaker + "'s box is inside " + model.Quote(r.Name)
	case model.SpeakerStand:
		return speaker + "'s stand would go through " + model.Quote(r.Name)
	case model.SpeakerEars:
		return fmt.Sprintf("the %v woofer is too close to the ears at %s", r.Side, cmp.Or(Printable(r.Name), fmt.Sprintf("seat %d", r.Seat)))
	}
	return seatRuleText(r)
}

// seatRuleText is RuleText for the seat and the triangle.
func seatRuleText(r model.Rule) string {
	switch r.Kind {
	case model.SeatRoom:
		return "the seat is outside the room"
	case model.SeatMate:
		return fmt.Sprintf("%s, which moves with the seat, is outside the room or too near the back wall", cmp.Or(Printable(r.Name), fmt.Sprintf("seat %d", r.Seat)))
	case model.SeatBackWall:
		return "the seat is too near the back wall"
	case model.SeatPlan:
		return "the seat is outside the floor plan"
	case model.SeatWallBehind:
		return "the seat is too near the wall behind it"
	case model.SeatSlope:
		return "the ears are above the sloped ceiling"
	case model.SeatZone:
		return "the seat is outside the zones where it may be"
	case model.SeatObstacle:
		return "the seat is inside " + model.Quote(r.Name)
	case model.SeatNear:
		return fmt.Sprintf("the seat is too near the %v speaker", r.Side)
	case model.SeatFar:
		return fmt.Sprintf("the seat is too far from the %v speaker", r.Side)
	case model.SeatUneven:
		return "the seat's distances to the two speakers differ too much"
	case model.SeatAhead:
		return "the seat is not behind the speakers"
	case model.SpeakersNear:
		return "the speakers are too near each other"
	case model.SpeakersFar:
		return "the speakers are too far apart"
	case model.AngleNarrow:
		return "the angle between the speakers is too narrow"
	case model.AngleWide:
		return "the angle between the speakers is too wide"
	}
	return ""
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
