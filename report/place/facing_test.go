package place

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/optimize"
	"evenbass/optimize/search"
	"evenbass/report/data"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// facedInput is the fixture with other walls faced: invented figures, by how much facing
// the back wall is better.
func facedInput(gain model.Level) Report {
	in := fixtureInput(reporttest.CoarseGrid())
	in.best().Score = in.best().Robust
	back := in.Result.Candidates[1]
	back.Score = in.best().Score - gain
	in.Result.Facings = []optimize.Facing{
		{Wall: model.Back, Project: in.Project.Facing(model.Back), Best: &back},
		{Wall: model.Left, Failure: &search.Infeasible{
			Breaches: []model.Breach{{Rule: model.Rule{Kind: model.SeatNear}, Amount: 0.04}},
		}},
	}
	return in
}

// The text compares the walls by their names in the file, advises only what is worth
// it, and says where nothing fits.
func TestFacingText(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	writeFacing(&b, facedInput(1.5).Result, unit.Metric)
	reporttest.Golden(t, "facing.txt", b.String())
	for gain, want := range map[model.Level]string{
		-1: "Facing another wall gives no better layout.", 0.4: "Facing the back wall gains only 0.4 dB",
	} {
		if got := facingText(facedInput(gain).Result); !strings.Contains(got, want) {
			t.Errorf("%g dB better: %q, want %q", gain, got, want)
		}
	}
	b.Reset()
	writeFacing(&b, fixtureInput(reporttest.CoarseGrid()).Result, unit.Metric)
	if b.Len() > 0 {
		t.Errorf("one wall only: %q", b.String())
	}
}

// The page has the table and the miss, the JSON places in the room's own coordinates.
func TestFacingOnPageAndInJSON(t *testing.T) {
	t.Parallel()
	in := facedInput(1.5)
	var page, doc strings.Builder
	if err := Page(&page, in); err != nil {
		t.Fatal(err)
	}
	if err := JSON(&doc, in); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"Which wall to face", `<th scope="row">back wall</th>`, "facing the left wall: nothing fits"} {
		if !strings.Contains(page.String(), want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	l := in.Result.Facings[0].Best.Layout
	at, err := data.Rounded(in.Project.Room.Size.X-l.Seat.X, 4).MarshalJSON()
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"wall": "back"`, `"x_m": ` + string(at), `"why_nothing_fits"`} {
		if !strings.Contains(doc.String(), want) {
			t.Errorf("the JSON lacks %q", want)
		}
	}
}
