package model

// TapeOff tells of a right speaker that by its sound is farther than the left one by so many metres,
// and by the room file by so many.
type TapeOff struct{ Sound, Taped float64 }

// MarkMissed tells of a speaker whose mark before the sweeps was not heard, so that time zero is that
// of another one.
type MarkMissed struct{ Speaker, Zero Source }

// RecordingFaint tells of a recording whose loudest moment is at a level re full scale.
type RecordingFaint struct{ Peak Level }

// RecordingClipped tells of a recording that cuts off a share of a sweep.
type RecordingClipped struct{ Share float64 }

// NoiseNear tells of a response that is only so far above the noise.
type NoiseNear struct {
	Speaker Source
	Above   Level
}

// SweepDisturbed tells of a sweep during which it was louder than in the silence before.
type SweepDisturbed struct {
	Speaker Source
	Louder  Level
}

// MainsHum tells of a tone of the mains in Hz, and how far it stands above the noise beside it.
type MainsHum struct {
	Frequency float64
	Above     Level
	Taken     Level // by how much it was lowered in the responses; 0 if it was left in
}

// ClocksDiffer tells by which share the recorder's clock differs from the player's.
type ClocksDiffer struct{ Drift float64 }

// SumOff tells that left and right added up differ from both together: the level of the difference.
type SumOff struct{ Difference Level }

// RowsCoarse tells of a table whose rows are so many octaves apart.
type RowsCoarse struct{ Octaves float64 }

// ResponseBrief tells of an impulse response that ends so many s after the sound begins, too soon to resolve
// dips and peaks below a frequency in Hz.
type ResponseBrief struct{ Long, Below float64 }

// MeasurementUnused tells of a measurement that is not used, and why.
type MeasurementUnused struct{ Name, Why string }

func (TapeOff) warning()           {}
func (MarkMissed) warning()        {}
func (RecordingFaint) warning()    {}
func (RecordingClipped) warning()  {}
func (NoiseNear) warning()         {}
func (SweepDisturbed) warning()    {}
func (MainsHum) warning()          {}
func (ClocksDiffer) warning()      {}
func (SumOff) warning()            {}
func (RowsCoarse) warning()        {}
func (ResponseBrief) warning()     {}
func (MeasurementUnused) warning() {}
