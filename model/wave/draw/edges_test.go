package draw

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/trust"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

// Rooms with edges that jut into the air, against finite volumes on cells of 25 mm: a chimney breast,
// an L, a pillar on and off the borders of cells, and a box with wool behind film and filled corners.
func TestEdgesInFlatRoom(t *testing.T) {
	t.Parallel()
	empty := flatRoom{size: r3.Vec{X: 2, Y: 1.6, Z: 0.1}, air: model.AirAt(0), beta: 0.05}
	solid := func(x0, x1, y0, y1 float64) flatRoom {
		r := empty
		r.blocks = []scene.Solid{{Min: r3.Vec{X: x0, Y: y0}, Max: r3.Vec{X: x1, Y: y1, Z: r.size.Z}}}
		return r
	}
	treated := empty
	treated.size = r3.Vec{X: 2.4, Y: 2, Z: 0.1}
	add := func(x0, x1, y0, y1, sigma float64, faces ...[4]float64) {
		z := treated.size.Z
		treated.wool = append(treated.wool, scene.Porous{
			Min: r3.Vec{X: x0, Y: y0}, Max: r3.Vec{X: x1, Y: y1, Z: z}, PorousVolume: wavetest.Wool(treated.air, sigma),
		})
		for _, f := range faces {
			treated.films = append(treated.films, scene.Film{
				Min: r3.Vec{X: f[0], Y: f[2]}, Max: r3.Vec{X: f[1], Y: f[3], Z: z}, SurfaceMass: 0.1,
			})
		}
	}
	add(2.2, 2.4, 0.4, 1.4, 6e3, [4]float64{2.2, 2.2, 0.4, 1.4})
	add(0, 0.4, 0, 0.4, 8e3, [4]float64{0.4, 0.4, 0, 0.4}, [4]float64{0, 0.4, 0.4, 0.4})
	add(0, 0.4, 1.6, 2, 8e3, [4]float64{0.4, 0.4, 1.6, 2}, [4]float64{0, 0.4, 1.6, 1.6})
	var off [5][3]float64 // by room and limit, the treated room last
	t.Cleanup(func() {
		if t.Failed() {
			return
		}
		var worst [3]float64
		for _, room := range off[:4] {
			for i, rms := range room {
				worst[i] = max(worst[i], rms)
			}
		}
		trust.Seen(t, "`wave`, edges that jut into the room: chimney breast, L, pillar; wool behind film with filled corners",
			"%s dB at worst to 120 / 200 / 240 Hz; with wool %s dB", trust.Figures(2, worst[:]...), trust.Figures(2, off[4][:]...))
	})
	for n, test := range []struct {
		name string
		room flatRoom
		tol  [3]float64 // dB rms to 120, 200 and 240 Hz
	}{
		{"chimney breast", solid(0.9, 1.4, 0, 0.3), [3]float64{0.1, 0.1, 0.1}},
		{"L", solid(1.3, 2, 0, 0.7), [3]float64{0.2, 0.2, 0.2}},
		{"pillar", solid(0.9, 1.2, 0.6, 0.9), [3]float64{0.1, 0.1, 0.2}},
		{"pillar half a cell off", solid(0.85, 1.25, 0.65, 0.95), [3]float64{0.2, 0.2, 0.2}},
		{"wool behind film, filled corners", treated, [3]float64{0.1, 0.25, 0.25}},
	} {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			source, seat := r3.Vec{X: 0.55, Y: 0.75, Z: 0.05}, r3.Vec{X: 1.55, Y: 1.05, Z: 0.05}
			grid := model.NewGrid(24, 240, 9, 0)
			want := test.room.solve(grid, 0.05, source, seat)
			s := scene.Scene{Size: test.room.size, Air: test.room.air, Porous: test.room.wool, Films: test.room.films, Blocks: test.room.blocks}
			s.Walls[model.Front] = scene.Resistive(test.room.beta, s.Air)
			got := solve(t, s, grid, 0.1, source, seat)
			for i, limit := range []float64{120, 200, 240} {
				rms := wavetest.LevelError(grid, got, want, limit)
				off[n][i] = rms
				t.Logf("%.3f dB rms to %g Hz", rms, limit)
				if rms > test.tol[i] {
					t.Errorf("%.3f dB rms to %g Hz, want %.2f", rms, limit, test.tol[i])
				}
			}
		})
	}
}
