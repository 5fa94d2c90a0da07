package optimize

import (
	"math"

	"evenbass/model"
	"evenbass/model/response"

	"gonum.org/v1/gonum/spatial/r3"
)

// correctedAbout maps the spread with the chair, and then with the speakers, off their places.
func (v *surveyor) correctedAbout(l model.Layout) ([]SpreadMap, error) {
	floor := floorAbout(l.Seat, SurveyReach, finePace)
	near, _, err := v.fillSeats(floor)
	if err != nil {
		return nil, err
	}
	maps := []SpreadMap{v.chairMap(floor, near, l)}
	seat, err := v.fields(l.Seat)
	if err != nil {
		return nil, err
	}
	for _, way := range v.ways(l) {
		m, err := v.speakerMap(seat[0], l, way)
		if err != nil {
			return nil, err
		}
		maps = append(maps, m)
	}
	return maps, nil
}

// ways lists what speakers a project lets move by themselves.
func (v *surveyor) ways(l model.Layout) []speakerWay {
	left := speakerWay{TheLeft, l.Left, func(m *model.Layout, at r3.Vec) { m.Left = at }}
	right := speakerWay{TheRight, l.Right, func(m *model.Layout, at r3.Vec) { m.Right = at }}
	if v.project.Speakers.Fixed {
		return nil
	}
	if v.project.Speakers.Free {
		return []speakerWay{left, right}
	}
	return []speakerWay{{ThePair, l.Left, func(m *model.Layout, at r3.Vec) {
		d := r3.Sub(at, l.Left)
		m.Left, m.Right = at, tidyVec(r3.Vec{X: l.Right.X + d.X, Y: l.Right.Y - d.Y, Z: l.Right.Z})
	}}}
}

// speakerWay is what a map of speakers moves: about which place, and how a place makes
// a layout.
type speakerWay struct {
	moved Moved
	about r3.Vec
	move  func(l *model.Layout, at r3.Vec)
}

// speakerMap maps the spread at a seat over the places of a speaker.
func (v *surveyor) speakerMap(seat model.Field, l model.Layout, w speakerWay) (SpreadMap, error) {
	m := SpreadMap{Floor: floorAbout(w.about, SurveyReach, finePace), Moved: w.moved, Layout: l, Goal: v.project.Goal}
	m.Spread = make([]model.Level, m.Len())
	layout := func(n int) model.Layout {
		moved := l
		w.move(&moved, m.Place(n))
		return moved
	}
	err := parallel(m.Len(), func(n int) error {
		m.Spread[n] = model.Level(math.NaN())
		o := layout(n)
		if !airy(&v.project.Room, o.Left) || !airy(&v.project.Room, o.Right) {
			return v.ctx.Err()
		}
		pair := response.Pair{Left: seat.Transfer(nil, o.Left), Right: seat.Transfer(nil, o.Right)}
		if s := v.reader.Spread(pair, new(response.Scratch)); !math.IsInf(float64(s), 0) {
			m.Spread[n] = s
		}
		return v.ctx.Err()
	})
	m.judge(v.project, layout)
	return m, err
}
