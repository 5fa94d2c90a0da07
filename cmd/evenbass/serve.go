package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strconv"

	"github.com/urfave/cli/v2"

	"evenbass/cmd/evenbass/serve"
	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/report/place"
)

func serveCommand(t *terminal.Terminal) *cli.Command {
	return &cli.Command{
		Name: "serve", Usage: "show the page of place in your browser, and renew it whenever the file changes", ArgsUsage: "ROOM.yaml",
		Description: "Prints an address for a browser on this machine; nobody else can open it. Whenever you save the\n" +
			"room file, the page is computed again. Its link \"Measure\" plays the test signal in the browser and\n" +
			"records it; the measurements are saved beside the room file and named in it. Ctrl-C ends it.",
		Flags: slices.Concat([]cli.Flag{
			&cli.IntFlag{Name: "port", Usage: "serve on this port (0: any free one)"}, staticFlag(), optionsFlag(), pairsFlag(),
		}, recordFlags(), searchFlags(), signFlags()),
		Action: func(c *cli.Context) error { return runServe(c, t) },
	}
}

func runServe(c *cli.Context, t *terminal.Terminal) error {
	if err := checkSearch(c); err != nil {
		return err
	}
	if err := checkVariants(c, true); err != nil {
		return err
	}
	if port := c.Int("port"); port < 0 || port > 65535 {
		return terminal.UsageError{Text: fmt.Sprintf("--port must be 0 to 65535, have %d", port)}
	}
	room, err := readRoom(c)
	if err != nil {
		return err
	}
	recorder, err := newRecorder(c, t, room.path)
	if err != nil {
		return err
	}
	server := &serve.Server{
		File: room.path, Title: "evenbass: " + room.path, Recorder: recorder,
		Settings: []serve.Setting{
			{Name: "layouts", Label: "Layouts", Value: c.Int("layouts"), Lo: 1, Hi: 5},
			{Name: "trials", Label: "Trials", Value: c.Int("trials"), Lo: 0, Hi: mostTrials},
		},
		Make: func(ctx context.Context, settings map[string]int, progress model.Progress) ([]byte, error) {
			return servedPage(ctx, c, t, settings, progress)
		},
		Note: func(err error) {
			if err != nil {
				t.Fail(err)
				return
			}
			t.Note("the page is ready")
		},
	}
	l, address, err := server.Listen(c.Int("port"))
	if err != nil {
		return err
	}
	t.Print(address + "\n")
	t.Note("open this address in a browser on this machine; Ctrl-C ends it")
	return server.Run(c.Context, l)
}

// servedPage makes the page of the room file as it is now. The settings count as if they had been
// typed, so that the page names them where it says how to get it again.
func servedPage(ctx context.Context, c *cli.Context, t *terminal.Terminal, settings map[string]int, progress model.Progress) ([]byte, error) {
	job := *c
	job.Context = ctx
	for name, v := range settings {
		if v == c.Int(name) {
			continue
		}
		if err := c.Set(name, strconv.Itoa(v)); err != nil {
			return nil, fmt.Errorf("setting %s: %w", name, err)
		}
	}
	room, err := readRoom(&job)
	if err != nil {
		return nil, hinted(err)
	}
	in, stopped, err := planFor(&job, t, room, true, progress)
	switch {
	case err != nil:
		return nil, hinted(err)
	case stopped:
		return nil, ctx.Err()
	}
	var page bytes.Buffer
	if err := place.Page(&page, in); err != nil {
		return nil, err
	}
	return page.Bytes(), nil
}

// hinted is an error with its hint as text, for a reader who does not see the terminal.
func hinted(err error) error {
	var usage terminal.UsageError
	if errors.As(err, &usage) && usage.Hint != "" {
		return fmt.Errorf("%w\n%s", err, usage.Hint)
	}
	return err
}
