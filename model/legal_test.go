package model

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

func rehearsal() (*Project, Layout) {
	p := &Project{
		Room: Room{Size: r3.Vec{X: 4.5, Y: 3.4, Z: 2.45}},
		Speakers: Speakers{
			Box: Dimensions{Depth: 0.28, Width: 0.2, Height: 0.34}, WooferBelow: 0.12,
			RearClearance: 0.05, SideClearance: 0.1,
		},
		Seats:     []Seat{{Name: "chair"}},
		Listening: Listening{Distance: Range{0.9, 2}, Angle: Range{50 * math.Pi / 180, 70 * math.Pi / 180}, BackDistance: 0.6},
	}
	l := Layout{Left: r3.Vec{X: 0.6, Y: 1.0, Z: 1.08}, Right: r3.Vec{X: 0.6, Y: 2.4, Z: 1.08}, Seat: r3.Vec{X: 1.8, Y: 1.7, Z: 1.2}}
	return p, l
}

func TestLegalLayoutHasNoBreach(t *testing.T) {
	p, l := rehearsal()
	if got := p.Breaches(l); len(got) != 0 {
		t.Errorf("breaches of a legal layout: %v", got)
	}
}

// Each constraint alone is seen, named, and measured in metres.
func TestBreaches(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*Project, *Layout)
		want   Rule
		amount float64
	}{
		{"rear port", func(_ *Project, l *Layout) { l.Left.X = 0.30 }, Rule{Kind: SpeakerRear}, 0.03},
		{"side wall", func(_ *Project, l *Layout) { l.Left.Y = 0.15 }, Rule{Kind: SpeakerLeftWall}, 0.05},
		{"far side", func(_ *Project, l *Layout) { l.Right.Y = 3.25 }, Rule{Kind: SpeakerRightWall, Side: RightSide}, 0.05},
		{"floor", func(_ *Project, l *Layout) { l.Left.Z = 0.1 }, Rule{Kind: SpeakerFloor}, 0.01},
		{"ceiling", func(_ *Project, l *Layout) { l.Left.Z = 2.3 }, Rule{Kind: SpeakerCeiling}, 0.08},
		{"back wall", func(_ *Project, l *Layout) { l.Seat.X = 4.0 }, Rule{Kind: SeatBackWall}, 0.1},
		{"listener", func(p *Project, _ *Layout) {
			p.Seats = append(p.Seats, Seat{Name: "sofa", Placed: true, At: r3.Vec{X: 0.6, Y: 2.4, Z: 1.48}})
		}, Rule{Kind: SpeakerEars, Side: RightSide, Name: "sofa"}, 0.1},
		{"desk", func(p *Project, _ *Layout) {
			p.KeepClear = []Block{{Name: "desk", Min: r3.Vec{X: 0.5, Y: 0.5}, Max: r3.Vec{X: 1, Y: 1.2, Z: 2}}}
		}, Rule{Kind: SpeakerObstacle, Name: "desk"}, 0.1},
		{"zone", func(p *Project, _ *Layout) {
			p.Speakers.Zones = []Zone{{X: Range{0.7, 1.5}, Y: Range{0.5, 3}}}
		}, Rule{Kind: SpeakerZone}, 0.1},
		{"seat zone", func(p *Project, _ *Layout) {
			p.Seats[0].Zones = []Zone{{X: Range{2, 3}, Y: Range{1.7, 1.7}}}
		}, Rule{Kind: SeatZone}, 0.2},
		{"apart", func(p *Project, _ *Layout) { p.Speakers.Apart = Range{1.5, 2} }, Rule{Kind: SpeakersNear}, 0.1},
		{"apart at all", func(_ *Project, l *Layout) { l.Left.Y, l.Right.Y = 1.6, 1.9 }, Rule{Kind: SpeakersNear}, 0.1},
		{"wide boxes apart", func(p *Project, l *Layout) {
			p.Speakers.Box.Width = 0.5
			l.Left.Y, l.Right.Y = 1.5, 1.9
		}, Rule{Kind: SpeakersNear}, 0.1},
		{"seat at all", func(p *Project, l *Layout) {
			p.Listening.Distance = Range{}
			l.Seat = r3.Vec{X: 0.84, Y: 1.32, Z: 1.2} // hypot(0.24, 0.32) = 0.4 m from the left woofer
		}, Rule{Kind: SeatNear}, 0.1},
		{"balance of a mirrored pair", func(p *Project, l *Layout) {
			p.Listening.Balance = 0.1
			l.Left, l.Right, l.Seat = r3.Vec{X: 0.6, Y: 1.3, Z: 1}, r3.Vec{X: 0.6, Y: 2.1, Z: 1}, r3.Vec{X: 1.8, Y: 1.3, Z: 1.2}
		}, Rule{Kind: SeatUneven}, math.Sqrt(1.2*1.2+0.8*0.8) - 1.2 - 0.1},
		{"balance of a free pair", func(p *Project, l *Layout) {
			p.Speakers.Free = true
			l.Left, l.Right, l.Seat = r3.Vec{X: 0.6, Y: 1.3, Z: 1}, r3.Vec{X: 0.6, Y: 2.1, Z: 1}, r3.Vec{X: 1.8, Y: 1.3, Z: 1.2}
		}, Rule{Kind: SeatUneven}, math.Sqrt(1.2*1.2+0.8*0.8) - 1.2 - FreeBalance},
		{"balance of a seat that moves along the mid-line", func(p *Project, l *Layout) {
			p.Seats[0].Zones = []Zone{{X: Range{1, 3}}}
			l.Left, l.Right, l.Seat = r3.Vec{X: 0.6, Y: 1.3, Z: 1}, r3.Vec{X: 0.6, Y: 2.1, Z: 1}, r3.Vec{X: 1.8, Y: 1.3, Z: 1.2}
		}, Rule{Kind: SeatUneven}, math.Sqrt(1.2*1.2+0.8*0.8) - 1.2 - FreeBalance},
		{"behind", func(_ *Project, l *Layout) { l.Seat.X = 0.5 }, Rule{Kind: SeatAhead}, 0.1},
	} {
		p, l := rehearsal()
		c.change(p, &l)
		found := false
		for _, b := range p.Breaches(l) {
			if b.Rule == c.want {
				found = true
				if math.Abs(b.Amount-c.amount) > 1e-9 {
					t.Errorf("%s: by %.4f m, want %.4f", c.name, b.Amount, c.amount)
				}
			}
		}
		if !found {
			t.Errorf("%s: no breach %v among %v", c.name, c.want, p.Breaches(l))
		}
		if p.Violation(l) < c.amount-1e-9 {
			t.Errorf("%s: violation %.4f is below the breach", c.name, p.Violation(l))
		}
	}
}

// A layout mirrored about the mid-line of a room without obstacles breaks the
// same rules by the same amounts.
func TestViolationMirrors(t *testing.T) {
	coord := func(t *rapid.T, name string, top float64) float64 {
		return float64(rapid.IntRange(-50, int(100*top)+50).Draw(t, name)) / 100 // as taped, in cm
	}
	rapid.Check(t, func(t *rapid.T) {
		p, l := rehearsal()
		w := p.Room.Size.Y
		for _, v := range []*r3.Vec{&l.Left, &l.Right, &l.Seat} {
			*v = r3.Vec{X: coord(t, "x", 4.5), Y: coord(t, "y", w), Z: coord(t, "z", 2.45)}
		}
		m := l
		m.Left, m.Right = l.Right, l.Left
		for _, v := range []*r3.Vec{&m.Left, &m.Right, &m.Seat} {
			v.Y = w - v.Y
		}
		if a, b := p.Violation(l), p.Violation(m); math.Abs(a-b) > 1e-9 {
			t.Fatalf("violation %v, mirrored %v", a, b)
		}
	})
}

// BS.775-3 figure 1: an equilateral triangle is seen under 60°.
func TestAngleOfEquilateral(t *testing.T) {
	l := Layout{Left: r3.Vec{Y: -1.2}, Right: r3.Vec{Y: 1.2}, Seat: r3.Vec{X: 2.0784609690826525}}
	if got := l.Angle() * 180 / math.Pi; math.Abs(got-60) > 1e-9 {
		t.Errorf("angle %v°, want 60°", got)
	}
}

func TestProblemsJoin(t *testing.T) {
	err := Problems{{Path: "room.length", Text: "is missing"}, {Path: "walls.left", Text: "is missing"}}
	if got := err.Error(); strings.Count(got, "\n") != 1 || !strings.HasPrefix(got, "room.length: is missing") {
		t.Errorf("error text %q", got)
	}
}

// An angle that is broken is told in degrees; its violation stays a length.
func TestBreachOfAngle(t *testing.T) {
	p, l := rehearsal()
	l.Left.Y, l.Right.Y = 1.3, 2.1 // 0.8 m apart seen from 1.2 m: 2 atan(1/3) = 36.87°
	b := p.Breaches(l)
	if len(b) != 1 || b[0].Rule != (Rule{Kind: AngleNarrow}) || math.Abs(b[0].Angle-(50*math.Pi/180-2*math.Atan(1.0/3))) > 1e-12 {
		t.Fatalf("%+v, want 13° of angle", b)
	}
	if want := (50*math.Pi/180 - 2*math.Atan(1.0/3)) * math.Hypot(1.2, 0.4); math.Abs(b[0].Amount-want) > 1e-12 {
		t.Errorf("violation %v m, want %v", b[0].Amount, want)
	}
}

// Speakers that stay break nothing by standing where they do, but the seat's distance
// to them still counts.
func TestFixedSpeakersBreakNothing(t *testing.T) {
	p, l := rehearsal()
	p.Speakers.Fixed, p.Speakers.Free, p.Speakers.Placed = true, true, true
	p.Speakers.SideClearance, p.Speakers.RearClearance, p.Speakers.Apart = 1.5, 2, Range{2, 3}
	if got := p.Breaches(l); len(got) != 0 {
		t.Errorf("speakers that stay break %v", got)
	}
	l.Seat.X += 2
	if got := p.Breaches(l); len(got) == 0 || got[0].Kind != SeatBackWall && got[0].Kind != SeatFar {
		t.Errorf("a seat far off breaks %v", got)
	}
	p.Speakers.Fixed = false
	if got := p.Breaches(l); len(got) < 5 {
		t.Errorf("speakers that may move break only %v", got)
	}
}

// A search asks for obstacles with every layout, so that naming them must not allocate.
func TestObstaclesAllocateNothing(t *testing.T) {
	p := &Project{Room: Room{
		Size: r3.Vec{X: 4, Y: 3, Z: 2.4},
		Treatments: []Treatment{
			{Form: OnWall, Patch: Patch{Face: Back, Along: 0.5, Width: 1, Up: 0.2, Height: 1}, Layers: []Layer{{Thickness: 0.1}}},
			{Form: InCorner, Corner: Corner{Walls: [2]Face{Front, Left}, Leg: 0.4, To: 2}},
		},
	}}
	n := testing.AllocsPerRun(100, func() {
		count := 0
		for range p.Obstacles() {
			count++
		}
		if count != 2 {
			t.Errorf("%d obstacles, want 2", count)
		}
	})
	if n != 0 {
		t.Errorf("%v allocations, want none", n)
	}
}
