package roomfile

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
)

func readRoom(t testing.TB, name string) *model.Project {
	t.Helper()
	p, _, err := ReadFile(filepath.Join("..", "..", "testdata", "room", name))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Each part of the file ends in its field, in SI. The figures are those of the file,
// converted by hand.
func TestReadImperial(t *testing.T) {
	t.Parallel()
	p := readRoom(t, "studio-imperial.yaml")
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s is %v, want %v", what, got, want)
		}
	}
	near("length", p.Room.Size.X, 5.8928) // 232 in
	near("width", p.Room.Size.Y, 3.5433)  // 139.5 in
	near("height", p.Room.Size.Z, 2.4384) // 96 in
	near("temperature", p.Room.Temperature, 293.15)
	near("door", p.Room.Openings[0].Patch.Width, 0.8128)
	near("film", p.Room.Treatments[0].Layers[0].Thickness, 1.016e-4)
	near("wool", p.Room.Treatments[0].Layers[1].Resistivity, 6000)
	near("left", p.Speakers.Left.Y, 1.016)
	near("right", p.Speakers.Right.Y, 2.5273) // 99.5 in
	near("box", p.Speakers.Box.Height, 0.381)
	near("axis", p.Speakers.AxisHeights[1], 1.2192)
	near("zone", p.Speakers.Zones[0].X.Min, 0.4572)
	near("apart", p.Speakers.Apart.Max, 2.1336)
	near("angle", p.Listening.Angle.Max, 70*math.Pi/180)
	near("couch", p.Seats[1].Weight, 0.3)
	near("rack", p.KeepClear[0].Max.Z, 1.2192)
	if tr := p.Room.Treatments[0].Patch; tr != (model.Patch{Face: model.Back, Width: p.Room.Size.Y, Height: p.Room.Size.Z}) {
		t.Errorf("a treatment without sizes covers %+v, want the whole wall", tr)
	}
}

// A goal without a start begins where the loudspeakers end, with subwoofers where those end;
// what the owner wrote stays, and so does a start that would leave too little of the band.
func TestGoalBeginsWhereTheSpeakersEnd(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		speakers, subwoofers, goal string
		want                       float64
	}{
		{"low_limit: 45 Hz", "", "to: 200 Hz", 45},
		{"low_limit: 25 Hz", "", "to: 200 Hz", 30},
		{"low_limit: 45 Hz", "", "from: 35 Hz, to: 200 Hz", 35},
		{"low_limit: 160 Hz", "", "to: 200 Hz", 30},
		{"low_limit: 60 Hz", "low_limit: 25 Hz", "to: 200 Hz", 30},
		{"low_limit: 60 Hz", "low_limit: 35 Hz", "to: 200 Hz", 35},
	} {
		text := strings.Replace(valid, "34 cm}", "34 cm}, "+c.speakers, 1)
		text += "goal: {" + c.goal + "}\n"
		if c.subwoofers != "" {
			text += "subwoofers: {count: 1, box: {depth: 40 cm, width: 36 cm, height: 42 cm}, " + c.subwoofers + "}\n"
		}
		p := readText(t, text)
		if p.Goal.From != c.want {
			t.Errorf("%+v: the goal begins at %v Hz", c, p.Goal.From)
		}
		if back := readText(t, written(t, p)); back.Goal != p.Goal || back.Unwritten != p.Unwritten {
			t.Errorf("%+v: written and read again %v, %+v", c, back.Goal, back.Unwritten)
		}
	}
}

// A file of the least keys has the defaults of the package comment.
func TestDefaults(t *testing.T) {
	t.Parallel()
	p := readRoom(t, "bare-box.yaml")
	want := &model.Project{
		Room:      model.Room{Size: r3.Vec{X: 4.2, Y: 3.2, Z: 2.4}},
		Speakers:  model.Speakers{Box: model.Dimensions{Depth: 0.28, Width: 0.21, Height: 0.34}, AxisHeights: []float64{1.2}, RearClearance: 0.05, SideClearance: 0.1},
		Seats:     []model.Seat{{Name: "chair", Height: 1.2, Weight: 1, Zones: []model.Zone{{X: model.Range{Min: 1.3, Max: 2.8}}}}},
		Listening: model.Listening{Distance: model.Range{Min: 0.9, Max: 2}, Angle: model.Range{Min: degrees(50), Max: degrees(70)}, BackDistance: 0.6},
		Goal:      model.Goal{From: 30, To: 300, Smoothing: 12},
		Unwritten: model.Unwritten{From: true, Distance: true, Angle: true, Back: true},
	}
	for _, f := range model.Faces {
		want.Room.Walls[f].Construction = "plasterboard on studs"
	}
	want.Room.Walls[model.Floor].Construction = "timber on joists"
	want.Room.Walls[model.Ceiling].Construction = "plasterboard on joists"
	if !same(p, want) {
		t.Errorf("got\n%+v, want\n%+v", p, want)
	}
	if a := p.Room.Air(); math.Abs(a.Speed-343.2) > 1e-9 {
		t.Errorf("speed of sound %v m/s, want 343.2 at 20 °C (ISO 9613-1)", a.Speed)
	}
}

// The walls of the theory room are plain figures for the engines.
func TestReadTheory(t *testing.T) {
	t.Parallel()
	p := readRoom(t, "theory.yaml")
	for f, want := range map[model.Face]complex128{
		model.Front: 40, model.Back: 25 - 10i, model.Left: 60, model.Right: 60, model.Floor: 100 + 20i, model.Ceiling: 0,
	} {
		if got := p.Room.Walls[f].Impedance; got != want {
			t.Errorf("%v has ζ = %v, want %v", f, got, want)
		}
	}
	rows := p.Room.Walls[model.Ceiling].Absorption
	if len(rows) != 4 || rows[0] != (model.Absorption{Frequency: 31.5, Coefficient: 0.05}) || rows[3].Frequency != 250 {
		t.Errorf("ceiling has the table %v", rows)
	}
	if p.Listening.Distance.Given() || p.Speakers.Apart.Given() || p.Goal.Smoothing != 48 {
		t.Errorf("limits %+v, %+v; want none", p.Listening, p.Speakers.Apart)
	}
}

// The demo room is what it is made for: the places of today are poor by the owner's
// own wishes, and at least three arrangements are legal that differ by more than
// 25 cm.
func TestSpareRoomLeavesAChoice(t *testing.T) {
	t.Parallel()
	p := readRoom(t, "spare-room.yaml")
	if len(p.PresentBreaches()) == 0 {
		t.Error("the present places break no rule")
	}
	var kept []model.Layout
	tried, legal := 0, 0
	mid := p.Room.Size.Y / 2
	for x := 0.34; x <= 1.6; x += 0.05 {
		for half := 0.3; half < mid; half += 0.05 {
			for seat := 1.3; seat <= 3.2; seat += 0.05 {
				tried++
				l := model.Layout{
					Left: r3.Vec{X: x, Y: mid - half, Z: 1.0}, Right: r3.Vec{X: x, Y: mid + half, Z: 1.0},
					Seat: r3.Vec{X: seat, Y: mid, Z: p.Seats[0].Height}, AxisHeight: 1.12,
				}
				if p.Violation(l) > 0 {
					continue
				}
				legal++
				apart := true
				for _, k := range kept {
					apart = apart && max(model.Plan(k.Left, l.Left), model.Plan(k.Seat, l.Seat)) > 0.25
				}
				if apart {
					kept = append(kept, l)
				}
			}
		}
	}
	if len(kept) < 3 || legal > tried/2 {
		t.Errorf("%d of %d layouts are legal, %d of them well apart; want at least 3, and a choice that the wishes narrow", legal, tried, len(kept))
	}
}

// A construction in a place that it is not made for is odd, not wrong.
func TestMisplacedConstruction(t *testing.T) {
	t.Parallel()
	p, err := Read(strings.NewReader(strings.Replace(valid, "floor: concrete", "floor: hollow door", 1)), "odd")
	if err != nil {
		t.Fatal(err)
	}
	want := model.ConstructionMisplaced{Surface: "the floor", Construction: "hollow door", Serves: "door"}
	if len(p.Warnings) != 1 || p.Warnings[0] != want {
		t.Errorf("warnings %v", p.Warnings)
	}
}

// Names are taken in any case and spacing, and kept in the library's spelling.
func TestConstructionSpelling(t *testing.T) {
	t.Parallel()
	p, err := Read(strings.NewReader(strings.Replace(valid, "front: concrete", "front: Brick  PLASTERED", 1)), "case")
	if err != nil || p.Room.Walls[model.Front].Construction != "brick plastered" {
		t.Errorf("got %+v, %v", p, err)
	}
}

// Each layer is a list entry or all are one phrase; a seat's ears are where it is
// unless said otherwise.
func TestShortForms(t *testing.T) {
	t.Parallel()
	long, err := Read(strings.NewReader(valid+"treatments: [{wall: back, layers: [film 100 µm, wool 200 mm 6 kPa·s/m²]}]\n"), "long")
	if err != nil {
		t.Fatal(err)
	}
	short, err := Read(strings.NewReader(valid+"treatments: [{wall: back, layers: \"film 100 µm, wool 200 mm 6 kPa·s/m²\"}]\n"), "short")
	if err != nil {
		t.Fatal(err)
	}
	if !same(long, short) || len(long.Room.Treatments[0].Layers) != 2 {
		t.Errorf("got %+v and %+v", long.Room.Treatments, short.Room.Treatments)
	}
	if h := long.Seats[0].Height; h != 1.2 {
		t.Errorf("ears at %v m, want those of the place, 1.2 m", h)
	}
}

func ExampleRead() {
	const text = `
room: {name: Den, lenght: 4.62 m, width: 3.48 m, height: 2.44}
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
speakers: {box: {depth: 28 cm, width: 21 cm, height: 34 cm}}
seats: [{name: chair, at: [1.8 m, 1.74 m, 1.2 m]}]
`
	_, err := Read(strings.NewReader(text), "den.yaml")
	fmt.Println(err)
	// Output:
	// den.yaml:2:19: room: unknown key "lenght"; did you mean "length"?
	//     2 | room: {name: Den, lenght: 4.62 m, width: 3.48 m, height: 2.44}
	//                           ^
	// den.yaml:2:58: room.height: "2.44" has no unit; write 2.44 m (units: m, cm, mm, ft, in)
	//     2 | room: {name: Den, lenght: 4.62 m, width: 3.48 m, height: 2.44}
	//                                                                  ^
}

func ExampleWrite() {
	p, err := Read(strings.NewReader(`
room: {length: 13 ft 9 in, width: 10 ft, height: 8 ft, temperature: 68 °F}
walls: {front: {impedance: 60 - 20j}, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
speakers: {}
seats: [{name: chair, may_move: [{x: 5 ft to 9 ft}]}]
`), "den.yaml")
	if err != nil {
		fmt.Println(err)
		return
	}
	if err := Write(os.Stdout, p); err != nil {
		fmt.Println(err)
	}
	// Output:
	// room: {length: 4.191 m, width: 3.048 m, height: 2.4384 m, temperature: 68 °F}
	// walls:
	//   front: {impedance: 60 - 20j}
	//   back: concrete
	//   left: concrete
	//   right: concrete
	//   floor: concrete
	//   ceiling: concrete
	// speakers: {arrangement: symmetric, axis_height: [1.2 m], rear_clearance: 0.05 m, side_clearance: 0.1 m}
	// seats:
	//   - {name: chair, height: 1.2 m, may_move: [{x: 1.524 m to 2.7432 m}], weight: 1}
	// goal: {to: 300 Hz, smoothing: 1/12 octave}
}

func BenchmarkRead(b *testing.B) {
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "room", "spare-room.yaml"))
	if err != nil {
		b.Fatal(err)
	}
	b.SetBytes(int64(len(data)))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Read(strings.NewReader(string(data)), "room"); err != nil {
			b.Fatal(err)
		}
	}
}
