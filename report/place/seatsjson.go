package place

import (
	"evenbass/optimize"
	"evenbass/optimize/score"
	"evenbass/report/data"
)

// seatDoc holds a layout's figures at one seat. counted_spread_db is what ranks the layout:
// with marks slightly off at the main seat, averaged over head positions at any other.
type seatDoc struct {
	Name    string     `json:"name"`
	At      data.Point `json:"at"`
	Weight  data.Fixed `json:"weight"`
	Spread  data.Fixed `json:"spread_db"`
	Counted data.Fixed `json:"counted_spread_db"`
}

// seatsDoc holds a layout's figures at all seats.
type seatsDoc struct {
	Each    []seatDoc  `json:"each"`
	Score   data.Fixed `json:"weighted_spread_db"`
	Between data.Fixed `json:"seat_to_seat_db"`
}

// tradeDoc is one layout of the trade-off between the main seat and the others.
type tradeDoc struct {
	data.Layout
	Main data.Fixed `json:"main_spread_db"`
	Rest data.Fixed `json:"others_spread_db"`
}

// newSeatsDoc returns nil for a layout with one seat.
func newSeatsDoc(c *score.Candidate) *seatsDoc {
	if len(c.Seats) == 0 {
		return nil
	}
	d := &seatsDoc{Score: data.Decibel(c.Score), Between: data.Decibel(c.Between)}
	for _, f := range c.Seats {
		d.Each = append(d.Each, seatDoc{f.Name, data.NewPoint(f.At), data.Rounded(f.Weight, 4), data.Decibel(f.Spread), data.Decibel(f.Counted)})
	}
	return d
}

func newTradeDocs(front []optimize.FrontPoint) []tradeDoc {
	var docs []tradeDoc
	for _, p := range front {
		l := p.Layout
		docs = append(docs, tradeDoc{data.NewLayout(l), data.Decibel(p.Main), data.Decibel(p.Rest)})
	}
	return docs
}
