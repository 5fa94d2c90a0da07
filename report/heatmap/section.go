package heatmap

import "evenbass/report/svg"

// Section is the pictures of several states on one scale, with their key, for the template
// "fading" of a page.
type Section struct {
	Panels      []*svg.Drawing
	Key, Ridges *svg.Drawing
	Note        string
}

// note explains the drawings.
const note = "A speaker plays a steady tone and fades it out over five periods. Each picture shows how loud the tone still is, against the mean level of its own curve. " +
	"Solid line: from here on the tone is 20 dB below that mean. Dashed line: the tone itself takes that long, so above it the room cannot be told. Levels are averaged over 1/24 octave."

// NewSection draws panels. The ridge lines show the first one, and over it the last; its ids begin
// with the given one.
func NewSection(id string, panels ...Panel) *Section {
	scale := Fit(panels...)
	s := &Section{Key: Key(id+"-key", scale), Note: note}
	for i, p := range panels {
		p.ID = id + "-" + string(rune('a'+i))
		s.Panels = append(s.Panels, Draw(p, scale))
	}
	first, last := panels[0], panels[len(panels)-1]
	if len(panels) == 1 {
		s.Ridges = Ridges(id+"-ridges", first.Title, scale, first)
	} else {
		s.Ridges = Ridges(id+"-ridges", "Area: "+first.Title+". Line: "+last.Title, scale, first, last)
	}
	return s
}
