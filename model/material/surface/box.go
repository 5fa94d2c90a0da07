package surface

import (
	"cmp"
	"fmt"
	"math/cmplx"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
)

// Box returns the room as the box engines see it: every wall's construction,
// impedance or table becomes one [model.Boundary], at the given estimate.
//
// A door, a window, a hole or a treatment is mixed into its wall: the wall's admittance is the mean over its
// area. That keeps the volume flow into the wall but not the place; the engines then see a uniform wall.
// Blocks are left out. The warnings name each kind of simplification once.
//
// A treatment has its wall's construction behind it, and follows the estimate as
// [absorber.Variants.At] does: softer or stiffer wool, skeleton held or free. A surface that says nothing is
// taken as "unknown". A name that is not in the library, an impedance that gives
// out energy and a table or build-up that makes no sense are errors.
func Box(room *model.Room, e material.Estimate) (model.Box, []model.Warning, error) {
	if size := room.Size; !(size.X > 0 && size.Y > 0 && size.Z > 0) {
		return model.Box{}, nil, fmt.Errorf("the room must have a length, a width and a height, have %g x %g x %g m", size.X, size.Y, size.Z)
	}
	b := boxBuilder{room: room, estimate: e}
	box := model.Box{Size: room.TrueSize(), Air: room.Air()}
	if room.Calibration != nil {
		box.Tape = room.Size
	}
	for _, face := range model.Faces {
		w, err := b.wall(face)
		if err != nil {
			return model.Box{}, nil, err
		}
		box.Walls[face] = w
	}
	return box, b.doubts(), nil
}

// boxBuilder gathers warnings while the walls are put together.
type boxBuilder struct {
	room     *model.Room
	estimate material.Estimate

	extrapolated, light, unset []string // surfaces
	measured                   []string // surfaces whose absorption was fitted
	openings, treatments       []string // spread over their walls
	warnings                   []model.Warning
}

// wall returns the boundary of a face with all that is in it.
func (b *boxBuilder) wall(face model.Face) (model.Boundary, error) {
	bare, err := b.surface(face.Wall(), b.room.Walls[face])
	if err != nil {
		return nil, err
	}
	along, up := b.room.Extent(face)
	whole := model.Patch{Face: face, Width: along, Height: up}
	covered := b.treatmentsOn(whole)
	var parts mixture
	for _, o := range b.room.Openings {
		if o.Patch.Face != face {
			continue
		}
		name := b.openingName(o)
		s, err := b.surface(name, openingSurface(o))
		if err != nil {
			return nil, err
		}
		area := o.Patch.Area()
		if in, border := b.room.BorderPatch(&o); border {
			area = in.Overlap(whole)
			for _, t := range covered {
				area -= in.Overlap(t.Patch)
			}
		}
		parts = parts.add(s, area)
		b.openings = append(b.openings, name)
	}
	for _, t := range covered {
		s, w, err := b.treatmentBoundary(t, bare)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", treatmentName(t), err)
		}
		for _, one := range w {
			b.warnings = append(b.warnings, model.About{Name: treatmentName(t), Warning: one})
		}
		parts = parts.add(s, t.Patch.Overlap(whole))
		b.treatments = append(b.treatments, treatmentName(t))
	}
	if len(parts) == 0 {
		return bare, nil
	}
	return parts.add(bare, whole.Area()-parts.area()).even(), nil
}

// treatmentsOn returns the treatments on a face.
func (b *boxBuilder) treatmentsOn(whole model.Patch) []model.Treatment {
	var on []model.Treatment
	for _, t := range b.room.Treatments {
		if t.Form == model.OnWall && t.Patch.Overlap(whole) > 0 {
			on = append(on, t)
		}
	}
	return on
}

// surface resolves what a wall or an opening is made of.
func (b *boxBuilder) surface(name string, s model.Surface) (model.Boundary, error) {
	switch {
	case s.Fit.Set():
		return b.fitted(name, s)
	case s.Construction != "":
		return b.construction(name, s.Construction)
	case s.Impedance != 0:
		if !(real(s.Impedance) >= 0) || cmplx.IsNaN(s.Impedance) {
			return nil, fmt.Errorf("%s: an impedance with a negative real part would produce energy, have %.4g", name, s.Impedance)
		}
		return model.Plain(1 / s.Impedance), nil
	case len(s.Absorption) > 0:
		t, warnings, err := material.NewTable(s.Absorption)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		for _, w := range warnings {
			b.warnings = append(b.warnings, model.About{Name: name, Warning: w})
		}
		return t, nil
	}
	b.unset = append(b.unset, name)
	return b.construction(name, "unknown")
}

func (b *boxBuilder) construction(name, construction string) (model.Boundary, error) {
	c, ok := material.Lookup(construction)
	if !ok {
		return nil, fmt.Errorf("%s: no construction is called %q; did you mean %q?", name, construction, material.Nearest(construction))
	}
	if c.Lowest > 0 {
		b.extrapolated = append(b.extrapolated, name)
	}
	if c.Resonance > 0 {
		b.light = append(b.light, name)
	}
	return c.At(b.estimate), nil
}

// doubts returns the warnings in order of weight.
func (b *boxBuilder) doubts() []model.Warning {
	var w []model.Warning
	say := func(how model.Simplification, about []string) {
		if len(about) > 0 {
			w = append(w, model.Simplified{How: how, Names: list(about)})
		}
	}
	say(model.WallsUnset, b.unset)
	var blocks []string
	for _, k := range b.room.Blocks {
		blocks = append(blocks, cmp.Or(k.Name, "a block"))
	}
	say(model.BlocksOmitted, blocks)
	var free []string
	for _, t := range b.room.Treatments {
		if t.Form != model.OnWall {
			free = append(free, treatmentName(t))
		}
	}
	say(model.FreeOmitted, free)
	if !b.room.Plain() {
		w = append(w, model.Remark("this engine models plain boxes only: the room is replaced by the box around it"))
	}
	say(model.WallsFitted, b.measured)
	say(model.OpeningsSpread, b.openings)
	say(model.TreatmentsSpread, b.treatments)
	say(model.LightWallsRigid, b.light)
	say(model.TablesExtrapolated, b.extrapolated)
	return append(w, b.warnings...)
}

// openingSurface returns what an opening is made of; a hole without a construction is open.
func openingSurface(o model.Opening) model.Surface {
	if !o.Surface.Set() && o.Kind == "hole" {
		return model.Surface{Construction: "open"}
	}
	return o.Surface
}

func (b *boxBuilder) openingName(o model.Opening) string {
	return cmp.Or(o.Name, o.Kind+" in the "+b.room.OpeningWall(&o))
}

func treatmentName(t model.Treatment) string {
	return cmp.Or(t.Name, "treatment "+t.Where())
}

// treatmentBoundary returns the surface of a treatment that stands on a wall.
func (b *boxBuilder) treatmentBoundary(t model.Treatment, wall model.Boundary) (model.Boundary, []model.Warning, error) {
	v, warnings, err := absorber.NewVariants(t.Layers, &absorber.Options{Air: b.room.Air(), Backing: wall})
	if err != nil {
		return nil, nil, err
	}
	return v.At(b.estimate), warnings, nil
}

// mixture is a wall of several boundaries side by side.
type mixture []share

type share struct {
	boundary model.Boundary
	area     float64
}

func (m mixture) add(b model.Boundary, area float64) mixture {
	return append(m, share{b, max(0, area)})
}

func (m mixture) area() float64 {
	var sum float64
	for _, s := range m {
		sum += s.area
	}
	return sum
}

// even returns the mixture with its areas as shares of one.
func (m mixture) even() mixture {
	total := m.area()
	for i := range m {
		m[i].area /= total
	}
	return m
}

// Admittance implements [model.Boundary]: the mean of the admittances by area,
// which keeps the volume flow that an even pressure drives into the wall.
func (m mixture) Admittance(f float64) complex128 {
	var sum complex128
	for _, s := range m {
		sum += complex(s.area, 0) * s.boundary.Admittance(f)
	}
	return sum
}

var _ model.Boundary = mixture(nil)

// list joins names for a sentence: "a, b and c".
func list(names []string) string {
	n := len(names)
	if n == 1 {
		return names[0]
	}
	return strings.Join(names[:n-1], ", ") + " and " + names[n-1]
}
