package roomfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
)

// around is a room file about the given lines.
func around(room, parts string) string {
	return `room: {length: 4.5 m, width: 3.4 m, height: 2.45 m` + room + `}
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
` + parts + `
speakers: {box: {depth: 28 cm, width: 21 cm, height: 34 cm}}
seats: [{name: chair, at: [2 m, 2 m, 1.2 m]}]
`
}

func readText(t *testing.T, text string) *model.Project {
	t.Helper()
	p, err := Read(strings.NewReader(text), "test")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// What is read of a shape or a form is written in the same words.
func TestShapesInTheFile(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ room, parts string }{
		{room: ", outline: [[0 m, 0 m], [4.5 m, 0 m], [4.5 m, 2.5 m], [3 m, 2.5 m], [3 m, 3.4 m], [0 m, 3.4 m]]"},
		{room: ", outline: [[0 m, 0 m], {at: [4.5 m, 0 m], construction: heavy glass}, [4.5 m, 3.4 m], {at: [0 m, 3.4 m], impedance: 60}]"},
		{
			room:  ", outline: [[0 m, 0 m], [4.5 m, 0 m], {at: [4.5 m, 2.5 m], wall: niche}, {at: [3 m, 2.5 m], wall: partition, construction: heavy glass}, [3 m, 3.4 m], [0 m, 3.4 m]]",
			parts: "openings:\n  - {kind: door, wall: niche, from: 0.2 m, width: 0.8 m, height: 2 m, construction: hollow door}\n  - {kind: window, wall: back, from: 2.6 m, sill: 0.9 m, width: 0.7 m, height: 1 m, impedance: 40}",
		},
		{parts: "ceiling:\n  slope: {rises: left to right, from: 1.4 m, to: 2.45 m}"},
		{parts: "ceiling:\n  slope: {rises: right to left, from: 1.4 m, to: 2.45 m, over: 1.9 m}"},
		{parts: "ceiling:\n  slope: {rises: front to back, from: 1.4 m, to: 3 m, construction: timber panelling}"},
		{parts: "ceiling:\n  slope: {rises: back to front, from: 1.4 m, to: 2.45 m}"},
		{parts: "ceiling:\n  ridge: {along: x, at: 1.7 m, height: 2.45 m, eaves: [1.3 m]}"},
		{parts: "ceiling:\n  ridge: {along: y, at: 2 m, height: 2.6 m, eaves: [1.3 m, 1.1 m]}"},
		{parts: "ceiling:\n  planes:\n    - {through: [[0 m, 0 m, 1 m], [1 m, 0 m, 2 m], [0 m, 1 m, 2.1 m]]}\n    - {through: [[4.5 m, 0 m, 1.7 m], [4.5 m, 3.4 m, 1.7 m], [3 m, 0 m, 2.5 m]], impedance: 40}"},
		{parts: "treatments:\n  - {name: a, form: corner, edge: front left, shape: triangle, leg: 0.4 m, to: 2.45 m, layers: [wool 6 kPa·s/m²]}"},
		{parts: "treatments:\n  - {name: a, form: corner, edge: ceiling back, shape: square, leg: 0.4 m, from: 0.5 m, to: 2 m, layers: [film 100 µm, stone wool batts]}"},
		{parts: "treatments:\n  - {name: a, form: cloud, from: [1 m, 1 m], to: [2 m, 2.2 m], gap: 0.15 m, layers: [wool 100 mm 6 kPa·s/m²]}"},
		{parts: "treatments:\n  - {name: a, form: panel, from: [3 m, 1 m, 0 m], to: [3.1 m, 2.2 m, 1.2 m], layers: [wool 100 mm 6 kPa·s/m²]}"},
		{parts: "treatments:\n  - {name: a, wall: back, width: 3.4 m, height: 2.45 m, layers: [wool 100 mm 6 kPa·s/m²]}"},
	} {
		p := readText(t, around(c.room, c.parts))
		text := written(t, p)
		for _, want := range []string{c.room, c.parts} {
			if !strings.Contains(bare(text), bare(want)) {
				t.Errorf("%s\nis not written so, but\n%s", want, text)
			}
		}
		if back := readText(t, text); !same(p, back) {
			t.Errorf("reads back as %+v, was %+v", back.Room, p.Room)
		}
	}
}

// bare takes off a text how it is laid out: it keeps keys and values.
func bare(text string) string {
	return strings.Join(strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \n{}[],-", r) }), " ")
}

// The short words mean planes that a tape measure would find.
func TestCeilingHeights(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		ceiling string
		x, y    float64
		want    float64 // m, by hand
	}{
		{"slope: {rises: left to right, from: 1.4 m}", 2, 0, 1.4},
		{"slope: {rises: left to right, from: 1.4 m}", 2, 3.4, 2.45}, // to the room's height
		{"slope: {rises: right to left, from: 1.4 m, over: 1 m}", 1, 3.4, 1.4},
		{"slope: {rises: right to left, from: 1.4 m, over: 1 m}", 1, 2.4, 2.45},
		{"slope: {rises: right to left, from: 1.4 m, over: 1 m}", 1, 1, 2.45}, // level beyond
		{"slope: {rises: front to back, from: 1.55 m}", 1.5, 1, 1.85},
		{"slope: {rises: back to front, from: 1.55 m}", 1.5, 1, 2.15},
		{"ridge: {along: x, eaves: 1.1 m}", 3, 1.7, 2.45}, // midway
		{"ridge: {along: x, eaves: 1.1 m}", 3, 0.85, 1.775},
		{"ridge: {along: y, at: 1.5 m, eaves: [1.2 m, 1.4 m]}", 0, 1, 1.2},
		{"ridge: {along: y, at: 1.5 m, eaves: [1.2 m, 1.4 m]}", 3, 1, 1.925},
	} {
		text := strings.Replace(around("", "ceiling: {"+c.ceiling+"}"), "2 m, 2 m, 1.2 m", "2 m, 1.7 m, 1.1 m", 1)
		p := readText(t, text)
		if got := p.Room.CeilingAt(r2.Vec{X: c.x, Y: c.y}); fmt.Sprintf("%.6f", got) != fmt.Sprintf("%.6f", c.want) {
			t.Errorf("%s: %v m at %v, %v, want %v", c.ceiling, got, c.x, c.y, c.want)
		}
	}
}

// The left out ends of a corner are those of its edge; wool there needs no thickness.
func TestCornerInTheFile(t *testing.T) {
	t.Parallel()
	p := readText(t, around("", "treatments: [{form: corner, edge: right floor, leg: 30 cm, layers: 'film 100 µm, wool 6 kPa·s/m²'}]"))
	got := p.Room.Treatments[0]
	if want := (model.Corner{Walls: [2]model.Face{model.Right, model.Floor}, Leg: 0.3, To: 4.5}); got.Corner != want {
		t.Errorf("corner %+v, want %+v", got.Corner, want)
	}
	if n := len(got.Layers); n != 2 || got.Layers[1].Thickness != 0 || got.Layers[1].Resistivity != 6000 {
		t.Errorf("layers %+v", got.Layers)
	}
}

// Whatever the shape: written and read again it is the same to the last bit.
func TestShapesRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyShape().Draw(t, "project")
		text := written(t, p)
		back, err := Read(strings.NewReader(text), "written")
		if err != nil || !cmp.Equal(p, back, noise) {
			t.Fatalf("reads back as %+v, %v, was %+v, from\n%s", back, err, p.Room, text)
		}
	})
}

// anyShape draws a valid project in a room that is no box.
func anyShape() *rapid.Generator[*model.Project] {
	return rapid.Custom(func(t *rapid.T) *model.Project {
		p := readProject(around("", ""))
		r := &p.Room
		x, y := rapid.Float64Range(2.6, 4.4).Draw(t, "notch x"), rapid.Float64Range(2.4, 3.3).Draw(t, "notch y")
		r.Outline = model.Polygon{{}, {X: 4.5}, {X: 4.5, Y: y}, {X: x, Y: y}, {X: x, Y: 3.4}, {Y: 3.4}}
		for range rapid.IntRange(0, 6).Draw(t, "edges") {
			r.Edges = append(r.Edges, model.Edge{Surface: anySurface().Draw(t, "edge")})
		}
		for i := range r.Edges {
			r.Edges[i].Name = rapid.SampledFrom([]string{"", fmt.Sprintf("wall %d", i)}).Draw(t, "name")
		}
		r.Openings = append(r.Openings, anyInnerOpenings(r).Draw(t, "openings")...)
		r.Slopes = anySlopes(r.Size).Draw(t, "slopes")
		p.Seats[0].At.Z = min(1.2, r.CeilingAt(r2.Vec{X: 2, Y: 2}))
		p.Seats[0].Height = p.Seats[0].At.Z
		p.Warnings = warnings(p)
		return p
	}).Filter(func(p *model.Project) bool { return p.Validate() == nil })
}

// anyInnerOpenings draws openings in walls that have a name or face like one of the six.
func anyInnerOpenings(r *model.Room) *rapid.Generator[[]model.Opening] {
	length := rapid.Float64Range(0.05, 0.6)
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) model.Opening {
		o := model.Opening{Kind: "window", Surface: model.Surface{Construction: "heavy glass"}}
		o.Patch = model.Patch{Along: length.Draw(t, "from"), Width: length.Draw(t, "width"), Up: length.Draw(t, "sill"), Height: length.Draw(t, "height")}
		edge := rapid.IntRange(-4, len(r.Edges)-1).Draw(t, "edge")
		switch {
		case edge < 0:
			o.Patch.Face = model.Face(-1 - edge)
		case r.Edges[edge].Name != "":
			o.Edge, o.Patch.Face = edge+1, r.EdgeFace(edge)
		}
		return o
	}), 0, 2)
}

func anySlopes(size r3.Vec) *rapid.Generator[[]model.Slope] {
	return rapid.Custom(func(t *rapid.T) []model.Slope {
		height := rapid.Float64Range(0.3, 2.45)
		switch rapid.IntRange(0, 2).Draw(t, "ceiling") {
		case 0:
			over := rapid.SampledFrom([]float64{0, 1.1, 2.3}).Draw(t, "over")
			return shed{Rises: rapid.SampledFrom(rises).Draw(t, "rises"), From: height.Draw(t, "from"), To: size.Z, Over: over}.slopes(size)
		case 1:
			return gable{
				Along: rapid.SampledFrom([]string{"x", "y"}).Draw(t, "along"), At: height.Draw(t, "at"),
				Height: size.Z, Eaves: rapid.SliceOfN(height, 1, 2).Draw(t, "eaves"),
			}.slopes(size)
		}
		place := rapid.Custom(func(t *rapid.T) r3.Vec {
			return r3.Vec{X: rapid.Float64Range(0, size.X).Draw(t, "x"), Y: rapid.Float64Range(0, size.Y).Draw(t, "y"), Z: height.Draw(t, "z")}
		})
		var slopes []model.Slope
		for range rapid.IntRange(0, 3).Draw(t, "planes") {
			slopes = append(slopes, model.Slope{Through: [3]r3.Vec{place.Draw(t, "a"), place.Draw(t, "b"), place.Draw(t, "c")}})
		}
		return slopes
	})
}

func readProject(text string) *model.Project {
	p, err := Read(strings.NewReader(text), "test")
	if err != nil {
		panic(err)
	}
	return p
}

// A name at the wrong place, or none, is answered with the names there are.
func TestNamesOfWalls(t *testing.T) {
	t.Parallel()
	const named = ", outline: [[0 m, 0 m], [4.5 m, 0 m], [4.5 m, 2.5 m], {at: [3 m, 2.5 m], wall: partition}, [3 m, 3.4 m], [0 m, 3.4 m]]"
	const ell = ", outline: [[0 m, 0 m], [4.5 m, 0 m], [4.5 m, 2.5 m], [3 m, 2.5 m], [3 m, 3.4 m], [0 m, 3.4 m]]"
	for _, c := range []struct{ room, wall, want string }{
		{named, "partitoin", `the walls are front, back, left, right, floor, ceiling, partition; did you mean "partition"?`},
		{ell, "passage", "name a wall of the outline at the corner where it begins: {at: [3.6 m, 2.4 m], wall: partition}"},
		{"", "rigth", `did you mean "right"?`},
	} {
		_, err := Read(strings.NewReader(around(c.room, "openings: [{kind: hole, wall: "+c.wall+", width: 0.5 m, height: 1 m}]")), "test")
		if err == nil || !strings.Contains(err.Error(), c.want) || strings.Count(err.Error(), "test:") != 1 {
			t.Errorf("%s: %v, want only %q", c.wall, err, c.want)
		}
	}
}
