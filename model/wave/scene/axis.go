package scene

import "gonum.org/v1/gonum/spatial/r3"

// Components returns the three coordinates as an array.
func Components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }

// Vec is the inverse of vector.
func Vec(x [3]float64) r3.Vec { return r3.Vec{X: x[0], Y: x[1], Z: x[2]} }

// OtherAxes returns the two axes beside a.
func OtherAxes(a int) (b, c int) { return (a + 1) % 3, (a + 2) % 3 }
