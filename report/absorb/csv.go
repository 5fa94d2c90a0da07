package absorb

import (
	"io"
	"strings"

	"evenbass/model/material"
	"evenbass/report/data"
	"evenbass/report/unit"
)

// CSV writes a comparison over the charts' frequencies as comma-separated
// values, one row per frequency under one row of names. For every build-up, its
// letter in lower case before each name:
//
//	frequency_hz
//	a_normal, a_normal_low, a_normal_high
//	a_random, a_random_low, a_random_high
//	a_zeta_re, a_zeta_im
//
// normal and random are the absorption at normal and random incidence, zeta is the
// specific surface impedance Z/(ρc) at normal incidence, time factor e^{+jωt}.
func CSV(w io.Writer, a Report) error {
	if err := a.check(); err != nil {
		return err
	}
	header := []string{"frequency_hz"}
	for i := range a.BuildUps {
		l := strings.ToLower(a.letter(i))
		for _, name := range []string{"normal", "normal_low", "normal_high", "random", "random_low", "random_high", "zeta_re", "zeta_im"} {
			header = append(header, l+"_"+name)
		}
	}
	rows := [][]string{header}
	for n, f := range a.BuildUps[0].Figure.Grid {
		row := []string{data.Digits(unit.Round(f, 4))}
		for i := range a.BuildUps {
			g := &a.BuildUps[i].Figure
			row = append(append(row, spanDigits(g.Normal[n])...), spanDigits(g.Random[n])...)
			row = append(row, data.Digits(real(g.Zeta[n])), data.Digits(imag(g.Zeta[n])))
		}
		rows = append(rows, row)
	}
	return data.WriteRows(w, rows)
}

func spanDigits(s material.Span) []string {
	var cells []string
	for _, v := range []float64{s.Typical, s.Low, s.High} {
		cells = append(cells, data.Digits(unit.Round(v, 6)))
	}
	return cells
}
