package floormap

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/score"
	"evenbass/optimize/testroom"
)

// A third card is that of the allowed place with the least spread among those that gain by as much as is heard,
// impair nothing and keep the balance; there is none where the place of least spread is such a one, or no place
// does. Every place is predicted anew, by the field of its seat.
func TestPlaceThatGainsWithoutImpairing(t *testing.T) {
	t.Parallel()
	p, e := testroom.ByModes(t)
	p.Listening.Balance = 3 // so that the floor beside the mid-line counts
	reader := score.NewReader(e, p)
	found := map[int]int{}
	for _, seat := range []r3.Vec{{X: 1.6}, {X: 1.9}, {X: 2.2, Y: 0.4}, {X: 2.5, Y: 0.4}} { // from front wall and mid-line
		l := facing(p)
		l.Left.X, l.Right.X = 1, 1
		l.Seat = r3.Vec{X: seat.X, Y: l.Seat.Y + seat.Y, Z: l.Seat.Z}
		v := surveyOf(t, p, e, l, Settings{Pitch: 0.25})
		card := func(at r3.Vec) response.Card {
			field, err := e.Field(t.Context(), at)
			if err != nil {
				t.Fatal(err)
			}
			return reader.Card(response.Pair{Left: field.Transfer(nil, l.Left), Right: field.Transfer(nil, l.Right)}, nil)
		}
		now, best, ok := card(l.Seat), -1, false
		for n := range v.Chair.Len() {
			if !v.Chair.Allowed(n) || ok && v.Chair.Spread[n] >= v.Chair.Spread[best] {
				continue
			}
			there, moved := card(v.Chair.Place(n)), l
			moved.Seat = v.Chair.Place(n)
			nearer := func(o model.Layout) float64 {
				return math.Abs(model.Plan(o.Left, o.Seat) - model.Plan(o.Right, o.Seat))
			}
			if now.Spread-there.Spread > 0.5 && there.Deviation-now.Deviation <= 0.25 && now.Within-there.Within <= 0.05 &&
				math.Abs(float64(there.LowOctave))-math.Abs(float64(now.LowOctave)) <= 1 && nearer(moved) <= 3 {
				best, ok = n, true
			}
		}
		least, _ := v.Chair.Best(v.Chair.Allowed)
		if got := v.Cards[1].Layout.Seat; got != v.Chair.Place(least) {
			t.Errorf("from %v: the second card is of %v, least spread is at %v", l.Seat, got, v.Chair.Place(least))
		}
		switch {
		case !ok || best == least:
			if len(v.Cards) != 2 {
				t.Errorf("from %v: %d cards, though no other place is to be advised", l.Seat, len(v.Cards))
			}
		case len(v.Cards) != 3 || v.Cards[2].Layout.Seat != v.Chair.Place(best):
			t.Errorf("from %v: %d cards, the last of %v, not %v", l.Seat, len(v.Cards), v.Cards[len(v.Cards)-1].Layout.Seat, v.Chair.Place(best))
		}
		found[len(v.Cards)]++
	}
	if found[2] == 0 || found[3] == 0 {
		t.Errorf("surveys by their number of cards: %v", found)
	}
}

// What is off balance is told from the distances on plan: 3, 4, 5 triangles.
func TestBalanced(t *testing.T) {
	t.Parallel()
	now := model.Layout{Left: r3.Vec{Y: 0}, Right: r3.Vec{Y: 3}, Seat: r3.Vec{X: 4, Y: 1.5}}
	aside := now
	aside.Seat.Y = 3 // 5 m from the left one, 4 m from the right one
	if got := Nearer(aside); math.Abs(got-1) > 1e-12 {
		t.Errorf("nearer to the right one by %v m, not by 1 m", got)
	}
	p := new(model.Project)
	if !Balanced(p, now, now) || Balanced(p, now, aside) || !Balanced(p, aside, aside) || !Balanced(p, aside, now) {
		t.Error("off balance is not what differs by more than now")
	}
	if p.Listening.Balance = 1.2; !Balanced(p, now, aside) {
		t.Error("the project's own limit does not count")
	}
}
