package place

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/study"
	"evenbass/report/card"
	"evenbass/report/dip"
	"evenbass/report/html"
	"evenbass/report/room"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// verdict is the result in plain words, one sentence or two each.
type verdict struct {
	Headline string
	Meaning  string
	Action   string
	Trust    string
}

// newVerdict says what the search found and what to do about it.
func newVerdict(in *Report) verdict {
	r, s := in.Result, in.Style
	best := &r.Candidates[0]
	v := verdict{
		Headline: Headline(in),
		Meaning: fmt.Sprintf("A spread of %s means that notes of equal strength in a recording reach the chair with about %s dB "+
			"between the strongest and the weakest (%v; the worst of left, right and both together). "+
			"With every mark slightly off, expect %s on average%s.",
			unit.Spread(best.Judgement.Spread()), unit.Decimal(2*float64(best.Judgement.Spread()), 0), r.Goal,
			unit.Spread(best.Steadiness.Mean), leanText(best, s)),
		Action: placingText(in, best) + alongText(in.Project, best.Layout, s) + unevenText(best),
		Trust:  text.Trust(r.Engine, r.Why),
	}
	if card.WallsMatter(best) {
		v.Meaning += fmt.Sprintf(" With walls that absorb less or more than usual it is %s%s.", card.WallRange(best, " "), overWallsText(r))
	}
	if thumb := thumbText(in); thumb != "" {
		v.Meaning += " " + thumb
	}
	if rules := defaultsText(in); rules != "" {
		v.Meaning += " " + rules
	}
	if stays(in) {
		v.Action = "Leave things where they are, or use layout 1 if it suits you better in other ways: " + placesText(best, s) + "."
	}
	if words := stoppedText(r); words != "" {
		v.Trust += " " + words
	}
	return v
}

// stoppedText says that a search did not come to its end; "" if it did.
func stoppedText(r *optimize.Result) string {
	switch r.Stopped {
	case search.OutOfTime:
		return "The search ran out of time; a longer one may find better layouts."
	case search.Cancelled:
		return "You stopped the search; these are the best layouts found by then."
	case search.CutShort:
		return "You stopped the run after the search; figures not computed by then are left out."
	}
	return ""
}

// overWallsText says whether the first layout beats the present one with hard, typical and soft
// walls; nothing if there is no present one to beat.
func overWallsText(r *optimize.Result) string {
	best := &r.Candidates[0]
	switch {
	case r.Now == nil || best.Judgement.Spread() >= r.Now.Judgement.Spread():
		return ""
	case score.BetterThroughout(best, r.Now):
		return "; it beats the present places with hard and with soft walls"
	}
	return "; whether it beats the present places depends on the walls"
}

// leanText says what the worst lean does, as the end of a sentence; "" if it was not computed.
func leanText(c *score.Candidate, s unit.Style) string {
	t := c.Steadiness
	if t.Lean == score.Upright {
		return ""
	}
	return fmt.Sprintf(", and %s if you lean %s %s, which is the worst way to lean", unit.Spread(t.Leaning), s.Tape(score.LeanDistance), t.Lean)
}

// worthMoving reports whether the first layout is worth moving to from the present one.
func worthMoving(in *Report) bool {
	now, best := in.now(), in.layout(0)
	return card.Worthwhile(&now, &best)
}

// Headline says in one sentence what the search found: the gain, how sure it is, and what gets
// worse for it.
func Headline(in *Report) string {
	r := in.Result
	best := unit.Spread(r.Candidates[0].Judgement.Spread())
	switch {
	case r.Now == nil:
		return fmt.Sprintf("The best places found give a spread of %s (%v).", best, r.Goal)
	case worthMoving(in):
		now, first := in.now(), in.layout(0)
		return card.Headline("moving "+whatMoves(chairName(in.Project), r.Now.Layout, r.Candidates[0].Layout), &now, &first)
	case len(r.Now.Breaches) > 0:
		return fmt.Sprintf("The spread is %s now, but the present places break your own rules; the best found within them is %s.",
			unit.Spread(r.Now.Judgement.Spread()), best)
	}
	return fmt.Sprintf("The present places are about as good as the best found: %s now, %s at best.",
		unit.Spread(r.Now.Judgement.Spread()), best)
}

// placingText says where to put things.
func placingText(in *Report, best *score.Candidate) string {
	if in.Project.Speakers.Fixed {
		return fmt.Sprintf("Leave the speakers where they are, and place the ears %s from the front wall and %s from the left wall.",
			in.Style.Tape(best.Layout.Seat.X), in.Style.Tape(best.Layout.Seat.Y))
	}
	return "Place them as drawn: " + placesText(best, in.Style) + "."
}

// uneven is the spread in dB from which no places alone make bass that one can work with. Common
// practice, no source: owners call ±10 dB decent.
const uneven model.Level = 12

// unevenText says that places alone are not enough, if they are not.
func unevenText(best *score.Candidate) string {
	if best.Judgement.Spread() < uneven {
		return ""
	}
	return " Places alone leave the bass uneven: plan absorption next (evenbass stage)."
}

// chairName is what a sentence calls the main seat.
func chairName(p *model.Project) string {
	if name := text.FurnitureName(p); name != "seat" {
		return name
	}
	return "chair"
}

// whatMoves names what the second layout moves; seat is what the main seat is called.
func whatMoves(seat string, from, to model.Layout) string {
	const same = 0.005 // m, below what a tape shows
	speakers := r3.Norm(r3.Sub(from.Left, to.Left)) >= same || r3.Norm(r3.Sub(from.Right, to.Right)) >= same
	switch chair := r3.Norm(r3.Sub(from.Seat, to.Seat)) >= same; {
	case speakers && !chair:
		return "the speakers"
	case chair && !speakers:
		return "the " + seat
	}
	return "speakers and " + seat
}

// placesText names the places of a layout in one clause.
func placesText(c *score.Candidate, s unit.Style) string {
	l := c.Layout
	woofers := fmt.Sprintf("woofers %s from the front wall and %s apart", s.Tape(l.Left.X), s.Tape(model.Plan(l.Left, l.Right)))
	if math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		woofers = fmt.Sprintf("left woofer %s and right woofer %s from the front wall, %s apart",
			s.Tape(l.Left.X), s.Tape(l.Right.X), s.Tape(model.Plan(l.Left, l.Right)))
	}
	return fmt.Sprintf("%s, ears %s from the front wall", woofers, s.Tape(l.Seat.X))
}

// thumbText says what rules of thumb would give here, and why the answer differs; "" if it was not computed.
func thumbText(in *Report) string {
	thumb := in.Thumb
	if thumb == nil {
		return ""
	}
	words := fmt.Sprintf("Rules of thumb (an equilateral triangle, ears at %s of the length, all symmetrical; common practice, no source) give %s here",
		unit.Percent(study.ThumbShare), unit.Spread(thumb.Spread))
	best := in.best()
	switch {
	case thumb.Breaks:
		return words + " and break a rule of the room file."
	case thumb.Spread < best.Judgement.Spread()-0.05:
		return words + fmt.Sprintf(" against %s of layout 1, which counts marks slightly off and all seats as well.", unit.Spread(best.Judgement.Spread()))
	}
	return words + ": they know neither the walls nor the height of the room."
}

// Summary is the answer of a page in few words, for what shows it beside others.
type Summary struct {
	Headline string
	Now      []string // the worst dips of the present places and their causes
	Steps    []string // what to move, or where to put things; last a layout that costs less elsewhere, if there is one
	Trust    string
}

// NewSummary sums up a result that has a layout.
func NewSummary(in *Report) Summary {
	v := newVerdict(in)
	out := Summary{Headline: v.Headline, Trust: v.Trust + " " + commonSpread, Steps: stepLines(in)}
	switch {
	case len(out.Steps) > 0:
	case in.Result.Now == nil:
		out.Steps = placingLines(in)
		if more := strings.TrimSpace(alongText(in.Project, in.best().Layout, in.Style) + unevenText(in.best())); more != "" {
			out.Steps = append(out.Steps, more)
		}
	default:
		out.Steps = []string{v.Action}
	}
	if words := cheaperPlaces(in); words != "" {
		out.Steps = append(slices.Clone(out.Steps), words)
	}
	for _, f := range in.Faults {
		if f.Number > 0 {
			continue
		}
		for _, d := range f.Faults {
			out.Now = append(out.Now, text.Sentence(dip.Text(d.Feature))+". "+dip.CauseText(d, in.Style))
		}
	}
	return out
}

// SummaryPlan draws where the first layout puts things, with the tape distances. Its names begin with
// "summary", so that the page of places may stand on the same page.
func SummaryPlan(in *Report) svg.Pair {
	return svg.NewPair(func(f svg.Form) *svg.Drawing {
		d := newPlan(in, f)
		d.ID = "summary-" + d.ID
		return d
	})
}

// New gathers what is shown of a search's places.
func New(s *study.Study, found *study.Places, style unit.Style, run html.Run) Report {
	return Report{
		Project: s.Project, Result: found.Result, Grid: s.Engine.Grid(), Style: style, Run: run,
		Walls: room.Walls(&s.Project.Room), Modes: room.Modes(s.Box, found.Result.Candidates[0].Layout.Seat),
		Faults: found.Faults, Stability: found.Stability, Thumb: found.Thumb, Widened: found.Widened, Floor: found.Floor, Series: found.Series, Variants: found.Variants, Fading: found.Fading, Warnings: found.Warnings,
	}
}
