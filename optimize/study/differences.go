package study

import (
	"cmp"
	"context"
	"slices"
	"sync"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/model/mode"
	"evenbass/model/response"
	"evenbass/model/wave"
	"evenbass/optimize/engines"
	"evenbass/optimize/score"
)

// differences keeps the room for quantities that are differences between two runs: hard and soft walls, a
// wall left out, trials. Its cells are coarse, see [cellOfDifferences]. It answers for the speakers of the
// layouts that are shown, over the frequencies of levels and of decays.
type differences struct {
	mutex sync.Mutex
	room  *score.Solver // a wave room
	zones []model.Block
}

// difference returns the room with typical walls for differences, with answers for the speakers of
// candidates. The room and its runs are kept as long as the candidates are among those that it was made for.
func (s *Study) difference(candidates ...*score.Candidate) (*score.Solver, error) {
	d, zones := s.differences, speakersOf(candidates)
	d.mutex.Lock()
	defer d.mutex.Unlock()
	if !d.answers(zones) {
		var err error
		d.room, err = s.differenceRoom(material.Typical, zones)
		if d.zones = zones; err != nil {
			d.room = nil
			return nil, err
		}
	}
	return d.room, nil
}

// answers reports whether the room covers some places.
func (d *differences) answers(zones []model.Block) bool {
	return d.room != nil && !slices.ContainsFunc(zones, func(z model.Block) bool { return !slices.Contains(d.zones, z) })
}

// differenceRoom makes the room for differences with walls by an estimate, with answers for some
// places.
func (s *Study) differenceRoom(e material.Estimate, zones []model.Block) (*score.Solver, error) {
	both := score.NewBothGrids(s.Engine.Grid())
	if e == material.Typical && cellOfDifferences(&s.Project.Room) == engines.CoarseCell {
		room, err := s.coarse.On(both.Grid, zones) // its cells are drawn already
		return &score.Solver{Engine: room, BothGrids: both}, err
	}
	settings := engines.Runs(s.Project.Goal, engines.CoarseTolerance)
	settings.Cell, settings.Fall, settings.Zones, settings.Fits = cellOfDifferences(&s.Project.Room), engines.CoarseFall, zones, s.fits
	room, err := engines.NewRoom(s.Project, e, both.Grid, settings)
	return &score.Solver{Engine: room, BothGrids: both}, err
}

// setCards adds to candidates what hard and soft walls change, and how fast the sound decays. The wave solver
// takes coarse cells for differences.
func (s *Study) setCards(ctx context.Context, candidates ...*score.Candidate) error {
	solvers, err := s.boxSolvers()
	if s.coarse != nil {
		solvers, err = s.waveSolvers(ctx, candidates)
	}
	if err != nil {
		return err
	}
	return score.SetCards(ctx, s.Project, solvers, leastOf(s.Kind), candidates...)
}

func (s *Study) waveSolvers(ctx context.Context, candidates []*score.Candidate) (out score.Solvers, err error) {
	if ctx.Err() != nil {
		return out, ctx.Err() // before three rooms are made for nothing
	}
	zones := speakersOf(candidates)
	both := score.NewBothGrids(s.Engine.Grid())
	fine := s.Engine.(*wave.Room)
	shown, err := fine.On(both.Grid, zones)
	if err != nil {
		return out, err
	}
	out.Shown = &score.Solver{Engine: shown, BothGrids: both}
	out.Kept = func(l model.Layout) (response.Pair, bool) {
		left, right, ok := fine.Kept(l)
		return response.Pair{Left: left, Right: right}, ok
	}
	var group concurrent.Group
	var errs [3]error
	for i, make := range []func() (*score.Solver, error){
		func() (*score.Solver, error) { return s.difference(candidates...) },
		func() (*score.Solver, error) { return s.differenceRoom(material.Low, zones) },
		func() (*score.Solver, error) { return s.differenceRoom(material.High, zones) },
	} {
		group.Go(func() {
			room, err := make()
			if errs[i] = err; err == nil {
				*[]**score.Solver{&out.Typical, &out.Hard, &out.Soft}[i] = room
			}
		})
	}
	group.Wait()
	return out, cmp.Or(errs[:]...)
}

// boxSolvers returns the rooms of a box by the modal field, which is exact and fast. It also serves
// figures from images, since only differences are read off it.
func (s *Study) boxSolvers() (out score.Solvers, err error) {
	if s.Box == nil {
		return out, nil
	}
	for estimate, solver := range map[material.Estimate]**score.Solver{
		material.Typical: &out.Shown, material.Low: &out.Hard, material.High: &out.Soft,
	} {
		if *solver, err = boxSolver(s.Project, estimate); err != nil {
			return out, err
		}
	}
	return out, nil
}

// boxSolver returns the modal field of a project's box over the frequencies of levels and of decays.
func boxSolver(p *model.Project, e material.Estimate) (*score.Solver, error) {
	box, _, err := surface.Box(&p.Room, e)
	if err != nil {
		return nil, err
	}
	both := score.NewBothGrids(engines.BoxGrid(&box, p.Goal))
	engine, err := mode.New(box, both.Grid, mode.Settings{})
	return &score.Solver{Engine: engine, BothGrids: both}, err
}

// The smallest change between two states that each engine resolves, by figure; see MEASURED.md of package
// optimize. The modal field is exact for a box, so that only rounding is left: half of the last digit that is
// printed.
var (
	roundedOff = response.Resolution{0.05, 0.05, 0.005, 0.05, 0.05, 0.005, 0.005}
	gridError  = response.Resolution{0.3, 0.15, 0.02, 0.5, 0.3, 0.01, 0.01}
)

func leastOf(engine model.EngineKind) response.Resolution {
	switch engine {
	case model.ModeEngine, model.ImageEngine:
		return roundedOff
	}
	return gridError
}

// boxEnds returns the engines of a box whose walls absorb as little and as much as they may: of
// the kind that gives the figures, so that walls which are known change nothing.
func (s *Study) boxEnds() (hard, soft model.Engine, err error) {
	if hard, _, _, err = engines.NewBox(s.Kind, s.Project, material.Low); err != nil {
		return nil, nil, err
	}
	soft, _, _, err = engines.NewBox(s.Kind, s.Project, material.High)
	return hard, soft, err
}

// differenceCell is the cell in m for differences between two runs in a room without treatments.
const differenceCell = 0.167

// cellOfDifferences returns the cell in m for differences between two runs: layers want smaller cells; see
// MEASURED.md of package optimize.
func cellOfDifferences(room *model.Room) float64 {
	if len(room.Treatments) > 0 {
		return engines.CoarseCell
	}
	return differenceCell
}

// speakersOf lists where the speakers of candidates stand.
func speakersOf(candidates []*score.Candidate) []model.Block {
	var zones []model.Block
	for _, c := range candidates {
		zones = append(zones, engines.PlaceZone(c.Layout.Left), engines.PlaceZone(c.Layout.Right))
	}
	return zones
}
