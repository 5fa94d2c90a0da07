package optimize

import "testing"

// What a search asks the engine for is known beforehand: the table that it ends with
// has no fewer seats than the coarsest and no more than all that fit together. A zone
// that is a point costs the least.
func TestSeats(t *testing.T) {
	t.Parallel()
	p, e := studioByModes(t)
	least, most, err := Seats(p, e, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	b, err := newBanded(e, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	pr, err := newProblem(p)
	if err != nil {
		t.Fatal(err)
	}
	s := Settings{}.withDefaults()
	table, _, err := tabulate(t.Context(), b, pr.domain(s.Displacement), p.Goal, func(int, int) {})
	if err != nil {
		t.Fatal(err)
	}
	if n := len(table.seat[0].nodes) * len(table.seat[1].nodes); n < least || n > most || least == 0 {
		t.Errorf("the table has %d seats, said %d to %d", n, least, most)
	}

	still := *p
	still.Seats = append(still.Seats[:0:0], still.Seats...)
	still.Seats[0].Zones[0].X.Max = still.Seats[0].Zones[0].X.Min
	if few, _, err := Seats(&still, e, Settings{}); err != nil || few >= least {
		t.Errorf("a seat that stays needs %d seats, one that moves %d (%v)", few, least, err)
	}
}
