package build

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model/build"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// shoppingTable is the shopping list.
func (b *Report) shoppingTable() text.Table {
	t := text.Table{
		Caption: "Shopping list",
		Head:    []string{"", "needed", "in hand", "to buy", "left over", "price"}, Align: "lrrlrr",
	}
	for _, it := range b.Plan.Items {
		row := []string{text.Sentence(b.words(it.Name)), b.quantityCell(it.Need, it.Unit), "none", "nothing", "", ""}
		if it.Have > 0 {
			row[2] = b.quantityCell(it.Have, it.Unit)
		}
		switch {
		case it.Packs > 0:
			row[3] = text.Count(it.Packs, it.Pack)
		case it.Pack == "":
			row[3] = row[1]
		}
		if it.Pack != "" {
			row[4] = b.cell(func(one *Report) string { return one.left(it) })
		}
		switch {
		case it.Unpriced:
			row[5] = "no price given"
		case it.Packs > 0:
			row[5] = b.price(it.Price, "–")
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

// left writes the rest of an item, rounded down.
func (b *Report) left(it build.Item) string {
	switch {
	case it.Unit == "m":
		return b.Style.Length(math.Floor(10*it.Left+1e-6) / 10)
	case it.Left < 1-1e-6:
		return "none"
	}
	return b.quantity(math.Floor(it.Left+1e-6), it.Unit)
}

// totals are the sums under the shopping list, and the rules behind its figures.
func (b *Report) totals() []string {
	var lines []string
	cost, unpriced := b.Plan.Cost()
	if cost.Max > 0 {
		line := "Priced items total " + b.price(cost, " to ")
		if s := b.Project.Stock; s != nil && s.Dated != "" {
			line += ", at prices of " + text.Printable(s.Dated)
		}
		lines = append(lines, line+".")
	}
	if unpriced > 0 {
		lines = append(lines, unpricedLine(unpriced))
	}
	if kg, volume := b.Plan.Bought(); kg > 0 {
		lines = append(lines, fmt.Sprintf("Your purchases weigh about %s, counting only items of known weight. The wool and timber fill %s; wool may come compressed.",
			b.Style.Mass(kg), b.Style.Volume(volume)))
	}
	if len(b.Plan.Items) > 0 {
		lines = append(lines, "\"Needed\" includes waste: 5 % for wool, 10 % for wool triangles and timber, 15 % for film, cloth and tape (common practice, no source). Stock you already have is subtracted; packs are rounded up.")
	}
	return lines
}

// unpricedLine says that some items have no price.
func unpricedLine(n int) string {
	have := "have"
	if n == 1 {
		have = "has"
	}
	return fmt.Sprintf("%s %s no price, so the real total is higher. Add prices to the room file, under stock.", text.Count(n, "item"), have)
}

// substitutes says what other wool would do.
func (b *Report) substitutes() []string {
	var lines []string
	for _, it := range b.Plan.Items {
		for _, s := range it.Substitutes {
			var bands []string
			for i, f := range s.Frequencies {
				bands = append(bands, fmt.Sprintf("%s instead of %s at %g Hz", unit.Decimal(s.Is[i], 2), unit.Decimal(s.Was[i], 2), f))
			}
			lines = append(lines, fmt.Sprintf("%s instead of %s: %s kPa·s/m², %s; its largest piece would absorb %s",
				b.words(s.Name), b.words(it.Name), strings.TrimSuffix(unit.Decimal(s.Resistivity/1000, 1), ".0"),
				b.Style.Densities(s.Density.Low, s.Density.High), strings.Join(bands, ", ")))
		}
	}
	return lines
}

// askFor lists what to ask the sellers for.
func (b *Report) askFor() []string {
	var lines []string
	for _, it := range b.Plan.Items {
		if it.Ask != "" && (it.Packs > 0 || it.Pack == "") {
			lines = append(lines, fmt.Sprintf("%s: ask for %s", b.words(it.Name), it.Ask))
		}
	}
	return lines
}
