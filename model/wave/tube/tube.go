// Package tube is an impedance tube made of the solver's cells. It shows how well cells
// represent layers: put them at the far end of a [Scene], and [Reflection] returns the
// reflection factor that the cells give them.
package tube

import (
	"context"
	"math"
	"math/cmplx"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/solver"
)

// Scene returns a hard tube along x, one cell wide, that absorbs everything at x = 0 and so rings
// out quickly. Put the sample at its far end, no deeper than depth in m. The cells are cubes of the
// given size in m and meet the end wall as they would in a room.
func Scene(air model.Air, cell, depth float64) scene.Scene {
	length := cell * math.Ceil((secondAt+0.2+max(depth, 1.2))/cell-1e-6)
	s := scene.Scene{Size: r3.Vec{X: length, Y: cell, Z: cell}, Air: air}
	s.Walls[model.Front] = scene.Resistive(1, air)
	return s
}

// Places of the source and of the two pressures, m.
const (
	sourceAt = 0.5
	firstAt  = 1.2
	secondAt = 1.6
)

// Grid is the frequencies at which tubes are compared, Hz.
var Grid = model.Grid{31.5, 40, 50, 63, 80, 100, 125, 160, 200, 250, 300}

// Reflection runs a tube and returns the reflection factor at normal incidence of its last depth in
// m, from the pressures at two places (transfer-function method, ISO 10534-2), with warnings about
// the sample. Its errors are those of [solver.New] and [solver.Engine.Run].
func Reflection(s scene.Scene, grid model.Grid, cell, depth float64) ([]complex128, []model.Warning, error) {
	on := func(x float64) r3.Vec { return r3.Vec{X: x, Y: s.Size.Y / 2, Z: s.Size.Z / 2} }
	first, second := on(firstAt), on(secondAt)
	e, err := solver.New(s, grid, solver.Settings{Cell: cell, Zones: []model.Block{{Min: first, Max: second}}})
	if err != nil {
		return nil, nil, err
	}
	f, err := e.Run(context.Background(), on(sourceAt)) // short: the tube rings out at once
	if err != nil {
		return nil, nil, err
	}
	p1, p2 := f.Transfer(nil, first), f.Transfer(nil, second)
	r := make([]complex128, len(grid))
	for i, hz := range grid {
		k := 2 * math.Pi * hz / s.Air.Speed
		h := p2[i] / p1[i]
		// p = e^{-jk(x-front)} + R e^{jk(x-front)} at both places.
		wave := func(x, sign float64) complex128 {
			return cmplx.Exp(complex(0, sign*k*(x-(s.Size.X-depth))))
		}
		r[i] = (wave(secondAt, -1) - h*wave(firstAt, -1)) / (h*wave(firstAt, 1) - wave(secondAt, 1))
	}
	return r, e.Warnings(), nil
}
