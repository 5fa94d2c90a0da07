package report

import (
	"io"
	"strings"

	"evenbass/model"
)

// BuildPage writes a building plan as one HTML file that needs no network and no
// scripts: shopping list, cut list with a drawing of each sheet, a page for each wall
// with every piece to scale, and the steps with their cautions. On paper each wall begins
// a sheet of its own, A4 or Letter. The same plan gives the same bytes.
func BuildPage(w io.Writer, b Building) error {
	v := newBuildView(&b)
	for _, name := range []string{"page/page.css", "page/build.css"} {
		if err := v.style(name); err != nil {
			return err
		}
	}
	return writeOldPage(w, "build.gohtml", v)
}

// buildView is what the template reads.
type buildView struct {
	Title, Facts, Headline string
	Nothing                bool
	Plan                   *drawing
	Shopping, Pieces       table
	Totals, Substitutes    []string
	Cutting                []string
	Sheets                 []*drawing
	Members                table
	Walls                  []wallPage
	Standing               table
	Steps                  []buildStep
	Notes                  []string
	CautionsRule, Trust    string
	Command                string
	Source, SourceName     string

	frame
}

// wallPage is the sheet of one wall.
type wallPage struct {
	ID, Title string
	Drawing   *drawing
	Table     table
	Careful   []caution
}

func newBuildView(b *Building) *buildView {
	v := &buildView{
		Title: b.title(), Facts: b.facts(), Headline: b.headline(), Nothing: len(b.Plan.Pieces) == 0,
		Plan: b.newBuildPlan(), Shopping: b.shoppingTable(), Pieces: b.piecesTable(), Totals: b.totals(), Substitutes: b.substitutes(),
		Cutting: b.cuttingLines(), Sheets: b.sheetDrawings(), Members: b.memberTable(), Standing: b.standingTable(),
		Steps: b.steps(), Notes: b.notes(), CautionsRule: cautionsRule, Trust: buildTrust,
		Command: b.Run.Command, Source: b.Run.Source, SourceName: sourceName(b.Run.File),
	}
	for _, f := range b.faces() {
		careful := cautionOf("Electricity", "Heaters, sockets, vents, ways out")
		if f == model.Ceiling {
			careful = cautionOf("Loads over heads")
		}
		v.Walls = append(v.Walls, wallPage{"sheet-" + f.String(), sentence(f.Wall()), b.newWall(f), b.hangingTable(f), careful})
	}
	return v
}

// facts is the line under the title.
func (b *Building) facts() string {
	size := b.Project.Room.Size
	parts := []string{b.Style.Length(size.X) + " × " + b.Style.Length(size.Y) + " × " + b.Style.Length(size.Z)}
	if b.rental() {
		parts = append(parts, "rented: no holes")
	}
	if !b.Run.Date.IsZero() {
		parts = append(parts, b.Run.Date.Format("2 January 2006"))
	}
	if b.Run.Version != "" {
		parts = append(parts, "evenbass "+printable(b.Run.Version))
	}
	return strings.Join(parts, " · ")
}
