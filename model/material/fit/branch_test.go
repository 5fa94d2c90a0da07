package fit

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
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
