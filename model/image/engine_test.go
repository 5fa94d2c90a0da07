package image

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"evenbass/model"

	"gonum.org/v1/gonum/integrate/quad"
	"gonum.org/v1/gonum/spatial/r3"
)

func TestNewRefuses(t *testing.T) {
	t.Parallel()
	good := model.Box{Size: roomT, Air: airT, Walls: each(0.1)}
	grid := model.Grid{50, 100}
	with := func(change func(*model.Box)) model.Box {
		b := good
		change(&b)
		return b
	}
	for _, c := range []struct {
		name string
		box  model.Box
		grid model.Grid
		s    Settings
		want string
	}{
		{"rigid room", with(func(b *model.Box) { b.Walls = each(0) }), grid, Settings{}, "images never end"},
		{"no width", with(func(b *model.Box) { b.Size.Y = 0 }), grid, Settings{}, "width is 0 m"},
		{"NaN height", with(func(b *model.Box) { b.Size.Z = math.NaN() }), grid, Settings{}, "height is NaN m"},
		{"no air", with(func(b *model.Box) { b.Air = model.Air{} }), grid, Settings{}, "air with speed 0"},
		{"wall that gives energy", with(func(b *model.Box) { b.Walls[model.Back] = model.Plain(-0.1) }), grid, Settings{}, "back wall has admittance"},
		{"NaN wall", with(func(b *model.Box) { b.Walls[model.Floor] = model.Plain(cmplx.NaN()) }), grid, Settings{}, "floor has admittance"},
		{"no grid", good, nil, Settings{}, "without frequencies"},
		{"grid falls", good, model.Grid{100, 50}, Settings{}, "does not ascend at 50 Hz"},
		{"growth", good, grid, Settings{Decay: 10}, "decay 10 dB"},
		{"short", good, grid, Settings{MaxLength: 3}, "at least twice the room's diagonal, 13.7 m"},
		{"unknown accuracy", good, grid, Settings{Accuracy: 7}, "no accuracy 7"},
	} {
		if _, err := New(c.box, c.grid, c.s); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: error %v, want one with %q", c.name, err, c.want)
		}
	}
	if _, err := New(model.Box{Size: roomT, Air: airT}, grid, Settings{}); !errors.Is(err, ErrNoDecay) {
		t.Errorf("rigid lossless room: %v", err)
	}
}

func TestPlacesOutside(t *testing.T) {
	t.Parallel()
	e, err := New(model.Box{Size: roomT, Air: airT, Walls: each(0.2)}, model.Grid{100}, Settings{Decay: -20})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := e.Field(t.Context(), r3.Vec{X: 5.1, Y: 1, Z: 1}); err == nil {
		t.Error("a seat behind the back wall was taken")
	}
	f, err := e.Field(t.Context(), seatT)
	if err != nil {
		t.Fatal(err)
	}
	if p := f.Transfer(nil, seatT); cmplx.IsNaN(p[0]) || cmplx.IsInf(p[0]) {
		t.Errorf("source at the seat gives %v", p[0])
	}
	if p := f.Transfer(nil, roomT); cmplx.IsNaN(p[0]) || p[0] == 0 {
		t.Errorf("source in the corner gives %v", p[0])
	}
	defer func() {
		if recover() == nil {
			t.Error("a source below the floor was taken")
		}
	}()
	f.Transfer(nil, r3.Vec{X: 1, Y: 1, Z: -0.1})
}

func TestWarnings(t *testing.T) {
	t.Parallel()
	lossy := airT
	lossy.Loss = 0.02
	for _, c := range []struct {
		name string
		box  model.Box
		most float64
		want []string // one in each warning
	}{
		{"rigid", model.Box{Size: roomT, Air: lossy}, 0, nil},
		{"hard", model.Box{Size: roomT, Air: airT, Walls: each(0.05)}, 0, []string{"plane"}},
		{"cut short", model.Box{Size: roomT, Air: airT, Walls: each(0.05)}, 40, []string{"model.ImageSumEnds{40 ", "plane"}},
		{"soft", model.Box{Size: roomT, Air: airT, Walls: each(0.05, 0.3, 0.05)}, 0, []string{"plane", "model.ImagesAbsorb{back wall 0.3 "}},
		{"springy", model.Box{Size: roomT, Air: airT, Walls: each(0.05, 0.05, 0.05, 0.05, 0.05, 0.05+0.05i)}, 0, []string{"plane", "model.ImagesYield{ceiling 0.05 "}},
	} {
		e, err := New(c.box, model.Grid{50, 100}, Settings{MaxLength: c.most})
		if err != nil {
			t.Fatal(err)
		}
		got := e.Warnings()
		if len(got) != len(c.want) {
			t.Errorf("%s: %q", c.name, got)
			continue
		}
		for i, w := range got {
			if !strings.Contains(fmt.Sprintf("%T%v", w, w), c.want[i]) {
				t.Errorf("%s: %q, want %q in it", c.name, w, c.want[i])
			}
		}
	}
}

// In a near-cubic room of even absorption the energy of the images first falls at
// Eyring's rate, -c S ln(1-α)/(4V), within about 10 % (Lehmann & Johansson, J.
// Acoust. Soc. Am. 124, 2008, on the decay of image sums). The energies here are
// added up image by image; α is the random-incidence absorption by Paris's integral.
func TestDecayIsEyrings(t *testing.T) {
	t.Parallel()
	const beta = 0.04
	size := r3.Vec{X: 3.1, Y: 3, Z: 2.9}
	alpha := quad.Fixed(func(c float64) float64 {
		r := real(Reflection(beta, c))
		return 2 * c * (1 - r*r)
	}, 0, 1, 200, nil, 0)
	volume := size.X * size.Y * size.Z
	area := 2 * (size.X*size.Y + size.X*size.Z + size.Y*size.Z)
	eyring := -area * math.Log(1-alpha) / (4 * volume) // 1/m

	const from, to = 3.0, 15.0
	first, second := shellEnergy(size, beta, from), shellEnergy(size, beta, to)
	if slope := math.Log(first/second) / (to - from); math.Abs(slope/eyring-1) > 0.1 {
		t.Errorf("energy falls by %.4f per metre, Eyring says %.4f", slope, eyring)
	}
	// The package's own estimate of the same decay.
	box := model.Box{Size: size, Air: airT, Walls: each(beta)}
	tail := newTail(&box, 100)
	mean := func(r float64) float64 { return tail.after(r) - tail.after(r+1e-3) }
	if slope := math.Log(mean(from)/mean(to)) / (to - from); math.Abs(slope/eyring-1) > 0.1 {
		t.Errorf("estimated energy falls by %.4f per metre, Eyring says %.4f", slope, eyring)
	}
}

// shellEnergy returns the energy of the images between r-1.5 and r+1.5 m, averaged
// over some places.
func shellEnergy(size r3.Vec, beta complex128, r float64) float64 {
	w := walls{beta, beta, beta, beta, beta, beta}
	var sum float64
	for i := range 40 {
		u := func(k int) float64 { return math.Mod(0.5+float64(i+1)*math.Sqrt(float64(k)), 1) }
		source := r3.Vec{X: size.X * u(2), Y: size.Y * u(3), Z: size.Z * u(5)}
		seat := r3.Vec{X: size.X * u(7), Y: size.Y * u(11), Z: size.Z * u(13)}
		l := newLattice(size, source, seat, r+1.5)
		l.columns(func(x, y *axisImage, zs []axisImage) {
			for i := range zs {
				d := math.Sqrt(x.sq + y.sq + zs[i].sq)
				if d >= r-1.5 {
					a := real(w.amplitude(x, y, &zs[i], d)) / d
					sum += a * a
				}
			}
		})
	}
	return sum
}

func ExampleNew() {
	box := model.Box{Size: r3.Vec{X: 4.6, Y: 3.3, Z: 2.4}, Air: model.AirAt(0)}
	for _, face := range model.Faces {
		box.Walls[face] = model.Plain(0.05)
	}
	engine, err := New(box, model.DefaultGrid(), Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	reach := engine.reach
	fmt.Printf("%.0f m, about %d thousand images\n", reach.Length, reach.Images/1000)
	// Output:
	// 142 m, about 326 thousand images
}
