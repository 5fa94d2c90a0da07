package wave

import (
	"context"
	"errors"
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/material/fit"

	"gonum.org/v1/gonum/spatial/r3"
)

// Settings of an engine. The zero value is good for 20 to 315 Hz.
type Settings struct {
	Cell float64 // size of a cell wanted, m; 0 means DefaultCell, or less for a high grid

	// Zones hold the places that will be asked for. None means the whole room,
	// which is good for maps and takes much memory.
	Zones []model.Block

	Fall    model.Level // end a run when its energy has fallen this far; 0 means 70 dB
	Longest float64     // end a run after this time in any case, s; 0 means 6 s

	// Fits, if not nil, remembers how surfaces are followed by branches, for rooms that
	// share walls. See [NewRoom].
	Fits *fit.Memory

	Memory int64 // most bytes that a run may take; 0 means 1 GiB
	Kept   int   // seats whose runs a [Room] keeps, the latest; 0 means 8, some 4 to 6 MB each

	// Progress hears now and then how far a run has come, 0..1; nil is fine. It is
	// called from the goroutine that asked for the field.
	Progress func(done float64)
}

// DefaultCell is the cell size in m that serves up to 315 Hz.
const DefaultCell = 0.10

// finest is the least number of cells per wavelength of the highest frequency.
const finest = 9

// ErrTooLarge is returned where a run would take more memory than allowed.
var ErrTooLarge = errors.New("wave: run too large")

var errNoAir = errors.New("wave: no zone holds any air")

// Engine solves one scene. It implements [model.Engine].
type Engine struct {
	scene    Scene
	grid     model.Grid
	settings Settings
	medium   *medium
	system   *system
	record   []int32
	blocks   *Blocks // engines that come of this one share it
}

var _ model.Engine = (*Engine)(nil)

// New draws a scene into a grid of cells. The grid of frequencies must have at
// least one. The scene must not change afterwards.
//
// It returns an error if the scene is not valid, and one that wraps [ErrTooLarge]
// if a run would take more memory than allowed.
func New(scene Scene, grid model.Grid, s Settings) (*Engine, error) {
	if len(grid) == 0 {
		panic("wave: a grid without frequencies")
	}
	if err := scene.Validate(); err != nil {
		return nil, err
	}
	s = s.filled(grid, scene.Air)
	if err := s.affords(scene.Size, grid); err != nil {
		return nil, err
	}
	e := &Engine{scene: scene, grid: grid, settings: s, blocks: new(Blocks)}
	e.medium = newMedium(&e.scene, s.Cell)
	e.medium.warnings = append(e.medium.warnings, e.medium.doubts(grid[len(grid)-1])...)
	e.system = newSystem(e.medium, e.medium.stableStep(), hasVectors())
	e.record = e.medium.recorded(s.Zones)
	if len(e.record) == 0 {
		return nil, errNoAir
	}
	return e, nil
}

// affords returns an error if a run over a room of the size would take more memory than
// allowed.
func (s Settings) affords(size r3.Vec, grid model.Grid) error {
	if cost := sizeUp(size, grid, s); cost.Bytes > s.Memory {
		return fmt.Errorf("%w: %d cells need %d MB, allowed are %d MB; take a larger cell or fewer zones",
			ErrTooLarge, cost.Cells, cost.Bytes>>20, s.Memory>>20)
	}
	return nil
}

// filled returns the settings with the defaults in place.
func (s Settings) filled(grid model.Grid, air model.Air) Settings {
	if s.Cell == 0 {
		s.Cell = min(DefaultCell, air.Speed/grid[len(grid)-1]/finest)
	}
	if s.Fall == 0 {
		s.Fall = 70
	}
	if s.Longest == 0 {
		s.Longest = 6
	}
	if s.Memory == 0 {
		s.Memory = 1 << 30
	}
	if s.Kept == 0 {
		s.Kept = 8
	}
	return s
}

// Name returns "wave".
func (e *Engine) Name() string { return "wave" }

// Grid returns the frequencies.
func (e *Engine) Grid() model.Grid { return e.grid }

// Air returns the air of the room.
func (e *Engine) Air() model.Air { return e.scene.Air }

// Warnings implements [model.Engine].
func (e *Engine) Warnings() []model.Warning { return e.medium.warnings }

// Field implements [model.Engine]. It takes one run.
func (e *Engine) Field(seat r3.Vec) (model.Field, error) {
	f, err := e.Run(context.Background(), seat)
	if err != nil {
		return nil, err
	}
	return f, nil
}

// Run returns the field of a seat, or the error of ctx if that ends first.
func (e *Engine) Run(ctx context.Context, seat r3.Vec) (*Field, error) {
	cells, ok := e.medium.stencilAt(seat, e.top(), nil)
	if !ok {
		return nil, fmt.Errorf("wave: the seat at %.2f, %.2f, %.2f m is not in the room's air", seat.X, seat.Y, seat.Z)
	}
	r, err := e.system.Run(ctx, e.blocks, e.request(cells))
	defer r.Release()
	if err != nil {
		return nil, fmt.Errorf("wave: run stopped: %w", err)
	}
	f := e.newField(ctx, r)
	if err := ctx.Err(); err != nil {
		return nil, fmt.Errorf("wave: run stopped: %w", err)
	}
	return f, nil
}

// top returns the highest wavenumber wanted, 1/m.
func (e *Engine) top() float64 {
	return 2 * math.Pi * e.grid[len(e.grid)-1] / e.scene.Air.Speed
}

// request returns what a run from a source in some cells is to do.
func (e *Engine) request(source []weighted) Request {
	return Request{
		Source: source, Cells: e.record,
		Lowest: e.grid[0], Highest: e.grid[len(e.grid)-1],
		Fall: e.settings.Fall, Longest: e.settings.Longest,
		Loss: 2 * math.Pi * e.grid[0] * e.scene.Air.Loss, Progress: e.settings.Progress,
	}
}
