package model

// FilmThick doubts a film of that thickness in m.
type FilmThick struct{ Thickness float64 }

// WoolThick doubts wool of that thickness in m in one layer.
type WoolThick struct{ Thickness float64 }

// BuildUpDeep doubts a build-up of that depth in m.
type BuildUpDeep struct{ Depth float64 }

// LayerIdle tells of a layer that lies on a wall with nothing behind it, where it does nothing.
type LayerIdle struct{ Name string }

// DensityAssumed tells of a layer without a density, which was assumed in kg/m³ as that of a material.
type DensityAssumed struct {
	Density  float64
	Material string
}

// TableBegins tells of an absorption table that begins at a frequency in Hz.
type TableBegins struct{ Frequency float64 }

// TableEnds tells of an absorption table that ends at a frequency in Hz.
type TableEnds struct{ Frequency float64 }

// CoefficientCut tells of an absorption coefficient at a frequency in Hz that was lowered to the most
// that a locally reacting surface can have at random incidence.
type CoefficientCut struct{ Coefficient, Frequency, Most float64 }

// BackingRange tells from where to where in Hz the absorption of the wall behind is known.
type BackingRange struct{ From, To float64 }

// MikiBegins tells from which frequency in Hz on Miki's data hold for a flow resistivity in Pa·s/m².
type MikiBegins struct{ Resistivity, From float64 }

// DelanyBazleyRange tells from where to where in Hz Delany and Bazley's law holds for a flow
// resistivity in Pa·s/m².
type DelanyBazleyRange struct{ Resistivity, From, To float64 }

func (FilmThick) warning()         {}
func (WoolThick) warning()         {}
func (BuildUpDeep) warning()       {}
func (LayerIdle) warning()         {}
func (DensityAssumed) warning()    {}
func (TableBegins) warning()       {}
func (TableEnds) warning()         {}
func (CoefficientCut) warning()    {}
func (BackingRange) warning()      {}
func (MikiBegins) warning()        {}
func (DelanyBazleyRange) warning() {}
