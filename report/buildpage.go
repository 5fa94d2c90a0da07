package report

import (
	"embed"
	"io"

	"evenbass/model"
)

//go:embed page/build
var buildFiles embed.FS

// BuildPage writes a building plan as one HTML file that needs no network and no
// scripts: shopping list, cut list with a drawing of each sheet, a page for each wall
// with every piece to scale, and the steps with their cautions. On paper each wall begins
// a sheet of its own, A4 or Letter. The same plan gives the same bytes.
func BuildPage(w io.Writer, b Building) error {
	return writePage(w, newBuildView(&b), folder(buildFiles, "page/build"))
}

// buildView is what the template reads.
type buildView struct {
	Headline            string
	Nothing             bool
	Plan                *drawing
	Shopping, Pieces    table
	Totals, Substitutes []string
	Cutting             []string
	Sheets              []*drawing
	Members             table
	Walls               []wallPage
	Standing            table
	Steps               []buildStep
	Notes               []string
	StepsRule, Trust    string

	frame
}

// wallPage is the sheet of one wall.
type wallPage struct {
	ID, Title string
	Drawing   *drawing
	Table     table
	Cautions  []caution
}

func newBuildView(b *Building) *buildView {
	plan, _ := newTreatmentPlan(b.Project, b.Style)
	v := &buildView{
		frame: frame{
			Heading: b.title(), About: "how to build it", Kicker: "What to buy, what to cut, where to hang it", Facts: b.facts(),
			Contents: []link{link{ID: "shopping", Text: "Shopping"}, link{ID: "pieces", Text: "Pieces"}, link{ID: "cutting", Text: "Cutting"}},
		},
		Headline: b.headline(), Nothing: len(b.Plan.Pieces) == 0,
		Plan: plan, Shopping: b.shoppingTable(), Pieces: b.piecesTable(), Totals: b.totals(), Substitutes: b.substitutes(),
		Cutting: b.cuttingLines(), Sheets: b.sheetDrawings(), Members: b.memberTable(), Standing: b.standingTable(),
		Steps: b.steps(), Notes: b.notes(), StepsRule: cautionsRule, Trust: b.trust(),
	}
	v.setRun(b.Run, "room file")
	for _, f := range b.faces() {
		cautions := cautionOf(b.Style, "Electricity", "Heaters, sockets, vents, ways out")
		if f == model.Ceiling {
			cautions = cautionOf(b.Style, "Loads over heads")
		}
		page := wallPage{"sheet-" + f.String(), sentence(f.Wall()), b.newWall(f), b.hangingTable(f), cautions}
		v.Walls = append(v.Walls, page)
		v.Contents = append(v.Contents, link{ID: page.ID, Text: page.Title})
	}
	v.Contents = append(v.Contents, link{ID: "steps", Text: "Steps"})
	return v
}

// facts is the line under the title.
func (b *Building) facts() string {
	facts := []string{sizesText(&b.Project.Room, b.Style)}
	if b.rental() {
		facts = append(facts, "rented: no holes")
	}
	return factLine(b.Run, facts...)
}
