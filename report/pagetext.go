package report

import (
	"fmt"
	"slices"

	"evenbass/model/response"
	"evenbass/optimize"
)

// facts is the line under the room's name.
func facts(in *Input) string {
	s, r := in.Style, &in.Project.Room
	return factLine(in.Run, sizesText(r, s), s.Volume(r.Volume()), s.Temperature(r.Temperature), "engine "+in.Result.Engine)
}

func drawingNote(in *Input) string {
	text := "To scale. Blue boxes are the loudspeakers of layout 1, drawn without turning them in; dots the middle of each woofer and of the head. " +
		"Inside the ring about a dot the spread grows by less than 1 dB. "
	if in.Result.Now != nil {
		text += "Dashed is how things stand now. "
	}
	if len(in.Result.Candidates) > 1 {
		text += "Small numbers are the further layouts. "
	}
	if in.Style == Both {
		text += "Distances in the drawings are in centimetres; the tables give both. "
	}
	text += shapeNote(&in.Project.Room, in.Style)
	return text + "Measure to the middle of the woofer and to the point midway between the ears."
}

func curvesText(in *Input) string {
	return fmt.Sprintf("Level at the seat over frequency, smoothed to 1/%d octave, each curve relative to its own mean from %g to %g Hz "+
		"(the shaded width, which is the goal's band). The shaded height is the spread of the layout shown. "+
		"The loudspeaker itself is taken as flat. The scale is 50 dB in steps of 5 dB on every report.",
		in.Result.Goal.Smoothing, in.Result.Goal.From, in.Result.Goal.To)
}

// responseLabel says in words what a chart of responses shows.
func responseLabel(in *Input, c response.Channel) string {
	text := "Chart of level over frequency, " + channelText(c) + ". "
	if in.Result.Now != nil {
		f := in.Result.Now.Judgement.Figures[c]
		text += fmt.Sprintf("Now the spread is %s, lowest %s. ", Spread(f.Spread), inline(f.Lowest))
	}
	f := in.best().Judgement.Figures[c]
	return text + fmt.Sprintf("With layout 1 it is %s, lowest %s.", Spread(f.Spread), inline(f.Lowest))
}

// clipped says which curves leave the charts' scale within the goal's band.
func clipped(in *Input) string {
	beyond := 0
	for _, c := range in.Result.Shown() {
		for _, f := range c.Judgement.Figures {
			if f.Lowest.Level < levelBottom || f.Highest.Level > levelTop {
				beyond++
			}
		}
	}
	if beyond == 0 {
		return ""
	}
	return fmt.Sprintf("%d curves leave the scale within the goal's band; the table of layouts gives their lowest and highest points.", beyond)
}

func layoutsNote(in *Input) string {
	order := "The layouts are ordered by their spread with marks slightly off"
	if len(in.best().Seats) > 1 && in.best().Seats[0].Weight < 1 {
		order = "The layouts are ordered by what all seats get; at the main seat that is the spread with marks slightly off"
	}
	return fmt.Sprintf("%s, which is the mean over small displacements of each loudspeaker and of the head. "+
		"\"May be off by\" is how far a mark may be misplaced on the floor before the spread grows by 1 dB. "+
		"The reach is the room's; the loudspeaker's own limit comes on top%s. %d layouts were tried.",
		order, lowLimit(in), in.Result.Evaluations)
}

func lowLimit(in *Input) string {
	if limit := in.Project.Speakers.LowLimit; limit > 0 {
		return " (" + nominal(limit) + " outdoors)"
	}
	return ""
}

func assumed(in *Input) string {
	r := &in.Project.Room
	kind := "A rectangular room"
	if !r.Plain() {
		kind = "A room of the shape drawn"
	}
	return fmt.Sprintf("%s at %s, where sound travels at %s m/s. Engine: %s; how far it is to be trusted is said at the top.",
		kind, in.Style.Temperature(r.Temperature), decimal(r.Air().Speed, 1), in.Result.Engine)
}

// measuringSteps tells how to find out whether the prediction holds.
func measuringSteps() []string {
	return []string{
		"Leave the room as it is used: furniture in, doors and windows shut, fans off. Note the temperature.",
		"Put a measuring microphone where the middle of the head is, at ear height. Tape its distance from the front wall, a side wall and the floor, and photograph it: 10 cm off spoils the comparison.",
		"Measure before anything moves: left alone, right alone, then both. Twice each; the difference of the two is the error of the measurement.",
		"Keep the gain, the microphone and the software's settings untouched until the end. No equaliser, no loudness switch.",
		"Move speakers and chair to the floor marks, check the diagonals, and measure again at the new head mark.",
		"Compare with the same smoothing and the same scale as here. The shape should agree; single dips may be deeper or shallower by several dB.",
		"If it does not agree, check the room's sizes with the tape first: a length that is 3 % wrong moves every dip by 3 %.",
	}
}

// limits lists what the prediction leaves out whatever the room.
func limits(r *optimize.Result) []string {
	judged := "Only the main seat counts, and only within the goal's band."
	if seats := r.Candidates[0].Seats; slices.ContainsFunc(seats[min(1, len(seats)):], func(f optimize.SeatFigures) bool { return f.Weight > 0 }) {
		judged = "Only the seats with a weight count, and only within the goal's band."
	}
	return []string{
		"Loudspeakers are taken as points that radiate evenly at these frequencies; their own response and low limit come on top.",
		"Furniture, people, shelves and the desk top are not in the sound field; they matter most in the upper half of the band (common practice, no source).",
		"Walls are taken as even over their whole area, and as known; the table above gives the range that each may have.",
		judged,
		"This plans the sound within the room. It does not stop sound from reaching neighbours.",
	}
}
