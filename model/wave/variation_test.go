package wave

import (
	"math"
	"math/cmplx"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/fit"
	"evenbass/model/wave/wavetest"
)

var variedSettings = Settings{Cell: 0.2, Fits: new(fit.Memory), Zones: []model.Block{{Min: r3.Vec{X: 0.5, Y: 1.2, Z: 1}, Max: r3.Vec{X: 0.5, Y: 1.2, Z: 1}}}}

func variedRoom(t *testing.T, room *model.Room, e material.Estimate) *Room {
	t.Helper()
	r, err := NewRoom(room, e, model.NewGrid(40, 160, 6, 0), variedSettings)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// apartBy returns the greatest difference of two rooms' transfers, relative to the greatest
// of either.
func apartBy(t *testing.T, a, b *Room) float64 {
	t.Helper()
	seat, source := r3.Vec{X: 1.3, Y: 0.7, Z: 1}, variedSettings.Zones[0].Min
	var lists [2][]complex128
	for i, r := range []*Room{a, b} {
		f, err := r.Field(t.Context(), seat)
		if err != nil {
			t.Fatal(err)
		}
		lists[i] = f.Transfer(nil, source)
	}
	var off, most float64
	for i, v := range lists[0] {
		off, most = max(off, cmplx.Abs(v-lists[1][i])), max(most, cmplx.Abs(v))
	}
	return off / most
}

func evenly(v float64) [6]float64 { return [6]float64{v, v, v, v, v, v} }

// With all walls at an end a bare room is that of the low or the high estimate; with
// nothing varied it is the room itself, with wool in it too.
func TestVariationAtItsEnds(t *testing.T) {
	t.Parallel()
	bare := variedRoom(t, wavetest.CornerRoom(false), material.Typical)
	for v, e := range map[float64]material.Estimate{-1: material.Low, 1: material.High} {
		as, err := bare.As(Variation{Walls: evenly(v)}, nil)
		if err != nil {
			t.Fatal(err)
		}
		if d := apartBy(t, as, variedRoom(t, wavetest.CornerRoom(false), e)); d > 1e-5 {
			t.Errorf("walls at %v: %.2g off the %v estimate", v, d, e)
		}
		if d := apartBy(t, as, bare); d < 0.05 {
			t.Errorf("walls at %v change the room by %.2g only", v, d)
		}
	}
	full := variedRoom(t, wavetest.CornerRoom(true), material.Typical)
	as, err := full.As(Variation{}, nil)
	if err != nil {
		t.Fatal(err)
	}
	if d := apartBy(t, as, full); d > 1e-6 {
		t.Errorf("nothing varied: %.2g off", d)
	}
}

// Wool varied to one and a half times its resistivity is wool of that resistivity.
func TestVariedWool(t *testing.T) {
	t.Parallel()
	room := wavetest.CornerRoom(true)
	as, err := variedRoom(t, room, material.Typical).As(Variation{Resistivity: 1.5}, nil)
	if err != nil {
		t.Fatal(err)
	}
	other := wavetest.CornerRoom(true)
	other.Treatments[0].Layers[0].Resistivity *= 1.5
	if d := apartBy(t, as, variedRoom(t, other, material.Typical)); d > 1e-6 {
		t.Errorf("%.2g off the room with such wool", d)
	}
	if d := apartBy(t, as, variedRoom(t, room, material.Typical)); d < 0.01 {
		t.Errorf("another resistivity changes the room by %.2g only", d)
	}
}

// Two engines are the same if nothing that varies differs.
func TestSameRoom(t *testing.T) {
	t.Parallel()
	room := wavetest.CornerRoom(false)
	for i := range room.Walls {
		room.Walls[i] = model.Surface{Impedance: 12}
	}
	r := variedRoom(t, room, material.Typical)
	as := func(v Variation) *Room {
		o, err := r.As(v, nil)
		if err != nil {
			t.Fatal(err)
		}
		return o
	}
	typical := as(Variation{})
	if !as(Variation{Walls: [6]float64{1, 0, 1}, Resistivity: 1.4}).Same(typical) {
		t.Error("walls of known impedance, and no wool, but another room")
	}
	if as(Variation{Walls: [6]float64{model.Right: -1}}).Same(typical) {
		t.Error("the door changes nothing")
	}
	defer func() {
		if recover() == nil {
			t.Error("a wall beyond its ends")
		}
	}()
	as(Variation{Walls: [6]float64{math.NaN()}})
}
