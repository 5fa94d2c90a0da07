package model

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// deskRoom is a room with a desk under the speakers and a sofa of three.
func deskRoom() (*Project, Layout) {
	now := Layout{Left: r3.Vec{X: 0.4, Y: 1, Z: 1}, Right: r3.Vec{X: 0.4, Y: 2, Z: 1}, Seat: r3.Vec{X: 1.8, Y: 1.5, Z: 1.1}, AxisHeight: 1.1}
	return &Project{
		Room: Room{Size: r3.Vec{X: 5, Y: 3, Z: 2.4}},
		Speakers: Speakers{
			Placed: true, Left: now.Left, Right: now.Right, WooferBelow: 0.1, AxisHeights: []float64{1.1},
			Box: Dimensions{Depth: 0.3, Width: 0.2, Height: 0.3},
		},
		Seats: []Seat{
			{Name: "middle", Placed: true, At: now.Seat, Height: 1.1, On: "sofa", Zones: []Zone{{X: Range{1.5, 3}}}},
			{Name: "left", Placed: true, At: r3.Vec{X: 1.8, Y: 0.9, Z: 1.1}, On: "sofa"},
			{Name: "stool", Placed: true, At: r3.Vec{X: 4, Y: 2.5, Z: 1.1}},
		},
		KeepClear: []Block{{Name: "desk", Min: r3.Vec{X: 0.6, Y: 0.5}, Max: r3.Vec{X: 1.2, Y: 2.5, Z: 0.74}}},
	}, now
}

// rulesOf lists the kinds of rules that a layout breaks.
func rulesOf(p *Project, l Layout) []RuleKind {
	var list []RuleKind
	for _, b := range p.Breaches(l) {
		list = append(list, b.Kind)
	}
	return list
}

// A stand may not go through a desk, unless the speakers are said to stand on it.
func TestStandThroughDesk(t *testing.T) {
	p, l := deskRoom()
	l.Left.X, l.Right.X = 1.1, 1.1 // the boxes are above the desk, behind today's places
	l.Seat.X = 2.5
	if got := rulesOf(p, l); !slices.Equal(got, []RuleKind{SpeakerStand, SpeakerStand}) {
		t.Errorf("boxes above a desk break %v", got)
	}
	for name, say := range map[string]func(){
		"said":             func() { p.KeepClear[0].Carries = true },
		"it goes along":    func() { p.KeepClear[0].Carries, p.KeepClear[0].With = false, WithSpeakers },
		"they stand there": func() { p.KeepClear[0].With, p.Speakers.Left.X = Untied, 0.8 },
	} {
		say()
		if got := rulesOf(p, l); slices.Contains(got, SpeakerStand) {
			t.Errorf("%s: breaks %v", name, got)
		}
	}
}

// A desk that may move 40 cm goes out of the way of the stands, no farther than it must, and one
// that may move 10 cm does not.
func TestDeskMovesOutOfTheWay(t *testing.T) {
	p, l := deskRoom()
	l.Left.X, l.Right.X, l.Seat.X = 0.8, 0.8, 2.2 // boxes from 0.5 to 0.8 m
	p.KeepClear[0].Along = 0.4
	if got := p.BlockIn(p.KeepClear[0], l); math.Abs(got.Min.X-0.8) > 1e-9 || len(p.Breaches(l)) > 0 {
		t.Errorf("the desk is at %v, breaches %v", got, p.Breaches(l))
	}
	p.KeepClear[0].Along = 0.1
	if got := rulesOf(p, l); !slices.Contains(got, SpeakerStand) {
		t.Errorf("the desk may move 10 cm, breaches %v", got)
	}
}

// What goes along keeps its distance to what it goes with.
func TestTies(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, now := deskRoom()
		p.KeepClear[0].With = rapid.SampledFrom([]Tie{WithSpeakers, WithSeat}).Draw(t, "tie")
		l := now
		d := r3.Vec{X: rapid.Float64Range(0, 1).Draw(t, "x"), Y: rapid.Float64Range(-0.3, 0.3).Draw(t, "y")}
		l.Left, l.Right, l.Seat = r3.Add(l.Left, d), r3.Add(l.Right, d), r3.Add(l.Seat, d)
		for i, want := range []r3.Vec{l.Seat, r3.Add(p.Seats[1].At, d), p.Seats[2].At} {
			if got := p.SeatAt(i, l); r3.Norm(r3.Sub(got, want)) > 1e-9 {
				t.Fatalf("seat %d is at %v, want %v", i, got, want)
			}
		}
		if got := p.BlockIn(p.KeepClear[0], l); r3.Norm(r3.Sub(got.Min, r3.Add(p.KeepClear[0].Min, d))) > 1e-9 {
			t.Fatalf("the desk is at %v", got)
		}
		q := p.WithLayout(l)
		if q.Seats[1].At != p.SeatAt(1, l) || q.KeepClear[0] != p.BlockIn(p.KeepClear[0], l) {
			t.Fatalf("standing in the layout: %v, %v", q.Seats[1].At, q.KeepClear[0])
		}
	})
}

// A sofa whose other seat would be outside the room, or too near the back wall, may not go there.
func TestSeatMateStaysInside(t *testing.T) {
	p, l := deskRoom()
	p.Listening.BackDistance = 0.6
	p.Seats[1].At.X = 2.1 // a corner sofa
	l.Seat.X = 4.2
	if got := rulesOf(p, l); !slices.Contains(got, SeatMate) {
		t.Errorf("breaks %v", got)
	}
}
