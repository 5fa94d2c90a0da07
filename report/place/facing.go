package place

import (
	"fmt"
	"strings"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// facingView is the page's part about other walls to face.
type facingView struct {
	Text   string
	Table  text.Table
	Misses []string
}

// newFacingView returns nil if no other wall was tried.
func newFacingView(r *optimize.Result, s unit.Style) *facingView {
	if len(r.Facings) == 0 {
		return nil
	}
	v := &facingView{Text: facingText(r), Table: facingTable(r, s)}
	for _, f := range r.Facings {
		if f.Best == nil {
			v.Misses = append(v.Misses, fmt.Sprintf("facing the %s: %s", f.Wall.Wall(), InfeasibleText(f.Failure, s)))
		}
	}
	return v
}

// facingText says whether another wall is worth facing.
func facingText(r *optimize.Result) string {
	best, score := model.Front, r.Candidates[0].Score
	for _, f := range r.Facings {
		if f.Best != nil && f.Best.Score < score {
			best, score = f.Wall, f.Best.Score
		}
	}
	gain := r.Candidates[0].Score - score
	switch {
	case best == model.Front:
		return "Facing another wall gives no better layout."
	case gain < text.Noticeable:
		return fmt.Sprintf("Facing the %s gains only %s: stay with the front wall unless the other suits you better.", best.Wall(), unit.Difference(gain))
	}
	return fmt.Sprintf("Facing the %s is better by %s. To get a page for it, turn the room with "+
		"\"evenbass turn --face %v\" and run place on the result.", best.Wall(), unit.Difference(gain), best)
}

// facingTable compares the walls, each by its best layout; walls keep the names of the
// room file.
func facingTable(r *optimize.Result, s unit.Style) text.Table {
	t := text.Table{
		Caption: fmt.Sprintf("Which wall to face: the best layout for each (%v)", r.Goal),
		Head:    []string{"facing the", "spread", "marks slightly off", "woofers from it", "woofers apart", "ears from it"},
	}
	add := func(wall model.Face, c *score.Candidate) {
		t.Rows = append(t.Rows, []string{
			wall.Wall(), unit.Spread(c.Judgement.Spread()), unit.Spread(c.Steadiness.Mean), woofersFromFront(c.Layout, s),
			s.Cell(model.Plan(c.Layout.Left, c.Layout.Right)), s.Cell(c.Layout.Seat.X),
		})
	}
	add(model.Front, &r.Candidates[0])
	for _, f := range r.Facings {
		if f.Best != nil {
			add(f.Wall, f.Best)
		}
	}
	return t
}

// writeFacing writes the same for a terminal; nothing if no other wall was tried.
func writeFacing(b *strings.Builder, r *optimize.Result, s unit.Style) {
	v := newFacingView(r, s)
	if v == nil {
		return
	}
	b.WriteString("\n" + v.Table.Caption + "\n" + v.Table.Text() + text.Wrap(v.Text, text.Columns, "") + "\n")
	text.WriteList(b, "Walls where nothing fits", v.Misses)
}

// facingDoc is the best layout with another wall faced, in the coordinates of the room
// file.
type facingDoc struct {
	Wall   string      `json:"wall"`
	Left   *data.Point `json:"left"` // null, as the rest, where nothing fits
	Right  *data.Point `json:"right"`
	Seat   *data.Point `json:"seat"`
	Spread *data.Fixed `json:"spread_db"`
	Robust *data.Fixed `json:"robust_spread_db"`
	Miss   string      `json:"why_nothing_fits,omitempty"`
}

func newFacingDocs(in *Report) []facingDoc {
	var docs []facingDoc
	for _, f := range in.Result.Facings {
		d := facingDoc{Wall: f.Wall.String()}
		if f.Failure != nil {
			d.Miss = f.Failure.Error()
		}
		if f.Best != nil {
			l := f.Turned(in.Project)
			left, right, seat := data.NewPoint(l.Left), data.NewPoint(l.Right), data.NewPoint(l.Seat)
			spread, robust := data.Decibel(f.Best.Judgement.Spread()), data.Decibel(f.Best.Robust)
			d.Left, d.Right, d.Seat, d.Spread, d.Robust = &left, &right, &seat, &spread, &robust
		}
		docs = append(docs, d)
	}
	return docs
}
