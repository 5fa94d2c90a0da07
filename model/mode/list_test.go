package mode

import (
	"encoding/json"
	"math"
	"os"
	"testing"

	"evenbass/model"
	"evenbass/model/reference"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func rigidBox(x, y, z, c float64) model.Box {
	return model.Box{Size: r3.Vec{X: x, Y: y, Z: z}, Air: model.Air{Speed: c, Density: 1.21}}
}

func TestListFrequencies(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		box       model.Box
		tolerance float64
		want      []float64 // from the lowest, Hz
	}{
		{"Long, Architectural Acoustics, 2nd ed. 2014, table 8.1 (recomputed for c = 344)", rigidBox(7, 5, 3, 344), 1e-4,
			[]float64{24.5714, 34.4000, 42.2743, 49.1429, 57.3333, 59.9865}},
		{"Long, the same as printed (rounded, 0.13 Hz)", rigidBox(7, 5, 3, 344), 0.13,
			[]float64{24.6, 34.5, 42.4, 49.2, 57.4, 60.1}},
		{"Kuttruff, Room Acoustics, table 3.1 (the table from memory, recomputed)", rigidBox(4.7, 4.1, 3.1, 340), 0.005,
			[]float64{36.17, 41.46, 54.84, 55.02, 65.69, 68.75, 72.34, 77.68, 82.93, 83.38, 90.47, 90.78, 99.42, 99.80, 105.79, 108.51, 109.68, 110.05, 115.49, 116.16}},
		{"5 x 4 x 2.5 m, by hand", rigidBox(5, 4, 2.5, 343), 1e-6,
			[]float64{34.3, 42.875, 54.906790, 68.6, 68.6, 76.697132, 80.896388, 80.896388, 85.75, 87.867603, 92.355576, 97.015050, 102.9, 106.066892, 109.813581, 109.813581}},
		{"university listening room to IEC 60268-13, 73 m³ (size published, modes by hand)", rigidBox(6.52, 4.20, 2.68, 343), 1e-4,
			[]float64{26.3037, 40.8333, 48.5721, 52.6074, 63.9925, 66.5950, 69.1876}},
		{"Stephenson, thesis 2012, room of section 6.5.2 (size published, modes by hand)", rigidBox(6.97, 5.32, 2.69, 343), 1e-4,
			[]float64{24.6055, 32.2368, 40.5542, 49.2109, 58.8296, 63.7546, 64.4737}},
		{"Rindel 2021, 85 m³ (size published, modes by hand)", rigidBox(6.36, 4.44, 3.00, 343), 1e-4,
			[]float64{26.9654, 38.6261, 47.1074, 53.9308, 57.1667, 63.2073, 66.3363, 68.9928, 74.0752, 77.2523}},
		{"3 m cube: three axial, three tangential, one oblique", rigidBox(3, 3, 3, 343), 1e-4,
			[]float64{57.1667, 57.1667, 57.1667, 80.8459, 80.8459, 80.8459, 99.0156}},
	} {
		modes, _ := List(c.box, 130)
		if len(modes) < len(c.want) {
			t.Errorf("%s: %d modes", c.name, len(modes))
			continue
		}
		for i, want := range c.want {
			if got := modes[i].Frequency; math.Abs(got-want) > c.tolerance {
				t.Errorf("%s: mode %d (%v) at %.6f Hz, want %v", c.name, i, modes[i], got, want)
			}
		}
	}
}

// The open collection of worked examples beside the project prints the same room.
func TestReferenceWorkedExamples(t *testing.T) {
	t.Parallel()
	raw, err := os.ReadFile(reference.File(t, "worked_examples.json"))
	if err != nil {
		t.Fatal(err)
	}
	var file struct {
		RoomModes []struct {
			Source string     `json:"src"`
			Dims   [3]float64 `json:"dims_m"`
			Modes  []float64  `json:"modes_hz"`
			Tol    float64    `json:"tol_hz"`
		} `json:"room_modes"`
	}
	if err := json.Unmarshal(raw, &file); err != nil {
		t.Fatal(err)
	}
	if len(file.RoomModes) == 0 {
		t.Fatal("no room modes in the file")
	}
	for _, r := range file.RoomModes {
		box := rigidBox(r.Dims[0], r.Dims[1], r.Dims[2], 344)
		modes, _ := List(box, 100)
		for i, want := range r.Modes {
			if got := modes[i].Frequency; math.Abs(got-want) > r.Tol {
				t.Errorf("%s: mode %d at %v Hz, printed %v", r.Source, i, got, want)
			}
		}
	}
}

// Nearly rigid walls damp as perturbation has it, δ = (c/2V) Σ ε S β (Morse & Bolt 1944):
// here the 5 x 4 x 2.5 m room, figures for β = 0.01, computed for this project. The oblique
// value is Sabine's with α = 8β.
func TestDamping(t *testing.T) {
	t.Parallel()
	const beta = 1e-5
	modes, _ := List(roomT(0, even(beta)...), 100)
	for _, m := range modes {
		want, ok := map[string][2]float64{ // 1/s, s
			"1-0-0": {3.6015, 1.918022}, "0-1-0": {3.7730, 1.830839}, "0-0-1": {4.2875, 1.611138},
			"1-1-0": {4.4590, 1.549171}, "1-0-1": {4.9735, 1.388912}, "0-1-1": {5.1450, 1.342615},
			"1-1-1": {5.8310, 1.184660},
		}[m.String()]
		if ok && (math.Abs(m.Rate*0.01/beta-want[0]) > 2e-4 || math.Abs(m.DecayTime()*beta/0.01-want[1]) > 1e-4) {
			t.Errorf("%v: %v 1/s, %v s, want %v", m, m.Rate*0.01/beta, m.DecayTime()*beta/0.01, want)
		}
		const v, s = 50, 85 // m³, m²
		if sabine := 24 * math.Ln10 / 343 * v / (s * 8 * beta); m.Kind() == Oblique && math.Abs(m.DecayTime()/sabine-1) > 1e-4 {
			t.Errorf("oblique decay time %v s, Sabine %v s", m.DecayTime(), sabine)
		}
	}
	modes, _ = List(roomT(0), 40)
	if !math.IsInf(modes[0].DecayTime(), 1) {
		t.Errorf("decay time between rigid walls: %v s", modes[0].DecayTime())
	}
}

// In a cube with one small β the decay times are as 1.5 : 1.2 : 1 (Kuttruff, Room
// Acoustics, ch. 3: grazing walls count half).
func TestDampingCube(t *testing.T) {
	t.Parallel()
	box := rigidBox(3, 3, 3, 343)
	for _, f := range model.Faces {
		box.Walls[f] = model.Plain(1e-5)
	}
	modes, _ := List(box, 110)
	oblique := modes[6].DecayTime()
	for i, m := range modes[:7] {
		want := [...]float64{Axial: 1.5, Tangential: 1.2, Oblique: 1}[m.Kind()]
		if ratio := m.DecayTime() / oblique; math.Abs(ratio-want) > 1e-4 {
			t.Errorf("mode %d, %v: %v times the oblique one's", i, m, ratio)
		}
	}
}

// Decay time T and bandwidth: 3 ln10/(πT), about 2.2/T (Kuttruff, ch. 3, the
// statement from memory, recomputed). Q = 16 gives T = 2.2 Q/f: 1.1, 0.56, 0.28 s at
// 32, 63, 125 Hz as printed by Avis, Fazenda & Davies 2007.
func TestBandwidth(t *testing.T) {
	t.Parallel()
	for decay, want := range map[float64]float64{0.2: 10.99403, 0.3: 7.32936, 0.4: 5.49702, 0.5: 4.39761, 1: 2.19881} {
		m := Mode{Frequency: 50, Rate: 3 * math.Ln10 / decay}
		if got := m.Bandwidth(); math.Abs(got-want) > 1e-5 {
			t.Errorf("%v s: %v Hz wide, want %v", decay, got, want)
		}
	}
	for f, printed := range map[float64]float64{32: 1.1, 63: 0.56, 125: 0.28} {
		m := Mode{Frequency: f, Rate: math.Pi * f / 16}
		if math.Abs(m.Quality()-16) > 1e-12 || math.Abs(m.DecayTime()-printed) > 0.005 {
			t.Errorf("%v Hz: Q %v, %v s, printed %v s", f, m.Quality(), m.DecayTime(), printed)
		}
	}
}

// Rooms of one shape have modes in proportion, and the order of the axes does not
// matter to the frequencies; nothing at or below the limit is left out.
func TestListProperties(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(2, 8)
		x, y, z := side.Draw(t, "x"), side.Draw(t, "y"), side.Draw(t, "z")
		scale := rapid.Float64Range(0.5, 2).Draw(t, "scale")
		frequencies := func(modes []Mode) []float64 {
			var fs []float64
			for _, m := range modes {
				fs = append(fs, math.Round(m.Frequency*1e6)/1e6)
			}
			return fs
		}
		base, _ := List(rigidBox(x, y, z, 343), 120)
		turned, _ := List(rigidBox(z, x, y, 343), 120)
		if diff := cmp.Diff(frequencies(base), frequencies(turned)); diff != "" {
			t.Fatalf("axes exchanged:\n%s", diff)
		}
		scaled, _ := List(rigidBox(x*scale, y*scale, z*scale, 343), 120/scale)
		for i := range min(len(base), len(scaled)) {
			if r := base[i].Frequency / scaled[i].Frequency; math.Abs(r-scale) > 1e-9 {
				t.Fatalf("mode %d: %v Hz and %v Hz, scale %v", i, base[i].Frequency, scaled[i].Frequency, scale)
			}
		}
		if longer, _ := List(rigidBox(x, y, z, 343), 150); len(base) < len(longer) {
			if f := longer[len(base)].Frequency; f <= 120 {
				t.Fatalf("%v Hz is missing below 120 Hz", f)
			}
		}
	})
}

func TestShape(t *testing.T) {
	t.Parallel()
	size := r3.Vec{X: 5, Y: 4, Z: 2.5}
	m := Mode{N: [3]int{2, 1, 0}}
	// cos 2πx/L cos πy/W by hand: 1 in the corner, 0 at a quarter of the length.
	for at, want := range map[r3.Vec]float64{{}: 1, {X: 1.25, Y: 1, Z: 2}: 0, {X: 2.5, Y: 1}: -math.Sqrt2 / 2, {X: 5, Y: 4, Z: 1}: -1} {
		if got := m.Shape(size, at); math.Abs(got-want) > 1e-12 {
			t.Errorf("shape at %v: %v, want %v", at, got, want)
		}
	}
}
