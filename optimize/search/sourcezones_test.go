package search

import (
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// Whatever a genome says, its woofers are within reach, and so are they 5 cm off; with a
// pair that stands to either side, the middle of the room is not.
func TestReachHoldsWhatIsAskedFor(t *testing.T) {
	t.Parallel()
	for name, p := range map[string]*model.Project{"mirrored": testroom.Studio(), "small": testroom.Small(), "sofa": testroom.SofaRoom(1)} {
		reach, err := SourceZones(p, score.Displacement)
		if err != nil {
			t.Fatal(err)
		}
		b, err := NewProblem(p)
		if err != nil {
			t.Fatal(err)
		}
		rapid.Check(t, func(t *rapid.T) {
			g := rapid.SliceOfN(rapid.Float64Range(0, 1), b.dim, b.dim).Draw(t, "genes")
			l := b.decode(g)
			s := score.Scorer{Shift: 0.05, Size: p.Room.Size}
			for _, around := range [2][5]r3.Vec{s.Displaced(l.Left), s.Displaced(l.Right)} {
				for _, v := range around {
					rounding := r3.Vec{X: 1e-9, Y: 1e-9, Z: 1e-9}
					if !slices.ContainsFunc(reach, func(r model.Block) bool {
						return model.Block{Min: r3.Sub(r.Min, rounding), Max: r3.Add(r.Max, rounding)}.Contains(v)
					}) {
						t.Fatalf("%s: %v is in none of %v", name, v, reach)
					}
				}
			}
		})
	}
}
