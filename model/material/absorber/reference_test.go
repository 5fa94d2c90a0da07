package absorber

import (
	"bufio"
	"math"
	"math/cmplx"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/reference"
	"evenbass/model/trust"
)

// Materials of the transfer-matrix references: porosity and so on as in
// pymls_tmm_refs/tests/materials (MIT).
var referenceFoams = map[string]JohnsonChampouxAllard{
	"foam":  {87e3, 0.97, 2.52, 36e-6, 118e-6},
	"foam2": {15e3, 0.98, 1.05, 100e-6, 250e-6},
}

var referenceName = regexp.MustCompile(`^(foam2?)(?:_(foam2?))?_(\d+)mm(?:_(\d+)mm)?_rigid_(\d+)deg\.PW$`)

// Reflection of one and two porous layers at 5, 35, 45 and 80 degrees against
// values computed by another project (pymls, MIT): every file within 5e-4 in R.
func TestReferenceReflection(t *testing.T) {
	t.Parallel()
	folder := reference.File(t, "pymls_tmm_refs/tests/references/eqf")
	entries, err := os.ReadDir(folder)
	if err != nil {
		t.Fatal(err)
	}
	var files int
	var worst float64
	for _, e := range entries {
		part := referenceName.FindStringSubmatch(e.Name())
		if part == nil {
			continue
		}
		files++
		d := referenceDeviation(t, filepath.Join(folder, e.Name()), part)
		if d > 5e-4 {
			t.Errorf("%s: R is off by %.1e", e.Name(), d)
		}
		worst = max(worst, d)
	}
	if files != 168 {
		t.Errorf("%d files read, want 168", files)
	}
	t.Logf("%d files, worst |ΔR| %.1e", files, worst)
	trust.Seen(t, "layered absorbers, another project's files", "within %s in the reflection factor", trust.Figure(worst, 2))
}

func referenceDeviation(t *testing.T, path string, part []string) float64 {
	gas := Gas{Viscosity: 1.84e-5, Prandtl: 0.71, HeatRatio: 1.4, Pressure: 101325}
	air := model.Air{Density: 1.213, Speed: math.Sqrt(1.4 * 101325 / 1.213)}
	layers := []model.Layer{johnsonLayer(referenceFoams[part[1]], millimetres(part[3]))}
	if part[2] != "" {
		layers = append(layers, johnsonLayer(referenceFoams[part[2]], millimetres(part[4])))
	}
	s := stackOf(t, Options{Air: air, Gas: gas}, layers...)
	degrees, _ := strconv.ParseFloat(part[5], 64)
	var worst float64
	for _, row := range readNumbers(t, path) {
		want := complex(row[2], row[3])
		worst = max(worst, cmplx.Abs(s.Reflection(row[0], degrees*math.Pi/180)-want))
	}
	return worst
}

func millimetres(text string) float64 {
	v, _ := strconv.ParseFloat(text, 64)
	return v / 1000
}

func readNumbers(t *testing.T, path string) [][]float64 {
	t.Helper()
	file, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	var rows [][]float64
	for lines := bufio.NewScanner(file); lines.Scan(); {
		var row []float64
		for _, field := range strings.Fields(lines.Text()) {
			v, err := strconv.ParseFloat(field, 64)
			if err != nil {
				t.Fatalf("%s: %v", path, err)
			}
			row = append(row, v)
		}
		if len(row) >= 4 {
			rows = append(rows, row)
		}
	}
	if len(rows) == 0 {
		t.Fatalf("%s: no rows", path)
	}
	return rows
}

// Absorption from surface impedance measured in a tube (Atalla and Panneton, read
// off their figures in the project pyva, MIT): two foams and two fibrous
// materials in two thicknesses, 200 to 1600 Hz, rms error below 0.05 each. The
// fibrous ones need the limp skeleton.
func TestReferenceTube(t *testing.T) {
	t.Parallel()
	table := readTable(t, "pyva_porous/material_parameters.csv")
	least, most := math.Inf(1), 0.0
	for _, row := range table {
		m := JohnsonChampouxAllard{row["flow_resistivity_Pa_s_m2"], row["porosity"], row["tortuosity"], row["viscous_length_m"], row["thermal_length_m"]}
		name := materialNames[int(row["row"])]
		for _, sample := range []struct{ file, thickness string }{
			{name, "thickness_m"}, {name + "thick", "thick_thickness_m"},
		} {
			l := johnsonLayer(m, row[sample.thickness])
			l.Density = row["frame_density_kg_m3"]
			if strings.HasPrefix(name, "fibrous") {
				l.Frame = model.FrameLimp
			}
			rms := tubeDeviation(t, "pyva_porous/data/"+sample.file+".CSV", l, row)
			t.Logf("%-13s %5.1f mm: rms %.3f", sample.file, l.Thickness*1000, rms)
			least, most = min(least, rms), max(most, rms)
			if rms > 0.05 {
				t.Errorf("%s: rms error in absorption %.3f", sample.file, rms)
			}
		}
	}
	trust.Seen(t, "layered absorbers, in a tube", "%.3f to %.3f rms", least, most)
}

var materialNames = []string{"foam1", "foam2", "fibrous1", "fibrous2"}

func tubeDeviation(t *testing.T, path string, l model.Layer, row map[string]float64) float64 {
	air := model.AirAt(273.15 + row["temperature_C"])
	pressure := 101325 * row["pressure_atm"]
	air.Density *= row["pressure_atm"]
	s := stackOf(t, Options{Air: air, Gas: Gas{Pressure: pressure, Viscosity: 1.84e-5}}, l)
	var sum float64
	var n int
	for _, r := range readComma(t, reference.File(t, path)) {
		if r[0] < 200 || r[0] > 1600 {
			continue
		}
		n++
		d := s.NormalAbsorption(r[0]) - material.AbsorptionAt(1/complex(r[1], r[2]), 1)
		sum += d * d
	}
	if n < 60 {
		t.Errorf("%s: only %d rows", path, n)
	}
	return math.Sqrt(sum / float64(n))
}

// readComma returns the first three columns of every row of numbers.
func readComma(t *testing.T, path string) [][3]float64 {
	t.Helper()
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var rows [][3]float64
	for line := range strings.Lines(string(text)) {
		var row [3]float64
		fields := strings.Split(strings.TrimSpace(line), ",")
		if len(fields) < 3 {
			continue
		}
		ok := true
		for i := range row {
			var err error
			row[i], err = strconv.ParseFloat(fields[i], 64)
			ok = ok && err == nil
		}
		if ok {
			rows = append(rows, row)
		}
	}
	return rows
}

// readTable returns the numeric columns of each row by name, and its index.
func readTable(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	rows := reference.Rows(t, name)
	var table []map[string]float64
	for i, row := range rows[1:] {
		if row[0] != materialNames[i] {
			t.Fatalf("%s: row %d is %q", name, i, row[0])
		}
		m := map[string]float64{"row": float64(i)}
		for j, text := range row {
			if v, err := strconv.ParseFloat(text, 64); err == nil {
				m[rows[0][j]] = v
			}
		}
		table = append(table, m)
	}
	return table
}
