package absorber

import (
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/integrate/quad"

	"evenbass/model"
)

// Reaction tells whether sound runs along inside a stack.
type Reaction int

const (
	// Bulk is a stack without partitions: each layer carries the wave at its own angle.
	Bulk Reaction = iota
	// Local is a stack divided into cells, or of so much resistance, that sound inside it only runs straight
	// in and out.
	Local
)

// Options say what a stack stands on and how it is computed. The zero value is a
// rigid wall, air at 20 °C, Johnson-Champoux-Allard and a fixed skeleton.
type Options struct {
	Air      model.Air      // zero is air at 20 °C
	Gas      Gas            // each zero is air at 20 °C
	Backing  model.Boundary // the wall behind; nil is rigid
	Reaction Reaction

	// Free says that the stack stands free in the room, so that nothing is said of a last layer on the wall.
	Free bool

	Law   Law         // of all porous layers
	Frame model.Frame // of the porous layers that do not say; unknown is fixed
}

func (o *Options) withDefaults() Options {
	d := Options{}
	if o != nil {
		d = *o
	}
	if d.Air == (model.Air{}) {
		d.Air = model.AirAt(0)
	}
	if d.Backing == nil {
		d.Backing = model.Rigid
	}
	d.Gas = d.Gas.withDefaults()
	return d
}

// maxLayers bounds a stack so that all of it fits on the goroutine's stack.
const maxLayers = 24

// Stack is a build-up of layers on a wall. It is infinite and flat; plane waves
// meet it. It does not change after [NewStack] and is safe for use by several
// goroutines at once.
//
// As a [model.Boundary] it answers with its normal-incidence admittance: inside the stack sound runs straight
// in and out. That is exact for the modes that meet the wall head on and for divided stacks. For a wave that
// grazes an undivided air gap it makes the gap too soft; for wool the error is small.
type Stack struct {
	options Options
	source  []model.Layer // as given, the library filled in
	layers  []layer
	angles  []angle // of the random-incidence integral; none for a local stack
}

var _ model.Boundary = (*Stack)(nil)

// angle is one direction of the random-incidence integral.
type angle struct{ sin, cos, weight float64 }

// randomAngles is the number of directions of the integral: enough for 1e-5 in
// the absorption of ordinary build-ups up to 1 kHz.
const randomAngles = 32

// NewStack makes a stack of layers, listed from the room to the wall. A nil options is its zero value.
// Figures that a layer with a material leaves at zero come from [Lookup].
//
// It returns an error that names the layer and what would be right if a figure
// is missing or impossible, and warnings where the result is doubtful.
func NewStack(layers []model.Layer, options *Options) (*Stack, []model.Warning, error) {
	if len(layers) == 0 {
		return nil, nil, errors.New("a build-up needs at least one layer")
	}
	if len(layers) > maxLayers {
		return nil, nil, fmt.Errorf("a build-up has at most %d layers, have %d", maxLayers, len(layers))
	}
	s := &Stack{options: options.withDefaults()}
	var warnings []model.Warning
	for i, l := range layers {
		l, err := complete(l)
		var ready layer
		var w []model.Warning
		if err == nil {
			ready, w, err = newLayer(l, &s.options)
		}
		if err != nil {
			return nil, nil, fmt.Errorf("layer %d (%s): %w", i+1, layerName(l), err)
		}
		for _, one := range w {
			warnings = append(warnings, model.About{Name: fmt.Sprintf("layer %d (%s)", i+1, layerName(l)), Warning: one})
		}
		s.source, s.layers = append(s.source, l), append(s.layers, ready)
	}
	s.settle()
	return s, append(warnings, s.doubts()...), nil
}

// settle does what needs all layers at once, from the wall to the room.
func (s *Stack) settle() {
	for i := len(s.layers) - 1; i >= 0; i-- {
		if l, ok := s.layers[i].(interface{ settle(s *Stack, i int) }); ok {
			l.settle(s, i)
		}
	}
	if s.options.Reaction == Bulk {
		s.angles = directions(randomAngles)
	}
}

// neighbour returns layer i, or nil outside the stack.
func (s *Stack) neighbour(i int) layer {
	if i < 0 || i >= len(s.layers) {
		return nil
	}
	return s.layers[i]
}

// spring returns the stiffness in Pa/m of what lies behind layer i-1 at low
// frequencies, up to the next sheet with a mass: ρc²/d of its depth.
func (s *Stack) spring(i int) float64 {
	var depth float64
	for ; s.form(i).Fills(); i++ {
		depth += s.source[i].Thickness
	}
	if depth == 0 {
		return 0
	}
	return s.options.Air.Density * s.options.Air.Speed * s.options.Air.Speed / depth
}

// form returns what layer i is, and no form outside the stack.
func (s *Stack) form(i int) Form {
	if i < 0 || i >= len(s.source) {
		return 0
	}
	return FormOf(s.source[i])
}

// doubts returns warnings about the stack as a whole.
func (s *Stack) doubts() []model.Warning {
	var w []model.Warning
	last := len(s.layers) - 1
	if !s.options.Free && !s.form(last).Fills() && s.options.Backing == model.Boundary(model.Rigid) {
		w = append(w, model.LayerIdle{Name: fmt.Sprintf("layer %d (%s)", last+1, layerName(s.source[last]))})
	}
	if depth := s.Depth(); depth > 1.2 {
		w = append(w, model.BuildUpDeep{Depth: depth})
	}
	for i := range s.layers {
		if s.form(i).Absorbs() {
			return w
		}
	}
	return append(w, model.Remark("nothing in the build-up absorbs: a film or an air gap needs wool"))
}

// Depth returns the thickness of the whole stack in m.
func (s *Stack) Depth() float64 { return model.Treatment{Layers: s.source}.Depth() }

// Layers returns the layers from the room to the wall with every figure filled
// in from the library. The caller must not change them.
func (s *Stack) Layers() []model.Layer { return s.source }

// directions returns n angles from 0 to 90° with the weights of the Paris
// integral, 2 sin θ cos θ dθ, normalised to one.
func directions(n int) []angle {
	theta, weight := make([]float64, n), make([]float64, n)
	quad.Legendre{}.FixedLocations(theta, weight, 0, math.Pi/2)
	a := make([]angle, n)
	for i := range a {
		sin, cos := math.Sincos(theta[i])
		a[i] = angle{sin: sin, cos: cos, weight: weight[i] * 2 * sin * cos}
	}
	return a
}
