package model

// SeatStays tells of a seat beside the main one that may move and does not: it is judged where it is,
// or in the middle of its first zone.
type SeatStays struct {
	Name   string
	Placed bool
}

// SearchOff tells by how much the wide search was off for the layouts that it proposed.
type SearchOff struct{ Off Level }

// PlansCut tells of a search for subwoofers that was stopped before plans with more than so many of
// them were tried.
type PlansCut struct{ Tried, Most int }

// Part is a part of a result that may be missing.
type Part int

const (
	CostPart      Part = iota // what a treatment costs
	StabilityPart             // how often each layout stays first
	MapsPart                  // maps of the floor
	AnswersPart               // what the page answers for other places
)

// PartMissing tells of a part of a result that is missing, and why.
type PartMissing struct {
	Part Part
	Why  string
}

// StepFailed tells of a step that ended by a mistake in the program.
type StepFailed struct{ Step string }

// OptionUntried tells of an option that a page cannot switch on: why or, if Why is "", that its field is too
// large or not exact enough for a page.
type OptionUntried struct{ Name, Why string }

func (SeatStays) warning()     {}
func (SearchOff) warning()     {}
func (PlansCut) warning()      {}
func (PartMissing) warning()   {}
func (StepFailed) warning()    {}
func (OptionUntried) warning() {}
