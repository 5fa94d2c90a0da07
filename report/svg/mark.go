package svg

import (
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// mark is one of the three places of a layout that get a mark on the floor.
type mark struct {
	Name  string // "left woofer"
	Short string // "L", as the drawings write it
	At    r3.Vec // m
	Of    func(model.Layout) r3.Vec
}

// Marks returns the two woofers and the seat of a layout.
func Marks(l model.Layout) [3]mark {
	m := [3]mark{
		{Name: "left woofer", Short: "L", Of: func(l model.Layout) r3.Vec { return l.Left }},
		{Name: "right woofer", Short: "R", Of: func(l model.Layout) r3.Vec { return l.Right }},
		{Name: "seat", Short: "S", Of: func(l model.Layout) r3.Vec { return l.Seat }},
	}
	for i := range m {
		m[i].At = m[i].Of(l)
	}
	return m
}
