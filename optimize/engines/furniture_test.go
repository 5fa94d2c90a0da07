package engines

import (
	"context"
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/wave"
)

// A sofa in the middle of the floor absorbs as many m² as upholstered seats on that floor, and filled shelves as many
// as a hard irregular object of their volume, at 125 and 250 Hz. What they add is read off how much the mean square
// pressure of a room with 6 m² falls, which is as 1 over the absorption (Sabine; Kuttruff, Room
// Acoustics).
func TestFurnitureAbsorbs(t *testing.T) {
	t.Parallel()
	bare := loudness(t, furnished())
	sofa := furnishing(model.Sofa, r3.Vec{X: 2.2, Y: 1}, r3.Vec{X: 3.1, Y: 3, Z: 0.85})
	shelves := furnishing(model.Shelves, r3.Vec{X: 1, Y: 3.8}, r3.Vec{X: 3, Y: 4.1, Z: 1.9})
	object := math.Pow(2*0.3*1.9, 2.0/3) // EN 12354-6:2003, from memory
	for _, c := range []struct {
		piece     model.Furnishing
		low, high [2]float64 // m²
	}{
		{sofa, [2]float64{0.40 * 1.8, 0.50 * 1.8}, [2]float64{0.70 * 1.8, 0.76 * 1.8}}, // Vorländer, Auralization (2008), appendix
		{shelves, [2]float64{object, object}, [2]float64{object, object}},
	} {
		with := loudness(t, furnished(c.piece))
		for i, octave := range octaves {
			added := bareArea * (bare[i]/with[i] - 1)
			t.Logf("%v, %v Hz: %.2f m², published %.2f to %.2f", c.piece.Kind, octave, added, c.low[i], c.high[i])
			if added < c.low[i]/2 || added > 2*c.high[i] {
				t.Errorf("%v absorbs %.2f m² in %v Hz, published are %.2f to %.2f", c.piece.Kind, added, octave, c.low[i], c.high[i])
			}
		}
	}
}

// A rug, a curtain and a diffuser change nothing: the room stays a plain box without absorbers.
func TestInertFurnitureLeavesTheRoom(t *testing.T) {
	p := furnished(
		furnishing(model.Rug, r3.Vec{X: 1, Y: 1}, r3.Vec{X: 3, Y: 3}),
		furnishing(model.Curtain, r3.Vec{Y: 1}, r3.Vec{X: 0.1, Y: 3, Z: 2.4}),
		furnishing(model.Diffuser, r3.Vec{X: 5, Y: 1, Z: 1}, r3.Vec{X: 5.2, Y: 3, Z: 2}),
	)
	if why := Irregular(&p.Room); why != "" || len(p.KeepClear) != 3 {
		t.Errorf("needs the wave solver because %s, keeps %v clear", why, p.KeepClear)
	}
	if why := Irregular(&furnished(furnishing(model.Bed, r3.Vec{X: 1, Y: 1}, r3.Vec{X: 3, Y: 2, Z: 0.5})).Room); why != "the room contains furniture that absorbs" {
		t.Errorf("a bed gives %q", why)
	}
}

// octaves are the ends of the bands in Hz, the second cut off where predictions end.
var octaves = [2][2]float64{{88, 177}, {177, 310}}

// bareArea is what the bare room absorbs, m²: its surface times the statistical absorption of a wall of ζ = 120,
// which is 0.062 (Paris 1928).
const bareArea = 92.86 * 0.062

func furnishing(k model.FurnitureKind, from, to r3.Vec) model.Furnishing {
	return model.Furnishing{Block: model.Block{Min: from, Max: to, Furniture: model.Furniture{Kind: k, Item: 1}}}
}

func furnished(list ...model.Furnishing) *model.Project {
	p := &model.Project{Room: model.Room{Size: r3.Vec{X: 5.2, Y: 4.1, Z: 2.7}}}
	for f := range p.Room.Walls {
		p.Room.Walls[f].Impedance = 120
	}
	for _, f := range list {
		p.Furnish(f)
	}
	return p
}

// loudness returns the squared pressure in each octave, summed over places away from the source.
func loudness(t *testing.T, p *model.Project) (sum [2]float64) {
	t.Helper()
	var grid model.Grid
	for f := octaves[0][0]; f <= octaves[1][1]; f += 0.5 {
		grid = append(grid, f)
	}
	room, err := NewRoom(p, material.Typical, grid, wave.Settings{Cell: 0.13, Fall: 45})
	if err != nil {
		t.Fatal(err)
	}
	field, err := room.Field(context.Background(), r3.Vec{X: 0.3, Y: 0.4, Z: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	part := func(i int, step float64) float64 { return math.Mod(float64(i)*step, 1) } // spread evenly over 0 to 1
	for i := range 60 {
		at := r3.Vec{X: 1.2 + 3.6*part(i, 0.618), Y: 0.4 + 3.2*part(i, 0.755), Z: 1.0 + 1.4*part(i, 0.570)}
		for k, v := range field.Transfer(nil, at) {
			for o, band := range octaves {
				if grid[k] >= band[0] && grid[k] < band[1] {
					sum[o] += math.Pow(cmplx.Abs(v), 2)
				}
			}
		}
	}
	return sum
}
