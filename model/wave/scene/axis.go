package scene

import "gonum.org/v1/gonum/spatial/r3"

// Components returns the three coordinates of a vector.
func Components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// Vec returns the vector of three coordinates.
func Vec(x [3]float64) r3.Vec { return r3.Vec{X: x[0], Y: x[1], Z: x[2]} }

// OtherAxes returns the two axes other than a.
func OtherAxes(a int) (b, c int) { return (a + 1) % 3, (a + 2) % 3 }
