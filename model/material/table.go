package material

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/interp"

	"evenbass/model"
)

// largestPrinted is the largest coefficient that a table may hold. The edges of a
// small sample can carry a measurement after ISO 354 past 1, not past this.
const largestPrinted = 1.5

// Table is a boundary with a real impedance that absorbs, at random incidence,
// what a table says. Between its rows absorption is linear over the logarithm
// of frequency; outside them it stays constant.
//
// A Table is safe for use by several goroutines at once.
type Table struct {
	admittance interp.FritschButland // β over ln f: smooth, without overshoot
}

// NewTable returns the boundary of a table of random-incidence absorption, in any
// order of frequency. Coefficients above [MaxRandomAbsorption], which no locally
// reacting wall reaches, are limited to it; this and a table that ends inside
// 25 to 315 Hz give warnings.
//
// An empty table, a frequency that is not positive or comes twice, and a
// coefficient outside 0..1.5 are errors.
func NewTable(rows []model.Absorption) (*Table, []model.Warning, error) {
	rows = slices.Clone(rows)
	slices.SortFunc(rows, func(a, b model.Absorption) int { return cmp.Compare(a.Frequency, b.Frequency) })
	if err := checkRows(rows); err != nil {
		return nil, nil, err
	}
	var warnings []model.Warning
	first, last := rows[0].Frequency, rows[len(rows)-1].Frequency
	if bands := Bands(); first > bands[0] {
		warnings = append(warnings, model.TableBegins{Frequency: first})
	}
	if bands := Bands(); last < bands[BandCount-1] {
		warnings = append(warnings, model.TableEnds{Frequency: last})
	}
	if i := slices.IndexFunc(rows, func(r model.Absorption) bool { return r.Coefficient > MaxRandomAbsorption }); i >= 0 {
		warnings = append(warnings, model.CoefficientCut{
			Coefficient: rows[i].Coefficient, Frequency: rows[i].Frequency, Most: MaxRandomAbsorption})
	}
	return newTable(rows), warnings, nil
}

func checkRows(rows []model.Absorption) error {
	if len(rows) == 0 {
		return fmt.Errorf("absorption table: no rows")
	}
	for i, r := range rows {
		switch f, a := r.Frequency, r.Coefficient; {
		case !(f > 0) || math.IsInf(f, 1):
			return fmt.Errorf("absorption table: frequency must be above 0 Hz, have %g", f)
		case i > 0 && f == rows[i-1].Frequency:
			return fmt.Errorf("absorption table: %g Hz is given twice", f)
		case !(a >= 0):
			return fmt.Errorf("absorption table: coefficient at %g Hz must be 0 or above, have %g", f, a)
		case a > largestPrinted:
			return fmt.Errorf("absorption table: coefficient at %g Hz must be between 0 and 1, have %g; 15 %% is written 0.15", f, a)
		}
	}
	return nil
}

// nodesPerOctave is how densely a table's straight lines are followed by the
// admittance curve.
const nodesPerOctave = 12

// newTable returns the boundary of rows that are in order and fit to use.
func newTable(rows []model.Absorption) *Table {
	var x, y []float64
	add := func(f, alpha float64) {
		zeta, _ := ImpedanceOfRandom(min(alpha, MaxRandomAbsorption))
		x, y = append(x, math.Log(f)), append(y, 1/zeta)
	}
	for i, r := range rows[:len(rows)-1] {
		next := rows[i+1]
		octaves := math.Log2(next.Frequency / r.Frequency)
		n := max(1, int(math.Ceil(octaves*nodesPerOctave)))
		for j := range n {
			s := float64(j) / float64(n)
			add(r.Frequency*math.Exp2(octaves*s), r.Coefficient+s*(next.Coefficient-r.Coefficient))
		}
	}
	last := rows[len(rows)-1]
	add(last.Frequency, last.Coefficient)
	if len(rows) == 1 {
		add(2*last.Frequency, last.Coefficient)
	}
	t := new(Table)
	if err := t.admittance.Fit(x, y); err != nil {
		panic("material: " + err.Error())
	}
	return t
}

// Admittance implements [model.Boundary].
func (t *Table) Admittance(f float64) complex128 {
	return complex(t.admittance.Predict(math.Log(f)), 0)
}

var _ model.Boundary = (*Table)(nil)
