package optimize

import (
	"context"
	"fmt"

	"evenbass/model"
)

// The best places for a pair and a chair in a small room. The engine is that of
// the tests; a program takes one from model/mode or model/image.
func ExamplePlace() {
	p := small()
	r, err := Place(context.Background(), p, newModal(p.Room.Size), Settings{Seed: 1, Layouts: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range r.Candidates {
		l := c.Layout
		fmt.Printf("woofers %.2f m from the front wall and %.2f m apart, head at %.2f m: ±%.1f dB\n",
			l.Left.X, model.Plan(l.Left, l.Right), l.Seat.X, c.Judgement.Spread())
	}
	// Output:
	// woofers 0.70 m from the front wall and 0.98 m apart, head at 1.75 m: ±6.4 dB
	// woofers 0.40 m from the front wall and 1.26 m apart, head at 1.70 m: ±8.0 dB
}

// What no place can satisfy is explained.
func ExampleInfeasible() {
	p := small()
	p.Seats[0].Zones[0].X = model.Range{Min: 1.1, Max: 1.1}
	_, err := Place(context.Background(), p, newModal(p.Room.Size), Settings{})
	fmt.Println(err)
	// Output:
	// nothing fits; in the nearest layout the seat is too near the left speaker by 4.55 cm, the seat is too near the right speaker by 4.55 cm; relaxing one of these would be enough: the listening distance by 4.55 cm, the zones of the seat by 5 cm, the zones of the speakers by 5 cm, the listening angle by 8.3°
}
