package main

import (
	"strings"
	"testing"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/optimize/engines"
)

// A long run is announced on standard error and one of days is refused. A short one is not
// mentioned.
func TestAnnounce(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		need        time.Duration
		note, fails string
	}{
		{11 * time.Second, "", ""},
		{92 * time.Second, "evenbass: the wave solver will need about 90 seconds for this room\n", ""},
		{250 * time.Second, "evenbass: the wave solver will need about 4 minutes for this room\n", ""},
		{3 * time.Hour, "evenbass: the wave solver will need about 3 hours for this room\n", ""},
		{50 * time.Hour, "", "the wave solver would need about 50 hours for this room of 4000 cells"},
	} {
		var stderr strings.Builder
		err := announce(terminal.New(nil, &stderr), engines.Cost{Time: c.need, Cells: 4000})
		if (err != nil) != (c.fails != "") || err != nil && !strings.Contains(err.Error(), c.fails) {
			t.Errorf("%v: error %v, want %q", c.need, err, c.fails)
		}
		if got := stderr.String(); got != c.note {
			t.Errorf("%v: said %q, want %q", c.need, got, c.note)
		}
	}
}

// The help of --engine explains every engine that it takes.
func TestEngineFlagNamesEveryEngine(t *testing.T) {
	t.Parallel()
	usage := engineFlag().(*cli.StringFlag).Usage
	for _, e := range engines.Engines() {
		if !strings.Contains(usage, string(e)+" (") && e != engines.Auto {
			t.Errorf("%q does not explain %s", usage, e)
		}
	}
}
