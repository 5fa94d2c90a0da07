package surface

import (
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
