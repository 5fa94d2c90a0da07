package report

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/model/material"
)

// Building is how treatments are to be built: what is shown of a plan.
type Building struct {
	Project *model.Project
	Plan    *build.Plan
	Option  string // name of the option that the treatments are of; "" for those of the room
	Style   Style
	Run     Run
}

// mark returns what a piece is called: the letter of its treatment on the plan, and its
// number if there are several.
func (b *Building) mark(piece int) string {
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

func (b *Building) treatmentLetter(i int) string {
	return letterName(openingNumber(b.Project, len(b.Project.Room.Openings)) + i)
}

// treatmentName returns the name of a treatment, or where it is.
func (b *Building) treatmentName(i int) string {
	t := &b.Project.Room.Treatments[i]
	if name := strings.TrimSpace(printable(t.Name)); name != "" {
		return name
	}
	return "what is " + t.Where()
}

func (b *Building) title() string {
	name := strings.TrimSpace(printable(b.Project.Room.Name))
	if name == "" {
		name = "The room"
	}
	if b.Option != "" {
		return name + ", " + printable(b.Option)
	}
	return name
}

// headline says what there is to build.
func (b *Building) headline() string {
	if len(b.Plan.Pieces) == 0 {
		return "There is nothing to build: the room has no treatments."
	}
	text := count(len(b.Plan.Pieces), "piece") + " to build, " + b.weight(b.Plan.Weight()) + " in all. "
	cost, unpriced := b.Plan.Cost()
	switch {
	case cost.Max == 0 && unpriced == 0:
		return text + "All of it is in hand."
	case cost.Max == 0:
		return text + "What it costs is not known: no price was given of anything that is to be bought."
	case unpriced > 0:
		return text + "What is to be bought costs " + b.price(cost) + ", and more for what has no price."
	}
	return text + "What is to be bought costs " + b.price(cost) + "."
}

// cell writes a quantity for a table: one above the other where both units are asked
// for.
func (b *Building) cell(write func(one *Building) string) string {
	if b.Style != Both {
		return write(b)
	}
	metric, imperial := *b, *b
	metric.Style, imperial.Style = Metric, Imperial
	if m, i := write(&metric), write(&imperial); m != i {
		return m + "\n" + i
	}
	return write(&metric)
}

func (b *Building) weightCell(w material.Span) string {
	return b.cell(func(one *Building) string { return one.weight(w) })
}

func (b *Building) sizeCell(lengths ...float64) string {
	return b.cell(func(one *Building) string { return one.size(lengths...) })
}

func (b *Building) quantityCell(v float64, unit string) string {
	return b.cell(func(one *Building) string { return one.quantity(v, unit) })
}

func (b *Building) tapeCell(m float64) string {
	return b.cell(func(one *Building) string { return one.Style.Tape(m) })
}

// count writes a number of things: "1 piece", "3 pieces".
func count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	first, rest, of := strings.Cut(thing, " of ")
	if of {
		rest = " of " + rest
	}
	return fmt.Sprintf("%d %ss%s", n, first, rest)
}

// weight writes a weight with its range: "55 kg (48 to 63)".
func (b *Building) weight(w material.Span) string {
	one := func(low, typical, high float64, unit string) string {
		places := 1
		if typical >= 20 {
			places = 0
		}
		return fmt.Sprintf("%s %s (%s to %s)", decimal(typical, places), unit, decimal(low, places), decimal(high, places))
	}
	return b.Style.join(one(w.Low, w.Typical, w.High, "kg"), one(w.Low/pound, w.Typical/pound, w.High/pound, "lb"))
}

// price writes a price with the owner's currency.
func (b *Building) price(r model.Range) string {
	text := money(r.Min)
	if r.Max > r.Min {
		text += " to " + money(r.Max)
	}
	if b.Project.Stock != nil && b.Project.Stock.Currency != "" {
		text += " " + printable(b.Project.Stock.Currency)
	}
	return text
}

func money(v float64) string { return strings.TrimSuffix(decimal(v, 2), ".00") }

// quantity writes so much of an item; what must suffice is rounded up.
func (b *Building) quantity(v float64, unit string) string {
	switch unit {
	case "m":
		return b.Style.Length(v)
	case "m²":
		return b.Style.Area(v)
	case "pieces":
		return fmt.Sprint(math.Ceil(v - 1e-6))
	}
	return count(int(math.Ceil(v-1e-6)), strings.TrimSuffix(unit, "s"))
}

// shoppingTable is the list of what it takes.
func (b *Building) shoppingTable() table {
	t := table{
		Caption: "Shopping list",
		Head:    []string{"", "needed", "in hand", "to buy", "left over", "price"}, Align: "lrrlrr",
	}
	for _, it := range b.Plan.Items {
		row := []string{sentence(printable(it.Name)), b.quantityCell(it.Need, it.Unit), "none", "nothing", "", ""}
		if it.Have > 0 {
			row[2] = b.quantityCell(it.Have, it.Unit)
		}
		switch {
		case it.Packs > 0:
			row[3] = count(it.Packs, it.Pack)
		case it.Pack == "":
			row[3] = row[1]
		}
		if it.Pack != "" {
			row[4] = b.cell(func(one *Building) string { return one.left(it) })
		}
		switch {
		case it.Unpriced:
			row[5] = "no price given"
		case it.Packs > 0:
			row[5] = b.price(it.Price)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// left writes what is left over, rounded down.
func (b *Building) left(it build.Item) string {
	switch {
	case it.Unit == "m":
		return b.Style.Length(math.Floor(10*it.Left+1e-6) / 10)
	case it.Left < 1-1e-6:
		return "none"
	}
	return b.quantity(math.Floor(it.Left+1e-6), it.Unit)
}

// totals are the sums under the shopping list, and how its figures come about.
func (b *Building) totals() []string {
	var lines []string
	cost, unpriced := b.Plan.Cost()
	if cost.Max > 0 {
		line := "What has a price comes to " + b.price(cost)
		if s := b.Project.Stock; s != nil && s.Dated != "" {
			line += ", at prices of " + printable(s.Dated)
		}
		lines = append(lines, line+".")
	}
	if unpriced > 0 {
		lines = append(lines, fmt.Sprintf("%s to buy without a price: the whole costs more than is said here. Prices go into the room file, under stock.", thingsAre(unpriced)))
	}
	if kg, volume := b.Plan.Bought(); kg > 0 {
		lines = append(lines, fmt.Sprintf("What is to be bought weighs about %s, as far as its weight is known, and its wool and timber take %s to carry; wool may come compressed.",
			b.Style.mass(kg), b.Style.Volume(volume)))
	}
	if len(b.Plan.Items) > 0 {
		lines = append(lines, "Needed is with waste: wool 5 %, wool for triangles and timber 10 %, film, cloth and tape 15 % (common practice, no source). Packs are rounded up, what is in hand is taken off.")
	}
	return lines
}

func thingsAre(n int) string {
	if n == 1 {
		return "There is one thing"
	}
	return fmt.Sprintf("There are %d things", n)
}

// piecesTable lists the pieces.
func (b *Building) piecesTable() table {
	t := table{
		Caption: "Pieces, by their marks on the drawings; width × height × depth, and weight, of one",
		Head:    []string{"mark", "what", "size", "weight", "people", "lower edge"}, Align: "llrrrr",
	}
	for i := 0; i < len(b.Plan.Pieces); {
		p, n := &b.Plan.Pieces[i], b.alike(i)
		name := b.mark(i)
		if n > 1 {
			name += " to " + b.mark(i+n-1)
		}
		t.Rows = append(t.Rows, []string{name, b.what(p), b.sizeCell(p.Width, p.Height, p.Depth), b.weightCell(p.Weight), fmt.Sprint(p.Persons), b.tapeCell(p.Lower())})
		i += n
	}
	return t
}

// alike returns how many pieces from i on are the same in all that the table shows.
func (b *Building) alike(i int) int {
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

// what names a piece by its treatment and what it is built as.
func (b *Building) what(p *build.Piece) string {
	name := b.treatmentName(p.Treatment)
	if strings.Contains(strings.ToLower(name), p.Kind.String()) {
		return name
	}
	return name + ", " + p.Kind.String()
}

// size writes lengths with a cross between them: "60 × 120 × 20 cm".
func (b *Building) size(lengths ...float64) string {
	var metric, imperial []string
	for _, l := range lengths {
		metric = append(metric, strings.TrimSuffix(decimal(100*l, 1), ".0"))
		imperial = append(imperial, inchesOnly(l))
	}
	return b.Style.join(strings.Join(metric, " × ")+" cm", strings.Join(imperial, " × ")+" in")
}

// inchesOnly writes a length in inches to the nearest 1/8: "47 1/4".
func inchesOnly(m float64) string {
	return strings.TrimSuffix(inches(int64(math.Round(m/inch*8)), false), " in")
}

// notes are the plan's notes in sentences, each with the treatments that it is of.
func (b *Building) notes() []string {
	var lines []string
	seen := map[string]int{}
	for _, n := range b.Plan.Notes {
		text := printable(n.Text(b.Style.thickness))
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
	if r := &b.Project.Room; len(b.Plan.Pieces) > 0 && !r.Plain() {
		lines = append(lines, "walls are drawn as rectangles, as high and long as they are at most: measure where a slope or a corner cuts them")
	}
	if len(b.Plan.Pieces) > 0 && len(b.Plan.Cloths) == 0 {
		lines = append(lines, "no cloth is in the stock: every face of the wool wants a cover that lets air through and no fibres")
	}
	if len(b.Plan.Pieces) > 0 && b.Plan.Timber == nil {
		lines = append(lines, "no timber is in the stock: frames are left out of weights and lists")
	}
	return lines
}

// substitutes says what other wool would do.
func (b *Building) substitutes() []string {
	var lines []string
	for _, it := range b.Plan.Items {
		for _, s := range it.Substitutes {
			var bands []string
			for i, f := range s.Frequencies {
				bands = append(bands, fmt.Sprintf("%s instead of %s at %g Hz", decimal(s.Is[i], 2), decimal(s.Was[i], 2), f))
			}
			lines = append(lines, fmt.Sprintf("%s instead of %s: %s kPa·s/m², %s to %s kg/m³; its largest piece would take up %s",
				printable(s.Name), printable(it.Name), strings.TrimSuffix(decimal(s.Resistivity/1000, 1), ".0"),
				decimal(s.Density.Low, 0), decimal(s.Density.High, 0), strings.Join(bands, ", ")))
		}
	}
	return lines
}

// askFor says what to ask the sellers for.
func (b *Building) askFor() []string {
	var lines []string
	for _, it := range b.Plan.Items {
		if it.Ask != "" && (it.Packs > 0 || it.Pack == "") {
			lines = append(lines, fmt.Sprintf("%s: ask for %s", printable(it.Name), it.Ask))
		}
	}
	return lines
}
