package build

import (
	"math"

	"evenbass/model"
	"evenbass/model/material/absorber"
)

// shelf is how far apart laths hold a stack of soft wool, m. Common practice, no source:
// wool stacked to a room's height settles by 5 to 15 %.
const shelf = 0.6

// corner plans the fill of an edge: slabs across it, one on the other along it.
func (m *maker) corner(i int, r recipe) {
	t := &m.project.Room.Treatments[i]
	c := t.Corner
	f, n := m.fill(i), len(m.plan.Pieces)
	length := f.length
	p := Piece{
		Treatment: i, Number: 1, Kind: CornerFill, Space: m.project.Room.Space(t), Level: c.Axis() != 2,
		Width: f.chord, Height: length, Depth: m.project.Room.Depth(t),
	}
	faces := []float64{f.chord}
	if c.Square {
		p.Width, faces = c.Leg, []float64{2 * c.Leg}
	}
	for _, y := range r.plies {
		b := m.plan.Batts[y.batt].Batt
		layers := int(math.Ceil((length-squeeze)/b.Layer.Thickness - 1e-9))
		for range layers {
			var parts int
			switch {
			case c.Square:
				parts, _ = m.tile(y.batt, n, c.Leg, f.area/c.Leg, nil)
			case f.oblique:
				parts, _ = m.tile(y.batt, n, f.chord/2, 2*f.area/f.chord, nil)
				parts *= 2
			default:
				parts = m.wedge(y.batt, n, c.Leg)
			}
			p.Slabs += parts
		}
		p.Weight = plus(p.Weight, m.wools[y.batt].density, f.area*length)
		if c.Axis() == 2 {
			m.note(i, "a stack of ", layers, " layers of ", Metres(b.Layer.Thickness), "; soft wool settles, so hold it by a lath or net every ", Metres(shelf))
		}
	}
	for _, f := range r.films {
		for _, face := range faces {
			m.plan.Tape += m.sheet(&m.plan.Films[f], n, face+2*filmWrap, length)
			p.Weight = plus(p.Weight, m.filmWeight(f), (face+2*filmWrap)*length)
		}
	}
	for _, face := range faces {
		p.Weight = m.cover(p.Weight, n, face, length, (face+2*clothWrap)*(length+2*clothWrap))
		p.Weight = m.frame(p.Weight, n, ladder(face, length))
	}
	m.finish(p, 0)
}

// ladder is what holds the face of a corner: two rails along the edge, and laths between
// them.
func ladder(face, length float64) []Member {
	list := []Member{{Name: "rail", Length: length}, {Name: "rail", Length: length}}
	for range int(math.Ceil(length/shelf-1e-9)) + 1 {
		list = append(list, Member{Name: "lath", Length: face})
	}
	return list
}

// wedge adds one layer of a triangle: one part if the batt is wide enough, else bands as
// wide as the batt, each a rectangle and a triangle at its end. What is no wider than a [sliver] is not cut. It
// returns how many parts.
func (m *maker) wedge(batt, piece int, leg float64) int {
	b := &m.plan.Batts[batt].Batt
	if s := (Shape{Width: leg, Height: leg, Triangle: true, Piece: piece}); s.Fits(b.Length, b.Width) {
		m.cut(batt, s)
		return 1
	}
	n := 0
	for from := 0.0; from < leg-sliver; from += min(b.Length, b.Width) {
		band := min(b.Length, b.Width, leg-from)
		m.cut(batt, Shape{Width: band, Height: band, Triangle: true, Piece: piece})
		n++
		if rest := leg - from - band; rest > sliver {
			parts, _ := m.tile(batt, piece, rest, band, nil)
			n += parts
		}
	}
	return n
}

// wrapped reports whether a treatment is a bag: a standing piece with film on both sides.
func wrapped(t *model.Treatment) bool {
	last := len(t.Layers) - 1
	return t.Form == model.FreeStanding && last >= 2 && absorber.FormOf(t.Layers[0]) == absorber.Film && absorber.FormOf(t.Layers[last]) == absorber.Film
}
