package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/optimize/engines"
	"evenbass/optimize/study"
)

func engineFlag() cli.Flag {
	return &cli.StringFlag{
		Name: "engine", Value: string(engines.Auto),
		Usage: "the `ENGINE` that computes the sound: mode (exact in a box with uniform walls), wave (any room and treatment, slower), image (mirror images) or auto, which is mode or wave",
	}
}

func memoryFlag() cli.Flag {
	return &cli.Float64Flag{
		Name: "memory", Value: engines.UsualMemory / 1e9,
		Usage: "refuse a room for which the wave solver would take more memory than this, in `GIGABYTES`",
	}
}

// checkMemory refuses a room that would take more memory than the command line allows, and lets a run of the
// solver take no more.
func checkMemory(c *cli.Context, engine model.EngineKind, p *model.Project) error {
	limit := c.Float64("memory")
	if !(limit > 0) {
		return terminal.UsageError{Text: fmt.Sprintf("--memory must be above 0, have %v", limit)}
	}
	p.Memory = int64(1e9 * limit)
	err := engines.CheckMemory(c.Context, engine, p, 1e9*limit)
	var large *engines.MemoryError
	if errors.As(err, &large) {
		return fmt.Errorf("%w. Give more with --memory %.0f if the machine has that, or model a part of the room", err, math.Ceil(large.Need/1e9))
	}
	return err
}

// newStudy sets up a study with the engine that the command line names.
func newStudy(c *cli.Context, p *model.Project) (*study.Study, error) {
	if err := checkMemory(c, model.EngineKind(c.String("engine")), p); err != nil {
		return nil, err
	}
	s, err := study.New(c.Context, model.EngineKind(c.String("engine")), p)
	var fault *engines.Error
	if !errors.As(err, &fault) {
		return s, err
	}
	hint := "hint: use --engine wave, or leave --engine out"
	if fault.Shape == "" {
		var names []string
		for _, e := range engines.Engines() {
			names = append(names, string(e))
		}
		hint = "hint: the engines are " + strings.Join(names, ", ")
	}
	return nil, terminal.UsageError{Text: err.Error(), Hint: hint}
}

const (
	longWait    = 20 * time.Second // announced beforehand
	longestWait = 4 * time.Hour    // refused
)

// announceCost is [announce] with the cost computed first.
func announceCost(ctx context.Context, t *terminal.Terminal, cost func(context.Context) (engines.Cost, error)) error {
	c, err := cost(ctx)
	if err != nil {
		return err
	}
	return announce(t, c)
}

// announce says beforehand how long a study takes, if that is long, or refuses it.
func announce(t *terminal.Terminal, c engines.Cost) error {
	switch {
	case c.Time > longestWait:
		return fmt.Errorf("the wave solver would need about %s for this room of %d cells. Narrow the zones to cut the number of runs, or use --engine mode if the room is close to a plain box",
			waitText(c.Time), c.Cells)
	case c.Time > longWait:
		t.Note("the wave solver will need about %s for this room", waitText(c.Time))
	}
	return nil
}

// waitText writes a duration to one or two figures.
func waitText(d time.Duration) string {
	switch {
	case d < 2*time.Minute:
		return fmt.Sprintf("%.0f seconds", d.Round(5*time.Second).Seconds())
	case d < 2*time.Hour:
		return fmt.Sprintf("%.0f minutes", d.Minutes())
	}
	return fmt.Sprintf("%.0f hours", d.Hours())
}
