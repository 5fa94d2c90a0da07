package room

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
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

// ModeGraph draws a stem for each mode at its frequency, as high as its decay time, by kind.
func ModeGraph(modes []Mode, form svg.Form) *svg.Drawing {
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

// ModeText explains the lines of the modes' graph.
const ModeText = "Each line is a mode: the higher, the longer it rings (time to fall by 60 dB). Thick lines are axial modes, between two walls; " +
	"thin ones tangential, between four; dotted ones oblique, between all six."

// Mode is one row of the table of modes.
type Mode struct {
	Index     [3]int  // half waves along length, width and height
	Kind      string  // "axial", "tangential" or "oblique"
	Frequency float64 // Hz
	Decay     float64 // time to fall by 60 dB, s; 0 if unknown
	Seat      float64 // pressure at the seat over the mode's greatest, 0..1
}

// Name returns the mode's indices: "(1,0,0)".
func (m Mode) Name() string {
	return fmt.Sprintf("(%d,%d,%d)", m.Index[0], m.Index[1], m.Index[2])
}

// ModesTable lists the modes that stand apart, up to 120 Hz.
func ModesTable(modes []Mode) text.Table { return modesTable(modes, tableModes) }

// modesTable lists modes up to a frequency in Hz.
func modesTable(modes []Mode, upTo float64) text.Table {
	t := text.Table{
		Caption: fmt.Sprintf("Room modes up to %s Hz", unit.Decimal(upTo, 0)),
		Head:    []string{"mode", "kind", "frequency", "decay time", "at the seat"},
		Align:   "llrrr",
	}
	for _, m := range modes {
		if m.Frequency > upTo {
			break
		}
		decay := unit.Unknown
		if m.Decay > 0 {
			decay = unit.Seconds(m.Decay)
		}
		t.Rows = append(t.Rows, []string{m.Name(), m.Kind, unit.Decimal(m.Frequency, 1) + " Hz", decay, unit.Decimal(100*m.Seat, 0) + " %"})
	}
	return t
}

// tableModes is the frequency in Hz up to which modes are listed; above it modes
// overlap and single ones say little.
const tableModes = 120
