package report

import "evenbass/optimize"

// seatDoc is how a layout does at one seat; that it counts with spread_db for the
// main seat means marks slightly off, for any other the head in a box.
type seatDoc struct {
	Name    string   `json:"name"`
	At      pointDoc `json:"at"`
	Weight  fixed    `json:"weight"`
	Spread  fixed    `json:"spread_db"`
	Counted fixed    `json:"counted_spread_db"`
}

// seatsDoc is how a layout does at all seats.
type seatsDoc struct {
	Each    []seatDoc `json:"each"`
	Score   fixed     `json:"weighted_spread_db"`
	Between fixed     `json:"seat_to_seat_db"`
}

// tradeDoc is one layout of the trade-off between the main seat and the others.
type tradeDoc struct {
	Left  pointDoc `json:"left"`
	Right pointDoc `json:"right"`
	Seat  pointDoc `json:"seat"`
	Main  fixed    `json:"main_spread_db"`
	Rest  fixed    `json:"others_spread_db"`
}

// newSeatsDoc returns nil for a layout with one seat.
func newSeatsDoc(c *optimize.Candidate) *seatsDoc {
	if len(c.Seats) == 0 {
		return nil
	}
	d := &seatsDoc{Score: decibel(c.Score), Between: decibel(c.Between)}
	for _, f := range c.Seats {
		d.Each = append(d.Each, seatDoc{f.Name, newPointDoc(f.At), rounded(f.Weight, 4), decibel(f.Spread), decibel(f.Counted)})
	}
	return d
}

func newTradeDocs(front []optimize.FrontPoint) []tradeDoc {
	var docs []tradeDoc
	for _, p := range front {
		l := p.Layout
		docs = append(docs, tradeDoc{newPointDoc(l.Left), newPointDoc(l.Right), newPointDoc(l.Seat), decibel(p.Main), decibel(p.Rest)})
	}
	return docs
}
