package material

import "evenbass/model"

// Surfaces turns surfaces into boundaries one after another, and gathers what is
// doubtful about them.
type Surfaces struct{ b boxBuilder }

// NewSurfaces returns one that takes all constructions at the given estimate.
func NewSurfaces(e Estimate) *Surfaces {
	return &Surfaces{boxBuilder{room: &model.Room{}, estimate: e}}
}

// Boundary returns what a surface is made of, as [Box] takes it; the name is what
// doubts and errors call it.
func (s *Surfaces) Boundary(name string, of model.Surface) (model.Boundary, error) {
	return s.b.surface(name, of)
}

// Opening is Boundary for a door, a window or a hole; a hole that does not say is
// open.
func (s *Surfaces) Opening(o model.Opening) (model.Boundary, error) {
	return s.b.surface(s.b.openingName(o), openingSurface(o))
}

// Doubts returns one sentence for each kind of doubt about the surfaces so far.
func (s *Surfaces) Doubts() []model.Warning { return s.b.doubts() }
