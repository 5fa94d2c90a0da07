package score

import (
	"context"
	"math"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// A reader over the band alone gives the same spread as one over the whole grid.
func TestBandGivesSameSpread(t *testing.T) {
	room := testroom.New(testroom.Studio().Room.Size)
	rapid.Check(t, func(t *rapid.T) {
		goal := model.Goal{From: rapid.Float64Range(26, 60).Draw(t, "from"), To: rapid.Float64Range(80, 220).Draw(t, "to"), Smoothing: rapid.SampledFrom([]int{1, 3, 12, 48}).Draw(t, "b")}
		b, err := NewBand(room, goal)
		if err != nil {
			t.Fatal(err)
		}
		seat, left, right := r3.Vec{X: 2, Y: 1.5, Z: 1.2}, r3.Vec{X: 0.5, Y: 0.8, Z: 1}, r3.Vec{X: 0.6, Y: 2.1, Z: 1}
		var spreads [2]model.Level
		for i, e := range []model.Engine{b, room} {
			p, err := (&Scorer{Engine: e}).Pair(context.Background(), model.Layout{Left: left, Right: right, Seat: seat})
			if err != nil {
				t.Fatal(err)
			}
			spreads[i] = response.NewReader(e.Grid(), e.Air(), goal).Spread(p, new(response.Scratch))
		}
		if math.Abs(float64(spreads[0]-spreads[1])) > 1e-9 {
			t.Fatalf("%v: band %v dB, whole %v dB", goal, spreads[0], spreads[1])
		}
	})
}

func TestBandNeedsGrid(t *testing.T) {
	room := testroom.New(testroom.Studio().Room.Size)
	for _, g := range []model.Goal{{}, {From: 30, To: 300, Smoothing: 12}, {From: 10, To: 200, Smoothing: 12}, {From: 100, To: 101, Smoothing: 12}, {From: 30, To: 200}} {
		if _, err := NewBand(room, g); err == nil {
			t.Errorf("goal %v was accepted", g)
		}
	}
}
