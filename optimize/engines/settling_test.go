package engines

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/optimize/testroom"
)

// In a room that rings for seconds, runs that end 30 dB down once they are long enough for the goal
// print the spreads of runs to 70 dB, in a fraction of their time. In a damped room nothing
// changes, since no run lasts so long.
func TestSettledRunsKeepTheSpread(t *testing.T) {
	for _, c := range []struct {
		name, room  string
		bare        bool
		least, most float64 // share of the time
	}{
		{"with wool", "concrete-cellar", false, 0.2, 0.35},
		{"bare concrete", "concrete-cellar", true, 0.25, 0.4},
		{"damped", "treated-room", false, 1, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			p := testroom.Read(t, c.room)
			if c.bare {
				p.Room.Treatments = nil
			}
			grid := Grid(t.Context(), p)
			whole, lasted := spreadsOf(t, p, grid, wave.Settings{Longest: 15})
			settled, seconds := spreadsOf(t, p, grid, wave.Settings{Longest: 15, SettlingTime: response.SettlingTime(p.Goal)})
			worst := farthest(whole, settled)
			t.Logf("%.2f s of sound against %.2f s, spreads %.4f dB off at worst", seconds, lasted, worst)
			if worst > 0.04 {
				t.Errorf("the spread is %.3f dB off", worst)
			}
			if share := seconds / lasted; share < c.least || share > c.most {
				t.Errorf("runs last %.2f s, and %.2f s to their end", seconds, lasted)
			}
		})
	}
}

// farthest returns the largest difference of two lists.
func farthest(a, b []float64) float64 { return floats.Distance(a, b, math.Inf(1)) }

// levelsOnly is a convergence where no decays are read.
func levelsOnly(goal model.Goal, tolerance model.Level) wave.Convergence {
	c := Runs(goal, tolerance).Convergence
	c.Decays = false
	return c
}

// spreadsOf returns the spreads of nine layouts by runs with the given settings, and how long a run
// lasts, s.
func spreadsOf(t *testing.T, p *model.Project, grid model.Grid, s wave.Settings) (spreads []float64, seconds float64) {
	t.Helper()
	s.Cell, s.Zones = 0.25, SearchZones(p)
	room, err := wave.NewRoom(&p.Room, material.Typical, grid, s)
	if err != nil {
		t.Fatal(err)
	}
	r := response.NewReader(grid, room.Air(), p.Goal)
	middle := p.Room.Size.Y / 2
	for _, x := range []float64{1.6, 2.1, 2.5} {
		f, err := room.Field(t.Context(), r3.Vec{X: x, Y: middle, Z: 1.15})
		if err != nil {
			t.Fatal(err)
		}
		seconds += f.(interface{ Seconds() float64 }).Seconds() / 3
		for _, off := range []float64{0.6, 0.8, 1} {
			left := f.Transfer(nil, r3.Vec{X: 0.6, Y: middle - off, Z: 1.01})
			right := f.Transfer(nil, r3.Vec{X: 0.6, Y: middle + off, Z: 1.01})
			spreads = append(spreads, float64(r.Spread(response.Pair{Left: left, Right: right}, new(response.Scratch))))
		}
	}
	return spreads, seconds
}

// A goal without smoothing has no window to hide in.
func TestSettlingTime(t *testing.T) {
	if v := response.SettlingTime(model.Goal{From: 30, To: 300}); v != 0 {
		t.Errorf("without smoothing %v s are enough", v)
	}
	twelfth, third := response.SettlingTime(model.Goal{From: 30, To: 300, Smoothing: 12}), response.SettlingTime(model.Goal{From: 30, To: 300, Smoothing: 3})
	if math.Abs(twelfth-2.32) > 0.01 || !(third < twelfth/3.9) {
		t.Errorf("%.2f s for 1/12 octave from 30 Hz, %.2f s for 1/3", twelfth, third)
	}
}

// Runs that end when levels have converged print the spreads of runs to 70 dB, in less of their time. So do
// coarse ones, but for what their cells leave open anyway.
func TestConvergedRunsKeepTheSpread(t *testing.T) {
	for _, c := range []struct {
		name      string
		tolerance model.Level
		worst     float64 // dB
	}{{"shown", Tolerance, 0.03}, {"coarse", CoarseTolerance, 0.12}} {
		for _, room := range []struct {
			name string
			bare bool
		}{{"treated-room", false}, {"l-room", false}, {"sloped-attic", false}, {"concrete-cellar", false}, {"concrete-cellar", true}} {
			t.Run(fmt.Sprintf("%s %s bare=%v", c.name, room.name, room.bare), func(t *testing.T) {
				t.Parallel()
				p := testroom.Read(t, room.name)
				if room.bare {
					p.Room.Treatments = nil
				}
				grid := Grid(t.Context(), p)
				whole, lasted := spreadsOf(t, p, grid, wave.Settings{Longest: 15})
				converged, seconds := spreadsOf(t, p, grid, wave.Settings{Longest: 15, Convergence: levelsOnly(p.Goal, c.tolerance)})
				worst := farthest(whole, converged)
				t.Logf("%.2f s of sound against %.2f s, spreads %.4f dB off at worst", seconds, lasted, worst)
				if worst > c.worst {
					t.Errorf("the spread is %.3f dB off", worst)
				}
				if !(seconds < 0.95*lasted) {
					t.Errorf("runs last %.2f s, and %.2f s to their end", seconds, lasted)
				}
			})
		}
	}
}

// Where one slow mode hides in a damped room, or few walls absorb, converged levels are those of runs to 80 dB as
// well: flutter between floor and ceiling, a long passage with open sides, concrete with one open side.
func TestConvergedRunsKeepLevels(t *testing.T) {
	for _, c := range []struct {
		name  string
		size  r3.Vec
		walls [6]string // in the order of the faces
	}{
		{"flutter", r3.Vec{X: 4.4, Y: 3.3, Z: 2.5}, [6]string{"open", "open", "open", "open", "concrete", "concrete"}},
		{"passage", r3.Vec{X: 7.4, Y: 2.3, Z: 2.2}, [6]string{"concrete", "open", "concrete", "open", "concrete", "plasterboard on studs"}},
		{"concrete", r3.Vec{X: 4.4, Y: 3.3, Z: 2.5}, [6]string{"concrete", "concrete", "open", "concrete", "concrete", "concrete"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			room := &model.Room{Size: c.size}
			for f, name := range c.walls {
				room.Walls[f].Construction = name
			}
			goal := model.Goal{From: 30, To: 200, Smoothing: 12}
			whole, lasted := levelsOf(t, room, wave.Settings{Longest: 15, Fall: 80})
			converged, seconds := levelsOf(t, room, wave.Settings{Longest: 15, Fall: 80, Convergence: levelsOnly(goal, Tolerance)})
			highest := floats.Max(whole)
			var squares, count float64
			for i, w := range whole {
				if w > highest-25 {
					squares += (converged[i] - w) * (converged[i] - w)
					count++
				}
			}
			off := math.Sqrt(squares / count)
			t.Logf("%.2f s of sound against %.2f s, levels %.3f dB rms off", seconds, lasted, off)
			if off > 0.1 {
				t.Errorf("levels are %.3f dB rms off", off)
			}
			if !(seconds < lasted) {
				t.Errorf("runs last %.2f s, and %.2f s to their end", seconds, lasted)
			}
		})
	}
}

// levelsOf returns the levels at a row of places from 30 to 200 Hz, and how long the run lasts, s.
func levelsOf(t *testing.T, r *model.Room, s wave.Settings) (levels []float64, seconds float64) {
	t.Helper()
	middle := r.Size.Y / 2
	s.Cell, s.Zones = 0.2, []model.Block{{Min: r3.Vec{X: 0.4, Y: middle - 0.5, Z: 1}, Max: r3.Vec{X: 3, Y: middle - 0.5, Z: 1}}}
	room, err := wave.NewRoom(r, material.Typical, model.NewGrid(30, 200, 100, 1), s)
	if err != nil {
		t.Fatal(err)
	}
	f, err := room.Field(t.Context(), r3.Vec{X: 2.5, Y: middle, Z: 1.15})
	if err != nil {
		t.Fatal(err)
	}
	for x := 0.4; x < 3; x += 0.4 {
		for _, v := range f.Transfer(nil, r3.Vec{X: x, Y: middle - 0.5, Z: 1}) {
			levels = append(levels, float64(model.PowerLevel(real(v)*real(v)+imag(v)*imag(v))))
		}
	}
	return levels, f.(interface{ Seconds() float64 }).Seconds()
}

// Decays read off converged runs are those of runs to 100 dB.
func TestConvergedRunsKeepDecays(t *testing.T) {
	for _, name := range []string{"treated-room", "l-room", "sloped-attic"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			p := testroom.Read(t, name)
			whole, lasted := decaysOf(t, p, wave.Settings{Fall: 100})
			converged, seconds := decaysOf(t, p, wave.Settings{Convergence: Runs(p.Goal, Tolerance).Convergence})
			t.Logf("%.2f s of sound against %.2f s", seconds, lasted)
			for i, w := range whole {
				if w.Band < p.Goal.From || w.Band > p.Goal.To {
					continue
				}
				c := &converged[i]
				t.Logf("%4.0f Hz: %3.0f ms for %3.0f ms, and %3.0f ms for %3.0f ms", w.Band, 1e3*c.Fall20, 1e3*w.Fall20, 1e3*c.Fall30, 1e3*w.Fall30)
				if off := c.Fall20/w.Fall20 - 1; math.Abs(off) > 0.01 {
					t.Errorf("the fall by 20 dB at %.0f Hz is %.1f %% off", w.Band, 100*off)
				}
				if off := c.Fall30/w.Fall30 - 1; math.Abs(off) > 0.03 {
					t.Errorf("the fall by 30 dB at %.0f Hz is %.1f %% off", w.Band, 100*off)
				}
			}
		})
	}
}

// decaysOf returns the decays at one seat from two speakers, and how long the run lasts, s.
func decaysOf(t *testing.T, p *model.Project, s wave.Settings) ([]response.Decay, float64) {
	t.Helper()
	s.Cell, s.Zones = 0.2, SearchZones(p)
	room, err := wave.NewRoom(&p.Room, material.Typical, response.DecayGrid(), s)
	if err != nil {
		t.Fatal(err)
	}
	middle := p.Room.Size.Y / 2
	f, err := room.Field(t.Context(), r3.Vec{X: 2.1, Y: middle, Z: 1.15})
	if err != nil {
		t.Fatal(err)
	}
	left, right := f.Transfer(nil, r3.Vec{X: 0.6, Y: middle - 0.8, Z: 1.01}), f.Transfer(nil, r3.Vec{X: 0.6, Y: middle + 0.8, Z: 1.01})
	return response.NewDecayReader().Read(left, right), f.(interface{ Seconds() float64 }).Seconds()
}
