package resonance

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/mode"
	"evenbass/model/reference"
	"evenbass/model/trust"
)

// The modes of a real room of concrete and wood, 3.00 x 5.60 x 3.53 m, as fitted to published
// recordings (they decay for 3.6 to 8.2 s): put together to responses at three seats with noise
// 40 dB down, they are found again to 0.05 Hz and 6 %. So found, they lie within 2.1 % of rigid
// walls where they run level and within 3.1 % where they do not. The mode 0-0-1 is split by the
// floor and not used.
func TestReferenceDerivedRoom(t *testing.T) {
	t.Parallel()
	rows := reference.Rows(t, "epfl_derived/modes_measured.csv")
	var room []partial
	for _, row := range rows[1:] {
		f, _ := strconv.ParseFloat(row[4], 64)
		rate, _ := strconv.ParseFloat(row[5], 64)
		room = append(room, partial{f, rate, 1})
	}
	found, err := Find([]Response{respond(room, 1, 1, 40), respond(room, 2, 1, 40), respond(room, 3, 1, 40)}, testRate, Settings{From: 25, To: 115})
	if err != nil {
		t.Fatal(err)
	}
	box := model.Box{Size: r3.Vec{X: 3, Y: 5.6, Z: 3.53}, Air: model.Air{Speed: 346, Density: 1.2}}
	rigid := map[string]float64{}
	modes, _ := mode.List(box, 120)
	for _, m := range modes {
		rigid[m.String()] = m.Frequency
	}
	const frequencyWithin, rateWithin = 0.05, 0.06 // Hz, share
	trust.Seen(t, "modes found in responses of a real room", "within %g Hz, decay within %g %%, which the test demands", frequencyWithin, 100*rateWithin)
	for i, row := range rows[1:] {
		m := closest(found, room[i].frequency)
		if math.Abs(m.Frequency-room[i].frequency) > frequencyWithin || math.Abs(m.Rate/room[i].rate-1) > rateWithin {
			t.Errorf("%.2f Hz, δ %.2f; want %.2f Hz, δ %.2f", m.Frequency, m.Rate, room[i].frequency, room[i].rate)
		}
		name := strings.Join(row[:3], "-")
		limit := map[string]float64{"0": 0.021, "1": 0.031}[row[2]]
		if name != "0-0-1" && math.Abs(rigid[name]/m.Frequency-1) > limit {
			t.Errorf("mode %s at %.2f Hz, between rigid walls %.2f Hz", name, m.Frequency, rigid[name])
		}
	}
	if len(room) != 12 {
		t.Errorf("%d modes in the file", len(room))
	}
}
