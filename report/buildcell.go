package report

import (
	"fmt"
	"math"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
)

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
