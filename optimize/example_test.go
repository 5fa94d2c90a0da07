package optimize

import (
	"context"
	"errors"
	"fmt"

	"evenbass/model"
	"evenbass/optimize/search"
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
	// woofers 0.70 m from the front wall and 1.00 m apart, head at 1.77 m: ±6.5 dB
	// woofers 0.40 m from the front wall and 1.24 m apart, head at 1.68 m: ±8.2 dB
}

// What no place can satisfy is explained.
func ExampleInfeasible() {
	p := small()
	p.Seats[0].Zones[0].X = model.Range{Min: 1.1, Max: 1.1}
	_, err := Place(context.Background(), p, newModal(p.Room.Size), Settings{})
	var none *search.Infeasible
	if !errors.As(err, &none) {
		fmt.Println(err)
		return
	}
	for _, b := range none.Breaches {
		fmt.Printf("too near the %v speaker by %.3g m\n", b.Side, b.Amount)
	}
	fmt.Printf("%d constraints, of which relaxing one is enough; the first by %.3g m\n", len(none.Relaxations), none.Relaxations[0].Least.Amount)
	// Output:
	// too near the left speaker by 0.0455 m
	// too near the right speaker by 0.0455 m
	// 4 constraints, of which relaxing one is enough; the first by 0.0455 m
}
