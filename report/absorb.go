package report

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/material"
)

// maxBuildUps is how many build-ups one comparison holds: as many as there are
// colours for their curves.
const maxBuildUps = 5

// Absorption is a comparison of build-ups of layers, for [AbsorptionText],
// [AbsorptionPage] and [AbsorptionCSV].
type Absorption struct {
	Title    string    // what they have in common, such as the room's name; "" if nothing
	BuildUps []BuildUp // 1 to 5
	Style    Style
	Run      Run // File and Source are those of the room file, if one was read
}

// BuildUp is a build-up of layers and what it does to sound.
type BuildUp struct {
	Name   string        // a treatment's name; "" if it has none
	Text   string        // the layers from the room to the wall, as they were written
	Wall   string        // what it stands on: "a rigid wall"
	Layers []model.Layer // the same layers with every figure filled in

	Depth    float64   // m
	Weights  []float64 // of each layer, kg/m²
	HalfFrom float64   // lowest frequency with half absorption at normal incidence, Hz; 0 is none up to 5 kHz

	Figure  material.Figure  // over the chart's frequencies, ascending
	Bands   []AbsorptionBand // third octaves, ascending; the same in all build-ups of a comparison
	Words   []string         // what its pieces do, whole sentences
	Sources []string         // where the figures of its materials come from, "name: source"
	Doubts  []model.Warning
}

// AbsorptionBand is the mean absorption over one third octave.
type AbsorptionBand struct {
	Frequency      float64 // nominal mid-band frequency, Hz
	Normal, Random material.Span
}

// MaxBuildUps returns how many build-ups a comparison may hold.
func MaxBuildUps() int { return maxBuildUps }

// check reports what keeps a comparison from being shown.
func (a *Absorption) check() error {
	if n := len(a.BuildUps); n == 0 || n > maxBuildUps {
		return fmt.Errorf("report: a comparison holds 1 to %d build-ups, have %d", maxBuildUps, n)
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
func (a *Absorption) letter(i int) string { return string(rune('A' + i)) }

// heading names a build-up in full: "A, rear layer: film 100 µm, wool 200 mm".
func (a *Absorption) heading(i int) string {
	b := &a.BuildUps[i]
	name := a.letter(i)
	if b.Name != "" {
		name += ", " + printable(b.Name)
	}
	return name + ": " + printable(b.Text)
}

// weight returns the mass of the whole build-up in kg/m².
func (b *BuildUp) weight() float64 {
	var sum float64
	for _, kg := range b.Weights {
		sum += kg
	}
	return sum
}

// headline says which build-up reaches lowest, and how low two others do.
func (a *Absorption) headline() string {
	best := -1
	for i, b := range a.BuildUps {
		if b.HalfFrom > 0 && (best < 0 || b.HalfFrom < a.BuildUps[best].HalfFrom) {
			best = i
		}
	}
	switch {
	case best < 0 && len(a.BuildUps) == 1:
		return "At no frequency does it take up half of the sound that meets it head on."
	case best < 0:
		return "None of them takes up half of the sound that meets it head on."
	case len(a.BuildUps) == 1:
		return fmt.Sprintf("It takes up half of the sound that meets it head on from %s.", roundHertz(a.BuildUps[0].HalfFrom))
	}
	first := fmt.Sprintf("%s reaches lowest: it takes up half of the sound that meets it head on from %s",
		a.letter(best), roundHertz(a.BuildUps[best].HalfFrom))
	if len(a.BuildUps) > 3 {
		return first + "."
	}
	var others []string
	for i, b := range a.BuildUps {
		switch {
		case i == best:
		case b.HalfFrom == 0:
			others = append(others, a.letter(i)+" at no frequency")
		default:
			others = append(others, a.letter(i)+" from "+roundHertz(b.HalfFrom))
		}
	}
	return first + "; " + strings.Join(others, ", ") + "."
}

// absorptionLimits says how far the figures are to be trusted.
func absorptionLimits() []string {
	return []string{
		"Normal is normal incidence: sound that meets the build-up head on, as the modes between two walls do. " +
			"Random is the mean over all directions, as a reverberation room averages them.",
		"Low to high is the range for flow resistivity 30 % lower or higher, and, where the skeleton of wool is not said to be held or limp, for either; " +
			"the typical value then has it held. It is no range for workmanship, gaps or the wall.",
		"Figures printed from a reverberation room (ISO 354) are higher in the bass, and may be above 1: " +
			"they hold for a sample of 10 to 12 m² whose edges take up sound as well. For 50 to 100 mm of mineral wool " +
			"at 125 and 250 Hz they were found 1.4 to 2.2 times as high as the infinite area computed here. " +
			"Compare printed figures with printed ones and computed ones with computed ones.",
		"A build-up on part of a wall, with its own edges or across a corner does something else again; what it does in a room is for a run with the room file to say.",
		"Wool is one fluid with a skeleton that is either held or limp, a film hangs limp, a panel moves as one mass. Bending, stretched film and leaks are left out.",
	}
}

// recipe says how the figures were computed, once for all build-ups.
func (a *Absorption) recipe() string {
	return "Not measured: " + a.BuildUps[0].Figure.Recipe + ". Third octaves are means over the band."
}

// sources lists where the materials' figures come from, each once.
func (a *Absorption) sources() []string {
	var lines []string
	for _, b := range a.BuildUps {
		for _, s := range b.Sources {
			if s = printable(s); !slices.Contains(lines, s) {
				lines = append(lines, s)
			}
		}
	}
	return lines
}

// doubts lists the warnings of all build-ups, each under its letter.
func (a *Absorption) doubts() []string {
	var lines []string
	for i, b := range a.BuildUps {
		for _, w := range b.Doubts {
			lines = append(lines, a.letter(i)+": "+printable(string(w)))
		}
	}
	return lines
}

// roundHertz writes a frequency to about 1 %: whole hertz, tens of hertz above 1 kHz.
func roundHertz(f float64) string {
	if f >= 995 {
		return decimal(f/1000, 2) + " kHz"
	}
	return decimal(f, 0) + " Hz"
}
