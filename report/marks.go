package report

import (
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// mark is one of the three places of a layout that get a mark on the floor.
type mark struct {
	name  string // "left woofer"
	short string // "L", as the drawings write it
	at    r3.Vec // m
	of    func(model.Layout) r3.Vec
}

// marks returns the two woofers and the seat of a layout.
func marks(l model.Layout) [3]mark {
	m := [3]mark{
		{name: "left woofer", short: "L", of: func(l model.Layout) r3.Vec { return l.Left }},
		{name: "right woofer", short: "R", of: func(l model.Layout) r3.Vec { return l.Right }},
		{name: "seat", short: "S", of: func(l model.Layout) r3.Vec { return l.Seat }},
	}
	for i := range m {
		m[i].at = m[i].of(l)
	}
	return m
}
