// Package solver is the wave engine of one scene. [New] cuts a scene into cells. A run from a
// seat returns a [Field], which by reciprocity gives the transfer from every place in the
// requested zones. [Engine.Cost] estimates beforehand what a run takes.
package solver

import (
	"context"
	"errors"
	"fmt"
	"math"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/lattice"
	"evenbass/model/wave/march"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/vector"
)

// Settings of an engine. The zero value suits 20 to 315 Hz.
type Settings struct {
	Cell float64 // wanted cell size, m; 0 means DefaultCell, or less for high frequencies

	// Zones hold the places that will be asked for. None means the whole room, which suits
	// maps and takes much memory.
	Zones []model.Block

	Fall         model.Level // stop a run when its energy has fallen this far; 0 means 70 dB
	Longest      float64     // stop a run after this time in any case, s; 0 means 6 s
	SettlingTime float64     // time after which a fall of 30 dB suffices, s; 0 means never

	Convergence march.Convergence // stop a run also when levels have converged

	Memory int64 // limit for one run, bytes; 0 means 2 GiB

	// Blocks is memory for runs, which engines may share; nil means that the engine has its own.
	Blocks *march.Blocks

	// Progress receives now and then how far a run has come, from the goroutine that asked for
	// the field.
	Progress model.Progress
}

// DefaultCell is the cell size in m that suits up to 315 Hz.
const DefaultCell = 0.10

// LongestRun is how long a run lasts at most unless settings say otherwise, s.
const LongestRun = 6.0

// cellsPerWave is the least number of cells per wavelength of the highest frequency.
const cellsPerWave = 9

// ErrTooLarge means that a run would need more memory than allowed.
var ErrTooLarge = errors.New("wave: run too large")

var errNoAir = errors.New("wave: no zone holds any air")

// Engine solves one scene. It implements [model.Engine].
type Engine struct {
	scene    scene.Scene
	grid     model.Grid
	settings Settings
	medium   *lattice.Medium
	system   *march.System
	record   []int32
	rows     *rows // of fields
}

var _ model.Engine = (*Engine)(nil)

// New returns the engine of a scene. The grid needs at least one frequency. The scene must not
// change afterwards.
//
// It returns an error if the scene is not valid or no zone holds any air, and one that wraps
// [ErrTooLarge] if a run would need more memory than allowed.
func New(s scene.Scene, grid model.Grid, set Settings) (*Engine, error) {
	if len(grid) == 0 {
		panic("wave: a grid without frequencies")
	}
	if err := s.Validate(); err != nil {
		return nil, err
	}
	set = set.WithDefaults(grid, s.Air)
	e := &Engine{scene: s, grid: grid, settings: set}
	if err := e.fitsMemory(); err != nil { // before the room is cut into cells, which needs memory too
		return nil, err
	}
	e.medium = lattice.New(&e.scene, set.Cell)
	e.system = march.New(e.medium, vector.Available())
	e.medium.Forget()
	e.keep(set.Zones)
	if err := e.Check(); err != nil {
		return nil, err
	}
	return e, nil
}

// Over returns an engine of the same scene for other zones; none means the whole room.
// [Engine.Check] tells whether it can run.
func (e *Engine) Over(zones []model.Block) *Engine {
	o := *e
	o.keep(zones)
	return &o
}

// Converging returns an engine of the same scene whose runs end when levels have converged in another way.
func (e *Engine) Converging(c march.Convergence) *Engine {
	o := *e
	o.settings.Convergence = c
	return &o
}

// On returns an engine of the same scene over other frequencies, for other zones and with other
// [Settings].SettlingTime. It shares the cells, unless the frequencies go up so far that they want smaller
// ones. Its errors are those of [New].
func (e *Engine) On(grid model.Grid, zones []model.Block, settlingTime float64) (*Engine, error) {
	s := e.settings
	s.Zones, s.SettlingTime = zones, settlingTime
	if cell := (Settings{}).WithDefaults(grid, e.scene.Air).Cell; cell < s.Cell && grid[len(grid)-1] > e.grid[len(e.grid)-1] {
		s.Cell = cell
		return New(e.scene, grid, s)
	}
	o := *e
	o.grid, o.settings = grid, s
	o.keep(zones)
	return &o, o.Check()
}

// Covers reports whether this engine's fields give an answer wherever those of another engine of
// the same scene do.
func (e *Engine) Covers(other *Engine) bool {
	_, ok := other.rows.within(e.rows)
	return ok
}

// keep says for which zones fields are to answer.
func (e *Engine) keep(zones []model.Block) {
	e.settings.Zones, e.record = zones, e.medium.Within(zones)
	e.rows = newRows(e.medium, zones, e.record, e.top())
}

// FieldBytes returns how much memory a field takes.
func (e *Engine) FieldBytes() int { return 8 * e.rows.count * len(e.grid) }

// Check returns an error that wraps [ErrTooLarge] if a run would need more memory than allowed, and
// another one if no zone holds any air.
func (e *Engine) Check() error {
	if err := e.fitsMemory(); err != nil {
		return err
	}
	if len(e.record) == 0 {
		return errNoAir
	}
	return nil
}

// fitsMemory returns an error if a run would need more memory than allowed.
func (e *Engine) fitsMemory() error {
	s := e.settings
	if cost := sizeUp(e.scene.Size, e.scene.Air, e.grid, s); cost.Bytes > s.Memory {
		return fmt.Errorf("%w: %d cells need %d MB, but only %d MB are allowed; give it more memory, larger cells or narrower zones",
			ErrTooLarge, cost.Cells, cost.Bytes>>20, s.Memory>>20)
	}
	return nil
}

// WithDefaults returns the settings with zeros replaced by defaults.
func (s Settings) WithDefaults(grid model.Grid, air model.Air) Settings {
	if s.Cell == 0 {
		s.Cell = min(DefaultCell, air.Speed/grid[len(grid)-1]/cellsPerWave)
	}
	if s.Fall == 0 {
		s.Fall = 70
	}
	if s.Longest == 0 {
		s.Longest = LongestRun
	}
	if s.Memory == 0 {
		s.Memory = 2 << 30
	}
	if s.Blocks == nil {
		s.Blocks = new(march.Blocks)
	}
	return s
}

// usualErrors are those of [DefaultCell], see MEASURED.md of package wave.
var usualErrors = []model.ErrorClaim{{Frequency: 120, Error: 0.2}, {Frequency: 300, Error: 1}}

// Info implements [model.Engine]. It claims an error for cells up to the usual size.
func (e *Engine) Info() model.EngineInfo {
	info := model.EngineInfo{Kind: model.WaveEngine, Cell: e.settings.Cell}
	if info.Cell <= DefaultCell {
		info.Errors = usualErrors
	}
	return info
}

// Grid returns the frequencies.
func (e *Engine) Grid() model.Grid { return e.grid }

// Air returns the air of the room.
func (e *Engine) Air() model.Air { return e.scene.Air }

// Warnings implements [model.Engine].
func (e *Engine) Warnings() []model.Warning { return e.medium.Warnings(e.grid[len(e.grid)-1]) }

// Field implements [model.Engine]. It takes one run.
func (e *Engine) Field(ctx context.Context, seat r3.Vec) (model.Field, error) {
	f, err := e.Run(ctx, seat)
	if err != nil {
		return nil, err
	}
	return f, nil
}

// Run returns the field of a seat. It returns an error if the seat is not in the room's air, and
// one that wraps ctx's if ctx ends first.
func (e *Engine) Run(ctx context.Context, seat r3.Vec) (*Field, error) {
	f, _, err := e.RunTo(ctx, seat, seat, nil)
	return f, err
}

// RunTo is Run that also returns the transfer to one place over a grid of its own, which must lie within
// the engine's; nil without one.
func (e *Engine) RunTo(ctx context.Context, seat, to r3.Vec, grid model.Grid) (*Field, []complex128, error) {
	cells, ok := e.medium.Interpolation(seat, e.top(), nil)
	if !ok {
		return nil, nil, fmt.Errorf("wave: the seat at %.2f, %.2f, %.2f m is not in the room's air", seat.X, seat.Y, seat.Z)
	}
	r, err := e.system.Run(ctx, e.settings.Blocks, e.request(cells))
	defer r.Release()
	if err != nil {
		return nil, nil, fmt.Errorf("wave: run stopped: %w", err)
	}
	f := e.newField(ctx, r)
	var transfer []complex128
	if len(grid) > 0 {
		transfer = f.read(ctx, r, f.Nearest(to), grid)
	}
	if err := ctx.Err(); err != nil {
		return nil, nil, fmt.Errorf("wave: run stopped: %w", err)
	}
	return f, transfer, nil
}

// top returns the highest wavenumber of interest, 1/m.
func (e *Engine) top() float64 {
	return 2 * math.Pi * e.grid[len(e.grid)-1] / e.scene.Air.Speed
}

// request returns what a run from a source is to do.
func (e *Engine) request(source []lattice.Weight) march.Request {
	lowest, highest := e.grid[0], e.grid[len(e.grid)-1]
	c := e.settings.Convergence
	c.From, c.To = max(c.From, lowest), min(c.To, highest)
	return march.Request{
		Source: source, Cells: e.record,
		Lowest: lowest, Highest: highest,
		Fall: e.settings.Fall, Longest: e.settings.Longest, SettlingTime: e.settings.SettlingTime, Convergence: c,
		Loss: 2 * math.Pi * lowest * e.scene.Air.Loss, Progress: e.settings.Progress,
	}
}
