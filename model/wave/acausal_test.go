package wave

import (
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/mode/modetest"
	"evenbass/model/trust"
	"evenbass/model/wave/wavetest"
)

// A constant complex impedance is followed as well as passive branches can, and the warning
// names the walls. The reference is the exact modal field of the same box.
func TestConstantComplexImpedance(t *testing.T) {
	t.Parallel()
	room := model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}
	box := model.Box{Size: room.Size, Air: room.Air()}
	for _, f := range model.Faces {
		z := 8 - 20i
		if f == model.Floor || f == model.Ceiling {
			z = 20
		}
		room.Walls[f] = model.Surface{Impedance: z}
		box.Walls[f] = model.Plain(1 / z)
	}
	seat, source := r3.Vec{X: 2.7, Y: 1.3, Z: 1.2}, r3.Vec{X: 0.6, Y: 0.8, Z: 1}
	grid := model.NewGrid(25, 300, 24, 0)
	solved, err := NewRoom(&room, material.Typical, grid, Settings{Cell: 0.14, Zones: wavetest.Around(source)})
	if err != nil {
		t.Fatal(err)
	}
	exact := modetest.Engine(t, box, grid)
	got, want := wavetest.Transfer(t, solved, source, seat), wavetest.Transfer(t, exact, source, seat)
	var off []float64
	for _, c := range []struct{ to, most float64 }{{120, 1.5}, {200, 1.7}, {300, 2.1}} {
		e := wavetest.LevelError(grid, got, want, c.to)
		t.Logf("%.2f dB rms to %v Hz", e, c.to)
		off = append(off, e)
		if e > c.most {
			t.Errorf("%.2f dB rms off to %v Hz, want %v", e, c.to, c.most)
		}
	}
	trust.Seen(t, "`wave`, one complex impedance at all frequencies, Z = 8 − 20j on four walls", "%s dB rms to 120 / 200 / 300 Hz, with a warning: no real wall has one", trust.Figures(2, off...))
	for _, w := range solved.Warnings() {
		if s, ok := w.(model.Simplified); ok && s.How == model.ImpedanceAcausal && strings.Contains(s.Names, "left wall") {
			return
		}
	}
	t.Errorf("no warning names the walls: %q", solved.Warnings())
}
