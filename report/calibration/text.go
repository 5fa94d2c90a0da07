package calibration

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/measure/calibration"
	"evenbass/report/present"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a calibration with the room that it is of.
type Report struct {
	Project *model.Project
	Result  *calibration.Result
	Style   unit.Style
	Written string // the room file that holds it; "" for none
}

// Words is the report in words.
type Words struct {
	Headline    string
	Fits, Walls text.Table
	WallLines   []string // which walls absorb more or less than usual
	Tape        []string // what to measure again
	Others      []string // what was learned of speakers and wool
	Unknown     []string // what stayed at its prior
	Teaching    string   // which measurement would teach most; "" if that is not known
	Next        string   // what to do with the result
}

// NewWords puts a report into words.
func NewWords(r Report) (Words, error) {
	walls, err := r.walls()
	return Words{
		Headline: r.headline(), Fits: r.fits(), Walls: walls, WallLines: r.wallLines(), Tape: r.tapeLines(), Others: r.otherLines(),
		Unknown: r.unknownLines(), Teaching: present.GainLine(r.Result.Next, r.Style), Next: r.next(),
	}, err
}

// Text returns the report for a terminal.
func Text(r Report) (string, error) {
	w, err := NewWords(r)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	b.WriteString(text.Wrap(w.Headline, text.Columns, "") + "\n")
	text.WriteTable(&b, w.Fits)
	text.WriteTable(&b, w.Walls)
	text.WriteList(&b, "What the walls do", w.WallLines)
	text.WriteList(&b, "Check with the tape", w.Tape)
	text.WriteList(&b, "Speakers and wool", w.Others)
	text.WriteList(&b, "What these measurements cannot tell", w.Unknown)
	text.WriteWarnings(&b, r.Result.Warnings, r.Style)
	for _, line := range []string{w.Teaching, w.Next} {
		if line != "" {
			b.WriteString("\n" + text.Wrap(line, text.Columns, "") + "\n")
		}
	}
	return b.String(), nil
}

// headline says how well the model matches before and after.
func (r Report) headline() string {
	c := &r.Result.Calibration
	s := fmt.Sprintf("Prediction and measurement differed by %s rms before the calibration and differ by %s after it, at %s (%s engine, levels smoothed over 1/6 octave, means aligned).",
		unit.Difference(c.Before), unit.Difference(c.After), text.Count(c.Seats, "seat"), r.Result.Engine)
	switch {
	case c.After > c.Before-0.1:
		s += " The measurements did not bring the model closer: check which speaker played, where the microphone stood, and the room's size."
	case r.Result.Mismatch > poorMatch:
		s += " The remaining difference is larger than this model of the room explains: something in the room is not in the file, or a place is wrong."
	}
	return s
}

// poorMatch is the mismatch beyond which the model is not that of the room. Our own limit, no source.
const poorMatch = 1.5

// fits lists the measurements.
func (r Report) fits() text.Table {
	t := text.Table{Caption: "Difference of predicted and measured levels, rms.", Head: []string{"measurement", "counted", "before", "after"}, Align: "ll"}
	for _, f := range r.Result.Fits {
		counted := "levels"
		if f.Complex {
			counted = "levels and phase"
		}
		t.Rows = append(t.Rows, []string{text.Shortened(text.Printable(f.Name), 40), counted, unit.Difference(f.Before), unit.Difference(f.After)})
	}
	return t
}

// at is where the walls' absorption is listed, Hz.
var at = [...]float64{40, 100}

// walls lists the absorption of the walls, usual and here.
func (r Report) walls() (text.Table, error) {
	t := text.Table{Caption: "Absorption of the walls at random incidence: usual for the construction, and here with its 90 % range.", Head: []string{"wall"}}
	for _, f := range at {
		t.Head = append(t.Head, unit.Nominal(f)+", usual", "here")
	}
	for _, face := range model.Faces {
		scale, err := surface.NewScale(face.Wall(), r.Project.Room.Walls[face])
		if err != nil {
			return t, err
		}
		row, fit := []string{face.Wall()}, r.Result.Walls[face]
		for _, f := range at {
			absorbs := func(fit model.WallFit, deviations float64) string {
				beta := scale.Fitted(fit, deviations).Admittance(f)
				if beta == 0 {
					return "0"
				}
				return unit.Decimal(material.RandomAbsorption(1/beta), 2)
			}
			row = append(row, absorbs(model.WallFit{}, 0), fmt.Sprintf("%s (%s–%s)", absorbs(fit, 0), absorbs(fit, -surface.RangeDeviations), absorbs(fit, surface.RangeDeviations)))
		}
		t.Rows = append(t.Rows, row)
	}
	return t, nil
}

// clear is by how many standard deviations a figure must differ to be called different.
const clear = 1.3

// wallLines says which walls absorb more or less than usual; walls that do alike share a line.
func (r Report) wallLines() []string {
	var said []string
	walls := map[string][]string{}
	for _, f := range model.Faces {
		if !r.Result.WallLearnt(f) {
			continue
		}
		words := againstUsual(moreOrLess(r.Result.Walls[f].At(at[0])), moreOrLess(r.Result.Walls[f].At(at[1])))
		if walls[words] == nil {
			said = append(said, words)
		}
		walls[words] = append(walls[words], "the "+f.Wall())
	}
	for i, words := range said {
		verb := " absorb "
		if len(walls[words]) == 1 {
			verb = " absorbs "
		}
		said[i] = text.And(walls[words]) + verb + words
	}
	return said
}

// againstUsual says how a wall absorbs below and above 63 Hz; "" is as much as usual.
func againstUsual(low, high string) string {
	switch {
	case low == high && low == "":
		return "as much as usual"
	case low == high:
		return low + " than usual"
	case low == "":
		return high + " than usual above 63 Hz"
	case high == "":
		return low + " than usual below 63 Hz"
	}
	return fmt.Sprintf("%s than usual below 63 Hz and %s above", low, high)
}

// moreOrLess returns "more", "less", or "" for no clear difference.
func moreOrLess(v model.Fitted) string {
	switch {
	case v.Value > clear*v.Deviation:
		return "more"
	case v.Value < -clear*v.Deviation:
		return "less"
	}
	return ""
}

// leastTape is the least error of a tape that is worth a second look, m.
const leastTape = 0.01

// doubtful reports whether a length should be measured again.
func doubtful(v model.Fitted) bool {
	return math.Abs(v.Value) >= leastTape && math.Abs(v.Value) > clear*v.Deviation
}

// tapeLines names sizes and places to measure again.
func (r Report) tapeLines() []string {
	var lines []string
	size := r.Project.Room.Size
	for i, name := range []string{"length", "width", "height"} {
		v := r.Result.Calibration.Size[i]
		if !doubtful(v) {
			continue
		}
		typed := [3]float64{size.X, size.Y, size.Z}[i]
		f, order := r.Result.Peak(&r.Project.Room, i)
		which := "resonance"
		if order > 1 {
			which = fmt.Sprintf("resonance of order %d", order)
		}
		lines = append(lines, fmt.Sprintf("your %s at %s along the %s suggests %s (± %s); you typed %s", which, unit.Frequency(f), name, r.Style.Tape(typed+v.Value), r.Style.Fine(v.Deviation), r.Style.Tape(typed)))
	}
	for _, o := range append(r.Result.Speakers[:], r.Result.Seats...) {
		if line := r.offsetLine(o); line != "" {
			lines = append(lines, line)
		}
	}
	return lines
}

// directions name the axes forwards and backwards.
var directions = [3][2]string{{"further from the front wall", "nearer to the front wall"}, {"further right", "further left"}, {"higher", "lower"}}

// offsetLine says where something seems to stand, or nothing.
func (r Report) offsetLine(o calibration.Offset) string {
	var parts []string
	for i, v := range o.By {
		if doubtful(v) {
			way := directions[i][0]
			if v.Value < 0 {
				way = directions[i][1]
			}
			parts = append(parts, fmt.Sprintf("%s %s (± %s)", r.Style.Fine(math.Abs(v.Value)), way, r.Style.Fine(v.Deviation)))
		}
	}
	if len(parts) == 0 {
		return ""
	}
	what := "the " + o.Name
	if !strings.HasSuffix(o.Name, "speaker") {
		what = "the microphone at " + text.OrElse(text.Printable(o.Name), "the seat")
	}
	return what + " seems to have stood " + strings.Join(parts, ", ") + " than the file says"
}

// otherLines says what was learned of the speakers and the wool.
func (r Report) otherLines() []string {
	var lines []string
	if b := r.Result.Balance; math.Abs(b.Value) > max(0.3, clear*b.Deviation) {
		louder := "left"
		if b.Value < 0 {
			louder = "right"
		}
		lines = append(lines, fmt.Sprintf("the %s speaker plays %s louder than the other (± %s): check the balance", louder, unit.Difference(model.Level(math.Abs(b.Value))), unit.Difference(model.Level(b.Deviation))))
	}
	if w := r.Result.Resistivity; w.Set() && r.Result.WoolLearnt() && math.Abs(math.Log(w.Value)) > max(0.1, clear*w.Deviation/w.Value) {
		lines = append(lines, fmt.Sprintf("the flow resistivity of all wool seems to be %s times what the file says (± %s): check what the wool is sold as, and correct its layers", unit.Decimal(w.Value, 1), unit.Decimal(w.Deviation, 1)))
	}
	if l := r.Result.Limit; l.Set() && math.Abs(l.Value-1) > max(0.05, clear*l.Deviation) {
		limit := r.Project.Speakers.LowLimit
		lines = append(lines, fmt.Sprintf("the speakers' low limit seems to be %s; the file says %s", unit.Frequency(limit*l.Value), unit.Frequency(limit)))
	}
	return lines
}

// unknownLines names what stayed at its prior.
func (r Report) unknownLines() []string {
	var lines, walls []string
	for _, f := range model.Faces {
		if !r.Result.WallLearnt(f) {
			walls = append(walls, "the "+f.Wall())
		}
	}
	switch len(walls) {
	case 0:
	case 1:
		lines = append(lines, fmt.Sprintf("how much %s absorbs: the measurements hardly narrowed the range of its construction", walls[0]))
	default:
		lines = append(lines, fmt.Sprintf("how much %s absorb: the measurements hardly narrowed the ranges of their constructions", text.And(walls)))
	}
	for i, name := range []string{"length", "width", "height"} {
		if !r.Result.SizeLearnt(i) && r.Result.Engine == model.ModeEngine {
			lines = append(lines, "whether the "+name+" by tape is right")
		}
	}
	if r.Result.Engine == model.WaveEngine {
		lines = append(lines, "whether the sizes by tape are right: only those of a plain, empty room are fitted")
	}
	if w := r.Result.Resistivity; w.Set() && !r.Result.WoolLearnt() {
		lines = append(lines, "the flow resistivity of the wool: the measurements hardly narrowed its range")
	}
	if r.Result.Calibration.Seats == 1 {
		lines = append(lines, "what is wrong at one seat and what in the whole room: measure at a second seat, away from the middle of the room")
	}
	return lines
}

// next says what to do with the result.
func (r Report) next() string {
	if r.Written == "" {
		return "Nothing was written. Give -o calibrated.yaml for a room file with this calibration, which every command then uses."
	}
	return fmt.Sprintf("%s holds this calibration. Every command uses its walls, and for plain rooms its size: predictions stay predictions, and their ranges hold what the measurements left unknown. Correct what the tape confirms, then calibrate again.", text.Printable(r.Written))
}
