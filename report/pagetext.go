package report

import (
	"fmt"

	"evenbass/model"
	"evenbass/model/response"
)

// facts is the line under the room's name.
func facts(in *Input) string {
	s, r := in.Style, &in.Project.Room
	return factLine(in.Run, sizesText(r, s), s.Volume(r.Volume()), s.Temperature(r.Temperature), "engine "+in.Result.Engine)
}

// sizesText is the room's length, width and height.
func sizesText(r *model.Room, s Style) string {
	return fmt.Sprintf("%s × %s × %s", s.Length(r.Size.X), s.Length(r.Size.Y), s.Length(r.Size.Z))
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
