package build

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// squeeze is how much narrower than a treatment its pieces may be together without an
// extra strip: batts are a little oversize, and frames need play. Common practice, no
// source.
const squeeze = 0.02

// treatment plans the pieces of one.
func (m *maker) treatment(i int) error {
	t := &m.project.Room.Treatments[i]
	r, err := m.recipe(i)
	if err != nil {
		return err
	}
	for _, h := range m.project.Obstructions(t) {
		m.plan.Notes = append(m.plan.Notes, Note{Treatment: i, Obstruction: h})
	}
	if len(r.plies) == 0 {
		m.note(i, "has no wool: film and boards alone are listed")
	}
	before := len(m.plan.Pieces)
	switch {
	case t.Form == model.InCorner:
		m.corner(i, r)
	case wrapped(t):
		m.bag(i, r)
	default:
		m.panels(i, r)
	}
	m.check(i, before)
	return nil
}

// check notes pieces that cannot be carried in, or put up in a rented room.
func (m *maker) check(i, from int) {
	stuck := 0
	for _, p := range m.plan.Pieces[from:] {
		if !p.Passes {
			stuck++
		}
	}
	if stuck > 0 {
		m.note(i, fmt.Sprintf("%d of its %d pieces do not pass the door or stair in one: put them together in the room", stuck, len(m.plan.Pieces)-from))
	}
	if !m.stock.Rental {
		return
	}
	switch t := &m.project.Room.Treatments[i]; {
	case t.Form == model.UnderCeiling, t.Form == model.OnWall && t.Patch.Face == model.Ceiling:
		m.note(i, "hangs from holes, which a rented room does not allow: leave it out, or stand it on a frame of its own")
	case t.Form == model.InCorner && t.Corner.Axis() != 2:
		m.note(i, "is held by screws along a level edge, which a rented room does not allow: leave it out, or stand it on a frame of its own")
	}
}

// face returns the size of a treatment's face, along and up, m.
func face(t *model.Treatment) (along, up float64) {
	d := r3.Sub(t.Box.Max, t.Box.Min)
	switch {
	case t.Form == model.OnWall:
		return t.Patch.Width, t.Patch.Height
	case t.Form == model.UnderCeiling:
		return d.X, d.Y
	}
	switch t.Box.Thin() {
	case 0:
		return d.Y, d.Z
	case 1:
		return d.X, d.Z
	}
	return d.X, d.Y
}

// part returns the part of a treatment from (along, up) on, of a size.
func part(t *model.Treatment, along, up, width, height float64) model.Treatment {
	q := *t
	if t.Form == model.OnWall {
		q.Patch.Along, q.Patch.Up, q.Patch.Width, q.Patch.Height = t.Patch.Along+along, t.Patch.Up+up, width, height
		return q
	}
	a, u := 0, 1 // the axes of the face
	if t.Form == model.FreeStanding {
		switch t.Box.Thin() {
		case 0:
			a, u = 1, 2
		case 1:
			a, u = 0, 2
		}
	}
	low := [3]float64{t.Box.Min.X, t.Box.Min.Y, t.Box.Min.Z}
	high := [3]float64{t.Box.Max.X, t.Box.Max.Y, t.Box.Max.Z}
	low[a], low[u] = low[a]+along, low[u]+up
	high[a], high[u] = low[a]+width, low[u]+height
	q.Box.Min, q.Box.Max = r3.Vec{X: low[0], Y: low[1], Z: low[2]}, r3.Vec{X: high[0], Y: high[1], Z: high[2]}
	return q
}

// panels divides a treatment into frames of the size of a batt.
func (m *maker) panels(i int, r recipe) {
	t := &m.project.Room.Treatments[i]
	kind := map[model.Form]Kind{model.OnWall: WallPiece, model.UnderCeiling: CloudPiece, model.FreeStanding: FreePanel}[t.Form]
	if t.Form == model.OnWall && t.Patch.Face == model.Ceiling {
		kind = CeilingPiece
	}
	number, trimmed := 0, false
	surfaces := m.surfaces(t)
	if len(surfaces) > 1 {
		m.note(i, "lies on ", len(surfaces), " planes of the ceiling: its pieces end where their square edges clear each other")
	}
	for _, s := range surfaces {
		along, up := s.face.Bounds()
		w, h := m.grid(r, along.Max-along.Min, up.Max-up.Min)
		for _, f := range divided(s.face, w, h) {
			if kind == CeilingPiece {
				f = blunted(f)
			}
			shape, ok := shapeOf(f, len(m.plan.Pieces))
			if !ok {
				continue // too narrow for a frame
			}
			number++
			trimmed = trimmed || shape.Outline != nil
			m.add(Piece{
				Treatment: i, Number: number, Kind: kind, Space: s.space(f),
				Width: shape.Width, Height: shape.Height, Outline: shape.Outline, Depth: r.depth,
			}, r)
		}
	}
	if trimmed {
		m.note(i, "cut along the slope, ", Metres(model.SlopeClearance), " clear of it: measure the angle on the wall before you cut")
	}
}

// divisions is how many pieces of a size cover a length. A strip too narrow for a piece
// of its own goes with the last.
func divisions(length, size float64) int {
	n := max(1, int(math.Ceil((length-squeeze)/size-1e-9)))
	if n > 1 && length-float64(n-1)*size < leastStrip {
		n--
	}
	return n
}

// side is the length of division i.
func side(length, size float64, i int) float64 {
	if rest := length - float64(i)*size; i == divisions(length, size)-1 && (rest < size || rest > size+squeeze+slack) {
		return rest
	}
	return size
}

// grid returns the size of a piece: a batt upright or lying, whichever way takes fewer
// pieces, then fewer parts that are not whole.
func (m *maker) grid(r recipe, along, up float64) (w, h float64) {
	long, wide := 1.2, 0.6
	if len(r.plies) > 0 {
		b := m.plan.Batts[r.plies[0].batt].Batt
		long, wide = b.Length, b.Width
	}
	cost := func(w, h float64) float64 {
		n := float64(divisions(along, w) * divisions(up, h))
		whole := math.Floor((along+slack)/w) * math.Floor((up+slack)/h)
		return n + (n-whole)/1e3
	}
	upright := [2]float64{handy(wide, along), handy(long, up)}
	lying := [2]float64{handy(long, along), handy(wide, up)}
	if cost(lying[0], lying[1]) < cost(upright[0], upright[1]) {
		return lying[0], lying[1]
	}
	return upright[0], upright[1]
}

// leastPiece is the smallest side of a piece that is worth a frame, and leastStrip that
// of what is left at an end, m. Common practice, no source.
const (
	leastPiece = 0.4
	leastStrip = 0.2
)

// handy is a side of so many batts that a piece is worth a frame, for a face of a length. A face no longer than
// one batt takes one: two would make a frame narrower than the batt that lies in it.
func handy(side, length float64) float64 {
	if length <= side+squeeze {
		if length >= side-squeeze {
			return min(side, length) // a whole batt, pressed in
		}
		return side
	}
	return side * math.Ceil(leastPiece/side-1e-9)
}

// add puts a piece of plain layers into the plan: its wool, film, cloth, boards, frame.
func (m *maker) add(p Piece, r recipe) {
	n := len(m.plan.Pieces)
	m.fillFace(&p, r)
	for _, f := range r.films {
		m.sheet(&m.plan.Films[f], n, p.Width+2*filmWrap, p.Height+2*filmWrap)
		p.Weight = plus(p.Weight, m.filmWeight(f), p.wrapped(filmWrap))
	}
	for _, l := range r.boards {
		m.plan.Boards = append(m.plan.Boards, Board{n, l, p.Width, p.Height})
		p.Weight = plus(p.Weight, boardWeight(l), p.Area())
	}
	p.Weight = m.cover(p.Weight, n, p.Width+2*p.Depth, p.Height+2*p.Depth, p.wrapped(p.Depth+clothWrap))
	p.Weight = m.frame(p.Weight, n, frameMembers(&p, m.plan.Timber))
	m.finish(p, r.gap)
}

// finish adds what follows from size and weight.
func (m *maker) finish(p Piece, gap float64) {
	p.Passes = m.stock.Passage.Admits(p.Size())
	longest, heaviest := max(p.Width, p.Height, p.Depth), p.Weight.High
	if p.Kind == CornerFill { // stacked in its place, slab by slab
		longest, heaviest, p.Passes = 0, 0, true
	}
	if p.Persons = persons(p.Kind, longest, heaviest); p.Outline != nil {
		p.Persons = 2 // one holds it below the slope, one screws
	}
	p.Fixings = fixings(&p, gap, m.stock.Rental)
	m.plan.Pieces = append(m.plan.Pieces, p)
}
