package material

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/materialtest"
)

func rows(pairs ...float64) []model.Absorption {
	var r []model.Absorption
	for i := 0; i < len(pairs); i += 2 {
		r = append(r, model.Absorption{Frequency: pairs[i], Coefficient: pairs[i+1]})
	}
	return r
}

func TestTableTakesWhatItSays(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 8).Draw(t, "n")
		var in []model.Absorption
		f := 20.0
		for range n {
			f *= rapid.Float64Range(1.1, 3).Draw(t, "step")
			in = append(in, model.Absorption{Frequency: f, Coefficient: rapid.Float64Range(0, 0.95).Draw(t, "α")})
		}
		table, _, err := NewTable(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range in {
			if got := absorptionOf(table, r.Frequency); math.Abs(got-r.Coefficient) > 1e-9 {
				t.Fatalf("%v Hz: %v, the table has %v", r.Frequency, got, r.Coefficient)
			}
		}
		if got := absorptionOf(table, in[0].Frequency/3); math.Abs(got-in[0].Coefficient) > 1e-9 {
			t.Fatalf("below the table %v, not held at %v", got, in[0].Coefficient)
		}
		if got, last := absorptionOf(table, 3*f), in[n-1].Coefficient; math.Abs(got-last) > 1e-9 {
			t.Fatalf("above the table %v, not held at %v", got, last)
		}
	})
}

func TestTableIsLinearInBetween(t *testing.T) {
	t.Parallel()
	table, _, err := NewTable(rows(250, 0.10, 63, 0.30)) // any order
	if err != nil {
		t.Fatal(err)
	}
	// Half way on a log axis is half way in α; a smooth curve through the nodes of
	// the straight line may leave it by a little between them.
	materialtest.Near(t, "middle", absorptionOf(table, math.Sqrt(63*250)), 0.20, 1e-4)
	for f := 63.0; f <= 250; f *= 1.01 {
		want := 0.30 - 0.20*math.Log(f/63)/math.Log(250./63)
		materialtest.Near(t, fmt.Sprintf("at %.1f Hz", f), absorptionOf(table, f), want, 2e-4)
	}
}

func TestTableIsSmoothAndStaysBetweenItsRows(t *testing.T) {
	t.Parallel()
	table, _, err := NewTable(rows(50, 0.05, 100, 0.60, 200, 0.05))
	if err != nil {
		t.Fatal(err)
	}
	last := real(table.Admittance(49))
	for f := 49.0; f < 210; f *= 1.0005 {
		b := real(table.Admittance(f))
		if math.Abs(b-last) > 5e-4 {
			t.Fatalf("a step of %v at %v Hz", b-last, f)
		}
		if a := absorptionOf(table, f); a < 0.05-1e-9 || a > 0.60+1e-9 {
			t.Fatalf("%v Hz: %v leaves the rows", f, a)
		}
		last = b
	}
}

func TestTableWarnings(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		in   []model.Absorption
		want []model.Warning
	}{
		{"whole range", rows(25, 0.1, 315, 0.1), nil},
		{"wider than needed", rows(20, 0.1, 1000, 0.1), nil},
		{"octaves of a data sheet", rows(125, 0.1, 250, 0.1, 500, 0.1), []model.Warning{model.TableBegins{Frequency: 125}}},
		{"bass only", rows(25, 0.1, 100, 0.1), []model.Warning{model.TableEnds{Frequency: 100}}},
		{"one row", rows(63, 0.1), []model.Warning{model.TableBegins{Frequency: 63}, model.TableEnds{Frequency: 63}}},
		{"more than there is", rows(20, 0.1, 250, 1.1, 315, 1.2), []model.Warning{model.CoefficientCut{Coefficient: 1.1, Frequency: 250, Most: MaxRandomAbsorption}}},
	} {
		table, warnings, err := NewTable(c.in)
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if !slices.Equal(warnings, c.want) {
			t.Errorf("%s: warnings %v, want %v", c.name, warnings, c.want)
		}
		if a := absorptionOf(table, 250); !(a >= 0 && a <= MaxRandomAbsorption+1e-12) {
			t.Errorf("%s: absorption %v", c.name, a)
		}
	}
}

func TestTableErrors(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		in   []model.Absorption
		want string
	}{
		{nil, "no rows"},
		{rows(0, 0.1), "above 0 Hz"},
		{rows(-63, 0.1), "above 0 Hz"},
		{rows(math.NaN(), 0.1), "above 0 Hz"},
		{rows(math.Inf(1), 0.1), "above 0 Hz"},
		{rows(63, 0.1, 63, 0.2), "is given twice"},
		{rows(63, -0.1), "0 or above"},
		{rows(63, math.NaN()), "0 or above"},
		{rows(63, 15), "15 % is written 0.15"},
	} {
		if _, _, err := NewTable(c.in); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%v: error %v, want %q", c.in, err, c.want)
		}
	}
}

func TestTableLeavesItsInputAlone(t *testing.T) {
	t.Parallel()
	in := rows(250, 0.1, 63, 0.2)
	if _, _, err := NewTable(in); err != nil || in[0].Frequency != 250 {
		t.Errorf("%v, input is now %v", err, in)
	}
}

func TestAdmittanceAllocatesNothing(t *testing.T) {
	c, _ := Lookup("plasterboard on studs")
	b := c.At(Typical)
	if n := testing.AllocsPerRun(100, func() { b.Admittance(63) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func ExampleNewTable() {
	table, warnings, _ := NewTable([]model.Absorption{
		{Frequency: 63, Coefficient: 0.20}, {Frequency: 125, Coefficient: 0.10}, {Frequency: 250, Coefficient: 0.05},
	})
	fmt.Printf("β at 63 Hz is %.4f\n", real(table.Admittance(63)))
	fmt.Printf("%T %[1]v Hz\n", warnings[1])
	// Output:
	// β at 63 Hz is 0.0307
	// model.TableEnds {250} Hz
}

func BenchmarkAdmittance(b *testing.B) {
	c, _ := Lookup("plasterboard on studs")
	wall := c.At(Typical)
	f := 20.0
	for b.Loop() {
		wall.Admittance(f)
		if f *= 1.01; f > 315 {
			f = 20
		}
	}
}

// absorptionOf returns the random-incidence absorption at frequency f.
func absorptionOf(t *Table, f float64) float64 {
	return RandomAbsorption(1 / t.Admittance(f))
}
