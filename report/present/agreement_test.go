package present

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/analysis"
	"evenbass/model/measure/comparison"
	"evenbass/model/response"
)

// The verdict weighs levels and decay: a room in which sound dies away a seventh more slowly than predicted is
// not known well, whichever of the two comes first.
func TestAgreement(t *testing.T) {
	t.Parallel()
	predicted, measured := &analysis.Analysis{}, &analysis.Analysis{Measurement: &measure.Measurement{}}
	meets := func(typical model.Level, before, after float64, mark response.Mark) *comparison.Comparison {
		c := &comparison.Comparison{Before: predicted, After: measured, Typical: typical}
		c.Figures[response.MeanFallFigure] = response.Change{Before: before, After: after, Known: before > 0, Mark: mark}
		return c
	}
	const differs = "the mean 20 dB decay is 224 ms predicted and 256 ms measured."
	for _, c := range []struct {
		list  []*comparison.Comparison
		want  []string
		close bool
	}{
		{[]*comparison.Comparison{meets(2, 0.224, 0.230, response.NoDifference)}, []string{"The prediction fits this room well: the curves differ by 2.0 dB on average", "224 ms predicted and 230 ms measured"}, true},
		{[]*comparison.Comparison{meets(2, 0, 0, response.NoDifference)}, []string{"The prediction fits the levels in this room well: the curves differ by 2.0 dB on average."}, true},
		{[]*comparison.Comparison{meets(2, 0.224, 0.256, response.Worse)}, []string{"The prediction fits the levels in this room well, but not the decay:", differs}, false},
		{[]*comparison.Comparison{meets(1, 0.224, 0.230, response.NoDifference), meets(4, 0.224, 0.256, response.Worse)}, []string{"fits the levels in this room well, but not the decay: the curves differ by 2.5 dB", differs}, false},
		{[]*comparison.Comparison{meets(5, 0.224, 0.230, response.NoDifference)}, []string{"fits this room roughly"}, false},
		{[]*comparison.Comparison{meets(5, 0.224, 0.256, response.Worse)}, []string{"fits the levels in this room roughly, but not the decay"}, false},
		{[]*comparison.Comparison{meets(7, 0.224, 0.256, response.Worse)}, []string{"does not fit this room yet", differs}, false},
	} {
		got := NewAgreement(c.list...)
		for _, want := range c.want {
			if words := got.Sentence(""); !strings.Contains(words, want) {
				t.Errorf("%q lacks %q", words, want)
			}
		}
		if got.Close() != c.close {
			t.Errorf("%q is close: %v", got.Sentence(""), !c.close)
		}
	}
	turned := meets(2, 0.256, 0.224, response.Better)
	turned.Before, turned.After = measured, predicted
	if words := NewAgreement(turned).Sentence(""); !strings.Contains(words, differs) {
		t.Errorf("measured before predicted: %q", words)
	}
}
