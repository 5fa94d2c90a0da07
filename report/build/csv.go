package build

import (
	"fmt"
	"io"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model/build"
	"evenbass/report/data"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// Table is one of the tables that [Tables] writes.
type Table struct {
	File  string // the name that it is usually given: "shopping.csv"
	Write func(w io.Writer) error
}

// Tables returns a building plan as tables of comma-separated values, lengths in
// millimetres and weights in kilograms whatever the style:
//
//	shopping.csv  sort, name, unit, net, need, have, packs, pack, left, weight_kg, volume_m3, price_low, price_high
//	pieces.csv    mark, treatment, kind, width_mm, height_mm, depth_mm, x_mm, y_mm, z_mm, weight_low_kg, weight_kg, weight_high_kg, persons, held_by, outline_mm
//	cuts.csv      material, sheet, mark, shape, width_mm, height_mm, corners_mm
//
// x, y and z are the corner nearest to the room's origin; prices are empty where none
// was given; corners are pairs from a corner of the sheet, parted by semicolons. outline_mm holds such pairs for a
// piece that a slope trims, along the wall and up from its lower corner nearest to the room's origin.
func Tables(b Report) []Table {
	table := func(name string, rows func() [][]string) Table {
		return Table{name, func(w io.Writer) error { return data.WriteRows(w, rows()) }}
	}
	return []Table{
		table("shopping.csv", b.shoppingRows), table("pieces.csv", b.pieceRows), table("cuts.csv", b.cutRows),
	}
}

func mm(m float64) string { return data.Digits(unit.Round(1000*m, 1)) }

func (b *Report) shoppingRows() [][]string {
	rows := [][]string{{"sort", "name", "unit", "net", "need", "have", "packs", "pack", "left", "weight_kg", "volume_m3", "price_low", "price_high"}}
	for _, it := range b.Plan.Items {
		row := []string{it.Sort.String(), data.SafeCell(it.Name.Text(unit.Metric.Thickness)), it.Unit}
		for _, v := range []float64{it.Net, it.Need, it.Have} {
			row = append(row, data.Digits(unit.Round(v, 3)))
		}
		row = append(row, fmt.Sprint(it.Packs), it.Pack, data.Digits(unit.Round(it.Left, 3)), data.Digits(unit.Round(it.Weight, 2)), data.Digits(unit.Round(it.Volume, 3)))
		if it.Unpriced {
			row = append(row, "", "")
		} else {
			row = append(row, data.Digits(unit.Round(it.Price.Min, 2)), data.Digits(unit.Round(it.Price.Max, 2)))
		}
		rows = append(rows, row)
	}
	return rows
}

func (b *Report) pieceRows() [][]string {
	rows := [][]string{{"mark", "treatment", "kind", "width_mm", "height_mm", "depth_mm", "x_mm", "y_mm", "z_mm", "weight_low_kg", "weight_kg", "weight_high_kg", "persons", "held_by", "outline_mm"}}
	for i := range b.Plan.Pieces {
		p := &b.Plan.Pieces[i]
		row := []string{b.mark(i), data.SafeCell(b.treatmentName(p.Treatment)), p.Kind.String()}
		for _, v := range []float64{p.Width, p.Height, p.Depth, p.Space.Min.X, p.Space.Min.Y, p.Space.Min.Z} {
			row = append(row, mm(v))
		}
		for _, v := range []float64{p.Weight.Low, p.Weight.Typical, p.Weight.High} {
			row = append(row, data.Digits(unit.Round(v, 2)))
		}
		rows = append(rows, append(row, fmt.Sprint(p.Persons), fixingLine(p), cornersCell(p.Outline)))
	}
	return rows
}

// cornersCell writes corners as pairs, parted by semicolons.
func cornersCell(corners []r2.Vec) string {
	var list []string
	for _, c := range corners {
		list = append(list, mm(c.X)+" "+mm(c.Y))
	}
	return strings.Join(list, ";")
}

func (b *Report) cutRows() [][]string {
	rows := [][]string{{"material", "sheet", "mark", "shape", "width_mm", "height_mm", "corners_mm"}}
	add := func(name string, sheets []build.Sheet, shapes []build.Shape) {
		for i, s := range sheets {
			for _, place := range s.Places {
				shape := shapes[place.Shape]
				rows = append(rows, []string{
					data.SafeCell(name), fmt.Sprint(i + 1), b.mark(shape.Piece), outlineWord(shape), mm(shape.Width), mm(shape.Height), cornersCell(place.Corners),
				})
			}
		}
	}
	for _, use := range b.Plan.Batts {
		add(build.BattTitle(use.Batt).Text(unit.Metric.Thickness), use.Nesting.Sheets, use.Shapes)
	}
	for _, uses := range [][]build.RollUse{b.Plan.Films, b.Plan.Cloths} {
		for _, use := range uses {
			add(text.OrElse(use.Roll.Title(), "cloth"), use.Unrolling.Rolls, use.Shapes)
		}
	}
	return rows
}
