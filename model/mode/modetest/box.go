// Package modetest gives tests the exact modal field of a box to compare with. In go the box and its
// frequencies; out come an engine, or its field at a seat.
package modetest

import (
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
)

// Engine returns the modal field of a box over a grid.
func Engine(t testing.TB, box model.Box, grid model.Grid) *mode.Engine {
	t.Helper()
	e, err := mode.New(box, grid, mode.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// Field returns the field at a seat of [Engine].
func Field(t testing.TB, box model.Box, grid model.Grid, seat r3.Vec) model.Field {
	t.Helper()
	f, err := Engine(t, box, grid).Field(t.Context(), seat)
	if err != nil {
		t.Fatal(err)
	}
	return f
}
