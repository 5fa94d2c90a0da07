package testroom

import (
	"math"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/roomfile"
)

// Long reports whether the slow form of a test was asked for.
func Long() bool { return os.Getenv("EVENBASS_LONG") != "" }

// Studio is a small room with a mirrored pair and a chair that may go along the
// mid-line.
func Studio() *model.Project {
	return &model.Project{
		Room: model.Room{Size: r3.Vec{X: 4.2, Y: 3.1, Z: 2.4}},
		Speakers: model.Speakers{
			Box: model.Dimensions{Depth: 0.25, Width: 0.2, Height: 0.32}, WooferBelow: 0.12,
			AxisHeights: []float64{1.1, 1.25}, RearClearance: 0.05, SideClearance: 0.1,
			Zones: []model.Zone{{X: model.Range{Min: 0.3, Max: 1.1}}},
		},
		Seats: []model.Seat{{Name: "chair", Height: 1.2, Zones: []model.Zone{{X: model.Range{Min: 1.2, Max: 3.2}}}}},
		Listening: model.Listening{
			Distance: model.Range{Min: 0.9, Max: 2}, BackDistance: 0.6,
			Angle: model.Range{Min: 50 * math.Pi / 180, Max: 70 * math.Pi / 180},
		},
		Goal: model.Goal{From: 30, To: 200, Smoothing: 12},
	}
}

// FreeStudio is the studio with two speakers that move independently and a chair
// that may leave the mid-line.
func FreeStudio() *model.Project {
	p := Studio()
	p.Speakers.Free = true
	p.Speakers.AxisHeights = []float64{1.2}
	p.Speakers.Zones = []model.Zone{
		{X: model.Range{Min: 0.3, Max: 0.9}, Y: model.Range{Min: 0.3, Max: 1.2}},
		{X: model.Range{Min: 0.3, Max: 0.9}, Y: model.Range{Min: 1.8, Max: 2.8}},
	}
	p.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.4, Max: 2.4}, Y: model.Range{Min: 1.2, Max: 1.9}}}
	p.KeepClear = []model.Block{{Name: "radiator", Min: r3.Vec{X: 0.3, Y: 0}, Max: r3.Vec{X: 0.8, Y: 0.45, Z: 0.7}}}
	return p
}

// Small is the studio with less room to choose in, for short searches.
func Small() *model.Project {
	p := Studio()
	p.Speakers.AxisHeights = []float64{1.1}
	p.Speakers.Zones[0].X = model.Range{Min: 0.4, Max: 0.8}
	p.Seats[0].Zones[0].X = model.Range{Min: 1.5, Max: 2.1}
	return p
}

// Concrete is a room of 4 × 3 × 2.4 m with six walls of concrete and nothing in it.
func Concrete() *model.Room {
	r := &model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}
	for f := range r.Walls {
		r.Walls[f] = model.Surface{Construction: "concrete"}
	}
	return r
}

// SofaRoom is the small room with a sofa at its back wall, of the weight given.
func SofaRoom(weight float64) *model.Project {
	p := Small()
	p.Seats[0].Weight = 1
	p.Seats = append(p.Seats, model.Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 3.9, Y: 1.1, Z: 0.95}, Weight: weight})
	return p
}

// Walled gives a box walls of uniform, plain admittances, so that both box engines take
// it. The figures are of the usual size, no source.
func Walled(box model.Box) model.Box {
	for i, b := range []float64{0.02, 0.04, 0.02, 0.03, 0.05, 0.06} {
		box.Walls[i] = model.Plain(complex(b, 0))
	}
	return box
}

// ByModes is the studio with a goal up to 300 Hz, and its modal engine.
func ByModes(tb testing.TB) (*model.Project, model.Engine) {
	tb.Helper()
	p := Studio()
	p.Goal.To = 300
	e, err := mode.New(Walled(model.Box{Size: p.Room.Size, Air: model.AirAt(0)}), model.DefaultGrid(), mode.Settings{})
	if err != nil {
		tb.Fatal(err)
	}
	return p, e
}

// Read reads a room of testdata/room by its name.
func Read(tb testing.TB, name string) *model.Project {
	tb.Helper()
	_, here, _, _ := runtime.Caller(0)
	p, _, err := roomfile.ReadFile(filepath.Join(filepath.Dir(here), "../../testdata/room", name+".yaml"))
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

// Nook is a small room round a corner with wool on a wall, which the wave solver solves in
// a moment.
func Nook(tb testing.TB) *model.Project {
	tb.Helper()
	p, err := roomfile.Read(strings.NewReader(nookFile), "nook.yaml")
	if err != nil {
		tb.Fatal(err)
	}
	return p
}

const nookFile = `
room: {length: 2.4 m, width: 2.0 m, height: 1.8 m, outline: [[0 m, 0 m], [2.4 m, 0 m], [2.4 m, 1.3 m], [1.7 m, 1.3 m], [1.7 m, 2.0 m], [0 m, 2.0 m]]}
walls: {front: {impedance: 14}, back: {impedance: 12}, left: {impedance: 14}, right: {impedance: 10}, floor: {impedance: 30}, ceiling: {impedance: 12}}
treatments:
  - {name: layer, wall: left, from: 0.6 m, width: 0.6 m, sill: 0.4 m, height: 0.8 m, layers: [wool 100 mm 10 kPa·s/m²]}
speakers:
  box: {depth: 20 cm, width: 16 cm, height: 26 cm}
  axis_height: 0.9 m
  woofer_below_axis: 5 cm
  may_stand: [{x: 0.25 m to 0.70 m, y: 0.3 m to 1.7 m}]
  apart: 0.7 m to 1.2 m
seats: [{name: chair, may_move: [{x: 1.0 m to 1.5 m}], height: 1.0 m}]
listening: {distance: 0.6 m to 1.5 m, angle: 40° to 90°, back_distance: 0.3 m}
goal: {from: 50 Hz, to: 200 Hz, smoothing: 1/12 octave}
`

// Symmetric returns the demo room, of a width in m, made its own mirror image about the mid-line. It keeps its
// stock and what stands on the mid-line: chair, pair and desk.
func Symmetric(t testing.TB, width float64) *model.Project {
	t.Helper()
	p := Read(t, "spare-room")
	by := r3.Vec{Y: (width - p.Room.Size.Y) / 2}
	p.Room.Size.Y = width
	p.Room.Openings, p.KeepClear, p.Seats = nil, p.KeepClear[:1], p.Seats[:1]
	p.Room.Walls[model.Right] = p.Room.Walls[model.Left]
	desk, s := &p.KeepClear[0], &p.Speakers
	s.Zones = nil
	for _, at := range []*r3.Vec{&desk.Min, &desk.Max, &s.Left, &s.Right, &p.Seats[0].At} {
		*at = r3.Add(*at, by)
	}
	return p
}

// MirrorImage reports whether treatments are their own mirror image about the mid-line of a room.
func MirrorImage(r *model.Room, all []model.Treatment) bool {
	for i := range all {
		b := r.Space(&all[i])
		b.Min.Y, b.Max.Y = r.Size.Y-b.Max.Y, r.Size.Y-b.Min.Y
		if !slices.ContainsFunc(all, func(o model.Treatment) bool {
			s := r.Space(&o)
			return o.Form == all[i].Form && r3.Norm(r3.Sub(s.Min, b.Min)) < 0.002 && r3.Norm(r3.Sub(s.Max, b.Max)) < 0.002
		}) {
			return false
		}
	}
	return true
}
