package absorber

import (
	"fmt"

	"evenbass/model"
)

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
