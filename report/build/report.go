package build

import (
	"cmp"
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/report/html"
	"evenbass/report/svg"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Report is a plan of how to build treatments with what is shown with it, for [Text], [Page] and [Tables].
type Report struct {
	Project *model.Project
	Plan    *build.Plan
	Option  string // name of the option that the treatments are of; "" for those of the room
	Style   unit.Style
	Full    bool // the text holds everything, not only what comes first
	Run     html.Run
}

// mark returns the name of a piece on drawings: the letter of its treatment on the plan,
// and its number if the treatment has several pieces.
func (b *Report) mark(piece int) string {
	p := &b.Plan.Pieces[piece]
	name := b.treatmentLetter(p.Treatment)
	next, previous := piece+1, piece-1
	alone := (next >= len(b.Plan.Pieces) || b.Plan.Pieces[next].Treatment != p.Treatment) &&
		(previous < 0 || b.Plan.Pieces[previous].Treatment != p.Treatment)
	if alone {
		return name
	}
	return fmt.Sprintf("%s%d", name, p.Number)
}

func (b *Report) treatmentLetter(i int) string {
	return text.LetterName(svg.OpeningNumber(b.Project, len(b.Project.Room.Openings)) + i)
}

// treatmentName returns the name of a treatment, or where it is.
func (b *Report) treatmentName(i int) string {
	t := &b.Project.Room.Treatments[i]
	if name := strings.TrimSpace(text.Printable(t.Name)); name != "" {
		return name
	}
	return "piece " + t.Where()
}

func (b *Report) title() string {
	name := strings.TrimSpace(text.Printable(b.Project.Room.Name))
	if name == "" {
		name = "The room"
	}
	if b.Option != "" {
		return name + ", " + text.Printable(b.Option)
	}
	return name
}

// headline says what there is to build.
func (b *Report) headline() string {
	switch {
	case len(b.Plan.Pieces) > 0:
	case len(b.Project.Room.Treatments) > len(b.Project.Room.Furniture()):
		return "There is nothing to build: all treatments stand already."
	default:
		return "There is nothing to build: the room has no treatments. Add some to the room file, or let evenbass stage choose them from your stock."
	}
	text := text.Count(len(b.Plan.Pieces), "piece") + " to build, " + b.weight(b.Plan.Weight(), " to ") + " in all. "
	cost, unpriced := b.Plan.Cost()
	switch {
	case cost.Max == 0 && unpriced == 0:
		return text + "You have everything it needs."
	case cost.Max == 0:
		return text + "The cost is unknown: nothing on the shopping list has a price."
	case unpriced > 0:
		return text + "The materials to buy cost " + b.price(cost, " to ") + ", plus those without a price."
	}
	return text + "The materials to buy cost " + b.price(cost, " to ") + "."
}

// piecesTable lists the pieces.
func (b *Report) piecesTable() text.Table {
	t := text.Table{
		Caption: "Pieces, by their marks on the drawings: width × height × depth, and weight, of one",
		Head:    []string{"mark", "what", "size", "weight", "people", "lower edge"}, Align: "llrrrr",
	}
	for i := 0; i < len(b.Plan.Pieces); {
		p, n := &b.Plan.Pieces[i], b.alike(i)
		name := b.mark(i)
		if n > 1 {
			name += "–" + b.mark(i+n-1)
		}
		t.Rows = append(t.Rows, []string{name, b.what(p), b.sizeCell(p.Width, p.Height, p.Depth), b.weightCell(p.Weight), fmt.Sprint(p.Persons), b.tapeCell(p.Lower())})
		i += n
	}
	return t
}

// alike returns how many pieces from i on look the same in the table.
func (b *Report) alike(i int) int {
	p, n := &b.Plan.Pieces[i], 1
	for _, q := range b.Plan.Pieces[i+1:] {
		same := q.Treatment == p.Treatment && math.Abs(q.Lower()-p.Lower()) < 1e-6 && math.Abs(q.Weight.Typical-p.Weight.Typical) < 0.01
		if !same || math.Abs(q.Width-p.Width) > 1e-6 || math.Abs(q.Height-p.Height) > 1e-6 {
			break
		}
		n++
	}
	return n
}

// what names a piece by its treatment and its kind.
func (b *Report) what(p *build.Piece) string {
	name := b.treatmentName(p.Treatment)
	if strings.Contains(strings.ToLower(name), p.Kind.String()) {
		return name
	}
	return name + ", " + p.Kind.String()
}

// notes are the plan's notes, each with the treatments that it concerns.
func (b *Report) notes() []string {
	var lines []string
	seen := map[string]int{}
	for _, n := range b.Plan.Notes {
		text := cmp.Or(text.ObstructionText(n.Obstruction, b.Style), text.Printable(n.Words.Text(b.Style.Thickness)))
		who := ""
		if n.Treatment >= 0 {
			who = b.treatmentName(n.Treatment)
		}
		if at, ok := seen[text]; ok && who != "" {
			lines[at] = strings.Replace(lines[at], ": ", ", "+who+": ", 1)
			continue
		}
		seen[text] = len(lines)
		if who != "" {
			text = who + ": " + text
		}
		lines = append(lines, text)
	}
	if r := &b.Project.Room; len(b.Plan.Pieces) > 0 && len(r.Outline) > 0 {
		lines = append(lines, "the drawings show each wall at its greatest length: measure where a corner cuts it")
	}
	if len(b.Plan.Pieces) > 0 && len(b.Plan.Cloths) == 0 {
		lines = append(lines, "the stock has no cloth: cover every face of the wool with something that lets air through and holds fibres back")
	}
	if len(b.Plan.Pieces) > 0 && b.Plan.Timber == nil {
		lines = append(lines, "the stock has no timber: weights and lists leave the frames out")
	}
	return lines
}
