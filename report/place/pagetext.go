package place

import (
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/dip"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// facts is the line under the room's name.
func facts(in *Report) string {
	s, r := in.Style, &in.Project.Room
	return html.Facts(in.Run, text.SizesText(r, s), s.Volume(r.Volume()), s.Temperature(r.Temperature), "engine "+string(in.Result.Engine.Kind))
}

func drawingNote(in *Report) string {
	text := "Measure to the centre of each woofer and to the point midway between your ears: the dots in the drawings. " +
		"Within the ring around a dot the spread grows by less than 1 dB. The drawings are to scale, the boxes drawn without toe-in. "
	if in.Result.Now != nil {
		text += "Dashed lines show where things stand now. "
	}
	if in.Style == unit.Both {
		text += "Distances in the drawings are in centimetres; the tables give both units. "
	}
	return text + svg.ShapeNote(&in.Project.Room, in.Style)
}

func curvesText(in *Report) string {
	return fmt.Sprintf("Level at the seat over frequency, smoothed to 1/%d octave. Each curve is relative to its own mean from %g to %g Hz, "+
		"the goal's band, which is shaded. The loudspeaker itself is assumed flat. Every report has the same scale: 50 dB in steps of 5 dB. "+
		"The tables hold the power mean of the same curves in each third octave.",
		in.Result.Goal.Smoothing, in.Result.Goal.From, in.Result.Goal.To)
}

// multiplesNote explains the small graphs.
func multiplesNote(in *Report) string {
	words := "Each layout by its worst channel, solid"
	if in.Result.Now != nil {
		words += ", against the same channel now, dashed"
	}
	return words + ". All graphs have the same scale; the goal's band is shaded. The plans show speakers and seat, the front wall at the top."
}

// clipped says which curves leave the charts' scale within the goal's band.
func clipped(in *Report) string {
	beyond := 0
	for _, c := range in.Result.Shown() {
		for _, f := range c.Judgement.Figures {
			if f.Lowest.Level < svg.LevelBottom || f.Highest.Level > svg.LevelTop {
				beyond++
			}
		}
	}
	if beyond == 0 {
		return ""
	}
	return fmt.Sprintf("Beyond the scale within the goal's band: %s. The table of layouts gives the lowest and highest points.", unit.Plural(beyond, "curve"))
}

func layoutsNote(in *Report) string {
	order := "Layouts are ranked by their spread with marks slightly off"
	if len(in.best().Seats) > 1 && in.best().Seats[0].Weight < 1 {
		order = "Layouts are ranked by all weighted seats together. The main seat counts with its spread with marks slightly off"
	}
	var why string
	for _, words := range []string{precedenceText(in), cheaperText(in)} {
		if words != "" {
			why += words + " "
		}
	}
	return why + fmt.Sprintf("%s, the mean over small displacements of each speaker and leans of the listener; the worst lean counts for a quarter. "+
		"\"May be off by\" is how far you may misplace a mark before the spread grows by 1 dB. "+
		"The speakers are assumed to be %s. The search tried %d layouts.",
		order, lowLimit(in), in.Result.Evaluations)
}

func lowLimit(in *Report) string {
	if limit := in.Project.Speakers.LowLimit; limit > 0 {
		return fmt.Sprintf("3 dB down at %s outdoors (%v)", unit.Nominal(limit), in.Project.Speakers.Alignment)
	}
	return "flat to the lowest frequency, since the room file gives no low_limit"
}

func assumed(in *Report) string {
	r := &in.Project.Room
	kind := "A rectangular room"
	if !r.Plain() {
		kind = "A room of the drawn shape"
	}
	return fmt.Sprintf("%s at %s, where sound travels at %s. Engine: %s; the top of the page says how far to trust it.",
		kind, in.Style.Temperature(r.Temperature), in.Style.Speed(r.Air().Speed), in.Result.Engine.Kind)
}

// measuringSteps says how to check the prediction.
func measuringSteps(s unit.Style) []string {
	return []string{
		"Leave the room as you use it: furniture in, doors and windows shut, fans off. Note the temperature.",
		fmt.Sprintf("Put a measuring microphone midway between where your ears are. Tape its distance from the front wall, a side wall and the floor, and take a photo: %s off spoils the comparison.", s.Tape(0.1)),
		"Measure before you move anything: left alone, right alone, then both, each twice. The difference between the two runs is your measuring error.",
		"Leave the gain, the microphone and the software's settings untouched until you finish. Switch off any equaliser or loudness control.",
		"Move speakers and chair to the floor marks, check the diagonals, and measure again at the new seat mark.",
		"Compare with the same smoothing and the same scale as here. The shape should agree; single dips may be several dB deeper or shallower.",
		"If the shape does not agree, measure the room's sizes again first: a length that is 3 % wrong moves every dip by 3 %.",
	}
}

// limits lists what every prediction leaves out.
func limits(r *optimize.Result) []string {
	judged := "Only the main seat counts, and only within the goal's band."
	if seats := r.Candidates[0].Seats; slices.ContainsFunc(seats[min(1, len(seats)):], func(f score.SeatFigures) bool { return f.Weight > 0 }) {
		judged = "Only the seats with a weight count, and only within the goal's band."
	}
	return []string{
		"Loudspeakers are modelled as points that radiate evenly at these frequencies; their own response and low limit come on top.",
		"Furniture that the room file does not describe, people and the desk top are left out; they matter most in the upper half of the band (common practice, no source).",
		"Each wall is assumed uniform and known; the table above gives the range of what it may absorb.",
		judged,
		"This plan improves the sound inside the room. It does not stop sound from reaching neighbours.",
	}
}

// recipes says how each figure of the page comes about and what its words mean.
func recipes(goal model.Goal, s unit.Style) []html.Term {
	return []html.Term{
		{Name: "Level", Text: "Sound at the ears relative to the same speaker at " + s.Join("1 m", "3.3 ft") + " outdoors, so a speaker that is flat outdoors shows the room alone. Curves are drawn relative to their own mean."},
		{Name: "Smoothing", Text: fmt.Sprintf("Each point is the power mean over 1/%d octave around it (window edges by IEC 61260-1). Less smoothing gives larger figures, more gives smaller ones.", goal.Smoothing)},
		{Name: "Spread", Text: fmt.Sprintf("Half the distance between the highest and the lowest level from %g to %g Hz, written ±. It is the worst of left alone, right alone and both together.", goal.From, goal.To)},
		{Name: "Marks slightly off", Text: "The mean spread over small displacements of each speaker, and with the listener leaning " + s.Tape(score.LeanDistance) + " forwards, backwards and to either side. Layouts are ranked by it, the worst lean counting for a quarter."},
		{Name: "Hard to soft walls", Text: "The spread with every wall at the least and at the most that its construction may absorb."},
		{Name: "Trial", Text: "One random guess at walls, temperature, tape errors and woofer height. Ranges leave out the lowest and the highest tenth of the trials."},
		{Name: "Standard deviation", Text: "The usual one, of the smoothed level over the logarithm of frequency."},
		{Name: dip.WidthName, Text: dip.WidthTerm(goal)},
		{Name: "Low-end reach", Text: "The lowest frequency that comes within 6 dB of the band's mean, smoothed to 1/3 octave. The speaker's own limit comes on top."},
		{Name: "Left versus right", Text: "The mean difference between the two smoothed curves in the band, without sign."},
		{Name: "Tolerance ring", Text: "How far you may misplace a mark before the spread grows by 1 dB."},
		{Name: "Layout", Text: "The places of both speakers and of the main seat. Layout 1 is the best one found."},
		{Name: "Woofer, ears", Text: "The points to measure to: the centre of the low-frequency cone in the front of the box, and midway between your ears."},
		{Name: "Mode", Text: "A resonance of the room between two walls (axial), four (tangential) or six (oblique). The three numbers count half waves along length, width and height."},
		{Name: "Decay time", Text: "The time in which a mode falls by 60 dB after the sound stops."},
	}
}

// alongLines says where in a layout the boxes are that move along, and which seats do.
func alongLines(p *model.Project, l model.Layout, s unit.Style) []string {
	var lines []string
	if _, stands := p.Now(); !stands {
		return nil
	}
	for i := range p.Seats {
		if p.TiedSeat(i) && text.Apart(p.Seats[i].At, p.SeatAt(i, l)) {
			at := p.SeatAt(i, l)
			lines = append(lines, fmt.Sprintf("%s, on the same %s: ears %s from the front wall and %s from the left wall", text.SeatTitle(p, i), text.FurnitureName(p), s.Tape(at.X), s.Tape(at.Y)))
		}
	}
	return append(lines, boxLines(p, l, s)...)
}

// boxLines says the same of boxes that are kept clear.
func boxLines(p *model.Project, l model.Layout, s unit.Style) []string {
	var lines []string
	if _, stands := p.Now(); !stands {
		return nil
	}
	for _, b := range p.KeepClear {
		moved := p.BlockIn(b, l)
		if !text.Apart(b.Min, moved.Min) {
			continue
		}
		words := fmt.Sprintf("%s: %s", text.Printable(b.Name), text.Moves(b.Min, moved.Min, s))
		if b.With != model.Untied {
			words += fmt.Sprintf(", with the %v", b.With)
		}
		lines = append(lines, words)
	}
	return lines
}

// alongText is a sentence about the boxes after the places; "" if none moves.
func alongText(p *model.Project, l model.Layout, s unit.Style) string {
	lines := boxLines(p, l, s)
	if len(lines) == 0 {
		return ""
	}
	return " Move as well: " + strings.Join(lines, "; ") + "."
}
