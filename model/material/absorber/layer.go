package absorber

import (
	"cmp"
	"fmt"
	"math"

	"evenbass/model"
)

// layer is one layer of a stack, made ready.
type layer interface {
	// at returns the layer at frequency f in Hz.
	at(f float64) section

	// weight returns the mass of the layer in kg/m², and what had to be assumed for it.
	weight(l model.Layer) (kg float64, assumed model.Warning)
}

// section is a layer at one frequency: a fluid of some thickness, or, if that is
// zero, a sheet so thin that the air on both sides has the same velocity.
type section struct {
	wavenumber complex128 // k, 1/m
	inertia    complex128 // ωρ = Zc k, Pa·s/m²
	thickness  float64    // m

	series complex128 // of a sheet: pressure difference over velocity, Pa·s/m
}

func sectionOf(m Fluid, thickness float64) section {
	return section{wavenumber: m.Wavenumber, inertia: m.Impedance * m.Wavenumber, thickness: thickness}
}

// newLayer prepares a layer. Figures from the library must be filled in before.
func newLayer(l model.Layer, o *Options) (layer, []model.Warning, error) {
	kind := KindOf(l.Kind)
	if kind.make == nil {
		return nil, nil, fmt.Errorf("no layer is of kind %d", l.Kind)
	}
	if err := checkSize(l, kind); err != nil {
		return nil, nil, err
	}
	return kind.make(l, o)
}

// checkSize checks the thickness, for which a surface mass may stand in.
func checkSize(l model.Layer, kind Kind) error {
	switch {
	case math.IsNaN(l.Thickness) || math.IsInf(l.Thickness, 0) || l.Thickness < 0:
		return fmt.Errorf("thickness must be above zero, have %v m", l.Thickness)
	case !(l.Thickness > 0) && !(kind.May(SurfaceMass) && l.SurfaceMass > 0):
		return fmt.Errorf("thickness is missing or zero")
	case l.Thickness > 10:
		return fmt.Errorf("thickness %v m is no layer of a room: is the unit right?", l.Thickness)
	}
	return nil
}

// layerName returns how the owner would call a layer.
func layerName(l model.Layer) string {
	if l.Text != "" {
		return l.Text
	}
	name := cmp.Or(l.Material, KindOf(l.Kind).Name)
	switch {
	case l.Thickness != 0:
		return name + " " + thicknessText(l.Thickness)
	case l.SurfaceMass != 0:
		return fmt.Sprintf("%s %.4g kg/m²", name, l.SurfaceMass)
	}
	return name
}

func thicknessText(m float64) string {
	if math.Abs(m) < 0.0005 {
		return fmt.Sprintf("%.4g µm", m*1e6)
	}
	return fmt.Sprintf("%.4g mm", m*1e3)
}
