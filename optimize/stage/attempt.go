package stage

import "context"

// attempt is a piece that was tried: the room before and after.
type attempt struct{ before, after *State }

// gain is what the piece gained in score, dB.
func (a attempt) gain() float64 { return a.before.Score() - a.after.Score() }

// spreadKept is the share of a gain in spread that is expected to be left when other pieces are built; see
// MEASURED.md of package optimize.
const spreadKept = 0.3

// expected is what the piece may gain in score when the room is as h says, dB. Absorption adds, so that decay
// rates do (Sabine 1900); what becomes of the spread is a guess.
func (a attempt) expected(h *State) float64 {
	if h == a.before {
		return a.gain()
	}
	from, before, after := h.lasting(), a.before.lasting(), a.after.lasting()
	to := from
	if from > 0 && before > 0 && after > 0 {
		if rate := 1/from + 1/after - 1/before; rate > 0 {
			to = 1 / rate
		}
	}
	return spreadKept*(a.before.spread()-a.after.spread()) + h.decayWeight()*(from-to)
}

// expect sets what every piece may gain beside those built from what it gained when it was last tried.
func (c *choosing) expect(ctx context.Context, built []Piece, a Accuracy) error {
	h, err := c.state(ctx, built, c.layout, a)
	if err != nil {
		return err
	}
	for key, tried := range c.last {
		c.gains[key] = tried.expected(h)
	}
	return nil
}
