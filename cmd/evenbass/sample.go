package main

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/report"
)

// sample is a build-up before anything is computed.
type sample struct {
	name, text string
	where      string // what to call it in a message
	layers     []model.Layer
	wall       string
	options    material.Options
	own        []model.Material // that its layers may name
	typed      bool             // on the command line, where its mistakes are mistakes of usage
}

// buildUp computes what the report shows of a sample.
func (s *sample) buildUp() (report.BuildUp, error) {
	v, doubts, err := material.NewVariants(s.layers, &s.options)
	if err != nil {
		return report.BuildUp{}, s.fail(err)
	}
	words, err := material.Explain(s.layers, &s.options)
	if err != nil {
		return report.BuildUp{}, s.fail(err)
	}
	stack := v.At(material.Typical)
	weights, guesses := stack.Weights()
	b := report.BuildUp{
		Name: s.name, Text: s.text, Wall: s.wall, Layers: stack.Layers(), Depth: stack.Depth(), Weights: weights,
		Figure: v.Figure(absorptionGrid()), Words: words, Sources: s.sources(), Doubts: append(doubts, guesses...),
	}
	b.HalfFrom, _ = stack.HalfFrom()
	b.Bands = thirdOctaves(&b.Figure)
	b.Doubts = append(b.Doubts, s.wallDoubts()...)
	return b, nil
}

// sources says where the figures of the materials that are named come from.
func (s *sample) sources() []string {
	var lines []string
	for _, l := range s.layers {
		if m, ok := material.LookupMaterial(l.Material); ok {
			lines = append(lines, m.Name+": "+m.Source)
			continue
		}
		for _, m := range s.own {
			if l.Text == m.Name || strings.HasPrefix(l.Text, m.Name+" ") {
				lines = append(lines, m.Name+": "+cmp.Or(m.Source, "the room file, without a source"))
			}
		}
	}
	return lines
}

// wallDoubts returns what is odd about a build-up on a wall that is not rigid.
func (s *sample) wallDoubts() []model.Warning {
	if s.options.Backing == nil || s.options.Backing == model.Boundary(model.Rigid) {
		return nil
	}
	doubts := []model.Warning{"the wall behind is known by its absorption from 25 to 315 Hz; above, its last value is held"}
	if last := s.layers[len(s.layers)-1]; last.Kind == model.FilmLayer {
		doubts = append(doubts, model.Warning(fmt.Sprintf("%s lies on the wall with nothing behind it: on a real wall it does nothing", last.Text)))
	}
	return doubts
}

func (s *sample) fail(err error) error {
	if s.typed {
		return usageError{text: fmt.Sprintf("%s: %v", s.where, err)}
	}
	return fmt.Errorf("%s: %w", s.where, err)
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
func thirdOctaves(f *material.Figure) []report.AbsorptionBand {
	var bands []report.AbsorptionBand
	for n := firstBand; n <= lastBand; n++ {
		b := report.AbsorptionBand{Frequency: nominal(n)}
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
