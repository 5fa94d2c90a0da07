package stage

import (
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/optimize/score"
)

// allowed reports whether a treatment may be built: the room has space for it, the stock
// allows it, and the layout breaks no further rule.
func (t *builder) allowed(piece model.Treatment) bool {
	if len(t.project.Obstructions(&piece)) > 0 || t.coldFilm(&piece) {
		return false
	}
	if _, err := t.project.With(&model.Option{Add: []model.Treatment{piece}}); err != nil {
		return false
	}
	space := t.project.Room.Space(&piece)
	for i := range t.project.Room.Treatments {
		if space.Overlaps(t.project.Room.Space(&t.project.Room.Treatments[i])) {
			return false
		}
	}
	return !t.takesNeededRoom(space)
}

// coldFilm reports whether a treatment puts film on a wall that may be cold outside, where damp condenses.
func (t *builder) coldFilm(piece *model.Treatment) bool {
	if !slices.ContainsFunc(piece.Layers, func(l model.Layer) bool { return l.Kind == model.FilmLayer }) {
		return false
	}
	const near = 0.05 // m: in a narrower gap no air circulates
	space, size := t.project.Room.Space(piece), t.project.Room.Size
	for _, f := range t.project.Room.Outer {
		off := map[model.Face]float64{
			model.Front: space.Min.X, model.Back: size.X - space.Max.X, model.Left: space.Min.Y, model.Right: size.Y - space.Max.Y,
			model.Floor: space.Min.Z, model.Ceiling: size.Z - space.Max.Z,
		}[f]
		if off < near && f != model.Floor {
			return true
		}
	}
	return false
}

// takesNeededRoom reports whether a treatment takes room that the pair or a seat needs.
func (t *builder) takesNeededRoom(space model.Block) bool {
	heads := []r3.Vec{t.layout.Seat}
	for i := range score.OtherSeats(t.project) {
		heads = append(heads, score.SeatPlace(t.project, i+1, t.layout))
	}
	for _, at := range heads {
		if space.Overlaps(model.Block{Min: r3.Sub(at, ones(seatSpace)), Max: r3.Add(at, ones(seatSpace))}) {
			return true
		}
	}
	q := *t.project
	q.KeepClear = append(q.KeepClear[:len(q.KeepClear):len(q.KeepClear)], space)
	for _, b := range q.Breaches(t.layout) {
		if !t.before[b.Rule] {
			return true
		}
	}
	return false
}

// seatSpace is how far around the ears nothing is built, m. Our own choice.
const seatSpace = 0.35

func ones(v float64) r3.Vec { return r3.Vec{X: v, Y: v, Z: v} }
