package main

import (
	"testing"

	"evenbass/model/roomfile"
	"evenbass/model/wave"
)

// The draws of a room for the wave solver take runs by each wall and the wool at either end
// for every layout; those of a box are another matter, and none take none.
func TestDrawRuns(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		room           string
		draws, layouts int
		wave           bool
		want           int
	}{
		{"spare-room", 100, 4, false, 0},
		{"l-room", 0, 4, true, 0},
		{"l-room", 100, 4, true, 32},     // half of 13 runs for 4 layouts and what stands now,
		{"treated-room", 1, 3, true, 60}, // 15 runs for 3 and what stands now,
	} {
		p, err := roomfile.ReadFile("../../testdata/room/" + c.room + ".yaml")
		if err != nil {
			t.Fatal(err)
		}
		s := &study{project: p}
		if c.wave {
			s.rough = new(wave.Room)
		}
		if got := s.drawRuns(c.draws, c.layouts); got != c.want {
			t.Errorf("%s, %d draws, %d layouts: %d runs, want %d", c.room, c.draws, c.layouts, got, c.want)
		}
	}
}
