package fit

import (
	"math"
	"math/cmplx"
	"reflect"
	"sync"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
)

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
