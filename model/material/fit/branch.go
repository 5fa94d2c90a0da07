package fit

import (
	"fmt"
	"math"

	"evenbass/model"
)

// Branch is a mass, a resistance and a spring in series, per area of wall:
//
//	Z = jωM + R + K/(jω)
//
// It is the form in which a time-domain solver can carry a wall: velocity and
// displacement are its only memory. A branch with all three at zero or more is
// passive.
type Branch struct {
	Mass       float64 // M, kg/m²
	Resistance float64 // R, Pa·s/m
	Stiffness  float64 // K, Pa/m
}

// Impedance returns Z in Pa·s/m at frequency f in Hz.
func (b Branch) Impedance(f float64) complex128 {
	w := 2 * math.Pi * f
	return complex(b.Resistance, w*b.Mass-b.Stiffness/w)
}

// Passive reports whether none of the three is negative and at least one is
// above zero.
func (b Branch) Passive() bool {
	return b.Mass >= 0 && b.Resistance >= 0 && b.Stiffness >= 0 &&
		b.Mass+b.Resistance+b.Stiffness > 0
}

// String gives the three figures with their units.
func (b Branch) String() string {
	return fmt.Sprintf("%.4g kg/m², %.4g Pa·s/m, %.4g Pa/m", b.Mass, b.Resistance, b.Stiffness)
}

// Branches is a wall as several branches in parallel: one pressure drives them
// all and their velocities add. No branches is a rigid wall.
type Branches struct {
	Air  model.Air // of the room that the wall faces; gives ρc
	List []Branch
}

// Admittance implements [model.Boundary]:
//
//	β = ρc Σ 1/(jωM + R + K/(jω))
func (b Branches) Admittance(f float64) complex128 {
	var sum complex128
	for i := range b.List {
		sum += 1 / b.List[i].Impedance(f)
	}
	return complex(b.Air.Impedance(), 0) * sum
}

// Passive reports whether every branch is passive. Then so is the wall.
func (b Branches) Passive() bool {
	for _, branch := range b.List {
		if !branch.Passive() {
			return false
		}
	}
	return true
}
