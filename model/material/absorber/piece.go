package absorber

import (
	"fmt"

	"evenbass/model"
)

// Piece is one layer of a build-up as a time-domain solver can draw it where it
// stands.
type Piece struct {
	Form        Form
	Thickness   float64      // m
	Porous      PorousVolume // of wool
	SurfaceMass float64      // kg/m²; of a film or a board
}

// Pieces returns the layers from the room to the wall. The volume of wool is that of
// Johnson-Champoux-Allard whatever law the stack is computed by.
func (s *Stack) Pieces() []Piece {
	list := make([]Piece, len(s.layers))
	for i, l := range s.layers {
		list[i] = Piece{Form: s.form(i), Thickness: s.source[i].Thickness}
		if l, ok := l.(interface{ draw(*Piece) }); ok {
			l.draw(&list[i])
		}
	}
	return list
}

// Weights returns the mass of each layer in kg/m², from the room to the wall, without
// frame, cloth and fixings. A density that is not given is assumed by the kind: mineral
// wool of the same flow resistivity, polyethylene, board. Each assumption but that of
// polyethylene is a warning.
func (s *Stack) Weights() (kg []float64, assumptions []model.Warning) {
	for i, l := range s.source {
		mass, assumed := s.layers[i].weight(l)
		kg = append(kg, mass)
		if assumed != nil {
			assumptions = append(assumptions, model.About{Name: fmt.Sprintf("layer %d (%s)", i+1, layerName(l)), Warning: assumed})
		}
	}
	return kg, assumptions
}
