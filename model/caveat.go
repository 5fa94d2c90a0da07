package model

// Warning is a caveat that travels with a result. It is not an error. Those with a length or an area
// hold it as data, and package report puts them into words in the reader's units; a [Remark] is in
// words already. Warnings are comparable.
type Warning interface{ warning() }

// Remark is a warning in words: one sentence, lower case, without full stop.
type Remark string

// About says what another warning is about: a treatment, a layer, a surface.
type About struct {
	Name string
	Warning
}

// LayerThick doubts a layer of that thickness in m. Its name is that of its treatment; it is empty
// for a layer that is named otherwise.
type LayerThick struct {
	Name      string
	Thickness float64
}

// FilmThick doubts a film of that thickness in m.
type FilmThick struct{ Thickness float64 }

// WoolThick doubts wool of that thickness in m in one layer.
type WoolThick struct{ Thickness float64 }

// BuildUpDeep doubts a build-up of that depth in m.
type BuildUpDeep struct{ Depth float64 }

// OpeningCovered tells of a treatment that covers an area in m² of an opening.
type OpeningCovered struct {
	Name, Opening, Wall string
	Area                float64
}

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

// TapeOff tells of a right speaker that by its sound is farther than the left one by so many metres,
// and by the room file by so many.
type TapeOff struct{ Sound, Taped float64 }

func (Remark) warning()         {}
func (LayerThick) warning()     {}
func (FilmThick) warning()      {}
func (WoolThick) warning()      {}
func (BuildUpDeep) warning()    {}
func (OpeningCovered) warning() {}
func (ImageSumEnds) warning()   {}
func (CellsUsed) warning()      {}
func (AbsorptionOff) warning()  {}
func (ThinForCells) warning()   {}
func (DenseForCells) warning()  {}
func (TapeOff) warning()        {}
