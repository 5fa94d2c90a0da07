package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"github.com/urfave/cli/v2"

	"evenbass/model"
	"evenbass/optimize/study"
)

func engineFlag() cli.Flag {
	return &cli.StringFlag{
		Name: "engine", Value: string(study.Auto),
		Usage: "the `ENGINE` that computes the sound: mode (exact in a box with uniform walls), wave (any room and treatment, slower), image (mirror images) or auto, which is mode or wave",
	}
}

// newStudy sets up a study with the engine that the command line names.
func newStudy(c *cli.Context, p *model.Project) (*study.Study, error) {
	s, err := study.New(c.Context, model.EngineKind(c.String("engine")), p)
	var fault *study.EngineError
	if !errors.As(err, &fault) {
		return s, err
	}
	hint := "hint: use --engine wave, or leave --engine out"
	if fault.Shape == "" {
		var names []string
		for _, e := range study.Engines() {
			names = append(names, string(e))
		}
		hint = "hint: the engines are " + strings.Join(names, ", ")
	}
	return nil, usageError{text: err.Error(), hint: hint}
}

const (
	longWait    = 20 * time.Second // announced beforehand
	longestWait = 4 * time.Hour    // refused
)

// announce says beforehand how long a study takes, if that is long, or refuses it.
func (t *terminal) announce(c study.Cost) error {
	switch {
	case c.Time > longestWait:
		return fmt.Errorf("the wave solver would need about %s for this room of %d cells. Narrow the zones to cut the number of runs, or use --engine mode if the room is close to a plain box",
			waitText(c.Time), c.Cells)
	case c.Time > longWait:
		t.note("the wave solver will need about %s for this room", waitText(c.Time))
	}
	return nil
}
