// Package absorption says what a build-up of layers absorbs, in third octaves and in words.
//
// In goes a [Sample]: layers as they were written, and the wall behind them. Out comes a [BuildUp] with
// its depth in m, weights in kg/m², absorption coefficients by [absorber.Curves], and doubts. Low, typical and
// high values follow from what is known of the materials.
package absorption

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/surface"
)

// Sample is a build-up of layers before anything is computed.
type Sample struct {
	Name, Text string // a treatment's name, "" for none; the layers as they were written
	Layers     []model.Layer
	Wall       string // what it stands on: "a rigid wall"
	Options    absorber.Options
	Own        []model.Material // that its layers may name
}

// BuildUp is a build-up of layers and what it does to sound.
type BuildUp struct {
	Name   string        // a treatment's name; "" if it has none
	Text   string        // the layers from the room to the wall, as they were written
	Wall   string        // what it stands on: "a rigid wall"
	Layers []model.Layer // the same layers with every figure filled in

	Depth    float64   // m
	Weights  []float64 // of each layer, kg/m²
	HalfFrom float64   // lowest frequency with half absorption at normal incidence, Hz; 0 is none up to 5 kHz

	Figure   absorber.Curves // over the chart's frequencies, ascending
	Bands    []Band          // third octaves, ascending; the same in all build-ups
	Words    []string        // what its pieces do, whole sentences
	Sources  []string        // where the figures of its materials come from, "name: source"
	Warnings []model.Warning
}

// Weight returns the mass of the whole build-up in kg/m².
func (b *BuildUp) Weight() float64 {
	var sum float64
	for _, kg := range b.Weights {
		sum += kg
	}
	return sum
}

// Band is the mean absorption over one third octave.
type Band struct {
	Frequency      float64 // nominal mid-band frequency, Hz
	Normal, Random material.Span
}

// BuildUp computes what a sample does to sound.
func (s *Sample) BuildUp() (BuildUp, error) {
	v, doubts, err := absorber.NewVariants(s.Layers, &s.Options)
	if err != nil {
		return BuildUp{}, err
	}
	words, err := absorber.Explain(s.Layers, &s.Options)
	if err != nil {
		return BuildUp{}, err
	}
	stack := v.At(material.Typical)
	weights, estimated := stack.Weights()
	b := BuildUp{
		Name: s.Name, Text: s.Text, Wall: s.Wall, Layers: stack.Layers(), Depth: stack.Depth(), Weights: weights,
		Figure: v.Curves(absorptionGrid()), Words: words, Sources: s.sources(), Warnings: append(doubts, estimated...),
	}
	b.HalfFrom, _ = stack.HalfFrom()
	b.Bands = thirdOctaves(&b.Figure)
	b.Warnings = append(b.Warnings, s.wallWarnings()...)
	return b, nil
}

// WallBehind returns the wording and the boundary of a construction; that of a rigid wall is nil. It reports
// whether there is one of that name.
func WallBehind(name string) (string, model.Boundary, bool) {
	c, ok := material.Lookup(name)
	switch {
	case !ok:
		return "", nil, false
	case c.Name == "rigid":
		return "a rigid wall", nil, true
	}
	return c.Name, c.At(material.Typical), true
}

// TreatmentSamples returns the treatments of a project that are layers on a wall, on the bare walls where
// they stand. A cloud is layers on the ceiling with air behind them. Treatments in a corner or standing free
// are left out.
func TreatmentSamples(p *model.Project) ([]Sample, error) {
	bare := p.Room
	bare.Treatments, bare.Openings = nil, nil
	box, _, err := surface.Box(&bare, material.Typical)
	if err != nil {
		return nil, err
	}
	var samples []Sample
	for _, t := range p.Room.Treatments {
		layers, face, ok := onWall(&t)
		if !ok {
			continue
		}
		samples = append(samples, Sample{
			Name: t.Name, Text: layersText(layers), Layers: layers, Own: p.Materials,
			Wall:    "the " + face.Wall() + ", " + surfaceName(&p.Room.Walls[face]),
			Options: absorber.Options{Air: p.Room.Air(), Backing: box.Walls[face]},
		})
	}
	return samples, nil
}

// onWall returns the layers of a treatment on a wall, and that wall.
func onWall(t *model.Treatment) ([]model.Layer, model.Face, bool) {
	switch t.Form {
	case model.OnWall:
		return t.Layers, t.Patch.Face, true
	case model.UnderCeiling:
		layers := t.Layers
		if t.Gap > 0 {
			air := model.Layer{Kind: model.GapLayer, Thickness: t.Gap, Text: fmt.Sprintf("air %.4g mm", 1000*t.Gap)}
			layers = append(layers[:len(layers):len(layers)], air)
		}
		return layers, model.Ceiling, true
	}
	return nil, 0, false
}

// surfaceName says what a wall is assumed to be.
func surfaceName(s *model.Surface) string {
	switch {
	case s.Impedance != 0:
		return "with the impedance given"
	case len(s.Absorption) > 0:
		return "with the absorption table given"
	}
	return cmp.Or(s.Construction, "unknown")
}

// layersText joins the phrases of layers as on a command line.
func layersText(layers []model.Layer) string {
	var phrases []string
	for _, l := range layers {
		phrases = append(phrases, l.Text)
	}
	return strings.Join(phrases, ", ")
}

// sources says where the figures of the materials that are named come from.
func (s *Sample) sources() []string {
	var lines []string
	for _, l := range s.Layers {
		if m, ok := absorber.Lookup(l.Material); ok {
			lines = append(lines, m.Name+": "+m.Source)
			continue
		}
		for _, m := range s.Own {
			if l.Text == m.Name || strings.HasPrefix(l.Text, m.Name+" ") {
				lines = append(lines, m.Name+": "+cmp.Or(m.Source, "the room file, without a source"))
			}
		}
	}
	return lines
}

// wallWarnings returns the doubts about a build-up on a wall that is not rigid.
func (s *Sample) wallWarnings() []model.Warning {
	if s.Options.Backing == nil || s.Options.Backing == model.Boundary(model.Rigid) {
		return nil
	}
	doubts := []model.Warning{model.BackingRange{From: 25, To: 315}}
	if last := s.Layers[len(s.Layers)-1]; absorber.FormOf(last) == absorber.Film {
		doubts = append(doubts, model.LayerIdle{Name: last.Text})
	}
	return doubts
}

// pointsPerBand is how many steps of the grid make one third octave, and firstBand
// and lastBand are the numbers of those that are shown, 25 Hz and 5 kHz: band n is
// about 10^(n/10) Hz (IEC 61260-1:2014).
const (
	pointsPerBand = 16
	firstBand     = 14
	lastBand      = 37
)

// absorptionGrid runs from 20 Hz to the upper edge of the band at 5 kHz, in steps of
// 1/48 octave that meet the middle and both edges of every third octave.
func absorptionGrid() model.Grid {
	var g model.Grid
	for k := (firstBand - 1) * pointsPerBand; k <= lastBand*pointsPerBand+pointsPerBand/2; k++ {
		g = append(g, math.Pow(10, float64(k)/(10*pointsPerBand)))
	}
	return g
}

// thirdOctaves returns the means of a figure on the absorptionGrid over third
// octaves, by the trapezoidal rule over the logarithm of frequency.
func thirdOctaves(f *absorber.Curves) []Band {
	var bands []Band
	for n := firstBand; n <= lastBand; n++ {
		b := Band{Frequency: nominal(n)}
		from := (n-firstBand+1)*pointsPerBand - pointsPerBand/2
		for k := range pointsPerBand + 1 {
			weight := 1.0 / pointsPerBand
			if k == 0 || k == pointsPerBand {
				weight /= 2
			}
			b.Normal = addSpan(b.Normal, weight, f.Normal[from+k])
			b.Random = addSpan(b.Random, weight, f.Random[from+k])
		}
		bands = append(bands, b)
	}
	return bands
}

func addSpan(sum material.Span, weight float64, s material.Span) material.Span {
	return material.Span{
		Low: sum.Low + weight*s.Low, Typical: sum.Typical + weight*s.Typical, High: sum.High + weight*s.High,
	}
}

// nominal returns the nominal mid-band frequency in Hz of third octave n (IEC
// 61260-1:2014, annex E): 25 for 14, 1000 for 30.
func nominal(n int) float64 {
	mantissas := [...]float64{1, 1.25, 1.6, 2, 2.5, 3.15, 4, 5, 6.3, 8}
	return math.Round(mantissas[n%10]*math.Pow(10, float64(n/10))*10) / 10
}
