package march

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model/material/fit"
	"evenbass/model/wave/vector"
)

// branchSum is a wall by the equations that [wallGroup] states, in double precision: for
// each branch
//
//	M (u after - u)/T + R (u after + u)/2 + K T Σu = p_w
//
// with the pressure p_w at the wall that their sum leaves.
type branchSum struct {
	list    []fit.Branch
	step    float64
	air     float64 // ρd/T
	u, path []float64
}

// march takes one step under pressure p and returns the change of the velocity.
func (s *branchSum) march(p float64) float64 {
	var compliance, own float64
	velocity := make([]float64, len(s.list))
	for i, b := range s.list {
		mass := max(b.Mass, b.Stiffness*s.step*s.step/4)
		velocity[i] = 1 / (mass/s.step + b.Resistance/2)
		compliance += velocity[i]
		own += velocity[i] * (b.Resistance*s.u[i] + b.Stiffness*s.step*s.path[i])
	}
	change := (compliance*p - own) / (1 + s.air*compliance)
	at := p - s.air*change
	for i, b := range s.list {
		s.u[i] += velocity[i] * (at - b.Resistance*s.u[i] - b.Stiffness*s.step*s.path[i])
		s.path[i] += s.u[i]
	}
	return change
}

// Walls of every kind of branch against the equations as they stand, by either kernel,
// in a row and loose: through a burst and long after it.
func TestWallMotion(t *testing.T) {
	t.Parallel()
	const step, gain, air = 1.7e-4, 3.0, 350.0
	list := []fit.Branch{
		{Mass: 10, Resistance: 400, Stiffness: 2e6}, {Resistance: 12e3}, {Mass: 3, Stiffness: 5e5},
		{Mass: 0.01, Resistance: 50, Stiffness: 1e9},   // with the mass that holds its spring
		{Mass: 200, Resistance: 0.05, Stiffness: 2e-3}, // with a spring that is left out
	}
	const plane = 1000
	for _, vectors := range []bool{false, vector.Available()} {
		g := newWallGroup(fit.Branches{List: list}, step)
		var pieces []wallPiece
		for _, cell := range []int{20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 50, 60, 61, 75, 90} {
			pieces = append(pieces, wallPiece{cell, gain, air})
		}
		g.batch(pieces)
		y := &System{walls: []*wallGroup{g}, vectors: vectors}
		z := &state{behind: []wallMotion{g.rest()}}
		now, next := make([]float32, plane), make([]float32, plane)
		want := branchSum{list: list, step: step, air: air, u: make([]float64, len(list)), path: make([]float64, len(list))}
		rng := rand.New(rand.NewPCG(7, 8))
		var most, worst float64
		for n := range 2000 {
			p := 0.0
			if n < 100 {
				p = rng.NormFloat64()
			}
			for i := range now {
				now[i], next[i] = float32(p), 0
			}
			y.moveWalls(z, next, now)
			change := -gain * want.march(float64(float32(p)))
			most = max(most, math.Abs(change))
			for _, piece := range pieces {
				worst = max(worst, math.Abs(float64(next[piece.cell])-change))
				next[piece.cell] = 0
			}
			for i, p := range next {
				if p != 0 {
					t.Fatalf("vectors %v: cell %d, which has no wall, got %v", vectors, i, p)
				}
			}
		}
		if worst > 1e-5*most {
			t.Errorf("vectors %v: off by %.2g of %.2g", vectors, worst, most)
		}
	}
}

// Which faces share a batch changes no bit, though a cell may have several faces of one
// surface, in rows and loose: the faces of each plane as a group of their own do the same.
func TestWallBatches(t *testing.T) {
	t.Parallel()
	b := fit.Branches{List: []fit.Branch{{Mass: 10, Resistance: 400, Stiffness: 2e6}, {Resistance: 12e3}}}
	rapid.Check(t, func(t *rapid.T) {
		const plane, planes = 40, 4
		cells := rapid.SliceOfN(rapid.IntRange(0, planes*plane-1), 1, 150).Draw(t, "cells")
		slices.Sort(cells)
		var all []wallPiece
		parts := make([][]wallPiece, planes)
		for i, cell := range cells {
			p := wallPiece{cell, 1 + float64(i%7), 300 + float64(i%5)}
			all, parts[cell/plane] = append(all, p), append(parts[cell/plane], p)
		}
		vectors := rapid.SampledFrom([]bool{false, vector.Available()}).Draw(t, "vectors")
		walls := func(lists ...[]wallPiece) (*System, *state) {
			y, z := &System{vectors: vectors}, &state{}
			for _, pieces := range lists {
				g := newWallGroup(b, 1.7e-4)
				g.batch(pieces)
				y.walls, z.behind = append(y.walls, g), append(z.behind, g.rest())
			}
			return y, z
		}
		whole, moving := walls(all)
		apart, movingApart := walls(parts...)
		now := noise(t, planes*plane+vector.Lanes)
		want, got := make([]float32, len(now)), make([]float32, len(now))
		for range 5 {
			whole.moveWalls(moving, want, now)
			apart.moveWalls(movingApart, got, now)
			if !slices.Equal(got, want) {
				t.Fatalf("faces of cells %v differ by %v from %v", cells, got, want)
			}
		}
	})
}
