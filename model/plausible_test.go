package model

import (
	"fmt"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
)

// Input that could be meant but hardly is gets a question, and the cure with it.
func TestHardlyMeant(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		change func(p *Project)
		want   string // in a problem or a warning
	}{
		{"box in mm", func(p *Project) { p.Speakers.Box.Depth = 0.028 }, "did you mean 28 cm?"},
		{"length in inches", func(p *Project) { p.Room.Size.X = 15.2 * 0.0254 }, "have 0.386 m; did you mean 15.2 ft?"},
		{"width in cm", func(p *Project) { p.Room.Size.Y = 0.0431 }, "did you mean 4.31 m?"},
		{"height 25 m", func(p *Project) { p.Room.Size.Z = 25 }, "did you mean 2.5 m?"},
		{"length 42 m", func(p *Project) { p.Room.Size.X = 42 }, "did you mean 4.2 m?"},
		{"a wall 10 m away", func(p *Project) { p.Room.Size.X = 10 }, "is the longer one right?"},
		{"higher than wide", func(p *Project) { p.Room.Size.Z = 5 }, "is its height right?"},
		{"length and width swapped", func(p *Project) { p.Room.Size.X, p.Room.Size.Y = 3.3, 4.2 }, "did you swap length and width?"},
		{"speakers' x and y swapped", func(p *Project) {
			p.Speakers.Left, p.Speakers.Right = r3.Vec{X: 1, Y: 0.45, Z: 0.9}, r3.Vec{X: 2.3, Y: 0.45, Z: 0.9}
		}, "did you swap x and y?"},
		{"left and right swapped", func(p *Project) { p.Speakers.Left, p.Speakers.Right = p.Speakers.Right, p.Speakers.Left }, "did you swap left and right?"},
		{"seat's x and y swapped", func(p *Project) { p.Seats[0].At = r3.Vec{X: 1.65, Y: 1.9, Z: 1.2} }, "its x would be on it as y"},
		{"seat outside by a swap", func(p *Project) { p.Seats[0].At = r3.Vec{X: 1.65, Y: 3.9, Z: 1.2} }, "did you swap x and y?"},
	} {
		p := ordinary()
		c.change(p)
		var all []string
		for _, q := range p.Validate() {
			all = append(all, q.Text)
		}
		for _, w := range p.FindWarnings() {
			all = append(all, fmt.Sprint(w))
		}
		if text := strings.Join(all, "\n"); !strings.Contains(text, c.want) {
			t.Errorf("%s: no %q in\n%s", c.name, c.want, text)
		}
	}
	p := ordinary()
	if problems, warnings := p.Validate(), p.FindWarnings(); len(problems)+len(warnings) > 0 {
		t.Errorf("the room without mistakes has %v and %v", problems, warnings)
	}
}

// ordinary is a room that nothing is asked about.
func ordinary() *Project {
	p := &Project{
		Room: Room{Size: r3.Vec{X: 4.2, Y: 3.3, Z: 2.5}},
		Speakers: Speakers{
			Placed: true, Left: r3.Vec{X: 0.45, Y: 1, Z: 0.9}, Right: r3.Vec{X: 0.45, Y: 2.3, Z: 0.9},
			Box: Dimensions{Depth: 0.28, Width: 0.2, Height: 0.34}, AxisHeights: []float64{0.9},
		},
		Seats: []Seat{{Placed: true, At: r3.Vec{X: 1.9, Y: 1.65, Z: 1.2}, Height: 1.2, Weight: 1}},
		Goal:  Goal{From: 30, To: 300, Smoothing: 12},
	}
	for _, f := range Faces {
		p.Room.Walls[f] = Surface{Impedance: 40}
	}
	return p
}
