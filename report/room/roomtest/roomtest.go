// Package roomtest holds invented walls and modes for the tests of pages. A size in m goes in; out come rows as
// [room.Walls] and [room.Modes] would give them, without their engines. Nothing but tests imports it.
package roomtest

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/report/room"
)

// Walls is what is assumed of six walls of our own invention.
func Walls() []room.Wall {
	brick := bands([4]float64{63, 0.01, 0.02, 0.03}, [4]float64{125, 0.02, 0.03, 0.04}, [4]float64{250, 0.02, 0.03, 0.05})
	studs := bands([4]float64{63, 0.15, 0.25, 0.35}, [4]float64{125, 0.15, 0.22, 0.30}, [4]float64{250, 0.06, 0.09, 0.12})
	boards := bands([4]float64{63, 0.10, 0.15, 0.20}, [4]float64{125, 0.10, 0.15, 0.20}, [4]float64{250, 0.08, 0.10, 0.12})
	const source, reach = "a handbook row named here", "63 Hz is extrapolated from 125 Hz"
	return []room.Wall{
		wall("front wall", 8.1, "brick plastered", brick, source, reach),
		wall("back wall", 8.1, "plasterboard on studs, with a hollow door", studs, source, reach),
		wall("left wall", 10.5, "brick plastered, with double glazing", brick, source, reach),
		wall("right wall", 10.5, "plasterboard on studs", studs, source, reach),
		wall("floor", 14.2, "timber on joists", boards, source, reach),
		wall("ceiling", 14.2, "plasterboard on joists", studs, source, ""),
	}
}

func bands(rows ...[4]float64) []room.Band {
	out := make([]room.Band, len(rows))
	for i, r := range rows {
		out[i] = room.Band{Frequency: r[0], Low: r[1], Typical: r[2], High: r[3]}
	}
	return out
}

func wall(name string, area float64, taken string, absorption []room.Band, source, reach string) room.Wall {
	return room.Wall{Name: name, Area: area, Taken: taken, Absorption: absorption, Source: source, Reach: reach}
}

// Modes lists the rigid room's modes by f = c/2 sqrt(Σ(n/L)²).
func Modes(size r3.Vec) []room.Mode {
	kinds := [4]string{"", "axial", "tangential", "oblique"}
	var modes []room.Mode
	for i := 0; i < 12; i++ {
		for j := 0; j < 12; j++ {
			for k := 0; k < 12; k++ {
				f := 343.2 / 2 * math.Sqrt(math.Pow(float64(i)/size.X, 2)+math.Pow(float64(j)/size.Y, 2)+math.Pow(float64(k)/size.Z, 2))
				if f == 0 || f > 300 {
					continue
				}
				count := min(i, 1) + min(j, 1) + min(k, 1)
				modes = append(modes, room.Mode{
					Index: [3]int{i, j, k}, Kind: kinds[count], Frequency: f, Decay: (1.1 - 0.12*float64(count)) / (1 + f/250),
					Seat: math.Abs(math.Cos(float64(i) * math.Pi * 2.12 / size.X)),
				})
			}
		}
	}
	sort.SliceStable(modes, func(i, j int) bool { return modes[i].Frequency < modes[j].Frequency })
	return modes
}
