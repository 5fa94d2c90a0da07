package material

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"evenbass/model/material/materialtest"
	"evenbass/model/reference"
)

// Octave-band rows of another collection (pyroomacoustics materials.json, MIT; its
// authors took them from Vorländer, Auralization, 2008). Where a construction rests on
// that very row this guards the typing only; the others are a second opinion.
func TestReferenceSecondCollection(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(reference.File(t, "pyroomacoustics_materials/materials.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		Absorption map[string]map[string]struct{ Coeffs []float64 }
	}
	if err := json.Unmarshal(data, &file); err != nil {
		t.Fatal(err)
	}
	octaves := map[string][]float64{} // from 125 Hz
	for _, group := range file.Absorption {
		for key, row := range group {
			octaves[key] = row.Coeffs
		}
	}
	for _, c := range []struct{ ours, theirs string }{
		{"brick plastered", "brickwork"}, // second opinions
		{"brick plastered", "brick_wall_rough"},
		{"concrete", "rough_concrete"},
		{"concrete", "unpainted_concrete"},
		{"concrete", "concrete_floor"},
		{"plaster on concrete", "hard_surface"},
		{"timber panelling", "wooden_lining"},
		{"single glazing", "glass_window"},
		{"single glazing", "lead_glazing"},
		{"solid door", "wooden_door"},
		{"carpet on concrete", "carpet_rubber_5mm"},
		{"carpet on underlay", "carpet_1.35_kg_m2"},
		{"double plasterboard on studs", "plasterboard"},
		{"plasterboard on joists", "ceiling_plasterboard"}, // the very row
		{"linoleum on concrete", "linoleum_on_concrete"},
		{"tiles on concrete", "ceramic_tiles"},
		{"brick painted", "smooth_brickwork_flush_pointing"},
	} {
		got, ok := Lookup(c.ours)
		row := octaves[c.theirs]
		if !ok || len(row) < 2 {
			t.Errorf("%q or %q is missing", c.ours, c.theirs)
			continue
		}
		for i, band := range []int{7, 10} { // 125 and 250 Hz
			// 0.015 is for rows that are printed to one digit.
			if s := got.Absorption[band]; row[i] < s.Low-0.015 || row[i] > s.High+0.015 {
				t.Errorf("%s at %g Hz: %v is outside %+v", c.ours, Bands()[band], row[i], s)
			}
		}
	}
}

// Third octaves from 25 Hz of real rooms' surfaces (BRAS round robin, CC BY-SA 4.0,
// compared and not copied). They are "estimated, based on database values and
// in-situ measurements" by their own words, and carried on below 100 Hz like ours;
// they can show an error of size, not of detail. Each has its stated bound on the mean
// of |ours - theirs| over 25 to 315 Hz: 0.05, and twice that for the lino of a stepped
// auditorium floor. That auditorium's brick wall takes 0.35 at 315 Hz, so it is
// not the flush brickwork that the library means, and is left out.
func TestReferenceRealSurfaces(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		ours, file string
		bound      float64
	}{
		{"brick plastered", "mat_scene09_plaster", 0.05},
		{"concrete", "mat_scene09_concrete", 0.05},
		{"double glazing", "mat_scene09_windows", 0.05},
		{"linoleum on concrete", "mat_scene09_floor", 0.05},
		{"concrete", "mat_scene08_concrete", 0.05},
		{"concrete", "mat_scene08_paintedConcrete", 0.05},
		{"tiles on concrete", "mat_Tiles", 0.05},
		{"parquet on concrete", "mat_scene11_parquet", 0.05},
		{"linoleum on concrete", "mat_scene11_linoleum", 0.10},
	} {
		theirs := thirdOctaves(t, c.file)
		got, ok := Lookup(c.ours)
		if !ok {
			t.Errorf("%q is missing", c.ours)
			continue
		}
		var mean float64
		for i, f := range Bands() {
			a, ok := theirs[f]
			if !ok {
				t.Fatalf("%s has no %g Hz", c.file, f)
			}
			mean += math.Abs(got.Absorption[i].Typical-a) / BandCount
		}
		t.Logf("%-22s %-28s mean difference %.3f", c.ours, c.file, mean)
		if mean > c.bound {
			t.Errorf("%s is %.3f from %s on average, the bound is %v", c.ours, mean, c.file, c.bound)
		}
	}
}

// thirdOctaves reads the absorption of one surface: frequencies in the first line,
// absorption in the second.
func thirdOctaves(t *testing.T, name string) map[float64]float64 {
	t.Helper()
	lines := reference.Rows(t, "bras_materials/tmm/database/_csv/"+name+".csv")
	if len(lines) < 2 {
		t.Fatalf("%s: %d lines", name, len(lines))
	}
	out := map[float64]float64{}
	for i := range min(len(lines[0]), len(lines[1])) {
		f, err1 := strconv.ParseFloat(strings.TrimSpace(lines[0][i]), 64)
		a, err2 := strconv.ParseFloat(strings.TrimSpace(lines[1][i]), 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("%s: %v %v", name, err1, err2)
		}
		out[f] = a
	}
	return out
}

// Rows that data books print for the same words. The library must hold both ends
// of the known quarrels.
func TestReferenceDataBooks(t *testing.T) {
	t.Parallel()
	lines := reference.Rows(t, "absorption_book_values.csv")
	ours := map[string]string{
		"Ordinary window glass":                           "single glazing",
		"Glass single pane >4 mm":                         "single glazing",
		"Glass heavy plate":                               "heavy glass",
		"Solid timber door":                               "solid door",
		"Wood 50 mm thick":                                "solid door",
		"Wood floor on joists":                            "timber on joists",
		"Gypsum board on 50x100 mm studs":                 "plasterboard on studs",
		"Plasterboard on frame 13 mm 10 cm empty cavity":  "plasterboard on studs empty",
		"Plasterboard on frame 9.5 mm 10 cm empty cavity": "plasterboard on studs empty",
		"Plaster smooth on tile or brick":                 "brick plastered",
		"Rough concrete":                                  "concrete",
		"Brick unglazed":                                  "brick unplastered",
		"Carpet heavy on concrete":                        "carpet on concrete",
		"Carpet heavy on felt or foam":                    "carpet on underlay",
	}
	found := 0
	for _, line := range lines[1:] {
		c, ok := Lookup(ours[line[0]])
		if !ok {
			continue
		}
		found++
		for band, column := range map[int]int{7: 2, 10: 3} {
			a, err := strconv.ParseFloat(line[column], 64)
			if err != nil {
				t.Fatal(err)
			}
			if s := c.Absorption[band]; a < s.Low-1e-9 || a > s.High+1e-9 {
				t.Errorf("%s (%s, %s): %v at %g Hz is outside %+v", c.Name, line[0], line[6], a, Bands()[band], s)
			}
		}
	}
	if found != len(ours) {
		t.Errorf("%d of %d rows found", found, len(ours))
	}
}

// The low estimate of a hole is a piston of 1 m² in a baffle at 63 Hz (Rayleigh,
// Theory of Sound, § 302): r = 1 - J1(x)/(x/2), x = 2ka, and the mass part by the
// Struve function H1(x) = (2/π)(1 - J0(x)) + (2/π) Σ..., here as its power series.
func TestOpenLowIsAPiston(t *testing.T) {
	t.Parallel()
	x := 2 * 2 * math.Pi * 63 / 343 * math.Sqrt(1/math.Pi)
	var struve float64
	for m := range 20 {
		k := float64(m)
		term := math.Pow(x/2, 2*k+2) / (math.Gamma(k+1.5) * math.Gamma(k+2.5))
		struve += math.Pow(-1, k) * term
	}
	zeta := complex(1-2*math.J1(x)/x, 2*struve/x)
	materialtest.Near(t, "r", real(zeta), 0.20, 0.005)
	materialtest.Near(t, "x", imag(zeta), 0.49, 0.005)
	c, _ := Lookup("open")
	materialtest.Near(t, "low", c.Absorption[0].Low, AbsorptionAt(1/zeta, 1), 0.005)
	materialtest.Near(t, "typical", c.Absorption[0].Typical, RandomAbsorption(1), 1e-12)
	if got := c.At(Typical).Admittance(50); got != 1 {
		t.Errorf("a hole has β = %v", got)
	}
}

func ExampleConstruction_At() {
	c, _ := Lookup("single glazing")
	for _, e := range []Estimate{Low, Typical, High} {
		fmt.Printf("%-8v β at 125 Hz %.4f\n", e, real(c.At(e).Admittance(125)))
	}
	// Output:
	// low      β at 125 Hz 0.0110
	// typical  β at 125 Hz 0.0289
	// high     β at 125 Hz 0.0619
}
