package absorb

import (
	"fmt"
	"strings"

	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// The slab whose weight is given, m: a common size.
const (
	slabLength = 1.2
	slabWidth  = 0.6
)

// figuresTable compares the build-ups by single figures, one a column.
func (a *Report) figuresTable() text.Table {
	t := text.Table{Caption: "In figures, at normal incidence", Head: []string{""}}
	for i := range a.BuildUps {
		t.Head = append(t.Head, a.letter(i))
	}
	add := func(name string, read func(b *BuildUp) string) {
		row := []string{name}
		for i := range a.BuildUps {
			row = append(row, read(&a.BuildUps[i]))
		}
		t.Rows = append(t.Rows, row)
	}
	add("absorbs half from", func(b *BuildUp) string { return orNever(b.HalfFrom) })
	add("sheets resonate at", resonances)
	add("reflects over half above", func(b *BuildUp) string { return orNever(b.Figure.Reflects) })
	add("depth", func(b *BuildUp) string { return a.Style.Thickness(b.Depth) })
	add("weight without frame", func(b *BuildUp) string { return a.Style.MassPerArea(b.Weight()) })
	add("a slab of "+a.Style.Join("1.2 × 0.6 m", "47 × 24 in")+" weighs", func(b *BuildUp) string { return a.Style.Mass(b.Weight() * slabLength * slabWidth) })
	return t
}

func orNever(f float64) string {
	if f == 0 {
		return "never"
	}
	return roundHertz(f)
}

// resonances lists the frequencies at which a build-up's sheets resonate, one a line,
// each with its layer if there are several.
func resonances(b *BuildUp) string {
	var lines []string
	for _, r := range b.Figure.Resonances {
		text := roundHertz(r.Frequency)
		if len(b.Figure.Resonances) > 1 {
			text = fmt.Sprintf("layer %d: %s", r.Layer+1, text)
		}
		lines = append(lines, text)
	}
	if len(lines) == 0 {
		return "none"
	}
	return strings.Join(lines, "\n")
}

// bandTables lists the absorption by third octaves, no more than group build-ups
// side by side in one table.
func (a *Report) bandTables(group int) []text.Table {
	var all []text.Table
	for from := 0; from < len(a.BuildUps); from += group {
		to := min(from+group, len(a.BuildUps))
		t := text.Table{Caption: bandsCaption, Head: []string{"Hz"}}
		for i := from; i < to; i++ {
			l := a.letter(i)
			t.Head = append(t.Head, l+" normal", l+" random", l+" range")
		}
		for n, band := range a.BuildUps[0].Bands {
			row := []string{unit.Decimal(band.Frequency, bandPlaces(band.Frequency))}
			for _, b := range a.BuildUps[from:to] {
				r := b.Bands[n].Random
				row = append(row, coefficient(b.Bands[n].Normal.Typical), coefficient(r.Typical), span(r))
			}
			t.Rows = append(t.Rows, row)
		}
		all = append(all, t)
	}
	return all
}

// shortBandTable lists the typical random-incidence absorption in every second third octave from 31.5 to 315 Hz,
// a column for each build-up.
func (a *Report) shortBandTable() text.Table {
	t := text.Table{Caption: "Absorption at random incidence in some third octaves, typical", Head: []string{"Hz"}}
	for i := range a.BuildUps {
		t.Head = append(t.Head, a.letter(i))
	}
	for n, band := range a.BuildUps[0].Bands {
		switch band.Frequency {
		case 31.5, 50, 80, 125, 200, 315:
		default:
			continue
		}
		row := []string{unit.Decimal(band.Frequency, bandPlaces(band.Frequency))}
		for _, b := range a.BuildUps {
			row = append(row, coefficient(b.Bands[n].Random.Typical))
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}

const bandsCaption = "Absorption by third octave: at normal incidence, at random incidence, and the range of the latter"

// bandPlaces returns the decimals of a nominal mid-band frequency: 31.5, but 63.
func bandPlaces(f float64) int {
	if f == float64(int(f)) {
		return 0
	}
	return 1
}

func coefficient(a float64) string { return unit.Decimal(a, 2) }

func span(s material.Span) string { return coefficient(s.Low) + "–" + coefficient(s.High) }

// layersTable lists the layers of one build-up from the room to the wall with the
// figures that the computation used.
func (a *Report) layersTable(i int) text.Table {
	t := text.Table{
		Caption: "Layers of " + a.letter(i) + ", from the room to the wall",
		Head:    []string{"", "layer", "thickness", "flow resistivity", "density", "weight"},
		Align:   "llrrrr",
	}
	for n, l := range a.BuildUps[i].Layers {
		row := []string{fmt.Sprint(n + 1), text.Printable(l.Text), "", "", "", ""}
		if l.Thickness > 0 {
			row[2] = a.Style.ThicknessCell(l.Thickness)
		}
		if absorber.FormOf(l) == absorber.Wool {
			row[3] = unit.Decimal(l.Resistivity/1000, 1) + " kPa·s/m²"
		}
		if kg := a.BuildUps[i].Weights[n]; kg > 0 {
			row[5] = a.Style.MassPerArea(kg)
		}
		switch porous := absorber.FormOf(l) == absorber.Wool; {
		case l.Density > 0:
			row[4] = a.Style.Density(l.Density)
		case porous:
			row[4] = "not given"
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
