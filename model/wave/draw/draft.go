package draw

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/material/surface"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/scene"
)

// newDraft begins a drawing.
func newDraft(room *model.Room, e material.Estimate, cell float64, known *fit.Memory) *draft {
	if !(cell > 0) {
		panic(fmt.Sprintf("wave: a room drawn with cells of %v m", cell))
	}
	return &draft{
		room: room, estimate: e, cells: lattice.NewCells(room.Size, cell).H,
		surfaces: surface.NewResolver(e), fits: map[string]fittedSurface{}, known: known,
		choices: map[string]bool{},
		scene:   scene.Scene{Size: room.Size, Air: room.Air(), Outline: room.Outline},
	}
}

// draw draws the room's surfaces, then what stands in it.
func (d *draft) draw() error {
	d.prefit()
	for _, step := range []func() error{d.walls, d.openings} {
		if err := step(); err != nil {
			return err
		}
	}
	d.wallPatches = len(d.scene.Patches)
	if err := d.treatments(); err != nil {
		return err
	}
	for _, b := range d.room.Blocks {
		d.scene.Blocks = append(d.scene.Blocks, scene.Solid{Min: b.Min, Max: b.Max})
	}
	return nil
}

// draft is a drawing in progress.
type draft struct {
	room     *model.Room
	estimate material.Estimate
	cells    [3]float64 // size of a cell on each axis, m
	surfaces *surface.Resolver
	fits     map[string]fittedSurface // by the text of the surface
	known    *fit.Memory              // kept between drawings
	choices  map[string]bool          // by the text of the layers: better as a block than drawn
	scene    scene.Scene

	resistivity float64 // of all wool, relative to the typical value; 0 means 1
	untested    bool    // skip the test of drawn layers in a tube
	wallPatches int     // number of patches that are walls and openings; they come first

	bare         [6]model.Boundary // the walls of the bounding box
	asBlocks     []string          // treatments replaced by a block with a surface impedance
	asImpedances []string          // treatments replaced by a surface impedance of the wall
	omitted      []string          // sheets that were left out
	poorFits     []string          // surfaces whose absorption branches only approximate
	acausal      []string          // surfaces with a constant complex impedance
	warnings     []model.Warning
}

// walls gives the bounding box, the outline's edges and the slopes their surfaces.
func (d *draft) walls() error {
	for _, f := range model.Faces {
		b, err := d.surfaces.Boundary(f.Wall(), d.room.Walls[f])
		if err != nil {
			return err
		}
		d.bare[f] = b
		d.scene.Walls[f] = d.fit(f.Wall(), key(d.room.Walls[f]), b)
	}
	for i := range d.room.Outline {
		if err := d.edge(i); err != nil {
			return err
		}
	}
	for i, s := range d.room.Slopes {
		height, rise := s.Plane()
		if rise == (r2.Vec{}) && height >= d.room.Size.Z {
			continue // it is the flat ceiling
		}
		slope := scene.Slope{Height: height, Rise: rise, Surface: d.scene.Walls[model.Ceiling]}
		if s.Surface.Set() {
			var err error
			if slope.Surface, err = d.fitted(fmt.Sprintf("slope %d of the ceiling", i+1), s.Surface); err != nil {
				return err
			}
		}
		d.scene.Slopes = append(d.scene.Slopes, slope)
	}
	return nil
}

// edge gives one edge of the outline its surface. An edge in a wall of the bounding box becomes a
// patch of that wall if its surface differs.
func (d *draft) edge(i int) error {
	surface := d.scene.Walls[d.room.EdgeFace(i)]
	own := i < len(d.room.Edges) && d.room.Edges[i].Set()
	if own {
		var err error
		if surface, err = d.fitted(d.room.EdgeName(i), d.room.Edges[i].Surface); err != nil {
			return err
		}
	}
	d.scene.Edges = append(d.scene.Edges, surface)
	a, b := d.room.Outline.Edge(i)
	if !own || !scene.NewShape(&d.scene).OnBorder(a, b) {
		return nil
	}
	p := model.Patch{Face: d.room.EdgeFace(i), Height: d.room.Size.Z}
	from, to := a.X, b.X
	if p.Face.Axis() == 0 {
		from, to = a.Y, b.Y
	}
	p.Along, p.Width = min(from, to), max(from, to)-min(from, to)
	d.scene.Patches = append(d.scene.Patches, scene.Patch{Patch: p, Surface: surface})
	return nil
}

// openings adds windows and doors to their walls.
func (d *draft) openings() error {
	for i := range d.room.Openings {
		o := &d.room.Openings[i]
		b, err := d.surfaces.Opening(*o)
		if err != nil {
			return err
		}
		surface := d.fit(cmp.Or(o.Name, o.Kind), o.Kind+key(o.Surface), b)
		if p, ok := d.room.BorderPatch(o); ok {
			d.scene.Patches = append(d.scene.Patches, scene.Patch{Patch: p, Surface: surface})
		} else if s, ok := d.room.Stretch(o); ok {
			d.scene.Insets = append(d.scene.Insets, scene.Inset{
				From: s.From, To: s.To, Inward: s.Inward, Low: o.Patch.Up, High: o.Patch.Up + o.Patch.Height, Surface: surface,
			})
		}
	}
	return nil
}

// prefit fits branches to walls and openings in parallel before they are drawn. Errors are reported
// when they are drawn.
func (d *draft) prefit() {
	if d.known == nil {
		return
	}
	surfaces := surface.NewResolver(d.estimate) // its warnings are not used
	var all concurrent.Group
	defer all.Wait()
	fit := func(b model.Boundary, err error) {
		if _, exact := scene.ExactBranches(b, d.scene.Air); err == nil && exact != nil {
			all.Go(func() { d.known.Branches(b, d.scene.Air, maxBranches) })
		}
	}
	for _, f := range model.Faces {
		fit(surfaces.Boundary(f.Wall(), d.room.Walls[f]))
	}
	for _, e := range d.room.Edges {
		if e.Set() {
			fit(surfaces.Boundary("", e.Surface))
		}
	}
	for _, o := range d.room.Openings {
		fit(surfaces.Opening(o))
	}
}

// fitted resolves and fits a surface.
func (d *draft) fitted(name string, s model.Surface) (fit.Branches, error) {
	b, err := d.surfaces.Boundary(name, s)
	if err != nil {
		return fit.Branches{}, err
	}
	return d.fit(name, key(s), b), nil
}

// key names a surface by its text.
func key(s model.Surface) string { return fmt.Sprintf("%v", s) }

const (
	maxBranches = 5
	fitLimit    = 0.03 // error in absorption that needs no warning

	// reflectionLimit is the error in the reflection factor that needs no warning. With 0.06 on
	// four walls, levels are 1 to 2 dB rms off.
	reflectionLimit = 0.02
)

// fit returns a boundary as branches. Surfaces with the same key are fitted once.
func (d *draft) fit(name, key string, b model.Boundary) fit.Branches {
	f, done := d.fits[key]
	if !done {
		var err error
		if f.branches, err = scene.ExactBranches(b, d.scene.Air); err != nil { // only an approximation
			f.branches, f.worst = d.known.Branches(b, d.scene.Air, maxBranches)
		}
		d.fits[key] = f
	}
	switch {
	case fit.Acausal(b) && f.worst > reflectionLimit:
		d.acausal = append(d.acausal, fmt.Sprintf("%s (%.2f)", name, f.worst))
	case !fit.Acausal(b) && f.worst > fitLimit:
		d.poorFits = append(d.poorFits, fmt.Sprintf("%s (%.2f)", name, f.worst))
	}
	return f.branches
}

// fittedSurface is a surface as branches with its error, see [fit.Boundary].
type fittedSurface struct {
	branches fit.Branches
	worst    float64
}

// allWarnings returns the warnings, one for each kind of simplification.
func (d *draft) allWarnings() []model.Warning {
	say := func(how model.Simplification, names []string) {
		if len(names) > 0 {
			d.warnings = append(d.warnings, model.Simplified{How: how, Names: strings.Join(slices.Compact(names), ", ")})
		}
	}
	say(model.BranchesApproximate, d.poorFits)
	say(model.ImpedanceAcausal, d.acausal)
	say(model.LayersAsBlocks, d.asBlocks)
	say(model.LayersAsImpedance, d.asImpedances)
	say(model.OmittedOnGrid, d.omitted)
	return d.warnings
}

// ceilingOver returns the height of the ceiling above the middle of a rectangle and at its highest corner, m,
// and by how much the ceiling there is larger than its plan.
func (d *draft) ceilingOver(x, y model.Range) (height, top, stretch float64) {
	middle := r2.Vec{X: (x.Min + x.Max) / 2, Y: (y.Min + y.Max) / 2}
	for _, v := range [4]r2.Vec{{X: x.Min, Y: y.Min}, {X: x.Max, Y: y.Min}, {X: x.Max, Y: y.Max}, {X: x.Min, Y: y.Max}} {
		top = max(top, d.room.CeilingAt(v))
	}
	return d.room.CeilingAt(middle), top, d.room.CeilingStretch(middle)
}
