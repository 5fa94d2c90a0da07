package place

import (
	"fmt"
	"math"

	"evenbass/report/svg"
)

// modeKinds are the kinds of mode from the lightest line to the heaviest: the fewer walls a
// mode needs, the heavier its line.
var modeKinds = [...]string{"oblique", "tangential", "axial"}

// modeGraph draws a stem for each mode at its frequency, as high as its decay time, by kind.
func modeGraph(modes []Mode, form svg.Form) *svg.Drawing {
	top := 0.5
	for _, m := range modes {
		if m.Decay > 0 && !math.IsInf(m.Decay, 0) {
			top = max(top, math.Ceil(m.Decay*2)/2)
		}
	}
	g := svg.Graph{
		ID: form.Name("modes"), Form: form, Title: "Every mode up to 300 Hz: where it is and how long it rings",
		Desc:  fmt.Sprintf("%d room modes by frequency and decay time; the table lists those up to %d Hz.", len(modes), tableModes),
		Scale: svg.Scale{High: top, Step: max(0.5, math.Ceil(top/4)/2), Unit: "s", Places: 1, Height: 240},
	}
	for _, kind := range modeKinds {
		for _, m := range modes {
			if m.Kind != kind || m.Frequency < svg.AxisFrom || m.Frequency > svg.AxisTo || !(m.Decay > 0) || math.IsInf(m.Decay, 0) {
				continue
			}
			g.Traces = append(g.Traces, svg.Trace{Class: kind, X: []float64{m.Frequency, m.Frequency}, Y: []float64{0, m.Decay}})
		}
	}
	return g.Drawing()
}

// modeText explains the lines of the modes' graph.
const modeText = "Each line is a mode: the higher, the longer it rings (time to fall by 60 dB). Thick lines are axial modes, between two walls; " +
	"thin ones tangential, between four; dotted ones oblique, between all six."
