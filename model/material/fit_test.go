package material

import (
	"math"
	"testing"

	"evenbass/model"
)

// example is a build-up by name.
type example struct {
	name   string
	layers []model.Layer
}

func limpWool(sigma, d, density float64) model.Layer {
	l := wool(sigma, d)
	l.Frame, l.Density = model.FrameLimp, density
	return l
}

// buildUps are twenty ordinary build-ups.
func buildUps() []example {
	plate := model.Layer{Kind: model.PerforatedLayer, Thickness: .012, HoleDiameter: .006, OpenArea: .05}
	slats := model.Layer{Kind: model.SlottedLayer, Thickness: .018, HoleDiameter: .005, OpenArea: .06}
	board := model.Layer{Kind: model.PanelLayer, SurfaceMass: 8.8}
	ply := model.Layer{Kind: model.PanelLayer, SurfaceMass: 2.4}
	return []example{
		{"50 mm 10 k", []model.Layer{wool(10000, .05)}},
		{"100 mm 5 k", []model.Layer{wool(5000, .1)}},
		{"100 mm 20 k", []model.Layer{wool(20000, .1)}},
		{"200 mm 6 k", []model.Layer{wool(6000, .2)}},
		{"300 mm 5 k", []model.Layer{wool(5000, .3)}},
		{"600 mm 3 k", []model.Layer{wool(3000, .6)}},
		{"300 mm 5 k limp", []model.Layer{limpWool(5000, .3, 11)}},
		{"400 mm 5 k limp", []model.Layer{limpWool(5000, .4, 11)}},
		{"100 mm 10 k, air 100 mm", []model.Layer{wool(10000, .1), air(.1)}},
		{"100 mm 5 k, air 300 mm", []model.Layer{wool(5000, .1), air(.3)}},
		{"film .1, 200 mm 6 k", []model.Layer{foil(.1), wool(6000, .2)}},
		{"film .2, 300 mm 5 k", []model.Layer{foil(.2), wool(5000, .3)}},
		{"film 1, 200 mm 5 k", []model.Layer{foil(1), wool(5000, .2)}},
		{"50 mm 10 k, film .2, 100 mm 5 k", []model.Layer{wool(10000, .05), foil(.2), wool(5000, .1)}},
		{"two bags of film .2, 100 mm 5 k", []model.Layer{foil(.2), wool(5000, .1), foil(.2), wool(5000, .1)}},
		{"film .1, 200 mm 6 k limp, film .1, 50 mm", []model.Layer{foil(.1), limpWool(6000, .2, 14), foil(.1), wool(6000, .05)}},
		{"perforated 12 mm, 60 mm 10 k, air 40", []model.Layer{plate, wool(10000, .06), air(.04)}},
		{"slotted 18 mm, 80 mm 8 k", []model.Layer{slats, wool(8000, .08)}},
		{"plasterboard, 75 mm 6 k", []model.Layer{board, wool(6000, .075)}},
		{"plywood 4 mm, air 20, 50 mm 10 k", []model.Layer{ply, air(.02), wool(10000, .05)}},
	}
}

// Passive always, and within 0.03 in absorption from 20 to 300 Hz for twenty
// build-ups.
func TestFitOfBuildUps(t *testing.T) {
	t.Parallel()
	room := model.AirAt(0)
	for _, e := range buildUps() {
		s := stackOf(t, Options{}, e.layers...)
		checkFit(t, e.name, s, room, 7)
	}
}

// The same for every construction of the library.
func TestFitOfConstructions(t *testing.T) {
	t.Parallel()
	room := model.AirAt(0)
	for _, name := range Names() {
		c, _ := Lookup(name)
		checkFit(t, name, c.At(Typical), room, 7)
	}
}

func checkFit(t *testing.T, name string, b model.Boundary, room model.Air, n int) {
	t.Helper()
	fit, worst := FitBranches(b, room, n)
	t.Logf("%-42s %d branches, worst error %.4f", name, len(fit.List), worst)
	if !fit.Passive() {
		t.Errorf("%s: not passive: %v", name, fit.List)
	}
	if worst > 0.03 {
		t.Errorf("%s: worst error %.3f, want at most 0.03", name, worst)
	}
	// Look between the fitted frequencies too.
	for f := 20.5; f < 300; f *= 1.013 {
		got, want := AbsorptionAt(fit.Admittance(f), 1), AbsorptionAt(b.Admittance(f), 1)
		if math.Abs(got-want) > 0.035 {
			t.Errorf("%s: %.1f Hz: absorption %.3f, want %.3f", name, f, got, want)
		}
	}
}

// A wall that is made of branches is found again.
func TestFitFindsBranches(t *testing.T) {
	t.Parallel()
	room := model.AirAt(0)
	wall := Branches{Air: room, List: []Branch{
		{Mass: 8, Resistance: 900, Stiffness: 2e6},
		{Mass: 0.5, Resistance: 1500, Stiffness: 1e6},
	}}
	fit, worst := FitBranches(wall, room, 4)
	if worst > fitEnough {
		t.Errorf("worst error %v with %v", worst, fit.List)
	}
	for f := 20.0; f < 300; f *= 1.1 {
		nearComplex(t, "β", fit.Admittance(f), wall.Admittance(f), 0.03)
	}
}

// A real admittance is one resistance, a rigid wall none.
func TestFitOfPlainWalls(t *testing.T) {
	t.Parallel()
	room := model.AirAt(0)
	fit, worst := FitBranches(model.Plain(0.1), room, 3)
	if worst > fitEnough {
		t.Errorf("β = 0.1: worst error %v with %v", worst, fit.List)
	}
	nearComplex(t, "β at 100 Hz", fit.Admittance(100), 0.1, 0.005)
	fit, worst = FitBranches(model.Rigid, room, 3)
	if worst != 0 || len(fit.List) != 0 {
		t.Errorf("rigid: %v, worst %v", fit.List, worst)
	}
}

// Whatever the target, even one that gives energy away, the fit does not.
func TestFitIsPassive(t *testing.T) {
	t.Parallel()
	fit, worst := FitBranches(model.Plain(-0.1+0.3i), model.AirAt(0), 3)
	if !fit.Passive() {
		t.Errorf("not passive: %v", fit.List)
	}
	if worst < 0.1 {
		t.Errorf("worst error %v to an active wall, want it to show", worst)
	}
}

func TestFitPanics(t *testing.T) {
	t.Parallel()
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	FitBranches(model.Rigid, model.AirAt(0), 0)
}

func BenchmarkFitBranches(b *testing.B) {
	s := stackOf(b, Options{}, foil(.1), wool(6000, .2))
	for b.Loop() {
		FitBranches(s, model.AirAt(0), 5)
	}
}
