package svg

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/unit"
)

// View maps room coordinates to a drawing.
type View struct {
	Origin Point   // where the room's origin is
	Scale  float64 // drawing units per metre
	Side   bool    // x runs to the right and z up; otherwise y to the right and x down
}

// String writes the view for a script: what is seen, where the room's origin is, and the
// drawing's units per metre, "plan 68 62 104.9".
func (v View) String() string {
	name := "plan"
	if v.Side {
		name = "side"
	}
	return fmt.Sprintf("%s %g %g %g", name, unit.Round(v.Origin.X, 3), unit.Round(v.Origin.Y, 3), unit.Round(v.Scale, 4))
}

// At returns where a place shows.
func (v View) At(p r3.Vec) Point {
	if v.Side {
		return XY(v.Origin.X+p.X*v.Scale, v.Origin.Y-p.Z*v.Scale)
	}
	return XY(v.Origin.X+p.Y*v.Scale, v.Origin.Y+p.X*v.Scale)
}

// Box returns where a block shows.
func (v View) Box(k model.Block) Rectangle {
	a, b := v.At(k.Min), v.At(k.Max)
	return RectAt(min(a.X, b.X), min(a.Y, b.Y), math.Abs(a.X-b.X), math.Abs(a.Y-b.Y))
}
