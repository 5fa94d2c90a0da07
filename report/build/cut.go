package build

import (
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// pattern is a way to cut that several sheets share.
type pattern struct {
	first, count int // number of the first sheet, and how many
	sheet        build.Sheet
	shapes       []build.Shape
	marks        [][]string // by place: the marks of all the sheets, each once
}

// Join adds the marks of a sheet that is cut alike.
func (p *pattern) Join(marks [][]string) {
	for i := range marks {
		for _, m := range marks[i] {
			if !slices.Contains(p.marks[i], m) {
				p.marks[i] = append(p.marks[i], m)
			}
		}
	}
}

// Label is what stands on a part in the drawing.
func (p *pattern) Label(place int) string {
	m := p.marks[place]
	if len(m) > 2 {
		return m[0] + " …"
	}
	return strings.Join(m, ", ")
}

// patterns groups the sheets that are cut alike, whatever pieces they are for, in their
// order. It leaves out whole batts.
func (b *Report) patterns(sheets []build.Sheet, shapes []build.Shape) []pattern {
	var list []pattern
	seen := map[string]int{}
	for i, s := range sheets {
		if len(s.Cuts) == 0 {
			continue
		}
		p := pattern{first: i + 1, count: 1, sheet: s, shapes: shapes}
		key := ""
		for _, place := range s.Places {
			mark := b.mark(shapes[place.Shape].Piece)
			p.marks = append(p.marks, []string{mark})
			key += fmt.Sprintf("%.3f %v;", place.Corners, shapes[place.Shape].Triangle)
		}
		if at, ok := seen[key]; ok {
			list[at].count++
			list[at].Join(p.marks)
			continue
		}
		seen[key] = len(list)
		list = append(list, p)
	}
	return list
}

// title names the sheets of a pattern.
func (p *pattern) title(thing string) string {
	if p.count == 1 {
		return fmt.Sprintf("%s %d", text.Sentence(thing), p.first)
	}
	return fmt.Sprintf("%s %d and %d more cut alike", text.Sentence(thing), p.first, p.count-1)
}

// parts lists what one sheet yields: "8 triangles with legs of 42 cm for i".
func (b *Report) parts(p *pattern) []string {
	var order []string
	counts, marks := map[string]int{}, map[string][]string{}
	for i, place := range p.sheet.Places {
		s := p.shapes[place.Shape]
		key := b.shapeText(s)
		if counts[key]++; counts[key] == 1 {
			order = append(order, key)
		}
		for _, m := range p.marks[i] {
			if !slices.Contains(marks[key], m) {
				marks[key] = append(marks[key], m)
			}
		}
	}
	for i, key := range order {
		noun, rest, _ := strings.Cut(key, " ")
		order[i] = text.Count(counts[key], noun) + " " + rest + " for " + strings.Join(marks[key], ", ")
	}
	return append(order, b.offcuts(p)...)
}

// shapeText says what a shape is: "rectangle of 120 × 60 cm".
func (b *Report) shapeText(s build.Shape) string {
	switch ends := s.Outline.Ends(); {
	case s.Triangle:
		return "triangle with legs of " + b.Style.Sides(s.Width)
	case s.Outline == nil:
		return "rectangle of " + b.Style.Sides(max(s.Width, s.Height), min(s.Width, s.Height))
	case len(s.Outline) == 4 && len(edges(s.Outline)) == 1:
		return fmt.Sprintf("trapezoid %s wide, %s and %s high", b.Style.Sides(s.Width), b.Style.Sides(min(ends[0], ends[1])), b.Style.Sides(max(ends[0], ends[1])))
	}
	return fmt.Sprintf("%s within %s", outlineWord(s), b.Style.Sides(s.Width, s.Height))
}

// outlineWord names a shape by its corners.
func outlineWord(s build.Shape) string {
	switch n := len(s.Outline); {
	case s.Triangle || n == 3:
		return "triangle"
	case n == 0:
		return "rectangle"
	case n == 4 && len(edges(s.Outline)) == 1:
		return "trapezoid"
	case n == 5:
		return "pentagon"
	}
	return "polygon"
}

// offcuts lists what is left of one sheet and large enough to keep: "3 × offcut of 130 × 60 cm".
func (b *Report) offcuts(p *pattern) []string {
	var list []string
	for _, o := range p.sheet.Offcuts {
		list = append(list, "offcut of "+b.Style.Sides(max(o.Width, o.Height), min(o.Width, o.Height)))
	}
	for _, w := range p.sheet.Wedges {
		x, y := model.Polygon(w).Bounds()
		list = append(list, "triangular offcut of "+b.Style.Sides(max(x.Max-x.Min, y.Max-y.Min), min(x.Max-x.Min, y.Max-y.Min)))
	}
	slices.Sort(list)
	return gathered(list)
}

// cuttingLines says for each material how much of it the cuts use, and how well.
func (b *Report) cuttingLines() []string {
	var lines []string
	for _, use := range b.Plan.Batts {
		n := use.Nesting
		if len(n.Sheets) == 0 {
			continue
		}
		line := fmt.Sprintf("%s, %s: %s, %d of them whole", b.words(build.BattTitle(use.Batt)), b.Style.Sides(use.Batt.Length, use.Batt.Width, use.Batt.Layer.Thickness),
			text.Count(len(n.Sheets), "batt"), use.Whole)
		if cut := len(n.Sheets) - use.Whole; cut > 0 {
			line += fmt.Sprintf(" and %d cut", cut)
		}
		line += fmt.Sprintf("; %s %% is offcuts. ", unit.Decimal(100*n.Waste, 1))
		switch {
		case len(n.Sheets) == n.Bound:
			line += "This is the minimum."
		case n.Exact:
			line += "No way of cutting right across needs fewer."
		default:
			line += fmt.Sprintf("Their area alone needs %d; the search ended before it could rule out fewer than %d.", n.Bound, len(n.Sheets))
		}
		lines = append(lines, line)
	}
	lines = append(lines, b.bagLines()...)
	for _, uses := range [][]build.RollUse{b.Plan.Films, b.Plan.Cloths} {
		for _, use := range uses {
			if len(use.Shapes) > 0 {
				lines = append(lines, fmt.Sprintf("%s, %s wide: %s off the roll for %s; their area alone makes up %s of it",
					text.OrElse(use.Roll.Title(), "cloth"), b.Style.Length(use.Roll.Width), b.Style.Length(use.Unrolling.Length()),
					text.Count(len(use.Shapes), "rectangle"), b.Style.Length(use.Unrolling.Bound)))
			}
		}
	}
	if t := b.Plan.Timber; t != nil && len(t.Members) > 0 {
		lines = append(lines, fmt.Sprintf("%s, %s: %s for %s; their length alone needs %d", text.OrElse(t.Timber.Name, "batten"),
			b.Style.Sides(t.Timber.Length, t.Timber.Width, t.Timber.Thickness), text.Count(len(t.Sticks), "batten"), text.Count(len(t.Members), "frame part"), t.Bound))
		if n := len(t.TooLong); n > 0 {
			lines = append(lines, fmt.Sprintf("%s longer than a batten: join two battens with a splint along the joint", text.Count(n, "frame part")))
		}
	}
	return lines
}

// bagLines says how many batts each kind of bag holds.
func (b *Report) bagLines() []string {
	var lines []string
	for _, bag := range b.Plan.Bags {
		for _, use := range b.Plan.Batts {
			if use.Assumed {
				continue
			}
			most := "not even one batt"
			if n := build.Holds(bag.Bag, use.Batt); n > 0 {
				most = "at most " + text.Count(n, "whole batt")
			}
			lines = append(lines, fmt.Sprintf("%s, %s flat: holds %s of %s", text.OrElse(bag.Bag.Title(), "bag"), b.Style.Sides(bag.Bag.Width, bag.Bag.Length), most, b.words(build.BattTitle(use.Batt))))
		}
	}
	return lines
}

// Sizes in a drawing of a sheet, in its own units.
const (
	cutWidth  = 300.0 // greatest width of a sheet, so that a phone shows the letters as large as they are
	cutMargin = 26.0
)

// memberTable lists the parts of frames; battens that are cut alike share a row.
func (b *Report) memberTable() text.Table {
	t := text.Table{Caption: "Battens, with " + b.Style.Join("4 mm", "3/16 in") + " for each saw cut", Head: []string{"battens", "each cut into", "for", "rest"}, Align: "lllr"}
	use := b.Plan.Timber
	if use == nil {
		return t
	}
	if b.trimmed() {
		t.Caption += "; angles are off a square cut, and lengths run between the long points"
	}
	row, marks, counts := map[string]int{}, map[string][]string{}, map[string]int{}
	for _, s := range use.Sticks {
		var parts, of []string
		for _, m := range s.Members {
			member := use.Members[m]
			parts = append(parts, member.Name+" "+b.Style.Sides(member.Length)+endsText(member.Ends))
			if mark := b.mark(member.Piece); !slices.Contains(of, mark) {
				of = append(of, mark)
			}
		}
		key := strings.Join(gathered(parts), ", ")
		if _, ok := row[key]; !ok {
			row[key] = len(t.Rows)
			t.Rows = append(t.Rows, []string{"", key, "", b.Style.Sides(s.Rest)})
		}
		counts[key]++
		for _, mark := range of {
			if !slices.Contains(marks[key], mark) {
				marks[key] = append(marks[key], mark)
			}
		}
		t.Rows[row[key]][0], t.Rows[row[key]][2] = fmt.Sprint(counts[key]), strings.Join(marks[key], ", ")
	}
	return t
}

// gathered joins equal phrases that follow one another: "4 × post 20 cm".
func gathered(phrases []string) []string {
	var out []string
	for i := 0; i < len(phrases); {
		n := 1
		for i+n < len(phrases) && phrases[i+n] == phrases[i] {
			n++
		}
		if n > 1 {
			out = append(out, fmt.Sprintf("%d × %s", n, phrases[i]))
		} else {
			out = append(out, phrases[i])
		}
		i += n
	}
	return out
}
