package mode

import (
	"fmt"
	"math"
	"math/cmplx"
	"strconv"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/reference"
	"evenbass/model/trust"

	"gonum.org/v1/gonum/spatial/r3"
)

// Pressure zone: in a rigid box -G·V·k² tends to 1 as f falls, the uniform pressure
// of the adiabatic spring (check values computed for this project). It catches a
// forgotten 0-0-0.
func TestPressureZone(t *testing.T) {
	t.Parallel()
	grid := model.Grid{0.5, 1, 2, 5}
	box := roomT(0)
	g := green(t, box, grid, Settings{Accuracy: 1e-12}, sourceT, seatT)
	for i, want := range []float64{1.00021600, 1.00086452, 1.00346640, 1.02203569} {
		k := real(box.Air.Wavenumber(grid[i]))
		if got := -real(g[i]) * 50 * k * k; math.Abs(got-want) > 1e-8 {
			t.Errorf("%v Hz: %.9f, want %.8f", grid[i], got, want)
		}
	}
}

// Between rigid walls the modal sum is the sum over mirror images (Allen & Berkley
// 1979, JASA 65, 943), here in air lossy enough for that sum to end soon, at places
// where the closed form runs along each of the axes.
func TestImageSum(t *testing.T) {
	t.Parallel()
	box := model.Box{Size: r3.Vec{X: 3.1, Y: 4.3, Z: 2.4}, Air: model.Air{Speed: 343, Density: 1.21, Loss: 0.1}}
	grid := model.Grid{90, 170}
	seat := r3.Vec{X: 2, Y: 1.3, Z: 1.1}
	for _, source := range []r3.Vec{{X: 0.4, Y: 1.5, Z: 0.9}, {X: 1.8, Y: 3.9, Z: 1}, {X: 2.1, Y: 1.2, Z: 2.4}} {
		got := green(t, box, grid, Settings{Accuracy: 1e-10}, source, seat)
		for i, f := range grid {
			want := imageSum(box, f, source, seat, 28)
			if cmplx.Abs(got[i]-want) > 1e-8*cmplx.Abs(want) {
				t.Errorf("source %v at %v Hz: G = %.10g, images %.10g", source, f, got[i], want)
			}
		}
	}
}

// imageSum is G of a rigid box from mirror images to the given order per axis.
func imageSum(box model.Box, f float64, source, seat r3.Vec, order int) complex128 {
	images := func(length, x float64) []float64 {
		var xs []float64
		for n := -order; n <= order; n++ {
			xs = append(xs, 2*float64(n)*length+x, 2*float64(n)*length-x)
		}
		return xs
	}
	k := box.Air.Wavenumber(f)
	var g complex128
	for _, x := range images(box.Size.X, source.X) {
		for _, y := range images(box.Size.Y, source.Y) {
			for _, z := range images(box.Size.Z, source.Z) {
				r := r3.Norm(r3.Sub(r3.Vec{X: x, Y: y, Z: z}, seat))
				if imag(k)*r < -28 {
					continue
				}
				g += cmplx.Exp(complex(0, -r)*k) / complex(4*math.Pi*r, 0)
			}
		}
	}
	return g
}

// What the cut sum leaves out must stay within the accuracy asked for, relative to
// the direct sound, down to the nearest separation.
func TestAccuracy(t *testing.T) {
	t.Parallel()
	box := roomT(0, wallsN1...)
	grid := model.Grid{30, 80, 200, 315}
	seat := r3.Vec{X: 3.3, Y: 2.3, Z: 1.2}
	exact := newField(t, box, grid, Settings{Accuracy: 1e-13, Near: 0.4}, seat)
	for _, accuracy := range []float64{1e-2, 1e-4, 1e-6, 1e-8} {
		f := newField(t, box, grid, Settings{Accuracy: accuracy}, seat)
		var worst float64
		for _, offset := range []r3.Vec{{X: -0.4}, {Y: 0.4, X: 0.1}, {Z: -0.4, Y: 0.2}, {X: -0.9, Y: 0.3}, {X: -2.5, Y: 1, Z: -0.5}} {
			source := r3.Add(seat, offset)
			p, q := f.Transfer(nil, source), exact.Transfer(nil, source)
			for i := range grid {
				worst = max(worst, cmplx.Abs(p[i]-q[i])/directSound(box, grid[i], seat, source))
			}
		}
		if worst > 2*accuracy {
			t.Errorf("accuracy %.0e: %.2g of the direct sound is missing", accuracy, worst)
		}
		if worst < accuracy/1e4 {
			t.Errorf("accuracy %.0e: only %.2g is missing; the bound has lost touch with the error", accuracy, worst)
		}
	}
}

// As the settings come, levels hold to 0.002 dB, in the deepest dips too.
func TestDefaultAccuracy(t *testing.T) {
	t.Parallel()
	box := roomT(0, wallsN1...)
	grid := model.DefaultGrid()
	exact := newField(t, box, grid, Settings{Accuracy: 1e-7}, seatT)
	f := newField(t, box, grid, Settings{}, seatT)
	var worst float64
	for _, source := range []r3.Vec{sourceT, {X: 0.4, Y: 0.9, Z: 1.1}, {X: 2.3, Y: 3.6, Z: 0.3}, {X: 4.7, Y: 2.2, Z: 2.2}, {X: 1.6, Y: 0.2, Z: 1.9}} {
		p, q := f.Transfer(nil, source), exact.Transfer(nil, source)
		for i := range grid {
			worst = max(worst, math.Abs(20*math.Log10(cmplx.Abs(p[i]/q[i]))))
		}
	}
	if worst > usualWithin {
		t.Errorf("off by %.4f dB", worst)
	}
}

// Nearer than Settings.Near the sum is cut where it is for Near, and what is
// missing grows like e^{-γs}: the package comment's figures.
func TestNearerThanNear(t *testing.T) {
	t.Parallel()
	box := roomT(0, wallsN1...)
	grid := model.Grid{50, 315}
	exact := newField(t, box, grid, Settings{Accuracy: 1e-5, Near: 0.1}, seatT)
	f := newField(t, box, grid, Settings{}, seatT)
	for d, most := range map[float64]float64{0.3: 5.5e-4, 0.2: 6.5e-3, 0.1: 0.08} {
		source := r3.Add(seatT, r3.Vec{Y: d})
		p, q := f.Transfer(nil, source), exact.Transfer(nil, source)
		for i := range grid {
			if off := cmplx.Abs(p[i]/q[i] - 1); off > most {
				t.Errorf("%v m at %v Hz: off by %.2g, the comment says %v", d, grid[i], off, most)
			}
		}
	}
}

// Frequencies of a hard empty room of 3.00 x 5.60 x 3.53 m, c = 346 m/s: our own fit of
// recordings that EPFL published (lts2, joint estimation of room geometry and modes), not a
// published table. Horizontal modes only: the wooden floor splits the vertical ones. The
// room is no perfect rigid box; 2.1 % was seen.
func TestMeasuredRoomModes(t *testing.T) {
	t.Parallel()
	measured := map[string]float64{ // Hz
		"0-1-0": 31.51, "1-0-0": 58.65, "0-2-0": 61.80, "1-1-0": 65.82, "1-2-0": 84.49, "0-3-0": 92.33, "1-3-0": 108.86,
	}
	modes, _ := List(rigidBox(3, 5.6, 3.53, 346), 120)
	var worst float64
	for _, m := range modes {
		if f, ok := measured[m.String()]; ok {
			worst = max(worst, math.Abs(m.Frequency/f-1))
		}
		if f, ok := measured[m.String()]; ok && math.Abs(m.Frequency/f-1) > 0.021 {
			t.Errorf("mode %v: %v Hz, measured %v Hz", m, m.Frequency, f)
		}
		delete(measured, m.String())
	}
	trust.Seen(t, "modes of a real empty room", "frequency within %s %%", trust.Within(100*worst, 2))
	if len(measured) > 0 {
		t.Errorf("not listed: %v", measured)
	}
}

// The same from the whole table of the fit.
func TestReferenceMeasuredRoom(t *testing.T) {
	t.Parallel()
	rows := reference.Rows(t, "epfl_derived/modes_measured.csv")
	listed := map[string]float64{}
	modes, _ := List(rigidBox(3, 5.6, 3.53, 346), 120)
	for _, m := range modes {
		listed[m.String()] = m.Frequency
	}
	checked := 0
	for _, row := range rows[1:] {
		printed, _ := strconv.ParseFloat(row[3], 64)
		measured, _ := strconv.ParseFloat(row[4], 64)
		got := listed[strings.Join(row[:3], "-")]
		if math.Abs(got-printed) > 0.006 {
			t.Errorf("mode %v: %v Hz, the data's own rigid value is %v", row[:3], got, printed)
		}
		if row[2] != "0" {
			continue
		}
		checked++
		if math.Abs(got/measured-1) > 0.021 {
			t.Errorf("mode %v: %v Hz, measured %v Hz", row[:3], got, measured)
		}
	}
	if checked < 6 {
		t.Errorf("only %d horizontal modes in the file", checked)
	}
}

func TestNewRefuses(t *testing.T) {
	t.Parallel()
	good := roomT(0, even(0.05)...)
	flat, airless, pushing, mute := good, good, good, good
	flat.Size.Z = 0
	airless.Air = model.Air{}
	pushing.Walls[model.Left] = model.Plain(-0.1)
	mute.Walls[model.Floor] = model.Plain(cmplx.NaN())
	for name, c := range map[string]struct {
		box      model.Box
		grid     model.Grid
		settings Settings
		want     string
	}{
		"no height":      {flat, model.Grid{50}, Settings{}, "box of"},
		"no air":         {airless, model.Grid{50}, Settings{}, "air with speed 0"},
		"active wall":    {pushing, model.Grid{50}, Settings{}, "left wall has specific admittance (-0.1+0i) at 50 Hz"},
		"NaN wall":       {mute, model.Grid{50}, Settings{}, "floor has specific admittance"},
		"empty grid":     {good, nil, Settings{}, "without frequencies"},
		"falling grid":   {good, model.Grid{50, 40}, Settings{}, "frequency 40 Hz at position 1"},
		"bad accuracy":   {good, model.Grid{50}, Settings{Accuracy: 2}, "accuracy 2"},
		"negative reach": {good, model.Grid{50}, Settings{Near: -1}, "separation -1 m"},
	} {
		if _, err := New(c.box, c.grid, c.settings); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", name, err, c.want)
		}
	}
	e, err := New(good, model.Grid{50}, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := e.Field(t.Context(), r3.Vec{X: 6}); err == nil {
		t.Error("a seat outside the box is accepted")
	}
}

func TestTransferPanics(t *testing.T) {
	t.Parallel()
	f := newField(t, roomT(0, even(0.05)...), model.Grid{50}, Settings{}, seatT)
	for name, call := range map[string]func(){
		"source outside": func() { f.Transfer(nil, r3.Vec{X: -1}) },
		"wrong length":   func() { f.Transfer(make([]complex128, 2), sourceT) },
		"grid length":    func() { f.TransferGrid(make([]complex128, 3), []float64{1}, []float64{1}, []float64{1}) },
		"negative mode":  func() { f.Term(nil, sourceT, [3]int{-1, 0, 0}) },
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: no panic", name)
				}
			}()
			call()
		}()
	}
}

func TestWarnings(t *testing.T) {
	t.Parallel()
	walls := even(0.02)
	walls[model.Back] = 0.8 + 0.1i
	for _, c := range []struct {
		box  model.Box
		want []string
	}{
		{roomT(0, even(0.02)...), nil},
		{roomT(0, walls...), []string{"model.NotLocal{back wall 0.8}"}},
		{roomT(0), []string{"nothing in this room takes energy out"}},
		{roomT(0.01), nil},
	} {
		e, err := New(c.box, model.Grid{50, 100}, Settings{})
		if err != nil {
			t.Fatal(err)
		}
		got := e.Warnings()
		if len(got) != len(c.want) {
			t.Errorf("warnings %q, want %d", got, len(c.want))
			continue
		}
		for i, want := range c.want {
			if !strings.Contains(fmt.Sprintf("%T%v", got[i], got[i]), want) {
				t.Errorf("warning %q, want one with %q", got[i], want)
			}
		}
	}
}
