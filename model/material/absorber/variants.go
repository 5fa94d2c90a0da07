package absorber

import (
	"math"

	"evenbass/model"
	"evenbass/model/material"
)

// ResistivitySpread is how far the flow resistivity of wool may be off its
// figure, as a ratio: batches and makers' tolerances. Common practice, no source.
const ResistivitySpread = 0.3

// Variants is a build-up with its likely variations: all its flow resistivities [ResistivitySpread] lower or
// higher, and each skeleton that is not said to be fixed or limp as either. It is safe for use by several
// goroutines at once.
type Variants struct {
	typical *Stack
	edges   []*Stack // all others
}

// NewVariants makes the variants of a build-up; layers, options, warnings and
// errors are those of [NewStack].
func NewVariants(layers []model.Layer, options *Options) (*Variants, []model.Warning, error) {
	typical, warnings, err := NewStack(layers, options)
	if err != nil {
		return nil, nil, err
	}
	v := &Variants{typical: typical}
	o := typical.options
	frames := []model.Frame{model.FrameFixed, model.FrameLimp}
	if o.Frame != model.FrameUnknown {
		frames = frames[:1]
		frames[0] = o.Frame
	}
	for _, frame := range frames {
		for _, ratio := range [...]float64{1 - ResistivitySpread, 1, 1 + ResistivitySpread} {
			o.Frame = frame
			edge, _, err := NewStack(withResistivity(typical.source, ratio), &o)
			if err != nil {
				return nil, nil, err
			}
			v.edges = append(v.edges, edge)
		}
	}
	return v, warnings, nil
}

// withResistivity returns the layers with every flow resistivity times a ratio,
// kept within what a layer may have.
func withResistivity(layers []model.Layer, ratio float64) []model.Layer {
	changed := append([]model.Layer(nil), layers...)
	for i := range changed {
		if l := &changed[i]; KindOf(l.Kind).May(FlowResistivity) {
			l.Resistivity = max(leastResistivity, min(mostResistivity, l.Resistivity*ratio))
		}
	}
	return changed
}

// Normal returns the range of the absorption at normal incidence at frequency f
// in Hz.
func (v *Variants) Normal(f float64) material.Span {
	return v.span(func(s *Stack) float64 { return s.NormalAbsorption(f) })
}

// Random returns the range of the absorption at random incidence at frequency f
// in Hz.
func (v *Variants) Random(f float64) material.Span {
	return v.span(func(s *Stack) float64 { return s.RandomAbsorption(f) })
}

func (v *Variants) span(of func(*Stack) float64) material.Span {
	a := of(v.typical)
	r := material.Span{Low: a, Typical: a, High: a}
	for _, edge := range v.edges {
		a := of(edge)
		r.Low, r.High = min(r.Low, a), max(r.High, a)
	}
	return r
}

// At returns one variant: the typical one, or the one that absorbs least or most
// on the mean over third octaves from 31.5 to 250 Hz at normal incidence. At a
// single frequency another may absorb less or more: see Normal and Random.
func (v *Variants) At(e material.Estimate) *Stack {
	if e == material.Typical {
		return v.typical
	}
	best := v.typical
	for _, edge := range v.edges {
		if (e == material.Low) == (bassAbsorption(edge) < bassAbsorption(best)) {
			best = edge
		}
	}
	return best
}

// WithResistivity returns the build-up with every flow resistivity times a ratio, kept within what a layer
// may have, and all else typical.
func (v *Variants) WithResistivity(ratio float64) (*Stack, error) {
	o := v.typical.options
	stack, _, err := NewStack(withResistivity(v.typical.source, ratio), &o)
	return stack, err
}

// bassAbsorption is the mean absorption over the third octaves from 31.5 to 250
// Hz at normal incidence.
func bassAbsorption(s *Stack) float64 {
	var sum float64
	for i := range 10 {
		sum += s.NormalAbsorption(31.5 * math.Exp2(float64(i)/3))
	}
	return sum / 10
}

// Curves is what a chart of a build-up shows.
type Curves struct {
	Grid   model.Grid
	Normal []material.Span // absorption at normal incidence, by frequency
	Random []material.Span // absorption at random incidence, by frequency
	Zeta   []complex128

	Resonances []Resonance // of the typical variant
	Reflects   float64     // Hz, see Stack.ReflectsAbove; 0 if it does not
	Recipe     string      // how it was computed, one clause
}

// Curves computes the figure over a grid of frequencies; 20 Hz to 5 kHz is usual.
func (v *Variants) Curves(grid model.Grid) Curves {
	n := len(grid)
	fig := Curves{Grid: grid, Normal: make([]material.Span, n), Random: make([]material.Span, n), Zeta: make([]complex128, n)}
	for i, f := range grid {
		fig.Normal[i], fig.Random[i] = v.Normal(f), v.Random(f)
		fig.Zeta[i] = 1 / v.typical.Admittance(f)
	}
	fig.Resonances = v.typical.Resonances()
	fig.Reflects, _ = v.typical.ReflectsAbove()
	fig.Recipe = v.typical.recipe()
	return fig
}

// recipe says how the figures came about.
func (s *Stack) recipe() string {
	reaction := "bulk reaction"
	if s.options.Reaction == Local {
		reaction = "local reaction"
	}
	return "predicted by transfer matrices, " + s.options.Law.String() + ", " + reaction +
		", infinite area; range for flow resistivity ±30 %, and for wool held or loose where not stated"
}
