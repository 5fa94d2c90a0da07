package stage

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/optimize/testroom"
)

// What can be built in a room that is its own mirror image is so too, whatever the batts: left and right come
// as one piece, so that no stage leaves the pair unequal sides.
func TestPiecesOfASymmetricRoom(t *testing.T) {
	t.Parallel()
	drawn := 0
	rapid.Check(t, func(rt *rapid.T) {
		if drawn++; drawn > 10 {
			return // each room takes long
		}
		size := func(name string, from, to int) float64 { return float64(rapid.IntRange(from, to).Draw(rt, name)) / 100 }
		p := testroom.Symmetric(t, size("width of the room, cm", 240, 420))
		b := &p.Stock.Batts[0]
		b.Width, b.Length = size("width, cm", 40, 80), size("length, cm", 80, 140)
		b.Layer.Thickness = size("thickness, cm", 5, 20)
		p.Stock.Rental = rapid.Bool().Draw(rt, "rental")
		now, _ := p.Now()
		pieces := Pieces(p, now)
		if len(pieces) == 0 {
			rt.Fatalf("nothing can be built of %v", b)
		}
		for _, piece := range pieces {
			if !testroom.MirrorImage(&p.Room, piece.Treatments) {
				rt.Errorf("%s is on one side only: %+v", piece.Name, piece.Treatments)
			}
		}
	})
}

// So every stage of its plan is.
func TestPlanOfASymmetricRoom(t *testing.T) {
	t.Parallel()
	p := testroom.Symmetric(t, 3.28)
	for _, have := range []int{7, 24} {
		p.Stock.Batts[0].Have = have
		plan, err := planner(t, p).Plan(t.Context(), Settings{Tries: 4, Swaps: 2})
		if err != nil {
			t.Fatal(err)
		}
		if len(plan.Stages) == 0 {
			t.Errorf("%d batts make no stage", have)
		}
		var built []model.Treatment
		for i, s := range plan.Stages {
			if built = append(built, s.Treatments...); !testroom.MirrorImage(&p.Room, built) {
				t.Errorf("%d batts: stage %d, %s, leaves the room lopsided", have, i+1, s.Name)
			}
		}
		if left, right := plan.End().Judgement.Figures[0].Spread, plan.End().Judgement.Figures[1].Spread; math.Abs(float64(left-right)) > 0.05 {
			t.Errorf("%d batts: left ±%.2f dB, right ±%.2f dB", have, left, right)
		}
	}
}
