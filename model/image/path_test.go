package image

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// First arrivals in a room of 7 x 5 x 3 m, c = 343 m/s, recomputed from geometry;
// 10.7, 17.3, 20.5 and 21.6 ms are printed in a worked example of the phonometry
// project's documentation (docs/buildings/rooms/room-image-sources).
func TestFirstArrivals(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: r3.Vec{X: 7, Y: 5, Z: 3}, Air: airT, Walls: each(0.05)}
	f := mustField(t, box, model.Grid{100}, Settings{}, r3.Vec{X: 5.2, Y: 3.4, Z: 1.7})
	paths := f.Paths(r3.Vec{X: 2, Y: 1.6, Z: 1.5}, 100, 8)
	for _, c := range []struct {
		walls           []model.Face
		length, arrival float64 // m, ms
	}{
		{nil, 3.676955262, 10.719986},
		{[]model.Face{model.Ceiling}, 4.617358552, 13.461687},
		{[]model.Face{model.Floor}, 4.870318265, 14.199179},
		{[]model.Face{model.Left}, 5.939696962, 17.316901},
		{[]model.Face{model.Right}, 5.939696962, 17.316901},
		{[]model.Face{model.Back}, 7.037044834, 20.516166},
		{[]model.Face{model.Front}, 7.424284477, 21.645144},
	} {
		i := slices.IndexFunc(paths, func(p Path) bool { return slices.Equal(p.Walls, c.walls) })
		if i < 0 {
			t.Errorf("no path by %v", c.walls)
			continue
		}
		if p := paths[i]; math.Abs(p.Length-c.length) > 1e-6 || math.Abs(1e3*p.Arrival-c.arrival) > 1e-6 {
			t.Errorf("%v: %.9f m and %.6f ms, want %v and %v", c.walls, p.Length, 1e3*p.Arrival, c.length, c.arrival)
		}
	}
	if !slices.IsSortedFunc(paths, func(a, b Path) int { return int(math.Copysign(1, a.Length-b.Length)) }) {
		t.Error("paths are not sorted by length")
	}
	if paths[0].Level != 0 {
		t.Errorf("direct sound is at %v dB", paths[0].Level)
	}
}

// Going back from the seat along the direction of arrival and turning at each wall
// in the listed order must end at the source after the path's length.
func TestPathsLeadToTheSource(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: roomT, Air: airT, Walls: each(0.1)}
	e, err := New(box, model.Grid{100}, Settings{Decay: -10})
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		seat, source := drawPlace(t, roomT, "seat"), drawPlace(t, roomT, "source")
		field, err := e.Field(t.Context(), seat)
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range field.(*Field).Paths(source, 100, 15) {
			if end := trace(roomT, seat, p); r3.Norm(r3.Sub(end, source)) > 1e-6 {
				t.Fatalf("path by %v ends at %v, not at %v", p.Walls, end, source)
			}
		}
	})
}

// trace goes back along a path from the seat and returns where it ends.
func trace(size, at r3.Vec, p Path) r3.Vec {
	place, heading, extent := components(at), components(p.From), components(size)
	left := p.Length
	for i := len(p.Walls) - 1; i >= 0; i-- {
		axis := p.Walls[i].Axis()
		var wall float64
		if p.Walls[i].Far() {
			wall = extent[axis]
		}
		step := (wall - place[axis]) / heading[axis]
		for j := range place {
			place[j] += step * heading[j]
		}
		left -= step
		heading[axis] = -heading[axis]
	}
	for j := range place {
		place[j] += left * heading[j]
	}
	return r3.Vec{X: place[0], Y: place[1], Z: place[2]}
}

func ExampleField_Paths() {
	box := model.Box{
		Size: r3.Vec{X: 4.6, Y: 3.3, Z: 2.4}, Air: model.AirAt(0),
		Walls: [6]model.Boundary{nil, model.Plain(0.1), model.Plain(0.03), model.Plain(0.03), model.Plain(0.02), model.Plain(0.05)},
	}
	engine, err := New(box, model.DefaultGrid(), Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	field, err := engine.Field(context.Background(), r3.Vec{X: 2.9, Y: 1.65, Z: 1.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range field.(*Field).Paths(r3.Vec{X: 0.9, Y: 0.8, Z: 1.1}, 80, 4) {
		fmt.Printf("%.2f m  %4.1f ms  %5.1f dB  %v\n", p.Length, 1e3*p.Arrival, float64(p.Level), p.Walls)
	}
	// Output:
	// 2.18 m   6.3 ms    0.0 dB  []
	// 3.16 m   9.2 ms   -3.9 dB  [left]
	// 3.16 m   9.2 ms   -3.7 dB  [floor]
	// 3.31 m   9.7 ms   -4.8 dB  [ceiling]
	// 3.90 m  11.3 ms   -5.1 dB  [front]
	// 3.91 m  11.4 ms   -6.5 dB  [left floor]
}
