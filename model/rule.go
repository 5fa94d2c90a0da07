package model

// RuleKind names a constraint that a layout may break.
type RuleKind int

// The rules. Those of a speaker, and of the seat's distance to one, come with its side.
const (
	NoRule           RuleKind = iota
	SpeakerRear               // the box's back is too near the front wall
	SpeakerLeftWall           // a speaker is too near the left wall
	SpeakerRightWall          // a speaker is too near the right wall
	SpeakerBeyond             // a speaker is beyond the back wall
	SpeakerFloor              // the box is below the floor
	SpeakerCeiling            // the box is above the ceiling
	SpeakerPlan               // a speaker is too near a wall of the floor plan
	SpeakerSlope              // the box is above the sloped ceiling
	SpeakerZone               // a speaker is outside the zones where speakers may stand
	SpeakerObstacle           // the box is inside the obstacle of that name
	SpeakerStand              // what the box stands on would go through the obstacle of that name
	SpeakerEars               // a woofer is too close to the ears at another seat
	SeatRoom                  // the seat is outside the room
	SeatMate                  // the seat of that name, on the same furniture, is outside the room or too near its back wall
	SeatBackWall              // the seat is too near the back wall
	SeatPlan                  // the seat is outside the floor plan
	SeatWallBehind            // the seat is too near the wall behind it
	SeatSlope                 // the ears are above the sloped ceiling
	SeatZone                  // the seat is outside the zones where it may be
	SeatObstacle              // the seat is inside the obstacle of that name
	SeatNear                  // the seat is too near a speaker
	SeatFar                   // the seat is too far from a speaker
	SeatUneven                // the seat's distances to the two speakers differ too much
	SeatAhead                 // the seat is not behind the speakers
	SpeakersNear              // the speakers are too near each other
	SpeakersFar               // the speakers are too far apart
	AngleNarrow               // the angle between the speakers is too narrow
	AngleWide                 // the angle between the speakers is too wide
)

// Side is one of the two speakers, as the listener sees them.
type Side int

// The sides.
const (
	LeftSide Side = iota
	RightSide
)

// String returns "left" or "right".
func (s Side) String() string { return [...]string{"left", "right"}[s] }

// Rule is one constraint: a kind, and what tells it from others of its kind. Package report puts it
// into words.
type Rule struct {
	Kind RuleKind
	Side Side   // of the speaker concerned
	Name string // of the obstacle or the other seat; may be empty
	Seat int    // the other seat's number, from 1, for a seat without name; else 0
}

// Breach is a rule that a layout breaks, and by how much.
type Breach struct {
	Rule
	Amount float64 // m by which it is broken (an angle counts at the triangle's radius)
	Angle  float64 // rad by which an angle is broken; 0 for what is broken by a length
}

type breaches []Breach

// add notes a breach unless the amount is within a tenth of a millimetre.
func (c *breaches) add(amount float64, r Rule) {
	if amount > 1e-4 {
		*c = append(*c, Breach{Rule: r, Amount: amount})
	}
}

// angle notes a breach of an angle in rad at a radius in m.
func (c *breaches) angle(angle, radius float64, kind RuleKind) {
	if amount := angle * radius; amount > 1e-4 {
		*c = append(*c, Breach{Rule: Rule{Kind: kind}, Amount: amount, Angle: angle})
	}
}
