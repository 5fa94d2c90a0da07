package model

// ImageSumEnds tells of a sum over mirror images that ends at a length of path in m, where the energy
// still to come is so many dB of the whole, instead of so many.
type ImageSumEnds struct {
	Length            float64
	Remaining, Wanted Level
}

// CellsUsed says which figures come from which cells, m.
type CellsUsed struct{ Fine, Coarse float64 }

// AbsorptionOff tells of a treatment whose absorption comes out too high on cells of that size in m
// by that much, or too low if it is negative; most near that frequency in Hz.
type AbsorptionOff struct {
	Name            string
	Cell, Off, Near float64
}

// ThinForCells tells of a piece that is thinner than a cell of that size in m, with its error near a
// frequency in Hz.
type ThinForCells struct {
	Name       string
	Cell, Near float64
}

// DenseForCells tells of a piece that is too dense for cells of that size in m above a frequency in
// Hz.
type DenseForCells struct {
	Name        string
	Cell, Above float64
}

// Simplification is how an engine models something otherwise than it is.
type Simplification int

const (
	WallsUnset          Simplification = iota // no construction is given
	BlocksOmitted                             // an engine for empty boxes
	FreeOmitted                               // an engine for what covers a wall
	WallsFitted                               // to measurements, not taken from tables
	OpeningsSpread                            // over their whole wall
	TreatmentsSpread                          // over their whole wall
	LightWallsRigid                           // light walls that do not vibrate
	TablesExtrapolated                        // below the lowest frequency of the tables
	BranchesApproximate                       // the fit's error stands behind each name
	ImpedanceAcausal                          // one complex impedance at all frequencies, with its error
	LayersAsBlocks                            // with the layers' surface impedance
	LayersAsImpedance                         // on the wall, without their depth
	OmittedOnGrid                             // what the grid cannot represent
)

// Simplified tells what an engine models otherwise than it is: names, in one list for the reader.
type Simplified struct {
	How   Simplification
	Names string
}

// LimpPanel tells of a free-standing panel that is modelled as a limp sheet.
type LimpPanel struct{ Name string }

// LayersTrimmed tells of layers on a wall that are trimmed along a sloped ceiling, so far clear of it in m: how high
// they are at the lower of their ends, and at most, m.
type LayersTrimmed struct {
	Name             string
	Clear, Low, High float64
}

// FilmAtWall tells of a film that was left out within half a cell of a wall.
type FilmAtWall struct{ Name string }

// RunStopped tells of a run that was stopped after a time in s, when its energy had fallen by a level.
type RunStopped struct {
	Seconds float64
	Fallen  Level
}

// NotLocal tells of a wall that absorbs so much, by its specific admittance, that local reaction is
// doubtful.
type NotLocal struct {
	Wall       string
	Admittance float64
}

// ImagesAbsorb tells of a wall that absorbs too much for mirror images: the real part of its specific
// admittance, and where in Hz.
type ImagesAbsorb struct {
	Wall                  string
	Admittance, Frequency float64
}

// ImagesYield tells of a wall that yields too much for mirror images: the imaginary part of its
// specific admittance, and where in Hz.
type ImagesYield struct {
	Wall                  string
	Admittance, Frequency float64
}

func (ImageSumEnds) warning()  {}
func (CellsUsed) warning()     {}
func (AbsorptionOff) warning() {}
func (ThinForCells) warning()  {}
func (DenseForCells) warning() {}
func (Simplified) warning()    {}
func (LimpPanel) warning()     {}
func (LayersTrimmed) warning() {}
func (FilmAtWall) warning()    {}
func (RunStopped) warning()    {}
func (NotLocal) warning()      {}
func (ImagesAbsorb) warning()  {}
func (ImagesYield) warning()   {}
