package place

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/optimize/study"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// defaultRules names the rules among u that hold in a project because its owner wrote none, with
// their keys.
func defaultRules(l *model.Listening, u model.Unwritten, s unit.Style) []string {
	var list []string
	if u.Distance {
		list = append(list, fmt.Sprintf("listening.distance %s to %s", s.Tape(l.Distance.Min), s.Tape(l.Distance.Max)))
	}
	if u.Angle {
		list = append(list, fmt.Sprintf("listening.angle %s to %s", unit.Degrees(l.Angle.Min), unit.Degrees(l.Angle.Max)))
	}
	if u.Back {
		list = append(list, "listening.back_distance "+s.Tape(l.BackDistance))
	}
	return list
}

// worthWidening is the least gain in the score for which the first screen speaks of wider rules, dB.
const worthWidening = text.Noticeable

// widenedText says which default rules hold the first layout back and what wider ones would give;
// "" where they cost nothing that the prediction can tell.
func widenedText(in *Report) string {
	w := in.Widened
	if w == nil || in.best().Score-w.Best.Score < worthWidening {
		return ""
	}
	return fmt.Sprintf("Default rules hold this back: %s. With %s a shorter search finds %s: %s. Write these keys if that suits you.",
		strings.Join(defaultRules(&in.Project.Listening, w.Binding, in.Style), ", "), strings.Join(defaultRules(&w.Listening, wide(in), in.Style), ", "),
		unit.Spread(w.Best.Judgement.Spread()), placesText(w.Best, in.Style))
}

// wide returns the rules that were widened.
func wide(in *Report) model.Unwritten {
	u := in.Project.Unwritten
	u.Back = in.Widened.Binding.Back
	return u
}

// defaultsText names all rules that hold by default, and what widening them would give; "" if the
// owner wrote them all.
func defaultsText(in *Report) string {
	rules := defaultRules(&in.Project.Listening, in.Project.Unwritten, in.Style)
	if len(rules) == 0 {
		return ""
	}
	words := "These rules hold by default, since the room file does not set them: " + strings.Join(rules, ", ") + "."
	switch {
	case in.Widened == nil:
		return words + " None of them holds layout 1 back."
	case widenedText(in) != "":
		return words + " " + widenedText(in)
	}
	return words + fmt.Sprintf(" Wider ones (%s) gain nothing worth having: a shorter search finds %s.",
		strings.Join(defaultRules(&in.Widened.Listening, wide(in), in.Style), ", "), unit.Spread(in.Widened.Best.Judgement.Spread()))
}

// widenedDoc is the layout within wider rules.
type widenedDoc struct {
	Distance [2]data.Fixed `json:"distance_m"`
	Angle    [2]data.Fixed `json:"angle_deg"`
	Back     data.Fixed    `json:"back_distance_m"`
	Binding  []string      `json:"default_rules_that_bind"`
	Left     data.Point    `json:"left"`
	Right    data.Point    `json:"right"`
	Seat     data.Point    `json:"seat"`
	Spread   data.Fixed    `json:"spread_db"`
	Robust   data.Fixed    `json:"robust_spread_db"`
}

func degrees(rad float64) data.Fixed { return data.Rounded(rad*180/math.Pi, 2) }

func newWidenedDoc(w *study.Widened) *widenedDoc {
	if w == nil {
		return nil
	}
	l, at := &w.Listening, w.Best.Layout
	d := &widenedDoc{
		Distance: [2]data.Fixed{data.Metres(l.Distance.Min), data.Metres(l.Distance.Max)},
		Angle:    [2]data.Fixed{degrees(l.Angle.Min), degrees(l.Angle.Max)}, Back: data.Metres(l.BackDistance), Binding: []string{},
		Left: data.NewPoint(at.Left), Right: data.NewPoint(at.Right), Seat: data.NewPoint(at.Seat),
		Spread: data.Decibel(w.Best.Judgement.Spread()), Robust: data.Decibel(w.Best.Robust),
	}
	for _, r := range []struct {
		binds bool
		key   string
	}{{w.Binding.Distance, "listening.distance"}, {w.Binding.Angle, "listening.angle"}, {w.Binding.Back, "listening.back_distance"}} {
		if r.binds {
			d.Binding = append(d.Binding, r.key)
		}
	}
	return d
}
