package surface

import (
	"math"

	"evenbass/model"
	"evenbass/model/material"
)

// Resolver turns surfaces into boundaries one after another, and gathers the
// warnings about them.
type Resolver struct{ b boxBuilder }

// NewResolver returns a resolver for constructions at the given estimate.
func NewResolver(e material.Estimate) *Resolver {
	return &Resolver{boxBuilder{room: &model.Room{}, estimate: e}}
}

// Boundary returns what a surface is made of, as [Box] takes it; warnings
// and errors call it by the name.
func (s *Resolver) Boundary(name string, of model.Surface) (model.Boundary, error) {
	return s.b.surface(name, of)
}

// Opening is Boundary for a door, a window or a hole; a hole without a construction is open.
func (s *Resolver) Opening(o model.Opening) (model.Boundary, error) {
	return s.b.surface(s.b.openingName(o), openingSurface(o))
}

// Warnings returns one for each kind of simplification of the surfaces so far.
func (s *Resolver) Warnings() []model.Warning { return s.b.doubts() }

// Variable is a room whose walls lie anywhere between what they absorb at least and at
// most. [NewVariable] makes one.
type Variable struct{ low, typical, high model.Box }

// NewVariable resolves a room's walls by all three estimates; it fails as [Box] does.
func NewVariable(room *model.Room) (*Variable, error) {
	var d Variable
	for _, e := range []struct {
		estimate material.Estimate
		box      *model.Box
	}{{material.Low, &d.low}, {material.Typical, &d.typical}, {material.High, &d.high}} {
		var err error
		if *e.box, _, err = Box(room, e.estimate); err != nil {
			return nil, err
		}
	}
	return &d, nil
}

// Box returns the room with each wall's admittance between those of its estimates:
// -1 is low, 0 typical, 1 high, and in between is in proportion. A mean of passive
// surfaces is passive. It panics beyond -1 and 1.
func (d *Variable) Box(walls [6]float64) model.Box {
	box := d.typical
	for i, v := range walls {
		switch {
		case !(math.Abs(v) <= 1):
			panic("material: a wall is drawn from -1 to 1")
		case v < 0:
			box.Walls[i] = mixture{{d.typical.Walls[i], 1 + v}, {d.low.Walls[i], -v}}
		case v > 0:
			box.Walls[i] = mixture{{d.typical.Walls[i], 1 - v}, {d.high.Walls[i], v}}
		}
	}
	return box
}
