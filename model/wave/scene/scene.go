// Package scene is a room as the wave solver sees it: air bounded by surfaces that react
// locally, with absorbing volumes and films in it. Package draw makes a [Scene] from a
// room; package lattice cuts it into cells. [Shape] says where its air is.
//
// All lengths are in m, in the room's own coordinates.
package scene

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/material/fit"
)

// Scene is a room as the solver sees it: air bounded by surfaces, with things in it. Only Size and
// Air are needed; the zero value of any other field means "none".
type Scene struct {
	Size  r3.Vec // the bounding box, m
	Air   model.Air
	Walls [6]fit.Branches // of the bounding box, by model.Face

	// Outline is the floor plan, corner after corner in either sense; the last joins the
	// first. Fewer than three corners mean the whole rectangle. Edges holds the surface of
	// each edge inside the bounding box, by index; edges that it does not reach are rigid.
	Outline []r2.Vec
	Edges   []fit.Branches

	Slopes  []Slope  // sloped ceilings
	Blocks  []Solid  // solid obstacles
	Patches []Patch  // parts of the box's walls with a surface of their own
	Insets  []Inset  // the same in edges of the outline
	Porous  []Porous // absorbing volumes
	Films   []Film   // limp sheets
	Slants  []Slant  // planes of the films that are no sheets of Films themselves
}

// Slope is a plane ceiling z = Height + Rise·(x, y). Everything above it is solid.
type Slope struct {
	Height  float64 // m above the origin
	Rise    r2.Vec  // slope along x and y, m/m
	Surface fit.Branches
}

// Solid is a block that no sound enters. At most two blocks may overlap at any place.
type Solid struct {
	Min, Max r3.Vec // m
	Surface  fit.Branches
	Sides    []model.Face // sides that have the surface, named like the room's walls; nil means all
}

// Patch is a rectangle of one of the six walls with a surface of its own. Where two overlap, the
// later one counts.
type Patch struct {
	model.Patch
	Surface fit.Branches
}

// Inset is an upright rectangle of an edge of the outline with a surface of its own. It applies to
// edges that contain both its ends and face the same way. Edges along the bounding box take patches
// instead. Where two insets overlap, the later one counts.
type Inset struct {
	From, To  r2.Vec  // ends on the floor plan, m
	Inward    r2.Vec  // unit vector into the room
	Low, High float64 // m
	Surface   fit.Branches
}

// Porous is a box filled with porous material. Where two boxes share a cell, the one that fills
// more of it counts.
type Porous struct {
	Min, Max r3.Vec // m
	absorber.PorousVolume

	Name string // for warnings; may be empty
	Step bool   // one of many steps of a slanted piece, and so allowed to be thinner than a cell

	// Tested means that its error was measured in a tube and is reported elsewhere.
	Tested bool
}

// Film is a thin sheet normal to one axis: Min and Max agree on that axis.
type Film struct {
	Min, Max    r3.Vec  // m
	SurfaceMass float64 // kg/m²
	Name        string  // for warnings; may be empty
	Tested      bool    // see Porous

	// Resistance is the flow resistance of a permeable sheet, Pa·s/m; 0 means airtight.
	// A sheet with resistance but no mass stands still.
	Resistance float64
}

// Axis returns the axis normal to the film, or -1 if the film is not flat.
func (f Film) Axis() int {
	for a, d := range Components(r3.Sub(f.Max, f.Min)) {
		if d == 0 {
			return a
		}
	}
	return -1
}

// minSkeleton is the lowest bulk density of a limp skeleton, kg/m³: half that of the air in it.
const minSkeleton = 0.5

// ExactBranches returns a boundary as branches. It returns an error if branches cannot represent it
// exactly.
func ExactBranches(b model.Boundary, air model.Air) (fit.Branches, error) {
	switch w := b.(type) {
	case nil:
		return fit.Branches{Air: air}, nil
	case fit.Branches:
		return w, nil
	case model.Plain:
		if imag(w) != 0 || real(w) < 0 {
			return fit.Branches{}, fmt.Errorf("a wave run cannot carry the constant admittance %v", complex128(w))
		}
		return Resistive(real(w), air), nil
	}
	return fit.Branches{}, fmt.Errorf("a wave run needs a wall as branches, not as %T", b)
}

// Resistive returns a surface with the same real specific admittance β at every frequency. Zero is
// rigid.
func Resistive(beta float64, air model.Air) fit.Branches {
	if beta == 0 {
		return fit.Branches{Air: air}
	}
	return fit.Branches{Air: air, List: []fit.Branch{{Resistance: air.Impedance() / beta}}}
}

// Validate returns an error if the scene cannot be solved.
func (s *Scene) Validate() error {
	for a, length := range Components(s.Size) {
		if !(length > 0) || math.IsInf(length, 0) {
			return fmt.Errorf("wave: the room's %s must be above 0, have %v m", [3]string{"length", "width", "height"}[a], length)
		}
	}
	if !(s.Air.Speed > 0 && s.Air.Density > 0) {
		return fmt.Errorf("wave: air needs speed and density, have %v m/s and %v kg/m³", s.Air.Speed, s.Air.Density)
	}
	for _, surface := range s.surfaces() {
		if !surface.Passive() {
			return fmt.Errorf("wave: a surface is not passive: %v", surface.List)
		}
	}
	for i, p := range s.Porous {
		if !(p.Resistance > 0 && p.Mass > 0 && p.Modulus > 0 && p.HeatTime >= 0 && p.Skeleton >= 0) {
			return fmt.Errorf("wave: porous volume %d: mass, resistance and modulus must be above 0, heat time and skeleton not below", i+1)
		}
		if p.Skeleton > 0 && p.Skeleton < minSkeleton {
			return fmt.Errorf("wave: porous volume %d: a limp skeleton must weigh %v kg/m³ or more, have %v", i+1, minSkeleton, p.Skeleton)
		}
		if p.HeatTime > 0 && !(p.HeatRatio >= 1) {
			return fmt.Errorf("wave: porous volume %d: heat ratio must be 1 or more, have %v", i+1, p.HeatRatio)
		}
	}
	for i, f := range s.Films {
		if f.Axis() < 0 {
			return fmt.Errorf("wave: film %d must be flat on one axis", i+1)
		}
		if !(f.SurfaceMass == 0 || f.SurfaceMass >= 1e-3) || !(f.Resistance == 0 || f.Resistance >= 0.1) {
			return fmt.Errorf("wave: film %d: surface mass must be 0 or at least 1 g/m², flow resistance 0 or at least 0.1 Pa·s/m", i+1)
		}
	}
	return checkShape(s)
}

// surfaces lists every surface of the scene.
func (s *Scene) surfaces() []fit.Branches {
	list := append(s.Walls[:len(s.Walls):len(s.Walls)], s.Edges...)
	for _, b := range s.Blocks {
		list = append(list, b.Surface)
	}
	for _, p := range s.Slopes {
		list = append(list, p.Surface)
	}
	for _, p := range s.Patches {
		list = append(list, p.Surface)
	}
	for _, p := range s.Insets {
		list = append(list, p.Surface)
	}
	return list
}

// Components returns the three coordinates of a vector.
func Components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// Vec returns the vector of three coordinates.
func Vec(x [3]float64) r3.Vec { return r3.Vec{X: x[0], Y: x[1], Z: x[2]} }

// OtherAxes returns the two axes other than a.
func OtherAxes(a int) (b, c int) { return (a + 1) % 3, (a + 2) % 3 }
