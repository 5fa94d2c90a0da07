package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/report/absorb"
	"evenbass/report/html"
)

func absorbCommand(t *terminal) *cli.Command {
	return &cli.Command{
		Name: "absorb", Usage: "compute how much build-ups of wool, film, air and board absorb",
		ArgsUsage: "'LAYER, LAYER, ...' ['LAYER, ...'] [-o page.html]",
		Description: "Write a build-up as its layers, starting with the one that faces the room:\n" +
			"   evenbass absorb 'wool 50 mm 10 kPa·s/m², film 100 µm, wool 200 mm 6 kPa·s/m²'\n" +
			"Give several to compare them. --from computes a room file's treatments on their own walls.",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "o", Usage: "write the page to this `FILE`"},
			&cli.StringFlag{Name: "csv", Usage: "write the curves as CSV to this `FILE` ('-': standard output)"},
			&cli.StringFlag{Name: "wall", Value: "rigid", Usage: "the `CONSTRUCTION` behind the build-ups that are given as arguments"},
			&cli.StringFlag{Name: "from", Usage: "use the treatments, air and materials of this room `FILE`"},
			&cli.StringFlag{Name: "treatment", Usage: "use only the treatment of this `NAME`"},
			&cli.BoolFlag{Name: "list", Usage: "list the materials for layers"},
			unitsFlag(),
		},
		Action: func(c *cli.Context) error { return runAbsorb(c, t) },
	}
}

func runAbsorb(c *cli.Context, t *terminal) error {
	style, err := unitStyle(c)
	if err != nil {
		return err
	}
	if c.Bool("list") {
		t.print(materialList())
		return nil
	}
	if err := apart(outputsOf(c), c.String("from")); err != nil {
		return err
	}
	for _, file := range []string{c.String("o"), c.String("csv")} {
		if err := writable(file); err != nil {
			return err
		}
	}
	a := absorb.Report{Style: style, Run: html.Run{Command: absorbLine(c), Version: version(), Date: time.Now()}}
	samples, err := gatherSamples(c, &a)
	if err != nil {
		return err
	}
	for _, s := range samples {
		b, err := s.BuildUp()
		if err != nil {
			return s.fail(err)
		}
		a.BuildUps = append(a.BuildUps, b)
	}
	return deliverAbsorption(c, t, a)
}

// materialList lists every material of the library with its figures.
func materialList() string {
	var b strings.Builder
	for _, m := range absorber.Materials() {
		var figures []string
		add := func(s material.Span, scale float64, unit string) {
			if s.Typical > 0 {
				figures = append(figures, fmt.Sprintf("%.4g (%.4g-%.4g) %s", s.Typical/scale, s.Low/scale, s.High/scale, unit))
			}
		}
		add(m.Resistivity, 1000, "kPa·s/m²")
		add(m.Density, 1, "kg/m³")
		add(m.SurfaceMass, 1, "kg/m²")
		fmt.Fprintf(&b, "%-24s %s\n", m.Name, strings.Join(figures, ", "))
	}
	return b.String()
}

// absorbLine returns the command line again, quoted for a shell.
func absorbLine(c *cli.Context) string {
	words := append([]string{"evenbass absorb"}, given(c, "from", "treatment", "wall", "units")...)
	for _, text := range c.Args().Slice() {
		words = append(words, quoted(text))
	}
	return strings.Join(words, " ")
}

// deliverAbsorption writes the files that were asked for and prints the text.
func deliverAbsorption(c *cli.Context, t *terminal, a absorb.Report) error {
	return t.deliver(
		func() string { return absorb.Text(a) },
		output{c.String("o"), func(w io.Writer) error { return absorb.Page(w, a) }},
		output{c.String("csv"), func(w io.Writer) error { return absorb.CSV(w, a) }},
	)
}
