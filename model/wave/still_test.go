package wave

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

// A pressure that is the same everywhere stays: in a hard room with wool behind film, whose
// other tones are soon gone, seconds of small steps do not raise it out of the rounding of
// the weights.
func TestStillAirStaysStill(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	s := Scene{Size: r3.Vec{X: 1.5, Y: 1.2, Z: 0.4}, Air: air}
	end := r3.Vec{X: 0.42, Y: 0.42, Z: s.Size.Z}
	s.Porous = []Porous{{Max: end, PorousVolume: wool(air, 6e3), Known: true}}
	s.Films = []Film{
		{Min: r3.Vec{X: end.X}, Max: end, SurfaceMass: 0.092, Known: true},
		{Min: r3.Vec{Y: end.Y}, Max: end, SurfaceMass: 0.092, Known: true},
	}
	place := r3.Vec{X: 1, Y: 0.55, Z: 0.02}
	solve(t, s, model.Grid{40, 100}, 0.05, place, r3.Vec{X: 1.25, Y: 0.9, Z: 0.02}) // warns of a run that was cut

	for _, cell := range []float64{0.05, 0.07, 0.1} {
		l := newLattice(s.Size, cell)
		for _, ct := range []float64{0.5, 0.6, 0.7, 0.8} {
			k := newStencil(&l, ct*ct*cell*cell)
			sum := float64(k.self) + 2*(float64(k.x)+float64(k.y)+float64(k.z)) + 4*(float64(k.xy)+float64(k.xz)+float64(k.yz))
			if sum > 2 || sum < 2-3e-7 {
				t.Errorf("cells of %g m, steps of %g: the weights come to 2%+.2g, want 2 or a hair less", cell, ct, sum-2)
			}
		}
	}
}
