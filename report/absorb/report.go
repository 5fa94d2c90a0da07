package absorb

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenbass/model/material/absorption"
	"evenbass/report/html"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// MaxBuildUps is how many build-ups one comparison holds: as many as there are
// colours for their curves.
const MaxBuildUps = 5

// Report is a comparison of build-ups of layers, for [Text], [Page] and [CSV].
type Report struct {
	Title    string    // what they have in common, such as the room's name; "" if nothing
	BuildUps []BuildUp // 1 to 5
	Style    unit.Style
	Full     bool     // the text holds everything, not only what comes first
	Run      html.Run // File and Source are those of the room file, if one was read
}

// BuildUp is a build-up of layers and what it does to sound.
type BuildUp = absorption.BuildUp

// check reports what keeps a comparison from being shown.
func (a *Report) check() error {
	if n := len(a.BuildUps); n == 0 || n > MaxBuildUps {
		return fmt.Errorf("report: a comparison holds 1 to %d build-ups, have %d", MaxBuildUps, n)
	}
	for i := range a.BuildUps {
		b, f := &a.BuildUps[i], &a.BuildUps[i].Figure
		switch n := len(f.Grid); {
		case n == 0 || len(f.Normal) != n || len(f.Random) != n || len(f.Zeta) != n:
			return fmt.Errorf("report: the figure of build-up %s does not match its grid", a.letter(i))
		case len(b.Weights) != len(b.Layers):
			return fmt.Errorf("report: build-up %s has %d layers and %d weights", a.letter(i), len(b.Layers), len(b.Weights))
		case len(b.Bands) != len(a.BuildUps[0].Bands) || n != len(a.BuildUps[0].Figure.Grid):
			return errors.New("report: the build-ups of a comparison have different frequencies")
		}
	}
	return nil
}

// letter returns the short name of a build-up: A, B, ...
func (a *Report) letter(i int) string { return string(rune('A' + i)) }

// heading names a build-up in full: "A, rear layer: film 100 µm, wool 200 mm".
func (a *Report) heading(i int) string {
	b := &a.BuildUps[i]
	name := a.letter(i)
	if b.Name != "" {
		name += ", " + text.Printable(b.Name)
	}
	return name + ": " + text.Printable(b.Text)
}

// headline says which build-up reaches lowest, and how low up to two others do.
func (a *Report) headline() string {
	best := -1
	for i, b := range a.BuildUps {
		if b.HalfFrom > 0 && (best < 0 || b.HalfFrom < a.BuildUps[best].HalfFrom) {
			best = i
		}
	}
	switch {
	case best < 0 && len(a.BuildUps) == 1:
		return "At no frequency does it absorb half of head-on sound."
	case best < 0:
		return "None of them absorbs half of head-on sound at any frequency."
	case len(a.BuildUps) == 1:
		return fmt.Sprintf("Absorbs at least half of head-on sound from %s up.", roundHertz(a.BuildUps[0].HalfFrom))
	}
	first := fmt.Sprintf("%s reaches lowest: it absorbs at least half of head-on sound from %s up",
		a.letter(best), roundHertz(a.BuildUps[best].HalfFrom))
	if len(a.BuildUps) > 3 {
		return first + "."
	}
	var others []string
	for i, b := range a.BuildUps {
		switch {
		case i == best:
		case b.HalfFrom == 0:
			others = append(others, a.letter(i)+" never does")
		default:
			others = append(others, a.letter(i)+" from "+roundHertz(b.HalfFrom))
		}
	}
	return first + "; " + strings.Join(others, ", ") + "."
}

// limits says how far to trust the figures.
func (a *Report) limits() []string {
	s := a.Style
	return []string{
		"Normal incidence is sound that meets the build-up head on, as a mode between two walls does. " +
			"Random incidence is the average over all directions, as in a reverberation room.",
		"The range covers flow resistivity 30 % lower or higher. Where you do not say whether wool is held or limp, it covers both, " +
			"and the typical value assumes held. The range does not cover workmanship, gaps or the wall.",
		fmt.Sprintf("Figures printed from a reverberation room (ISO 354) are higher in the bass and can exceed 1: their sample of %s absorbs at its edges too. "+
			"For %s of mineral wool at 125 and 250 Hz they were 1.4 to 2.2 times those of the infinite area computed here. "+
			"Compare printed figures with printed ones, and computed with computed ones.",
			s.Join("10 to 12 m²", "108 to 129 sq ft"), s.Join("50 to 100 mm", "2 to 4 in")),
		"A build-up on part of a wall, with free edges or across a corner behaves differently; put it in a room file to predict it.",
		"The model treats wool as one fluid with a held or limp skeleton, film as limp and a panel as one moving mass. It leaves out bending, stretched film and leaks.",
	}
}

// recipe says how the figures were computed, once for all build-ups.
func (a *Report) recipe() string {
	return "Not measured: " + a.BuildUps[0].Figure.Recipe + ". Third-octave figures are averages over the band."
}

// sources lists where the materials' figures come from, each once.
func (a *Report) sources() []string {
	var lines []string
	for _, b := range a.BuildUps {
		for _, s := range b.Sources {
			if s = text.Printable(s); !slices.Contains(lines, s) {
				lines = append(lines, s)
			}
		}
	}
	return lines
}

// warnings lists those of all build-ups, each under its letter.
func (a *Report) warnings() []string {
	var lines []string
	for i, b := range a.BuildUps {
		for _, w := range b.Warnings {
			lines = append(lines, a.letter(i)+": "+text.Printable(text.WarningText(w, a.Style)))
		}
	}
	return lines
}

// roundHertz writes a frequency to about 1 %: whole hertz, tens of hertz above 1 kHz.
func roundHertz(f float64) string {
	if f >= 995 {
		return unit.Decimal(f/1000, 2) + " kHz"
	}
	return unit.Decimal(f, 0) + " Hz"
}
