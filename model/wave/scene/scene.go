// Package scene is a room as the wave solver sees it: air bounded by surfaces that react
// locally, with absorbing volumes and films in it. Package draw makes a [Scene] from a
// room; package lattice cuts it into cells. [Shape] says where its air is.
//
// All lengths are in m, in the room's own coordinates.
package scene

import (
	"evenbass/model/material/absorber"
	"evenbass/model/material/fit"
	"fmt"
	"math"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
)

// Scene is a room as the solver sees it: air bounded by surfaces, with things in
// it. The zero value of everything but Size and Air stands for "none".
type Scene struct {
	Size  r3.Vec // the bounding box, m
	Air   model.Air
	Walls [6]fit.Branches // of the bounding box, by model.Face

	// Outline is the floor plan, corner after corner in either sense; the last
	// joins the first. Fewer than three corners mean the whole rectangle. Edges
	// inside the bounding box are faced with the surface of the same index, or
	// rigid if Edges is short.
	Outline []r2.Vec
	Edges   []fit.Branches

	Slopes  []Slope  // sloped ceilings
	Blocks  []Solid  // what sound goes round
	Patches []Patch  // pieces of wall that are otherwise than the rest
	Insets  []Inset  // pieces of the outline's edges that are
	Porous  []Porous // absorbing volumes
	Films   []Film   // limp sheets
}

// Slope is a plane ceiling z = Height + Rise·(x, y). All above it is solid.
type Slope struct {
	Height  float64 // m above the origin
	Rise    r2.Vec  // slope along x and y, m/m
	Surface fit.Branches
}

// Solid is a block that no sound enters. Two blocks may overlap, three may not.
type Solid struct {
	Min, Max r3.Vec // m
	Surface  fit.Branches
	Sides    []model.Face // those that have the surface, named as the room's; nil means all
}

// Patch is a rectangle of one of the six walls with a surface of its own. The
// later of two that overlap counts.
type Patch struct {
	model.Patch
	Surface fit.Branches
}

// Inset is an upright rectangle of an edge of the outline with a surface of its own. It
// counts on the edges that its ends lie on and that face like it; edges along the
// bounding box have patches instead. The later of two that overlap counts.
type Inset struct {
	From, To  r2.Vec  // its ends on plan, m
	Inward    r2.Vec  // unit vector into the room
	Low, High float64 // m
	Surface   fit.Branches
}

// Porous is a box filled with porous material. Where two share a cell, the one
// that fills more of it counts there.
type Porous struct {
	Min, Max r3.Vec // m
	absorber.PorousVolume

	Name string // what warnings call it; may be empty
	Step bool   // one of many that make a slanted piece, which may be thinner than a cell

	// Tested says that whoever drew it has tried it in a tube and tells its error.
	Tested bool
}

// Film is a sheet across one axis: Min and Max agree on that axis.
type Film struct {
	Min, Max    r3.Vec  // m
	SurfaceMass float64 // kg/m²
	Name        string  // what warnings call it; may be empty
	Tested      bool    // see Porous

	// Resistance is that of a sheet that air passes through, Pa·s/m; 0 is tight.
	// A sheet with resistance and no mass stands still.
	Resistance float64
}

// Axis returns the axis that the film is normal to, -1 if there is none.
func (f Film) Axis() int {
	for a, d := range Components(r3.Sub(f.Max, f.Min)) {
		if d == 0 {
			return a
		}
	}
	return -1
}

// minSkeleton is the least bulk density of a limp skeleton, kg/m³: half the air in it.
const minSkeleton = 0.5

// ExactBranches returns a boundary as branches, where that is exact.
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

// Resistive returns the surface of real specific admittance β at every frequency.
// Zero is rigid.
func Resistive(beta float64, air model.Air) fit.Branches {
	if beta == 0 {
		return fit.Branches{Air: air}
	}
	return fit.Branches{Air: air, List: []fit.Branch{{Resistance: air.Impedance() / beta}}}
}

// Validate returns what is wrong with the scene, nil if nothing.
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
			return fmt.Errorf("wave: film %d must weigh 0 or at least 1 g/m², and resist by 0 or at least 0.1 Pa·s/m", i+1)
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
