package present

import (
	"evenbass/optimize/observation"
	"evenbass/report/html"
	"evenbass/report/text"
)

// Origin is the word for what is no prediction: measured, or invented where nobody measured it.
func Origin(invented bool) string {
	if invented {
		return "invented"
	}
	return "measured"
}

func (r Report) origin() string { return Origin(r.Present.Invented()) }

// now begins a title of all that stands beside the prediction.
func (r Report) now() string {
	if r.Present.Invented() {
		return "Invented, not measured"
	}
	return "Measured now"
}

// standing begins the headline.
func (r Report) standing() string {
	if r.Present.Invented() {
		return "Invented, not measured, for the room as it stands"
	}
	return "Measured as the room stands"
}

// origins begins the note about the curves that stand beside the prediction.
func (r Report) origins() string {
	words := text.Sentence(r.origin())
	if r.mixed() {
		words += " or invented"
	}
	return words
}

// mixed reports whether some measurements are invented, and others are not.
func (r Report) mixed() bool {
	for i := range r.Present.Speakers {
		if r.Present.Speakers[i].Invented() {
			return !r.Present.Invented()
		}
	}
	return false
}

// name is what a speaker is called, with a word where it alone is invented.
func (r Report) name(s *observation.PresentSpeaker) string {
	if s.Invented() && r.mixed() {
		return s.Speaker.String() + " (invented)"
	}
	return s.Speaker.String()
}

// title is that of the part of a page.
func (r Report) title() string { return r.now() + ", beside the prediction" }

// shows is the title of what follows from it.
func (r Report) shows() string {
	if r.Present.Invented() {
		return "What the invented measurement shows"
	}
	return "What the measurement shows"
}

// Link leads to the part of a page that shows a [View]; the zero link if nothing was measured.
func (r Report) Link() html.Link {
	if r.Present == nil {
		return html.Link{}
	}
	return html.Link{ID: "present", Text: text.Sentence(r.origin())}
}
