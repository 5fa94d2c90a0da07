package stage

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/observation"
	"evenbass/optimize/stage"
	"evenbass/report/card"
	"evenbass/report/html"
	"evenbass/report/present"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a plan of what to build in which order, for [Text] and [Page].
type Report struct {
	Project *model.Project // as it is now
	Planned *model.Project // with all stages built
	Plan    *stage.Plan

	Larger *stage.Plan   // made for all batts of the room file, if Plan is for fewer; else nil
	Regret *stage.Regret // goes with Larger

	Present  *observation.Present // what was measured as the room stands; nil if nothing was
	Warnings []model.Warning      // of measurements that could not be used

	Style unit.Style
	Full  bool // the text holds everything
	Run   html.Run
}

// present is what was measured, with all stages beside it.
func (g *Report) present() present.Report {
	r := present.Report{Present: g.Present, Calibrated: g.Project.Room.Calibration != nil, Style: g.Style}
	if names := g.curveNames(); len(names) > 1 {
		r.After = present.After{Name: names[len(names)-1], Level: present.LevelAt(g.Plan.Grid, &g.Plan.End().Judgement)}
	}
	return r
}

func (g *Report) title() string {
	if name := strings.TrimSpace(text.Printable(g.Project.Room.Name)); name != "" {
		return name
	}
	return "The room"
}

// stocked returns how many batts of all kinds a plan could use.
func stocked(p *stage.Plan) int {
	n := 0
	for _, b := range p.Batts {
		n += b
	}
	return n
}

// headline says what the plan achieves.
func (g *Report) headline() string {
	p := g.Plan
	if len(p.Stages) == 0 {
		return fmt.Sprintf("Leave the batts in their packs: none of %s that could be built improves the score (%s) by %.1f dB.", text.Count(p.Possible, "piece"), g.scoreWords(), stage.LeastGain)
	}
	now, end := g.now(), g.state(len(p.Stages))
	what := fmt.Sprintf("building %d of %s in %s", p.Used(len(p.Stages)), text.Count(stocked(p), "batt"), text.Count(len(p.Stages), "stage"))
	if !g.moves() {
		return fmt.Sprintf("%s The %s engine predicts this with speakers and seat where they are (%v).", card.Headline(what, &now, &end), p.Start.Engine.Kind, p.Goal)
	}
	return fmt.Sprintf("%s Predicted by the %s engine (%v).", card.Headline("placing speakers and seat anew and "+what, &now, &end), p.Start.Engine.Kind, p.Goal)
}

// moves reports whether pair and seat leave their places.
func (g *Report) moves() bool { return g.Plan.Moves() }

// standing is the state of the room as it stands.
func (g *Report) standing() *stage.State {
	if g.Plan.Now != nil {
		return g.Plan.Now
	}
	return g.Plan.Start
}

// now is the room as it stands.
func (g *Report) now() card.State {
	h := g.standing()
	return card.State{Name: text.NowName, Card: h.Card, Seats: h.Seats, Between: h.Between}
}

// moveLines say where pair and seat go, and when.
func (g *Report) moveLines() []string {
	if !g.moves() {
		return nil
	}
	var lines []string
	before := g.Plan.Now.Layout
	say := func(when string, l model.Layout) {
		if l != before {
			lines = append(lines, when+": "+g.placesText(l)+".")
			before = l
		}
	}
	say("Move first", g.Plan.Start.Layout)
	for i, s := range g.Plan.Stages {
		say(fmt.Sprintf("After stage %d", i+1), s.After.Layout)
	}
	return lines
}

// placesText says where pair and seat are.
func (g *Report) placesText(l model.Layout) string {
	s := g.Style
	woofers := "woofers " + s.Tape(l.Left.X)
	if math.Abs(l.Left.X-l.Right.X) >= 0.005 {
		woofers = fmt.Sprintf("left woofer %s and right woofer %s", s.Tape(l.Left.X), s.Tape(l.Right.X))
	}
	return fmt.Sprintf("%s from the front wall and %s apart, ears %s from the front wall", woofers, s.Tape(model.Plan(l.Left, l.Right)), s.Tape(l.Seat.X))
}

// state is the room with the first n stages built.
func (g *Report) state(n int) card.State {
	if n == 0 {
		name := text.NowName
		if g.moves() {
			name = "moved"
		}
		return card.State{Name: name, Card: g.Plan.Start.Card, Seats: g.Plan.Start.Seats, Between: g.Plan.Start.Between}
	}
	h := g.Plan.Stages[n-1].After
	return card.State{Name: fmt.Sprintf("stage %d", n), Card: h.Card, Seats: h.Seats, Between: h.Between}
}

// stagesAcross is how many stages one table of cards holds beside the room as it is.
const stagesAcross = 4

// cardTables compares the stages with the room as it is, a few at a time.
func (g *Report) cardTables() []text.Table {
	var tables []text.Table
	for first := g.firstState(); first == g.firstState() || first <= len(g.Plan.Stages); first += stagesAcross {
		states := []card.State{g.now()}
		for n := first; n <= len(g.Plan.Stages) && n < first+stagesAcross; n++ {
			states = append(states, g.state(n))
		}
		tables = append(tables, card.Table(states, true, g.Style))
	}
	return tables
}

// firstState is the number of the first state beside now.
func (g *Report) firstState() int {
	if g.moves() && g.Plan.Start != g.Plan.Now {
		return 0
	}
	return 1
}

// shortCards compares what matters most with now: pair and seat moved, the first stage, the last.
func (g *Report) shortCards() text.Table {
	last := len(g.Plan.Stages)
	states := []card.State{g.now()}
	for n := g.firstState(); n <= last; n++ {
		if n <= 1 || n == last {
			states = append(states, g.state(n))
		}
	}
	return card.Table(states, true, g.Style)
}

// spread writes the spread of a state of the room.
func spread(h *stage.State) string { return unit.Spread(h.Judgement.Spread()) }

func scoreText(dB float64) string { return unit.Decimal(dB, 1) + " dB" }

// stageTable has a row for the room as it is and for each stage.
func (g *Report) stageTable() text.Table {
	t := text.Table{
		Caption: "Stages: you can stop after any of them; each assumes the earlier ones are built",
		Head:    []string{"stage", "build", "where", "batts", "spread", "audible\nexcess decay", "score", "gain"},
		Align:   "lllrrrrr",
	}
	row := func(stage, what, where, batts string, h *stage.State, gain string) {
		t.Rows = append(t.Rows, []string{stage, what, where, batts, spread(h), unit.Seconds(h.ExcessDecay), scoreText(h.Score()), gain})
	}
	if g.firstState() == 0 {
		row("now", "", "", "", g.Plan.Now, "")
		row("0", "nothing", "pair and seat move", "", g.Plan.Start, scoreText(g.Plan.Now.Score()-g.Plan.Start.Score()))
	} else {
		row("now", "", "", "", g.Plan.Start, "")
	}
	for i, s := range g.Plan.Stages {
		row(fmt.Sprint(i+1), s.Kind.String(), g.where(&s.Piece), fmt.Sprint(s.Batts), s.After, scoreText(s.Gain))
	}
	return t
}

// where says where a piece goes, with tape distances.
func (g *Report) where(p *stage.Piece) string {
	t := &p.Treatments[0]
	both := ""
	if len(p.Treatments) == 2 {
		both = ", and the same on the other side"
	}
	s := g.Style
	switch t.Form {
	case model.OnWall:
		from := "its left end"
		if t.Patch.Face.Axis() == 1 {
			from = "the front wall"
		}
		patch, high := g.Project.Room.FacePatch(t), "high"
		if g.Project.Room.Trimmed(t) {
			high += " at most, trimmed at the slope"
		}
		return fmt.Sprintf("%s, %s from %s, %s wide, %s %s%s", patch.Face.Wall(), s.Tape(patch.Along), from, s.Tape(patch.Width), s.Tape(patch.Height), high, both)
	case model.InCorner:
		shape := "triangle"
		if t.Corner.Square {
			shape = "square"
		}
		return fmt.Sprintf("where %s and %s meet, %s with legs of %s%s", t.Corner.Walls[0].Wall(), t.Corner.Walls[1].Wall(), shape, s.Tape(t.Corner.Leg), both)
	}
	b := g.Project.Room.Space(t)
	return fmt.Sprintf("%s to %s from the front wall, %s to %s from the left wall%s", s.Tape(b.Min.X), s.Tape(b.Max.X), s.Tape(b.Min.Y), s.Tape(b.Max.Y), both)
}

// decayTable compares decays by third octave.
func (g *Report) decayTable() text.Table {
	t := text.Table{Caption: "Time in ms to decay by 20 dB, by third octave in Hz. " + text.DecayKey, Head: []string{""}}
	ends := []*stage.State{g.standing(), g.Plan.End()}
	t.Rows = [][]string{{"now"}, {"all stages"}, {"audible from"}}
	if len(g.Plan.Stages) == 0 {
		ends, t.Rows = ends[:1], [][]string{{"now"}, {"audible from"}}
	}
	last := len(t.Rows) - 1
	for i, d := range ends[0].Decays {
		t.Head = append(t.Head, fmt.Sprintf("%g", d.Band))
		for j, h := range ends {
			t.Rows[j] = append(t.Rows[j], text.DecayCell(h.Decays[i], h.Decays[i].Fall20))
		}
		t.Rows[last] = append(t.Rows[last], unit.Decimal(1000*response.Audible(d.Band)/3, 0))
	}
	return t
}

// leaveLines lists what is not worth building.
func (g *Report) leaveLines() []string {
	var lines []string
	for i := range g.Plan.Omitted {
		o := &g.Plan.Omitted[i]
		lines = append(lines, fmt.Sprintf("%s (%s; %s): %s.", text.Sentence(o.Kind.String()), g.where(&o.Piece), text.Count(o.Batts, "batt"), g.verdict(o)))
	}
	return lines
}

// verdict says why a piece is left out.
func (g *Report) verdict(o *stage.Omission) string {
	left := g.Plan.Left(o.Batt)
	switch {
	case o.Gain < -0.05:
		return "makes the score " + scoreText(-o.Gain) + " worse on top of this plan"
	case o.Gain < 0.05:
		return "no benefit on top of this plan"
	case o.Gain < stage.LeastGain:
		return "gains only " + scoreText(o.Gain) + ", not worth the work"
	case o.Batts > left && left == 1:
		return "would still gain about " + scoreText(o.Gain) + ", but only 1 batt is left"
	case o.Batts > left:
		return fmt.Sprintf("would still gain about %s, but only %s are left", scoreText(o.Gain), text.Count(left, "batt"))
	}
	return "would gain about " + scoreText(o.Gain) + " on the coarse grid"
}

// ruleLine compares the plan with a fixed order.
func (g *Report) ruleLine() string {
	r, p := g.Plan.Rule, g.Plan
	if r == nil || len(r.Pieces) == 0 {
		return ""
	}
	used := p.Used(len(p.Stages))
	text := fmt.Sprintf("A fixed order (corners, then the back wall, then the first reflections) would use %s for a score of %s and a spread of %s. This plan uses %d for %s and %s. ",
		text.Count(r.Batts, "batt"), scoreText(r.After.Score()), spread(r.After), used, scoreText(p.End().Score()), spread(p.End()))
	per := func(h *stage.State, batts int) float64 {
		return (p.Start.Score() - h.Score()) / float64(max(batts, 1))
	}
	mine, theirs := per(p.End(), used), per(r.After, r.Batts)
	if mine > theirs {
		return text + fmt.Sprintf("Per batt this plan gains %s dB, the fixed order %s dB.", unit.Decimal(mine, 2), unit.Decimal(theirs, 2))
	}
	return text + fmt.Sprintf("Per batt the fixed order does better: it gains %s dB, this plan %s dB.", unit.Decimal(theirs, 2), unit.Decimal(mine, 2))
}

// regretLine says what it costs to start with the plan for more batts and run out.
func (g *Report) regretLine() string {
	if g.Regret == nil {
		return ""
	}
	loss := "no worse than this plan"
	if g.Regret.Loss >= 0.05 {
		loss = scoreText(g.Regret.Loss) + " worse than this plan"
	}
	return fmt.Sprintf("If you start with the plan for %s and run out after %d, you have built %s and reach a score of %s: %s.",
		text.Count(stocked(g.Larger), "batt"), stocked(g.Plan), text.Count(g.Regret.Kept, "stage"), scoreText(g.Regret.After.Score()), loss)
}

// trust says how far to trust the figures.
func (g *Report) trust() []string {
	return append([]string{
		text.Sentence(g.scoreRecipe()) + ".",
		fmt.Sprintf("The search considered %s and computed %s: it chooses pieces on a coarse grid and computes the stages shown on the usual one.",
			text.Count(g.Plan.Possible, "piece"), text.Count(g.Plan.Tried, "room")),
		"The plan is good, but not proven to be the best: the search adds and exchanges pieces one by one.",
		"Ignore differences under 1 dB; walls and wool are uncertain by as much. Build stage 1, measure, and plan again.",
		g.placesTrust(),
	}, text.WarningSentences(g.Warnings, g.Style)...)
}

// placesTrust says which places the plan knows.
func (g *Report) placesTrust() string {
	if g.moves() {
		return "Speakers and seat go to the best of a few layouts, found in the room as it is. Search again when everything is built (evenbass place)."
	}
	if g.Plan.Other != nil {
		return "Speakers and seat stay where they are: a plan that moves them first ends with a worse score. Search for their places again when everything is built (evenbass place)."
	}
	return "Speakers and seat stay where they are. Search for their places again when everything is built (evenbass place)."
}

// otherLine says what the plan that was not taken would bring: with speakers and seat where they are if this one
// moves them, and the reverse.
func (g *Report) otherLine() string {
	o := g.Plan.Other
	if o == nil {
		return ""
	}
	end := o.End()
	what := "A plan that leaves speakers and seat where they are (--stay)"
	if o.Moves() {
		what = "A plan that places speakers and seat anew first"
	}
	worse := "the same score"
	if by := end.Score() - g.Plan.End().Score(); by >= 0.05 {
		worse = "a score " + scoreText(by) + " worse"
	}
	built := "with nothing built"
	if n := len(o.Stages); n > 0 {
		built = fmt.Sprintf("with %s in %s", text.Count(o.Used(n), "batt"), text.Count(n, "stage"))
	}
	return fmt.Sprintf("%s ends, %s, at a spread of %s, a mean 20 dB decay of %s and %s.", what, built, spread(end), card.Milliseconds(end.Card.Fall.Mean), worse)
}

// restLine says what the batts that are left would bring.
func (g *Report) restLine() string {
	e := g.Plan.Rest
	if e == nil {
		return ""
	}
	end := g.state(len(g.Plan.Stages))
	after := card.State{Name: "with the rest", Card: e.After.Card, Seats: e.After.Seats, Between: e.After.Between}
	more := fmt.Sprintf("building %s more from %s that are left", text.Count(len(e.Pieces), "piece"), text.Count(e.Batts, "batt"))
	return card.Headline(more, &end, &after)
}

// cornerLine says why the plan does not begin in the corners, as many would.
func (g *Report) cornerLine() string {
	a := g.Plan.Corners
	if a == nil {
		return ""
	}
	per := func(gain float64, batts int) string { return unit.Decimal(gain/float64(max(batts, 1)), 2) }
	first := &g.Plan.Stages[0]
	line := fmt.Sprintf("Common practice (no source) begins in the corners. Here the best corner fill alone gains %s dB of score per batt, and stage 1 gains %s dB.",
		per(a.Gain, a.Batts), per(a.First, first.Batts))
	if a.Gain*float64(first.Batts) >= a.First*float64(a.Batts) { // that is no reason
		line += g.laterCorner()
	}
	return line
}

// laterCorner says what becomes of corner fills in a plan that begins without one though it gains more alone.
func (g *Report) laterCorner() string {
	for i, s := range g.Plan.Stages {
		if s.Kind == stage.Corner {
			return fmt.Sprintf(" Stage %d fills corners.", i+1)
		}
	}
	for i := range g.Plan.Omitted {
		if o := &g.Plan.Omitted[i]; o.Kind == stage.Corner {
			return " But a corner fill " + g.verdict(o) + "."
		}
	}
	return ""
}

// scoreWords says in a few words what a score is; [Report.scoreRecipe] says it exactly.
func (g *Report) scoreWords() string {
	return fmt.Sprintf("spread + %g dB per second of decay", g.Plan.Goal.Decay())
}

// scoreRecipe says in one sentence what a score is.
func (g *Report) scoreRecipe() string {
	seats := ""
	if len(g.Plan.Start.Seats) > 0 {
		seats = ", over all seats by their weights"
	}
	return fmt.Sprintf("score = spread (%v, mean over both speakers %s off%s) + %s dB per second (goal.decay_weight) of the mean 20 dB decay and of audible excess decay (decay in third octaves beyond 0.85 s at 32 Hz to 0.2 s from 100 Hz)",
		g.Plan.Goal, g.Style.Join("5 cm", "2 in"), seats, unit.Decimal(g.Plan.Goal.Decay(), 1))
}

// stopLine says why the plan ends; empty if the plan does not say.
func (g *Report) stopLine() string {
	if why := g.reason(); why != "" {
		return "The plan stops: " + why + "."
	}
	return ""
}

func (g *Report) reason() string {
	p := g.Plan
	switch p.Reason {
	case stage.NoPieceGains:
		return fmt.Sprintf("no piece improves the score by %.1f dB", p.LeastGain) // the headline says what a score is
	case stage.NoPieceFits:
		return "there are too few batts for any piece"
	case stage.NoFurtherGains:
		return fmt.Sprintf("no other piece improves the score (%s) by %.1f dB", g.scoreWords(), p.LeastGain)
	case stage.NoFurtherFits:
		if stocked(p) == p.Used(len(p.Stages)) {
			return "all batts are used"
		}
		return "the batts that are left make no other piece"
	case stage.StoppedEarly:
		return "you stopped it before its end"
	}
	return ""
}
