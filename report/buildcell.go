package report

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
)

// cell writes a quantity for a table: both units one above the other where the reader
// wants both.
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
	return b.cell(func(one *Building) string { return one.weight(w, "–") })
}

func (b *Building) sizeCell(lengths ...float64) string {
	return b.cell(func(one *Building) string { return one.Style.sides(lengths...) })
}

func (b *Building) quantityCell(v float64, measure string) string {
	return b.cell(func(one *Building) string { return one.quantity(v, measure) })
}

func (b *Building) tapeCell(m float64) string {
	return b.cell(func(one *Building) string { return one.Style.Tape(m) })
}

// weight writes a weight with its range, between whose ends the given words stand: "55 kg
// (48 to 63)" in a sentence, "55 kg (48–63)" in a table.
func (b *Building) weight(w material.Span, between string) string {
	one := func(low, typical, high float64, symbol string) string {
		places := 1
		if typical >= 20 {
			places = 0
		}
		return fmt.Sprintf("%s %s (%s%s%s)", decimal(typical, places), symbol, decimal(low, places), between, decimal(high, places))
	}
	return b.Style.join(one(w.Low, w.Typical, w.High, "kg"), one(w.Low/pound, w.Typical/pound, w.High/pound, "lb"))
}

// price writes a price with the owner's currency, the given words between its ends.
func (b *Building) price(r model.Range, between string) string {
	amount := money(r.Min)
	if r.Max > r.Min {
		amount += between + money(r.Max)
	}
	if b.Project.Stock != nil && b.Project.Stock.Currency != "" {
		amount += " " + printable(b.Project.Stock.Currency)
	}
	return amount
}

func money(v float64) string { return strings.TrimSuffix(decimal(v, 2), ".00") }

// quantity writes an amount of an item, rounded up to whole things.
func (b *Building) quantity(v float64, measure string) string {
	switch measure {
	case "m":
		return b.Style.Length(v)
	case "m²":
		return b.Style.Area(v)
	case "pieces":
		return fmt.Sprint(math.Ceil(v - 1e-6))
	}
	return count(int(math.Ceil(v-1e-6)), strings.TrimSuffix(measure, "s"))
}
