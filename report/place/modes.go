package place

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/report/svg"
)

// modesUpTo is the frequency in Hz up to which modes are listed.
const modesUpTo = 300

// Modes returns the modes of a box with how loud each is at a seat. Those of any other room, for
// which the box is nil, are not known.
func Modes(box *model.Box, seat r3.Vec) []Mode {
	if box == nil {
		return nil
	}
	var rows []Mode
	modes, _ := mode.List(*box, modesUpTo)
	for _, m := range modes {
		row := Mode{
			Index: m.N, Kind: m.Kind().String(), Frequency: m.Frequency,
			Seat: math.Abs(m.Shape(box.Size, seat)),
		}
		if m.Rate > 0 {
			row.Decay = m.DecayTime()
		}
		rows = append(rows, row)
	}
	return rows
}

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
