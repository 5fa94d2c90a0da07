package main

import (
	"flag"
	"io"
	"strings"
	"testing"

	"github.com/urfave/cli/v2"

	"evenbass/model/roomfile"
	"evenbass/model/wave"
	"evenbass/optimize"
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

// A search that used up its time goes without draws and says so, unless they were asked for.
func TestDrawsAfterTheTime(t *testing.T) {
	t.Parallel()
	p, err := roomfile.ReadFile("../../testdata/room/spare-room.yaml")
	if err != nil {
		t.Fatal(err)
	}
	s, err := newStudy("mode", p)
	if err != nil {
		t.Fatal(err)
	}
	now, ok := p.Now()
	if !ok {
		t.Fatal("nothing stands anywhere")
	}
	for _, args := range [][]string{nil, {"--draws", "2"}} {
		set := flag.NewFlagSet("place", flag.ContinueOnError)
		set.Int("draws", usualDraws, "")
		if err := set.Parse(args); err != nil {
			t.Fatal(err)
		}
		c, err := optimize.Evaluate(p, s.engine, now, 0)
		if err != nil {
			t.Fatal(err)
		}
		r := &optimize.Result{Candidates: []optimize.Candidate{c}, Stopped: optimize.OutOfTime, Goal: p.Goal, Seed: 1}
		app := cli.NewContext(cli.NewApp(), set, &cli.Context{Context: t.Context()})
		standing, err := s.draw(app, newTerminal(nil, io.Discard, io.Discard), r)
		if err != nil {
			t.Fatal(err)
		}
		said := len(r.Warnings) > 0 && strings.Contains(string(r.Warnings[0]), "left out")
		if asked := args != nil; (standing != nil) != asked || said == asked {
			t.Errorf("%v: standing %v, warnings %q", args, standing, r.Warnings)
		}
	}
}
