package image_test

import (
	"context"
	"fmt"

	"evenbass/model"
	"evenbass/model/image"

	"gonum.org/v1/gonum/spatial/r3"
)

// A dip at the seat, and what becomes of it when each wall in turn absorbs all: the
// seat is 0.90 m in front of the back wall, a quarter of a wavelength at 95 Hz.
func ExampleField_Without() {
	box := model.Box{Size: r3.Vec{X: 4.6, Y: 3.3, Z: 2.4}, Air: model.AirAt(0)}
	for _, face := range model.Faces {
		box.Walls[face] = model.Plain(0.08)
	}
	engine, err := image.New(box, model.DefaultGrid(), image.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	field, err := engine.Field(context.Background(), r3.Vec{X: 3.7, Y: 1.65, Z: 1.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	grid := engine.Grid()
	i := grid.Nearest(95)
	level := func(p []complex128) float64 {
		return float64(model.RoomGain(p[i], grid[i], engine.Air()))
	}
	speaker := r3.Vec{X: 0.7, Y: 0.9, Z: 1.1}
	fmt.Printf("as it is           %5.1f dB at %.0f Hz\n", level(field.Transfer(nil, speaker)), grid[i])
	for _, face := range []model.Face{model.Front, model.Back, model.Left, model.Ceiling} {
		p := field.(*image.Field).Without(nil, speaker, face)
		fmt.Printf("without %-10s %5.1f dB\n", face, level(p))
	}
	// Output:
	// as it is           -20.5 dB at 95 Hz
	// without front      -17.5 dB
	// without back       -10.2 dB
	// without left       -15.6 dB
	// without ceiling    -17.6 dB
}
