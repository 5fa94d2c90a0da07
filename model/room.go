package model

import (
	"gonum.org/v1/gonum/spatial/r3"
)

// Room is the room as built: a box or what an outline and slopes leave of one, what
// its walls are, and what stands in it.
type Room struct {
	Name        string
	Size        r3.Vec     // greatest length, width and height in m
	Outline     Polygon    // floor plan within the length and width; none is the whole rectangle
	Edges       []Edge     // by edge of the outline; one that says nothing is made as the wall that it faces like
	Slopes      []Slope    // sloped ceilings
	Temperature float64    // K; 0 means ReferenceTemperature
	Outer       []Face     // walls behind which it may be cold; none means not known
	Walls       [6]Surface // by Face
	Openings    []Opening
	Blocks      []Block
	Treatments  []Treatment

	Calibration *Calibration // nil if the room was not calibrated
}

// Air returns the air of the room at its temperature.
func (r *Room) Air() Air { return AirAt(r.Temperature) }

// Extent returns the two edge lengths of a face of the whole box in m: along the
// wall and up, or length and width for floor and ceiling. Below a sloped ceiling a
// wall is as high as it is where it is highest.
func (r *Room) Extent(f Face) (along, up float64) {
	switch f.Axis() {
	case 0:
		return r.Size.Y, r.wallTop(f)
	case 1:
		return r.Size.X, r.wallTop(f)
	default:
		return r.Size.X, r.Size.Y
	}
}

// Surface says what a wall, a door or a window is: a construction by name, or a
// specific impedance, or a table of absorption. Exactly one of them is set.
type Surface struct {
	Construction string     // name in the material library
	Impedance    complex128 // ζ = Z/(ρc) at every frequency; 0 is not set
	Absorption   []Absorption

	Fit WallFit // what measurements say of it
}

// Absorption is one row of a table: random-incidence absorption by frequency.
type Absorption struct {
	Frequency   float64 // Hz
	Coefficient float64 // 0..1
}

// Set reports whether the surface says anything at all.
func (s Surface) Set() bool {
	return s.Construction != "" || s.Impedance != 0 || len(s.Absorption) > 0
}

// Patch is an upright rectangle on a face. Along counts from the corner nearer
// the origin; on floor and ceiling Along is x and Up is y.
type Patch struct {
	Face          Face
	Along, Up     float64 // lower corner nearer the origin, m
	Width, Height float64 // m
}

// Area returns the patch's area in m².
func (p Patch) Area() float64 { return p.Width * p.Height }

// Overlap returns the area in m² that two patches share.
func (p Patch) Overlap(q Patch) float64 {
	if p.Face != q.Face {
		return 0
	}
	w := min(p.Along+p.Width, q.Along+q.Width) - max(p.Along, q.Along)
	h := min(p.Up+p.Height, q.Up+q.Height) - max(p.Up, q.Up)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h
}

// Block is a solid that sound goes round: a chimney breast, a cupboard, a beam.
// As a keep-clear box it is not solid, but nothing may stand in it.
type Block struct {
	Name      string
	Min, Max  r3.Vec // corners in room coordinates, m
	Reach            // of a box that is kept clear; solids stay
	Furniture        // that it is
}

// Contains reports whether p is inside the block or on its skin.
func (b Block) Contains(p r3.Vec) bool {
	return p.X >= b.Min.X && p.Y >= b.Min.Y && p.Z >= b.Min.Z &&
		p.X <= b.Max.X && p.Y <= b.Max.Y && p.Z <= b.Max.Z
}

// Overlaps reports whether two blocks share any volume. Blocks that touch do not, whatever rounding made of it.
func (b Block) Overlaps(o Block) bool {
	return b.Min.X < o.Max.X-slack && o.Min.X < b.Max.X-slack &&
		b.Min.Y < o.Max.Y-slack && o.Min.Y < b.Max.Y-slack &&
		b.Min.Z < o.Max.Z-slack && o.Min.Z < b.Max.Z-slack
}

// LayerKind tells how a layer acts on sound.
type LayerKind int

// The kinds of layers.
const (
	PorousLayer LayerKind = iota + 1
	FilmLayer
	GapLayer
	PerforatedLayer
	SlottedLayer
	PanelLayer
)

// Layer is one sheet, mat or gap of a build-up. Which fields count depends on
// the kind; zero means "as the material library has it" where a Material is
// named, or its stated default.
type Layer struct {
	Kind     LayerKind
	Text     string // as the room file wrote it
	Material string // name in the material library; "" for plain figures

	Thickness   float64 // m; of a film it is the foil's own
	Resistivity float64 // flow resistivity, Pa·s/m²; porous
	Density     float64 // bulk density, kg/m³
	SurfaceMass float64 // kg/m²; film, panel

	HoleDiameter float64 // m; perforated; slot width of a slotted sheet
	OpenArea     float64 // 0..1; perforated, slotted

	Porosity      float64 // 0..1; porous
	Tortuosity    float64 // 1 or more; porous
	ViscousLength float64 // m; porous
	ThermalLength float64 // m; porous
	Frame         Frame   // porous

	Damping   float64 // resistance of the panel and its mounting, Pa·s/m; panel
	Stiffness float64 // of the panel on its supports, Pa/m; panel
}

// Frame tells how the skeleton of a porous layer is held.
type Frame int

// How a skeleton is held. A limp skeleton is dragged along by the air at low
// frequencies; a bag of loose wool is nearly limp, a slab wedged between battens
// nearly fixed.
const (
	FrameUnknown Frame = iota
	FrameFixed
	FrameLimp
)
