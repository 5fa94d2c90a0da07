package fit

import (
	"math"
	"math/cmplx"
	"reflect"
	"sync"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/material/materialtest"
	"evenbass/model/material/surface"
)

// Passive always, and within 0.03 in absorption from 20 to 300 Hz for twenty
// build-ups.
func TestFitOfBuildUps(t *testing.T) {
	t.Parallel()
	room := model.AirAt(0)
	for _, e := range materialtest.BuildUps() {
		s, _, err := absorber.NewStack(e.Layers, nil)
		if err != nil {
			t.Fatal(err)
		}
		checkFit(t, e.Name, s, room, 7)
	}
}

// The same for every construction of the library.
func TestFitOfConstructions(t *testing.T) {
	t.Parallel()
	room := model.AirAt(0)
	for _, name := range material.Names() {
		c, _ := material.Lookup(name)
		checkFit(t, name, c.At(material.Typical), room, 7)
	}
}

func checkFit(t *testing.T, name string, b model.Boundary, room model.Air, n int) {
	t.Helper()
	fit, worst := Boundary(b, room, n)
	t.Logf("%-42s %d branches, worst error %.4f", name, len(fit.List), worst)
	if !fit.Passive() {
		t.Errorf("%s: not passive: %v", name, fit.List)
	}
	if worst > 0.03 {
		t.Errorf("%s: worst error %.3f, want at most 0.03", name, worst)
	}
	// Look between the fitted frequencies too.
	for f := 20.5; f < 300; f *= 1.013 {
		got, want := material.AbsorptionAt(fit.Admittance(f), 1), material.AbsorptionAt(b.Admittance(f), 1)
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
	fit, worst := Boundary(wall, room, 4)
	if worst > fitTolerance {
		t.Errorf("worst error %v with %v", worst, fit.List)
	}
	for f := 20.0; f < 300; f *= 1.1 {
		if got, want := fit.Admittance(f), wall.Admittance(f); cmplx.Abs(got-want) > 0.03 {
			t.Errorf("%.0f Hz: β %.4g, want %.4g", f, got, want)
		}
	}
}

// A real admittance is one resistance, a rigid wall none.
func TestFitOfPlainWalls(t *testing.T) {
	t.Parallel()
	room := model.AirAt(0)
	fit, worst := Boundary(model.Plain(0.1), room, 3)
	if worst > fitTolerance {
		t.Errorf("β = 0.1: worst error %v with %v", worst, fit.List)
	}
	if got := fit.Admittance(100); cmplx.Abs(got-0.1) > 0.005 {
		t.Errorf("β at 100 Hz: %.4g, want 0.1", got)
	}
	fit, worst = Boundary(model.Rigid, room, 3)
	if worst != 0 || len(fit.List) != 0 {
		t.Errorf("rigid: %v, worst %v", fit.List, worst)
	}
}

// Whatever the target, even one that gives energy away, the fit does not.
func TestFitIsPassive(t *testing.T) {
	t.Parallel()
	fit, worst := Boundary(model.Plain(-0.1+0.3i), model.AirAt(0), 3)
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
	Boundary(model.Rigid, model.AirAt(0), 0)
}

func BenchmarkBoundary(b *testing.B) {
	s, _, err := absorber.NewStack([]model.Layer{materialtest.Foil(.1), materialtest.Wool(6000, .2)}, nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Boundary(s, model.AirAt(0), 5)
	}
}

// A mass of 1 kg/m² on 0.1 m of air, K = ρc²/d: H1 of the textbooks' mass-spring
// rule, f = (1/2π) sqrt(ρc²/(md)) = 59.9/sqrt(md) at 20 °C.
func TestBranchResonance(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	b := Branch{Mass: 1, Stiffness: air.Density * air.Speed * air.Speed / 0.1}
	want := 59.9 / math.Sqrt(0.1)
	if below, above := b.Impedance(want-0.5), b.Impedance(want+0.5); !(imag(below) < 0 && imag(above) > 0) {
		t.Errorf("impedance %v and %v around the resonance at %.1f Hz, want a change of sign", below, above, want)
	}
}

func TestBranchesAdd(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	// Two equal resistances of 2ρc side by side are one of ρc: β = 1.
	r := Branch{Resistance: 2 * air.Impedance()}
	w := Branches{Air: air, List: []Branch{r, r}}
	if got := w.Admittance(100); cmplx.Abs(got-1) > 1e-12 {
		t.Errorf("β = %v, want 1", got)
	}
	if got := (Branches{Air: air}).Admittance(100); got != 0 {
		t.Errorf("no branches: β = %v, want 0", got)
	}
}

func TestBranchesPassive(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		branch Branch
		want   bool
	}{
		{Branch{}, false},
		{Branch{Mass: 1}, true},
		{Branch{Mass: 1, Resistance: -1}, false},
		{Branch{Resistance: 1, Stiffness: 5}, true},
	} {
		if got := (Branches{List: []Branch{test.branch}}).Passive(); got != test.want {
			t.Errorf("%v: passive %v, want %v", test.branch, got, test.want)
		}
	}
}

// counted counts how often it is asked.
type counted struct {
	model.Boundary
	asked *int
	mutex *sync.Mutex
}

func (c counted) Admittance(f float64) complex128 {
	c.mutex.Lock()
	*c.asked++
	c.mutex.Unlock()
	return c.Boundary.Admittance(f)
}

func TestMemoryKeepsFits(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	var fits Memory
	var none *Memory
	var mutex sync.Mutex
	for _, name := range []string{"plasterboard on studs", "timber on joists", "double glazing"} {
		b, err := surface.NewResolver(material.Typical).Boundary("wall", model.Surface{Construction: name})
		if err != nil {
			t.Fatal(err)
		}
		want, worst := Boundary(b, air, 4)
		var first, again int
		for _, asked := range []*int{&first, &again} {
			got, w := fits.Branches(counted{b, asked, &mutex}, air, 4)
			if !reflect.DeepEqual(got, want) || w != worst {
				t.Errorf("%s: %v, want %v", name, got, want)
			}
		}
		if again >= first {
			t.Errorf("%s: the second fit asks %d times, the first %d", name, again, first)
		}
		if got, _ := none.Branches(b, air, 4); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: no memory, another fit", name)
		}
		if got, _ := fits.Branches(b, air, 3); len(got.List) > 3 {
			t.Errorf("%s: %d branches where three are allowed", name, len(got.List))
		}
	}
}
