package mode_test

import (
	"context"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/mode"

	"gonum.org/v1/gonum/spatial/r3"
)

// The first modes of a spare room with hard walls and a soft ceiling, and how far
// each is below its maximum at a seat.
func ExampleList() {
	box := model.Box{Size: r3.Vec{X: 4.7, Y: 3.4, Z: 2.45}, Air: model.AirAt(0)}
	for _, face := range model.Faces {
		box.Walls[face] = model.Plain(0.01)
	}
	box.Walls[model.Ceiling] = model.Plain(0.06)
	seat := r3.Vec{X: 2.6, Y: 1.5, Z: 1.1}
	modes, _ := mode.List(box, 75)
	for _, m := range modes {
		fmt.Printf("%v %-10v %5.1f Hz  %.2f s  %6.1f dB\n",
			m, m.Kind(), m.Frequency, m.DecayTime(), float64(model.LevelOf(math.Abs(m.Shape(box.Size, seat)))))
	}
	// Output:
	// 1-0-0 axial       36.5 Hz  0.94 s   -15.6 dB
	// 0-1-0 axial       50.5 Hz  0.90 s   -14.7 dB
	// 1-1-0 tangential  62.3 Hz  0.82 s   -30.3 dB
	// 0-0-1 axial       70.0 Hz  0.60 s   -15.9 dB
	// 2-0-0 axial       73.1 Hz  0.94 s    -0.5 dB
}

// What arrives at a seat from a loudspeaker's place, and what would arrive without
// one of the room's modes.
func ExampleEngine_Field() {
	box := model.Box{Size: r3.Vec{X: 4.7, Y: 3.4, Z: 2.45}, Air: model.AirAt(0)}
	for _, face := range model.Faces {
		box.Walls[face] = model.Plain(0.01)
	}
	engine, err := mode.New(box, model.Grid{36.5, 60, 73}, mode.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	field, err := engine.Field(context.Background(), r3.Vec{X: 3.4, Y: 1.7, Z: 1.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	woofer := r3.Vec{X: 0.6, Y: 0.9, Z: 0.8}
	p := field.Transfer(nil, woofer)
	without := field.(*mode.Field).Term(nil, woofer, [3]int{1, 0, 0})
	for i, f := range engine.Grid() {
		less := p[i] - without[i]
		fmt.Printf("%.1f Hz %5.1f dB, without 1-0-0 %5.1f dB\n", f,
			float64(model.RoomGain(p[i], f, box.Air)), float64(model.RoomGain(less, f, box.Air)))
	}
	// Output:
	// 36.5 Hz  28.1 dB, without 1-0-0  -2.8 dB
	// 60.0 Hz -14.7 dB, without 1-0-0 -10.0 dB
	// 73.0 Hz   7.8 dB, without 1-0-0   7.8 dB
}
