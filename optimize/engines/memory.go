package engines

import (
	"context"
	"fmt"
	"runtime"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/model/wave/solver"
	"evenbass/optimize/score"
	"evenbass/optimize/search"
	"evenbass/optimize/table"
)

// UsualMemory is the default limit of a study's memory, bytes.
const UsualMemory = 2e9

// programBytes is what a study takes beside all that is estimated, and uncollected the memory that is not
// collected yet, relative to what is in use. Both are measured, see MEASURED.md of package optimize.
const (
	programBytes = 20e6
	uncollected  = 1.25
)

// MemoryError says that a project would take too much memory.
type MemoryError struct {
	Need, Limit float64 // bytes
	Cells       int     // of one run
}

// Error implements error.
func (e *MemoryError) Error() string {
	return fmt.Sprintf("the wave solver would take about %.3g GB of memory for the %d cells of this room, and %.3g GB are allowed", e.Need/1e9, e.Cells, e.Limit/1e9)
}

// CheckMemory fails with a [*MemoryError] if an engine would take more memory to search a project's room than the
// limit in bytes. The cells are estimated from the room's size alone. If they are not too many already, but a room that
// rings as long as any ([LongestDecay]) would take too much, a short run on large cells tells how long this one
// rings. The fast engines take little.
func CheckMemory(ctx context.Context, engine model.EngineKind, p *model.Project, limit float64) error {
	chosen, err := Choose(engine, &p.Room)
	if err != nil || chosen.Kind != model.WaveEngine {
		return nil // setting up the study reports the fault
	}
	ringing := func(seconds float64) need {
		return needOf(p, func(float64) float64 { return seconds })
	}
	need := ringing(0)
	if need.peak() <= limit && ringing(LongestDecay).peak() > limit {
		need = needOf(p, SlowestDecay(ctx, p))
	}
	if need.peak() > limit {
		return &MemoryError{Need: need.peak(), Limit: limit, Cells: need.usual.Cells}
	}
	return nil
}

// need is an estimate of the memory that a search takes, bytes.
type need struct {
	usual, coarse solver.Need // engines; one of each
	tables        float64     // with the seats read from them
	kept          float64     // fields of latest seats, one room's
	runs          float64     // side by side over all zones

	seconds, coarseSeconds float64 // of a run
}

// needOf returns what a search takes in a room with the slowest decays by frequency, s.
func needOf(p *model.Project, decay func(f float64) float64) need {
	grid := response.GridFor(p.Goal, decay)
	var longest float64
	for _, f := range grid {
		longest = max(longest, decay(f))
	}
	zones, air := SearchZones(p), p.Room.Air()
	settling := response.SettlingTime(p.Goal)
	n := need{tables: tableNeed(p, grid, air), seconds: runSeconds(longest, convergedFall, settling), coarseSeconds: runSeconds(longest, coarseConvergedFall, settling)}
	n.usual = solver.NeedOf(p.Room.Size, air, grid, solver.Settings{Zones: zones}, n.seconds)
	n.coarse = solver.NeedOf(p.Room.Size, air, grid, solver.Settings{Zones: zones, Cell: CoarseCell}, n.coarseSeconds)
	if folds(&p.Room, zones) {
		n.usual.Field, n.coarse.Field = n.usual.Folded, n.coarse.Folded
	}
	n.kept, n.runs = wave.KeptFields(n.usual.Field), float64(runtime.GOMAXPROCS(0))
	if zones == nil { // only the run of one seat covers the whole room then
		n.kept, n.runs = n.usual.Field, 1
	}
	return n
}

// folds reports whether fields keep a sum of layers for each height of the zones: nothing in the room ends at
// the layers about a zone, so that no place there has air in fewer.
func folds(room *model.Room, zones []model.Block) bool {
	const reach = 2 * CoarseCell
	ends := func(b *model.Block, z float64) bool {
		return b.Max.Z > z-reach && b.Max.Z < z || b.Min.Z > z && b.Min.Z < z+reach
	}
	solids := slices.Clone(room.Blocks)
	for i := range room.Treatments {
		solids = append(solids, room.Space(&room.Treatments[i]))
	}
	margin := r3.Vec{X: CoarseCell, Y: CoarseCell, Z: reach}
	for _, z := range zones {
		about := model.Block{Min: r3.Sub(z.Min, margin), Max: r3.Add(z.Max, margin)}
		if room.CeilingOver(about) < about.Max.Z {
			return false
		}
		for _, b := range solids {
			if b.Overlaps(about) && ends(&b, z.Min.Z) {
				return false
			}
		}
	}
	return true
}

// How far the slowest decay falls at most until levels have converged within [Tolerance] and [CoarseTolerance], dB.
const (
	convergedFall       = 40
	coarseConvergedFall = 30
)

// runSeconds returns how long a run lasts at most in a room that takes so many seconds to fall by 60 dB: until it
// has fallen so far, or by 30 dB after the settling time, if that is above 0.
func runSeconds(decay, fall, settling float64) float64 {
	seconds := decay * fall / 60
	if settling > 0 {
		seconds = min(seconds, max(settling, decay/2))
	}
	return min(seconds+pulseSeconds, solver.LongestRun)
}

// pulseSeconds is how long the sound of a run begins, at most, s.
const pulseSeconds = 0.1

// tableNeed returns what the tables of a search take, for the main seat and for the others.
func tableNeed(p *model.Project, grid model.Grid, air model.Air) float64 {
	problem, err := search.NewProblem(p)
	if err != nil {
		return 0 // there is nothing to search
	}
	band, err := score.NewBand(unsolved{grid: grid, air: air}, p.Goal)
	if err != nil {
		return 0 // setting up the search reports the fault
	}
	bytes := 0
	if t := table.Wide(band, problem.Domain(score.Displacement, score.LeanDistance)); t != nil {
		if problem.SeatPlaces() > t.SeatsKept() {
			problem.SeatPitch = score.Displacement
		}
		bytes += t.Need(problem.SeatPlaces())
	}
	for _, d := range problem.SeatDomains(score.Displacement) {
		if t := table.Wide(band, d); t != nil {
			n := t.SeatsKept()
			if d.Seats.X.Length() == 0 && d.Seats.Y.Length() == 0 {
				n = 1
			}
			bytes += t.Need(n)
		}
	}
	return float64(bytes)
}

// unsolved is an engine of which only the frequencies and the air are known, as much as laying out a table takes.
type unsolved struct {
	model.Engine
	grid model.Grid
	air  model.Air
}

func (u unsolved) Grid() model.Grid { return u.grid }
func (u unsolved) Air() model.Air   { return u.air }

// peak returns the largest need at any time. The usual cells and the coarse ones are cut side by side. Then each
// core has a run on coarse cells, whose fields fill the tables. Last, each core has a run on the usual cells,
// beside the tables and the fields kept. A search by wider rules shares the cells and
// keeps fields of its own.
func (n need) peak() float64 {
	run := func(e solver.Need) float64 { return n.runs * (e.State + e.Frames) }
	return programBytes + slices.Max([]float64{
		n.usual.Cut + n.coarse.Cut,
		uncollected * (n.tables + run(n.coarse) + n.runs*n.coarse.Field),
		uncollected * (n.tables + run(n.usual) + n.runs*n.coarse.Field + 2*n.kept),
	})
}
