package build

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/model/material"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// cell writes a quantity for a table: both units one above the other where the reader
// wants both.
func (b *Report) cell(write func(one *Report) string) string {
	if b.Style != unit.Both {
		return write(b)
	}
	metric, imperial := *b, *b
	metric.Style, imperial.Style = unit.Metric, unit.Imperial
	if m, i := write(&metric), write(&imperial); m != i {
		return m + "\n" + i
	}
	return write(&metric)
}

func (b *Report) weightCell(w material.Span) string {
	return b.cell(func(one *Report) string { return one.weight(w, "–") })
}

func (b *Report) sizeCell(lengths ...float64) string {
	return b.cell(func(one *Report) string { return one.Style.Sides(lengths...) })
}

func (b *Report) quantityCell(v float64, measure string) string {
	return b.cell(func(one *Report) string { return one.quantity(v, measure) })
}

func (b *Report) tapeCell(m float64) string {
	return b.cell(func(one *Report) string { return one.Style.Tape(m) })
}

// weight writes a weight with its range, between whose ends the given words stand: "55 kg
// (48 to 63)" in a sentence, "55 kg (48–63)" in a table.
func (b *Report) weight(w material.Span, between string) string {
	one := func(low, typical, high float64, symbol string) string {
		places := 1
		if typical >= 20 {
			places = 0
		}
		return fmt.Sprintf("%s %s (%s%s%s)", unit.Decimal(typical, places), symbol, unit.Decimal(low, places), between, unit.Decimal(high, places))
	}
	return b.Style.Join(one(w.Low, w.Typical, w.High, "kg"), one(w.Low/unit.Pound, w.Typical/unit.Pound, w.High/unit.Pound, "lb"))
}

// price writes a price with the owner's currency, the given words between its ends.
func (b *Report) price(r model.Range, between string) string {
	amount := money(r.Min)
	if r.Max > r.Min {
		amount += between + money(r.Max)
	}
	if b.Project.Stock != nil && b.Project.Stock.Currency != "" {
		amount += " " + text.Printable(b.Project.Stock.Currency)
	}
	return amount
}

func money(v float64) string { return strings.TrimSuffix(unit.Decimal(v, 2), ".00") }

// quantity writes an amount of an item, rounded up to whole things.
func (b *Report) quantity(v float64, measure string) string {
	switch measure {
	case "m":
		return b.Style.Length(v)
	case "m²":
		return b.Style.Area(v)
	case "pieces":
		return fmt.Sprint(math.Ceil(v - 1e-6))
	}
	return text.Count(int(math.Ceil(v-1e-6)), strings.TrimSuffix(measure, "s"))
}

// words writes words with lengths from 1 m as read off a tape, shorter ones as thicknesses.
func (b *Report) words(w build.Words) string {
	return text.Printable(w.Text(func(m float64) string {
		if m >= 1 {
			return b.Style.Length(m)
		}
		return b.Style.Thickness(m)
	}))
}
