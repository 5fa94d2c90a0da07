package absorber

import (
	"fmt"
	"math"

	"evenbass/model"
)

// PanelLoss is the loss factor of a panel with its edges and mounting that is
// taken where a layer gives no damping. Common practice, no source: mounted
// boards are between 0.02 and 0.1.
const PanelLoss = 0.05

// panel is a stiff sheet that moves as one piece: a mass on its mounting.
//
//	Z = jωm + R + K/(jω)
type panel struct {
	mass, damping, stiffness float64 // kg/m², Pa·s/m, Pa/m
}

func (p *panel) at(f float64) section {
	w := 2 * math.Pi * f
	return section{series: complex(p.damping, w*p.mass-p.stiffness/w)}
}

func newPanel(l model.Layer, _ *Options) (layer, []model.Warning, error) {
	if l.SurfaceMass == 0 && l.Density == 0 {
		return nil, nil, fmt.Errorf("a panel needs a surface mass, a density or a material of the library")
	}
	mass := or(l.SurfaceMass, l.Thickness*l.Density)
	switch {
	case !(mass > 0) || mass > 500:
		return nil, nil, fmt.Errorf("surface mass of a panel must be above zero and below 500 kg/m², have %.4g", mass)
	case !(l.Damping >= 0), !(l.Stiffness >= 0):
		return nil, nil, fmt.Errorf("damping and stiffness of a panel must not be negative, have %v Pa·s/m and %v Pa/m", l.Damping, l.Stiffness)
	}
	w := []model.Warning{model.Remark("the panel is modelled as one mass; above its resonance a real one also absorbs by bending, which is left out")}
	return &panel{mass: mass, damping: l.Damping, stiffness: l.Stiffness}, w, nil
}

// settle fills in the damping of a panel that gives none: the loss factor [PanelLoss]
// at the resonance on what is behind it.
func (p *panel) settle(s *Stack, i int) {
	if p.damping == 0 {
		p.damping = PanelLoss * math.Sqrt((p.stiffness+s.spring(i+1))*p.mass)
	}
}

func (p *panel) weight(model.Layer) (float64, model.Warning) { return p.mass, nil }

func (p *panel) draw(to *Piece) { to.SurfaceMass = p.mass }
