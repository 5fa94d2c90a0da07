package model

// Warning is a caveat that travels with a result. It is not an error. It holds its lengths, levels and
// names as data, and package report puts it into words in the reader's units. Only a [Remark], which
// has none, is in words already. Warnings are comparable.
type Warning interface{ warning() }

// Remark is a warning without values: one sentence, lower case, without full stop.
type Remark string

// About says what another warning is about: a treatment, a layer, a surface.
type About struct {
	Name string
	Warning
}

// FittedRoom tells of walls and size that are fitted to measurements at so many seats, named in From.
type FittedRoom struct {
	Seats int
	From  string
}

// GoalBelowLimit tells of a goal that begins at a frequency in Hz where the speakers are so far down
// already, below their low limit in Hz.
type GoalBelowLimit struct {
	From      float64
	Down      Level // below the level far above the limit, positive
	Limit     float64
	Alignment Alignment
	Helped    bool // by the subwoofers of the room file
}

// GoalFromLimit tells of a goal that begins, unasked, at the speakers' low limit in Hz.
type GoalFromLimit struct{ From float64 }

// AbsorbsTooMuch tells of a surface whose random-incidence absorption at a frequency in Hz is above
// the most that a locally reacting surface can have.
type AbsorbsTooMuch struct {
	Surface                      string
	Coefficient, Frequency, Most float64
}

// ConstructionMisplaced tells of a surface whose construction serves as something else.
type ConstructionMisplaced struct{ Surface, Construction, Serves string }

// LayerThick doubts a layer of that thickness in m. Its name is that of its treatment; it is empty
// for a layer that is named otherwise.
type LayerThick struct {
	Name      string
	Thickness float64
}

// OpeningCovered tells of a treatment that covers an area in m² of an opening.
type OpeningCovered struct {
	Name, Opening, Wall string
	Area                float64
}

// ZonePastWall tells of a zone of the room file, by its path there, that reaches past a wall, and where it
// should end; lengths in m.
type ZonePastWall struct {
	Path, Wall string
	By, End    float64
}

// TreatmentBlocked tells of a treatment that cannot be built as it is written, and what prevents it.
type TreatmentBlocked struct {
	Treatment string
	Obstruction
}

// FurnitureDeep tells of a piece of furniture that is taken to do nothing but is deeper than its kind may be for that,
// in m: a curtain with the air behind it.
type FurnitureDeep struct {
	Name        string
	Kind        FurnitureKind
	Depth, Most float64
}

// FurnitureInert names the furniture that does nothing in the range of the prediction.
type FurnitureInert struct{ Names string }

// FurnitureAssumed names the furniture that is filled with what is usual for its kind.
type FurnitureAssumed struct{ Names string }

// FurnitureStays tells of a piece of furniture under a seat that may move, which no prediction moves along. Its path is
// that of the room file.
type FurnitureStays struct{ Name, Path string }

func (Remark) warning()                {}
func (FittedRoom) warning()            {}
func (GoalBelowLimit) warning()        {}
func (GoalFromLimit) warning()         {}
func (AbsorbsTooMuch) warning()        {}
func (ConstructionMisplaced) warning() {}
func (LayerThick) warning()            {}
func (OpeningCovered) warning()        {}
func (ZonePastWall) warning()          {}
func (TreatmentBlocked) warning()      {}
func (FurnitureDeep) warning()         {}
func (FurnitureInert) warning()        {}
func (FurnitureAssumed) warning()      {}
func (FurnitureStays) warning()        {}
