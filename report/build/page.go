package build

import (
	"embed"
	"io"

	"evenbass/model"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
)

//go:embed page
var pageFiles embed.FS

// Page writes a building plan as one HTML file that needs no network and no
// scripts: shopping list, cut list with a drawing of each sheet, a page for each wall
// with every piece to scale, and the steps with their cautions. On paper each wall begins
// a sheet of its own, A4 or Letter. The same plan gives the same bytes.
func Page(w io.Writer, b Report) error {
	return html.Write(w, newPageView(&b), html.Folder(pageFiles, "page"))
}

// Part is the same page as a part of a longer one.
func Part(id, title string, b Report) (html.Part, error) {
	return html.NewPart(id, title, false, newPageView(&b), html.Folder(pageFiles, "page"))
}

// pageView is what the template reads.
type pageView struct {
	Headline            string
	Nothing             bool
	Plan                svg.Pair
	Shopping, Pieces    text.Table
	Totals, Substitutes []string
	Cutting             []string
	Sheets, Trims       []*svg.Drawing
	Trimmed             text.Table
	Members             text.Table
	Walls               []wallPage
	Standing            text.Table
	Steps               []step
	Notes               []string
	StepsRule, Trust    string

	html.Frame
}

// wallPage is the sheet of one wall.
type wallPage struct {
	ID, Title string
	Drawing   svg.Pair
	Table     text.Table
	Cautions  []text.Caution
}

func newPageView(b *Report) *pageView {
	v := &pageView{
		Frame: html.Frame{
			Heading: b.title(), About: "how to build it", Kicker: "What to buy, what to cut, where to hang it", Facts: b.facts(),
			Contents: []html.Link{html.Link{ID: "shopping", Text: "Shopping"}, html.Link{ID: "pieces", Text: "Pieces"}, html.Link{ID: "cutting", Text: "Cutting"}},
		},
		Headline: b.headline(), Nothing: len(b.Plan.Pieces) == 0,
		Plan: svg.NewPair(b.newPlan), Shopping: b.shoppingTable(), Pieces: b.piecesTable(), Totals: b.totals(), Substitutes: b.substitutes(),
		Cutting: b.cuttingLines(), Sheets: b.sheetDrawings(), Trims: b.trimDrawings(), Trimmed: b.trimTable(), Members: b.memberTable(), Standing: b.standingTable(),
		Steps: b.steps(), Notes: b.notes(), StepsRule: text.CautionsRule, Trust: b.trust(),
	}
	v.SetRun(b.Run, "room file")
	for _, f := range b.faces() {
		concerns := "Heaters, sockets, vents, ways out"
		if f == model.Ceiling {
			concerns = "Loads over heads"
		}
		cautions := text.CautionOf(b.Style, b.fixing(concerns)...)
		page := wallPage{"sheet-" + f.String(), text.Sentence(f.Wall()), svg.NewPair(func(form svg.Form) *svg.Drawing { return b.newWall(f, form) }), b.hangingTable(f), cautions}
		v.Walls = append(v.Walls, page)
		v.Contents = append(v.Contents, html.Link{ID: page.ID, Text: page.Title})
	}
	v.Contents = append(v.Contents, html.Link{ID: "steps", Text: "Steps"})
	return v
}

// newPlan draws the room with what is to be built.
func (b *Report) newPlan(form svg.Form) *svg.Drawing {
	d, _ := svg.NewTreatmentPlan(b.Project, b.Style, form)
	return d
}

// facts is the line under the title.
func (b *Report) facts() string {
	facts := []string{text.SizesText(&b.Project.Room, b.Style)}
	if b.rental() {
		facts = append(facts, "rented: no holes")
	}
	return html.Facts(b.Run, facts...)
}
