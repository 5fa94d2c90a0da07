package search

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"
)

// onLattice reports whether a coordinate is a whole number of centimetres from an
// origin.
func onLattice(v, origin float64) bool {
	n := (v - origin) / Pitch
	return math.Abs(n-math.Round(n)) < 1e-6
}

// strict returns the breaches of walls and zones alone: what decoding keeps
// whatever the genes.
func strict(p *model.Project, l model.Layout) []model.Breach {
	s := *p
	s.KeepClear, s.Speakers.Apart = nil, model.Range{}
	s.Listening = model.Listening{BackDistance: p.Listening.BackDistance}
	triangle := []model.RuleKind{model.SpeakersNear, model.SeatNear, model.SeatUneven}
	return slices.DeleteFunc(s.Breaches(l), func(b model.Breach) bool { return slices.Contains(triangle, b.Kind) })
}

// drawLayout decodes a genome drawn at random.
func drawLayout(t *rapid.T, pr *Problem) model.Layout {
	return pr.Random(func() float64 { return rapid.Float64Range(0, 1).Draw(t, "gene") })
}

// Whatever the genes, a mirrored pair is mirrored, every mark is on the lattice,
// in its zone and clear of the walls.
func TestDecodeMirrored(t *testing.T) {
	p := testroom.Studio()
	pr, err := NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		l := drawLayout(t, pr)
		if l.Left.X != l.Right.X || math.Abs(l.Left.Y+l.Right.Y-p.Room.Size.Y) > 1e-9 || l.Seat.Y != p.Room.Size.Y/2 {
			t.Fatalf("not mirrored: %+v", l)
		}
		if !onLattice(l.Left.X, 0) || !onLattice(l.Left.Y, p.Room.Size.Y/2) || !onLattice(l.Seat.X, 0) {
			t.Fatalf("off the lattice: %+v", l)
		}
		if b := strict(p, l); len(b) > 0 {
			t.Fatalf("%+v breaks %+v", l, b)
		}
	})
}

// Decoding keeps the triangle where it can: of layouts drawn at random, nearly
// all of a mirrored pair's are legal, and a good part of a free pair's.
func TestDecodeIsMostlyLegal(t *testing.T) {
	for _, c := range []struct {
		name  string
		p     *model.Project
		least int
	}{{"mirrored", testroom.Studio(), 600}, {"free", testroom.FreeStudio(), 150}} {
		pr, err := NewProblem(c.p)
		if err != nil {
			t.Fatal(err)
		}
		rng, legal := rand.New(rand.NewPCG(1, 1)), 0
		for range 1000 {
			if c.p.Violation(pr.Random(rng.Float64)) == 0 {
				legal++
			}
		}
		t.Logf("%s: %d of 1000 legal", c.name, legal)
		if legal < c.least {
			t.Errorf("%s: %d of 1000 legal, want %d", c.name, legal, c.least)
		}
	}
}

// A free pair may break the triangle, which a search is told by the violation, but
// never leaves its zones or walls; the left one stays on the left.
func TestDecodeFree(t *testing.T) {
	p := testroom.FreeStudio()
	pr, err := NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		l := drawLayout(t, pr)
		if b := strict(p, l); len(b) > 0 || l.Left.Y > l.Right.Y {
			t.Fatalf("%+v breaks %+v", l, b)
		}
	})
}

// All that a search may ask for is inside the domain that is tabulated.
func TestDomainHoldsEveryLayout(t *testing.T) {
	for name, p := range map[string]*model.Project{"mirrored": testroom.Studio(), "free": testroom.FreeStudio()} {
		pr, err := NewProblem(p)
		if err != nil {
			t.Fatal(err)
		}
		d := pr.Domain(0.05, score.LeanDistance)
		s := score.Scorer{Shift: 0.05, Size: p.Room.Size}
		known := func(v r3.Vec) bool {
			for _, a := range d.Sources {
				if a.X.Contains(v.X) && a.Y.Contains(v.Y) {
					return true
				}
			}
			return false
		}
		rapid.Check(t, func(t *rapid.T) {
			l := drawLayout(t, pr)
			if p.Violation(l) > 0 {
				return
			}
			for i := range 5 {
				left, right, seat := s.Displaced(l.Left)[i], s.Displaced(l.Right)[i], score.Around(l.Seat, score.LeanDistance, p.Room.Size)[i]
				if !known(left) || !known(right) || !d.Seats.X.Contains(seat.X) || !d.Seats.Y.Contains(seat.Y) {
					t.Fatalf("%s: %v, %v or %v is outside %+v", name, left, right, seat, d)
				}
			}
		})
	}
}

// With no zones and no seat in place, the whole floor is open, and the ears give
// the height.
func TestProblemOfBareRoom(t *testing.T) {
	p := &model.Project{Room: model.Room{Size: r3.Vec{X: 4, Y: 3, Z: 2.4}}, Seats: []model.Seat{{Height: 1.2}}}
	pr, err := NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	if got := pr.PairAreas[0].Left; got != (geometry.Area{X: geometry.Span{Lo: 0, Hi: 4}, Y: geometry.Span{Lo: 0, Hi: 1.3}}) { // 0.4 m apart at least
		t.Errorf("the left speaker may be in %+v", got)
	}
	if got := pr.Seats[0]; math.Abs(got.X.Lo) > 1e-12 || got.X.Hi != 4 || got.Y != (geometry.Span{Lo: 1.5, Hi: 1.5}) {
		t.Errorf("the head may be in %+v", got)
	}
	if len(pr.Heights) != 1 || pr.Heights[0] != 1.2 {
		t.Errorf("heights %v", pr.Heights)
	}
}

func TestProblemNeedsSeatAndRoom(t *testing.T) {
	bad := testroom.Studio()
	bad.Seats = nil
	if _, err := NewProblem(bad); err == nil {
		t.Error("a project without a seat was accepted")
	}
	bad = testroom.Studio()
	bad.Room.Size.Y = 0
	if _, err := NewProblem(bad); err == nil {
		t.Error("a room without width was accepted")
	}
}

// The triangle of a head on the mid-line, by hand: at 2 m under 60° the speakers
// are 1 m from the mid-line and 1.732 m in front (equilateral, ITU-R BS.775-3
// figure 1).
func TestTriangleOfEquilateral(t *testing.T) {
	exact := model.Listening{Distance: model.Range{Min: 2, Max: 2}, Angle: model.Range{Min: math.Pi / 3, Max: math.Pi / 3}}
	half, deep := triangle(&model.Project{Listening: exact})
	for _, c := range []struct{ got, want float64 }{{half.Lo, 1}, {half.Hi, 1}, {deep.Lo, math.Sqrt(3)}, {deep.Hi, math.Sqrt(3)}} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%v, want %v", c.got, c.want)
		}
	}
	if s := depth(&model.Project{Listening: exact}, 1); math.Abs(s.Lo-math.Sqrt(3)) > 1e-12 || math.Abs(s.Hi-math.Sqrt(3)) > 1e-12 {
		t.Errorf("depth %v", s)
	}
}

// Spans on the lattice: the nearest place inside, and the span's own end where it
// holds none.
func TestSpanLattice(t *testing.T) {
	for _, c := range []struct {
		s                     geometry.Span
		v, origin, step, want float64
	}{
		{geometry.Span{Lo: 0, Hi: 1}, 0.344, 0, 0.01, 0.34},
		{geometry.Span{Lo: 0.341, Hi: 1}, 0.341, 0, 0.01, 0.35},
		{geometry.Span{Lo: 0, Hi: 0.349}, 0.349, 0, 0.01, 0.34},
		{geometry.Span{Lo: 0, Hi: 1}, 0.344, 0, 0.05, 0.35},
		{geometry.Span{Lo: 0, Hi: 3}, 1.2, 1.525, 0.01, 1.205},
		{geometry.Span{Lo: 0.343, Hi: 0.347}, 0.345, 0, 0.01, 0.345},
		{geometry.Span{Lo: 0.5, Hi: 0.5}, 0.5, 0, 0.01, 0.5},
	} {
		if got := c.s.Lattice(c.v, c.origin, c.step); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%v in %v on %v+n·%v is %v, want %v", c.v, c.s, c.origin, c.step, got, c.want)
		}
	}
}

// A project without any limits still keeps the speakers apart and the head away
// from both, mirrored or free, and a free pair about as far on either side: all
// enough of what is drawn at random is legal for breeding to begin with.
func TestDecodeWithoutLimits(t *testing.T) {
	for name, free := range map[string]bool{"mirrored": false, "free": true} {
		p := testroom.Studio()
		p.Speakers.Free, p.Speakers.Zones, p.Listening = free, nil, model.Listening{}
		if free {
			p.Seats[0].Zones = []model.Zone{{X: model.Range{Min: 1.2, Max: 3.2}, Y: model.Range{Min: 0.5, Max: 2.5}}}
		}
		b, err := NewProblem(p)
		if err != nil {
			t.Fatal(err)
		}
		rng, legal := rand.New(rand.NewPCG(1, 2)), 0
		const trials = 1000
		for range trials {
			l := b.Random(rng.Float64)
			if p.Violation(l) > 0 {
				continue
			}
			legal++
			left, right := model.Plan(l.Left, l.Seat), model.Plan(l.Right, l.Seat)
			if model.Plan(l.Left, l.Right) < 0.4-1e-4 || min(left, right) < 0.5-1e-4 || free && math.Abs(left-right) > 0.05+1e-4 {
				t.Fatalf("%s: %+v is called legal", name, l)
			}
		}
		if legal < trials/8 {
			t.Errorf("%s: %d of %d layouts drawn are legal", name, legal, trials)
		}
	}
}

// In a room that is its own mirror image, a mirrored pair sounds the same left
// and right, and swapping the speakers changes nothing.
func TestMirroredRoomMirroredPair(t *testing.T) {
	p := testroom.Studio()
	e := testroom.New(p.Room.Size)
	pr, err := NewProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	rapid.Check(t, func(t *rapid.T) {
		l := drawLayout(t, pr)
		c, err := score.Evaluate(t.Context(), p, e, l, 0)
		if err != nil {
			t.Fatal(err)
		}
		left, right := c.Judgement.Figures[response.LeftAlone], c.Judgement.Figures[response.RightAlone]
		if math.Abs(float64(left.Spread-right.Spread)) > 1e-6 || c.Judgement.Difference > 1e-6 {
			t.Fatalf("left %v, right %v, difference %v", left, right, c.Judgement.Difference)
		}
		if math.Abs(c.Tolerance.Left-c.Tolerance.Right) > 0.005 {
			t.Fatalf("tolerance %+v", c.Tolerance)
		}
	})
}
