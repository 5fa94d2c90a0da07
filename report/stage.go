package report

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize"
)

// Staging is what to build in which order: a plan of stages with what it is shown with.
type Staging struct {
	Project *model.Project // as it is now
	Planned *model.Project // with all stages built
	Plan    *optimize.StagePlan
	Engine  string // "wave"

	Larger *optimize.StagePlan // made for all bats of the room file, if Plan is for fewer; else nil
	Regret *optimize.Regret    // goes with Larger

	Style Style
	Run   Run
}

func (g *Staging) title() string {
	if name := strings.TrimSpace(printable(g.Project.Room.Name)); name != "" {
		return name
	}
	return "The room"
}

// batsOf is how many bats of all sorts there were to build from.
func batsOf(p *optimize.StagePlan) int {
	n := 0
	for _, b := range p.Bats {
		n += b
	}
	return n
}

// headline says what the plan comes to.
func (g *Staging) headline() string {
	p := g.Plan
	if len(p.Stages) == 0 {
		return fmt.Sprintf("Leave the bats in their packs: of %s that could be built none gains %.1f dB in score.", count(p.Offers, "piece"), optimize.StagePays)
	}
	used := p.Used(len(p.Stages))
	text := fmt.Sprintf("%s of %s, in %s, take the spread from %s to %s",
		count(used, "bat"), fmt.Sprint(batsOf(p)), count(len(p.Stages), "stage"), spreadText(p.Start), spreadText(p.End()))
	return text + fmt.Sprintf(" (%v), predicted by the %s engine with the pair and the seat where they are.", p.Goal, g.Engine)
}

// spreadText writes the plain spread.
func spreadText(h *optimize.Hearing) string {
	return fmt.Sprintf("±%.1f dB", float64(h.Judgement.Spread()))
}

// stageTable has a row for what is and for each stage.
func (g *Staging) stageTable() table {
	t := table{
		Caption: "Stages: each stands alone, and each next one takes those before it as built",
		Head:    []string{"stage", "build", "where", "bats", "spread", "outlasts the ear by", "score", "gain"},
		Align:   "lllrrrrr",
	}
	row := func(stage, what, where, bats string, h *optimize.Hearing, gain string) {
		t.Rows = append(t.Rows, []string{stage, what, where, bats, spreadText(h), fmt.Sprintf("%.2f s", h.Lingering), fmt.Sprintf("%.1f dB", h.Score()), gain})
	}
	row("now", "", "", "", g.Plan.Start, "")
	for i, s := range g.Plan.Stages {
		row(fmt.Sprint(i+1), s.Sort.String(), g.where(&s.Pattern), fmt.Sprint(s.Bats), s.After, fmt.Sprintf("%.1f dB", s.Gain))
	}
	return t
}

// where says where the pieces of a pattern go, with tape distances.
func (g *Staging) where(p *optimize.Pattern) string {
	t := &p.Treatments[0]
	both := ""
	if len(p.Treatments) == 2 {
		both = ", and mirrored"
	}
	s := g.Style
	switch t.Form {
	case model.OnWall:
		from := "its left end"
		if t.Patch.Face.Axis() == 1 {
			from = "the front"
		}
		return fmt.Sprintf("%s, %s from %s, %s wide, %s high%s", t.Patch.Face.Wall(), s.Length(t.Patch.Along), from, s.Length(t.Patch.Width), s.Length(t.Patch.Height), both)
	case model.InCorner:
		shape := "triangle"
		if t.Corner.Square {
			shape = "square"
		}
		return fmt.Sprintf("where %s and %s meet, %s with legs of %s%s", t.Corner.Walls[0].Wall(), t.Corner.Walls[1].Wall(), shape, s.Length(t.Corner.Leg), both)
	}
	b := g.Project.Room.Space(t)
	return fmt.Sprintf("%s to %s from the front wall, %s to %s from the left wall", s.Length(b.Min.X), s.Length(b.Max.X), s.Length(b.Min.Y), s.Length(b.Max.Y)) + both
}

// decayTable compares decays by third octave.
func (g *Staging) decayTable() table {
	t := table{Caption: "Time in ms to fall by 20 dB, by third octaves in Hz. In brackets: " + fallKey, Head: []string{""}}
	ends := []*optimize.Hearing{g.Plan.Start, g.Plan.End()}
	rows := [][]string{{"now"}, {"all stages"}, {"heard from"}}
	if len(g.Plan.Stages) == 0 {
		ends, rows = ends[:1], [][]string{{"now"}, {"heard from"}}
	}
	for i, d := range ends[0].Decays {
		t.Head = append(t.Head, fmt.Sprintf("%g", d.Band))
		for j, h := range ends {
			rows[j] = append(rows[j], fallText(h.Decays[i], h.Decays[i].Fall20))
		}
		last := len(rows) - 1
		rows[last] = append(rows[last], decimal(1000*response.Audible(d.Band)/3, 0))
	}
	t.Rows = rows
	return t
}

// leaveLines lists what is not worth building.
func (g *Staging) leaveLines() []string {
	var lines []string
	for i := range g.Plan.Leave {
		o := &g.Plan.Leave[i]
		text := fmt.Sprintf("%s (%s; %s): ", sentence(o.Sort.String()), g.where(&o.Pattern), count(o.Bats, "bat"))
		switch {
		case o.Gain < 0:
			text += fmt.Sprintf("would cost %.1f dB in score beside what is built.", -o.Gain)
		case o.Gain < optimize.StagePays:
			text += fmt.Sprintf("would gain %.1f dB, which is not worth the work.", o.Gain)
		case o.Bats > g.Plan.Left(o.Bat):
			text += fmt.Sprintf("would still gain about %.1f dB, but %s left.", o.Gain, remaining(g.Plan.Left(o.Bat)))
		default:
			text += fmt.Sprintf("would gain about %.1f dB by the rough grid.", o.Gain)
		}
		lines = append(lines, text)
	}
	return lines
}

// remaining says how many bats are there: "1 bat is", "5 bats are".
func remaining(n int) string {
	if n == 1 {
		return "only 1 bat is"
	}
	return fmt.Sprintf("only %s are", count(n, "bat"))
}

// ruleLine compares with the fixed order.
func (g *Staging) ruleLine() string {
	r, p := g.Plan.Rule, g.Plan
	if r == nil || len(r.Patterns) == 0 {
		return ""
	}
	text := fmt.Sprintf("A fixed order (corners, then the back wall, then the first reflections) would use %s and reach a score of %.1f dB, %s; this plan uses %d and reaches %.1f dB, %s. ",
		count(r.Bats, "bat"), r.After.Score(), spreadText(r.After), p.Used(len(p.Stages)), p.End().Score(), spreadText(p.End()))
	per := func(h *optimize.Hearing, bats int) float64 {
		return (p.Start.Score() - h.Score()) / float64(max(bats, 1))
	}
	mine, theirs := per(p.End(), p.Used(len(p.Stages))), per(r.After, r.Bats)
	if mine > theirs {
		return text + fmt.Sprintf("Per bat that is %.2f dB here and %.2f dB there.", mine, theirs)
	}
	return text + fmt.Sprintf("Per bat the fixed order does better: %.2f dB here and %.2f dB there.", mine, theirs)
}

// regretLine says what it costs to have begun with another plan.
func (g *Staging) regretLine() string {
	if g.Regret == nil {
		return ""
	}
	begun := fmt.Sprintf("If you had begun with the plan for %s, %s would have stood when the bats ran out, with a score of %.1f dB: ",
		count(batsOf(g.Larger), "bat"), count(g.Regret.Kept, "stage"), g.Regret.After.Score())
	if g.Regret.Loss < 0.05 {
		return begun + "nothing is lost by that."
	}
	return begun + fmt.Sprintf("%.1f dB worse than this plan.", g.Regret.Loss)
}

// trust says how far the figures go.
func (g *Staging) trust() []string {
	return []string{
		sentence(scoreRecipe(g.Plan.Goal)) + ".",
		fmt.Sprintf("%s could be built; %s were computed. Pieces are chosen by a rough grid, and the stages shown are computed by the usual one.", count(g.Plan.Offers, "piece"), count(g.Plan.Tried, "room")),
		"The plan is good, not proven to be the best: pieces are added one by one and exchanged one by one.",
		"Differences below 1 dB are within what is not known of walls and wool. Build stage 1, measure, and plan again.",
		"Pair and seat stay where they are. Search their places again when all is built (evenbass place).",
	}
}

// scoreRecipe says in one sentence what a score is.
func scoreRecipe(goal model.Goal) string {
	return fmt.Sprintf("score = spread (%v, mean over both speakers 5 cm off) + %.0f dB per second of audible excess decay (decay in third octaves beyond 0.85 s at 32 Hz to 0.2 s from 100 Hz)", goal, optimize.Weight)
}

// reasonText says why a plan ends; empty if it does not say.
func reasonText(p *optimize.StagePlan) string {
	gains := fmt.Sprintf("improves the score by %.1f dB", p.Pays)
	switch p.Reason {
	case optimize.NoPieceGains:
		return "no piece " + gains
	case optimize.NoPieceFits:
		return "there are too few batts for any piece"
	case optimize.NoFurtherGains:
		return "no other piece " + gains
	case optimize.NoFurtherFits:
		return "the batts that are left make no other piece"
	case optimize.StoppedEarly:
		return "you stopped it before its end"
	}
	return ""
}
