package absorber

import (
	"fmt"

	"evenbass/model"
)

// Weights returns the mass of each layer in kg/m², from the room to the wall, without
// frame, cloth and fixings. What a layer does not say is taken from its kind: wool has the density of mineral
// wool of its flow resistivity, a film that of polyethylene, a perforated sheet that
// of board. Each such guess is a warning.
func (s *Stack) Weights() (kg []float64, guesses []model.Warning) {
	for i, l := range s.source {
		mass, guess := weightOf(l, s.layers[i])
		kg = append(kg, mass)
		if guess != "" {
			guesses = append(guesses, model.Warning(fmt.Sprintf("layer %d (%s): %s", i+1, layerName(l), guess)))
		}
	}
	return kg, guesses
}

// boardDensity is that of the fibreboard and plywood of which perforated sheets are
// made, kg/m³. Common practice, no source: 600 to 750.
const boardDensity = 700

// weightOf returns the mass of one layer in kg/m² and what had to be guessed.
func weightOf(l model.Layer, ready layer) (kg float64, guess string) {
	switch ready := ready.(type) {
	case *film:
		return ready.mass, ""
	case *panel:
		return ready.mass, ""
	case *porous:
		if l.Density == 0 {
			rho := fibreDensity(l.Resistivity)
			return rho * l.Thickness, fmt.Sprintf("density not given, about %.0f kg/m³ assumed as for mineral wool", rho)
		}
		return l.Density * l.Thickness, ""
	case *perforated:
		if l.Density == 0 {
			return boardDensity * l.Thickness * (1 - l.OpenArea), fmt.Sprintf("density not given, %d kg/m³ assumed as for board", boardDensity)
		}
		return l.Density * l.Thickness * (1 - l.OpenArea), ""
	}
	return 0, ""
}
