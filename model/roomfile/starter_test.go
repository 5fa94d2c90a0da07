package roomfile

import (
	"bytes"
	"errors"
	"math"
	"os"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material"
)

// Every room that the tool is made for gets a file that reads back with the sizes and
// walls asked for.
func TestStarterReadsBack(t *testing.T) {
	t.Parallel()
	names := material.Names()
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.Float64Range(model.SmallestSide, model.LargestSide)
		height := rapid.Float64Range(model.SmallestSide, 8)
		s := StarterSettings{
			Name: anyName().Draw(t, "name"),
			Size: r3.Vec{X: side.Draw(t, "length"), Y: side.Draw(t, "width"), Z: height.Draw(t, "height")},
		}
		for i := range s.Walls {
			s.Walls[i] = rapid.SampledFrom(append(names, "")).Draw(t, "wall")
		}
		var b bytes.Buffer
		if err := Starter(&b, s); err != nil {
			t.Fatal(err)
		}
		p, err := Read(&b, "starter")
		if err != nil {
			t.Fatal(err)
		}
		if p.Room.Size != s.Size || p.Room.Name != s.Name {
			t.Errorf("room %v %q, want %v %q", p.Room.Size, p.Room.Name, s.Size, s.Name)
		}
		for i, w := range s.Walls {
			if got := p.Room.Walls[i].Construction; got != w && !(w == "" && got == "unknown") {
				t.Errorf("wall %v is %q, want %q", model.Face(i), got, w)
			}
		}
	})
}

// The starter states the defaults: a file without those keys gives the same project.
func TestStarterStatesTheDefaults(t *testing.T) {
	t.Parallel()
	var b bytes.Buffer
	if err := Starter(&b, StarterSettings{Size: r3.Vec{X: 4.2, Y: 3.2, Z: 2.4}}); err != nil {
		t.Fatal(err)
	}
	p, err := Read(&b, "starter")
	if err != nil {
		t.Fatal(err)
	}
	d := defaults()
	d.Speakers.Box = p.Speakers.Box
	if !same(p.Speakers, d.Speakers) || !cmp.Equal(p.Listening, d.Listening) || p.Goal != d.Goal {
		t.Errorf("starter says\n%+v\n%+v\n%+v\ndefaults are\n%+v\n%+v\n%+v", p.Speakers, p.Listening, p.Goal, d.Speakers, d.Listening, d.Goal)
	}
}

// With every comment of the starter switched on, it still reads, in a small room as in a large
// one: its examples are right, and no piece of them covers a door.
func TestStarterExamplesRead(t *testing.T) {
	t.Parallel()
	for _, size := range []r3.Vec{{X: 3.2, Y: 2.6, Z: 2.2}, {X: 4.6, Y: 3.5, Z: 2.4}, {X: 6.5, Y: 5, Z: 2.9}} {
		p := starterExamples(t, size)
		if len(p.Room.Openings) != 2 || len(p.Room.Blocks) != 1 || len(p.Room.Treatments) != 2 || len(p.Furnishings()) != 1 ||
			len(p.KeepClear) != 1 || len(p.Seats) != 2 || len(p.Speakers.Zones) != 1 || !p.Speakers.Placed {
			t.Errorf("an example is missing from %+v", p)
		}
		if p.Stock == nil || len(p.Options) != 1 || p.Subwoofers == nil || len(p.Listening.AlsoFace) != 2 {
			t.Errorf("an example of what comes later is missing from %+v", p)
		}
		if s := p.Speakers; math.Abs(s.Left.Y+s.Right.Y-size.Y) > 1e-9 {
			t.Errorf("speakers of a symmetric arrangement at %v and %v in a room of %v", s.Left, s.Right, size)
		}
	}
}

// starterExamples reads a starter with its comments switched on.
func starterExamples(t *testing.T, size r3.Vec) *model.Project {
	t.Helper()
	var b bytes.Buffer
	if err := Starter(&b, StarterSettings{Size: size}); err != nil {
		t.Fatal(err)
	}
	lines := strings.Split(b.String(), "\n")
	for i, l := range lines {
		if at := strings.Index(l, "#"); at >= 0 && strings.TrimSpace(l[:at]) == "" && (!strings.HasPrefix(l[at:], "# ") || strings.HasPrefix(l[at:], "#  ")) {
			lines[i] = l[:at] + l[at+1:]
		}
	}
	p, err := Read(strings.NewReader(strings.Join(lines, "\n")), "starter")
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestStarterRefusesWhatIsNoRoom(t *testing.T) {
	t.Parallel()
	for _, s := range []StarterSettings{
		{},
		{Size: r3.Vec{X: 500, Y: 3, Z: 2.4}},
		{Size: r3.Vec{X: 4, Y: -3, Z: 2.4}},
		{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}, Walls: [6]string{"gingerbread"}},
		{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}, Name: "two\nlines"},
	} {
		var b bytes.Buffer
		var e *Error
		if err := Starter(&b, s); !errors.As(err, &e) || b.Len() > 0 {
			t.Errorf("%+v: error %v, wrote %d bytes; want an *Error and nothing written", s, err, b.Len())
		}
	}
}

// failing is a writer on a full disk.
type failing struct{}

var errFull = errors.New("no space left")

func (failing) Write([]byte) (int, error) { return 0, errFull }

func TestWritersReportAFullDisk(t *testing.T) {
	t.Parallel()
	if err := Starter(failing{}, StarterSettings{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}); !errors.Is(err, errFull) {
		t.Errorf("Starter: %v", err)
	}
	if err := Write(failing{}, defaults()); !errors.Is(err, errFull) {
		t.Errorf("Write: %v", err)
	}
}

func ExampleStarter() {
	var b bytes.Buffer
	err := Starter(&b, StarterSettings{
		Name:  "Box room",
		Size:  r3.Vec{X: 3.9, Y: 2.8, Z: 2.4},
		Walls: [6]string{model.Front: "brick plastered", model.Floor: "timber on joists"},
	})
	if err != nil {
		panic(err)
	}
	for line := range strings.Lines(b.String()) {
		if strings.HasPrefix(line, "room:") || strings.HasPrefix(line, "  front:") || strings.HasPrefix(line, "  back:") {
			os.Stdout.WriteString(line)
		}
	}
	// Output:
	// room: {name: Box room, length: 3.9 m, width: 2.8 m, height: 2.4 m, temperature: 20 °C}
	//   front: brick plastered
	//   back: unknown
}
