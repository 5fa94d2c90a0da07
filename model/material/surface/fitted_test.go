package surface

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
)

// TestScale holds a fitted wall to its construction: shifts of -1, 0 and 1 are low, typical and high, and no
// shift makes a wall that gives out energy or absorbs more than any can.
func TestScale(t *testing.T) {
	s := model.Surface{Construction: "plasterboard on studs"}
	scale, err := NewScale("wall", s)
	if err != nil {
		t.Fatal(err)
	}
	c, _ := material.Lookup(s.Construction)
	for shift, estimate := range map[float64]material.Estimate{-1: material.Low, 0: material.Typical, 1: material.High} {
		for _, f := range []float64{40, 63, 100} {
			fit := model.WallFit{Shift: model.Fitted{Value: shift, Deviation: 0.1}}
			got, want := scale.Fitted(fit, 0).Admittance(f), c.At(estimate).Admittance(f)
			if math.Abs(real(got-want)) > 1e-12 {
				t.Errorf("shift %g at %g Hz: admittance %v, want %v", shift, f, got, want)
			}
		}
	}
	for _, shift := range []float64{-6, 6} {
		for _, f := range []float64{20, 63, 300} {
			beta := scale.Fitted(model.WallFit{Shift: model.Fitted{Value: shift, Deviation: 0.1}}, 0).Admittance(f)
			if !(real(beta) > 0) || real(beta) > mostAdmittance+1e-12 {
				t.Errorf("shift %g at %g Hz: admittance %v", shift, f, beta)
			}
		}
	}
}

// TestFittedBox holds that a calibrated room is a box of its fitted size and walls, whose estimates
// are as far apart as its fit leaves open, and that this is said.
func TestFittedBox(t *testing.T) {
	room := model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}, Calibration: &model.Calibration{Size: [3]model.Fitted{{Value: -0.03, Deviation: 0.01}, {Value: 0, Deviation: 0.01}, {Value: 0, Deviation: 0.01}}}}
	for f := range room.Walls {
		room.Walls[f] = model.Surface{Construction: "brick plastered"}
	}
	room.Walls[model.Back].Fit = model.WallFit{Shift: model.Fitted{Value: 0.5, Deviation: 0.1}, Slope: model.Fitted{Deviation: 0.1}}
	var beta [3]float64
	for i, e := range []material.Estimate{material.Low, material.Typical, material.High} {
		box, warnings, err := Box(&room, e)
		if err != nil {
			t.Fatal(err)
		}
		beta[i] = real(box.Admittance(model.Back, 63))
		if box.Size.X != 3.97 || !box.Contains(r3.Vec{X: 4, Y: 1, Z: 1}) || box.Contains(r3.Vec{X: 4.01, Y: 1, Z: 1}) || box.Clamp(r3.Vec{X: 4, Y: 1, Z: 1}).X != 3.97 {
			t.Errorf("the box is %+v", box.Size)
		}
		said := false
		for _, w := range warnings {
			s, ok := w.(model.Simplified)
			said = said || ok && s.How == model.WallsFitted && strings.Contains(s.Names, "back wall")
		}
		if !said {
			t.Errorf("nobody says that the back wall was fitted: %v", warnings)
		}
	}
	other, _, err := Box(&room, material.High)
	if err != nil {
		t.Fatal(err)
	}
	if !(beta[0] < beta[1] && beta[1] < beta[2]) || beta[2]/beta[0] > real(other.Admittance(model.Left, 63))/beta[0] {
		t.Errorf("admittances of the fitted wall %v", beta)
	}
}
