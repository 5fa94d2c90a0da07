package floormap

import (
	"math"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/response"
	"evenbass/optimize/geometry"

	"gonum.org/v1/gonum/spatial/r3"
)

// Displaced maps the spread with the chair, and then with the speakers, away from their
// places.
func (v *surveyor) Displaced(l model.Layout) ([]Spread, error) {
	floor := floorAround(l.Seat, Reach, finePitch)
	pairs, err := v.pairs(floor)
	if err != nil {
		return nil, err
	}
	near, _, err := v.evaluate(pairs)
	if err != nil {
		return nil, err
	}
	maps := []Spread{v.chairMap(floor, near, l)}
	seat, err := v.fields(l.Seat)
	if err != nil {
		return nil, err
	}
	for _, move := range v.speakerMoves(l) {
		m, err := v.speakerMap(seat[0], l, move)
		if err != nil {
			return nil, err
		}
		maps = append(maps, m)
	}
	return maps, nil
}

// speakerMoves lists the moves of speakers that a project allows.
func (v *surveyor) speakerMoves(l model.Layout) []speakerMove {
	left := speakerMove{LeftSpeaker, l.Left, func(m *model.Layout, at r3.Vec) { m.Left = at }}
	right := speakerMove{RightSpeaker, l.Right, func(m *model.Layout, at r3.Vec) { m.Right = at }}
	if v.project.Speakers.Fixed {
		return nil
	}
	if v.project.Speakers.Free {
		return []speakerMove{left, right}
	}
	return []speakerMove{{Pair, l.Left, func(m *model.Layout, at r3.Vec) {
		d := r3.Sub(at, l.Left)
		m.Left, m.Right = at, geometry.RoundVec(r3.Vec{X: l.Right.X + d.X, Y: l.Right.Y - d.Y, Z: l.Right.Z})
	}}}
}

// speakerMove says which speakers a map moves, around which place, and how a place makes a
// layout.
type speakerMove struct {
	moved Moved
	from  r3.Vec
	move  func(l *model.Layout, at r3.Vec)
}

// speakerMap maps the spread at a seat over the places of a speaker.
func (v *surveyor) speakerMap(seat model.Field, l model.Layout, w speakerMove) (Spread, error) {
	m := Spread{Floor: floorAround(w.from, Reach, finePitch), Moved: w.moved, Goal: v.project.Goal}
	m.Spread = make([]model.Level, m.Len())
	layout := func(n int) model.Layout {
		moved := l
		w.move(&moved, m.Place(n))
		return moved
	}
	err := concurrent.Each(m.Len(), func(n int) error {
		m.Spread[n] = model.Level(math.NaN())
		o := layout(n)
		if !InAir(&v.project.Room, o.Left) || !InAir(&v.project.Room, o.Right) {
			return v.ctx.Err()
		}
		pair := response.Pair{Left: seat.Transfer(nil, o.Left), Right: seat.Transfer(nil, o.Right)}
		if s := v.reader.Spread(pair, new(response.Scratch)); !math.IsInf(float64(s), 0) {
			m.Spread[n] = s
		}
		return v.ctx.Err()
	})
	m.findRules(v.project, layout)
	return m, err
}
