package stage

import (
	"io"

	"evenbass/report/card"
	"evenbass/report/data"
	"evenbass/report/present"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// FormatName is the first value of every document that [JSON] writes.
const FormatName = "evenbass stage 1"

// document is a plan of stages in JSON.
type document struct {
	data.Head
	Now      card.Doc     `json:"now"`
	Stages   []Doc        `json:"stages"`
	Other    *otherDoc    `json:"other"`    // null if no other plan came near
	Measured *present.Doc `json:"measured"` // null if nothing was
	Warnings []string     `json:"warnings"`
}

// Doc is a stage in JSON.
type Doc struct {
	Build string     `json:"build"`
	What  string     `json:"what"`
	Batts int        `json:"batts"`
	Score data.Fixed `json:"gain_in_score_db"`
	Card  card.Doc   `json:"card"` // against the room as it stands when the first stage begins
}

// otherDoc is the plan that was not taken, in JSON.
type otherDoc struct {
	Moves  bool       `json:"moves"` // speakers and seat, which the plan taken leaves where they are; else the reverse
	Stages int        `json:"stages"`
	Batts  int        `json:"batts"`
	Worse  data.Fixed `json:"worse_in_score_db"`
	Card   card.Doc   `json:"card"` // at its end
}

func newOtherDoc(g *Report) *otherDoc {
	o := g.Plan.Other
	if o == nil {
		return nil
	}
	end := o.End()
	return &otherDoc{
		Moves: o.Moves(), Stages: len(o.Stages), Batts: o.Used(len(o.Stages)), Worse: data.Rounded(end.Score()-g.Plan.End().Score(), 2),
		Card: card.NewDoc(&card.State{Card: end.Card, Seats: end.Seats, Between: end.Between}, nil),
	}
}

// Docs returns the stages in JSON.
func Docs(g Report) []Doc {
	list := []Doc{}
	words, now := Lines(g), card.State{Card: g.Plan.Start.Card}
	for i, s := range g.Plan.Stages {
		list = append(list, Doc{s.Kind.String(), words[i], s.Batts, data.Rounded(s.Gain, 2), card.NewDoc(&card.State{Card: s.After.Card}, &now)})
	}
	return list
}

// JSON writes a plan for other programs: one object. It carries no date, so that equal runs give equal bytes.
func JSON(w io.Writer, g Report) error {
	now := g.now()
	return data.WriteJSON(w, document{
		Head: data.Head{Format: FormatName, Version: g.Run.Version, Command: g.Run.Command, Engine: g.standing().Engine.Kind, Room: text.Printable(g.Project.Room.Name), Goal: data.NewGoal(g.Plan.Goal)}, Now: card.NewDoc(&now, nil), Stages: Docs(g), Other: newOtherDoc(&g), Measured: present.NewDoc(g.Present), Warnings: text.WarningTexts(g.Warnings, unit.Metric),
	})
}
