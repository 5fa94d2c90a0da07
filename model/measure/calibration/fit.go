package calibration

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/model/measure"
)

// Bands, steps and ends of the fit.
const (
	begin       = 90.0 // Hz; the upper limit of the first part
	beginSteps  = 6
	mostSteps   = 14
	enough      = 2e-3 // relative fall of the sum of squares below which it ends
	differences = 0.04 // step of the derivatives, deviations
	fewSteps    = 3    // of levels, and of phases, with a slow solver
	firstDamp   = 0.03
	mostDamp    = 1e5
)

// independent is how many frequencies of the grid count as one, since a resonance is wider than a step;
// doubt is by how much the variance of what is left is taken larger than that of independent errors,
// since the model errs alike at many frequencies. Our own estimates, held to the coverage that the
// tests count.
const (
	independent = 2.0
	doubt       = 3.0
)

// fit is the state of a fit.
type fit struct {
	predictor *predictor
	at        vector
	residuals []float64
	room      Solved
	responses []arrivals
	precision *mat.SymDense
	jacobian  *mat.Dense
}

// Settings are those of a fit. The zero value is ready for use.
type Settings struct {
	// Solver makes what solves the room without its calibration, for microphones at these places; nil
	// solves a box with even walls by its modes.
	Solver func(room *model.Room, microphones []r3.Vec) (Solver, error)

	// Places are those of which [Result.Next] says how much a measurement there would teach.
	Places []Place

	Progress model.Progress
}

// furtherPlaces returns the further places at which responses are computed if there are places to choose
// from: these and the seats.
func (s Settings) furtherPlaces(p *model.Project) []r3.Vec {
	var list []r3.Vec
	for _, one := range s.Places {
		list = append(list, one.At)
	}
	for _, seat := range p.Seats {
		if seat.Placed && len(list) > 0 {
			list = append(list, seat.At)
		}
	}
	return list
}

// Fit fits the model of a project's room to measurements of it. The project says where the speakers
// stand. Measurements that cannot be used are left out with a warning; [ErrNoData] says that none is
// left. It stops when the context ends, with its error.
func Fit(ctx context.Context, p *model.Project, list []*measure.Measurement, s Settings) (*Result, error) {
	f, err := newFit(p, list, s)
	if err != nil {
		return nil, err
	}
	if err := f.start(ctx); err != nil {
		return nil, err
	}
	f.predictor.settle(f.at, f.responses)
	before := f.differences()
	if err := f.run(ctx, s.Progress); err != nil {
		return nil, err
	}
	r, precision, err := f.result(before)
	if err != nil {
		return nil, err
	}
	r.Next, err = f.gains(ctx, p, precision, r.Mismatch*r.Mismatch, s.Places)
	return r, err
}

// newFit prepares a fit, which begins at the prior means.
func newFit(p *model.Project, list []*measure.Measurement, s Settings) (*fit, error) {
	if !p.Speakers.Placed {
		return nil, errors.New("the room file does not say where the speakers stand")
	}
	bare := *p
	for f := range bare.Room.Walls {
		bare.Room.Walls[f].Fit = model.WallFit{}
	}
	bare.Room.Calibration = nil
	d, err := newData(&bare, list)
	if err != nil {
		return nil, err
	}
	predictor := &predictor{project: &bare, data: d, grid: d.grid}
	var microphones []r3.Vec
	for _, s := range d.seats {
		microphones = append(microphones, s.at)
	}
	for _, at := range s.furtherPlaces(p) {
		if !slices.Contains(microphones, at) {
			microphones = append(microphones, at)
		}
	}
	solver := s.Solver
	if solver == nil {
		solver = func(room *model.Room, _ []r3.Vec) (Solver, error) { return newBoxSolver(room) }
	}
	if predictor.solver, err = solver(&bare.Room, microphones); err != nil {
		return nil, err
	}
	n := unknowns{len(d.seats), len(d.list)}
	return &fit{predictor: predictor, at: vector{n, make([]float64, n.len())}, precision: n.precision()}, nil
}

// part is a part of a fit: up to which frequency, by phases or by levels alone, in how many steps.
type part struct {
	grid   model.Grid
	phases bool
	steps  int
}

// parts returns the parts of the fit: levels in the lower part of the band first, then in all of it,
// then phases where there are any, since their sum of squares has many minima until the delay is known.
func (f *fit) parts() []part {
	whole := f.predictor.data.grid
	low := whole[:whole.Nearest(begin)+1]
	if f.predictor.solver.Knows().Slow {
		list := []part{{whole, false, fewSteps}}
		if f.predictor.data.phases() {
			list = append(list, part{whole, true, fewSteps})
		}
		return list
	}
	if f.predictor.data.phases() {
		return []part{{low, false, beginSteps}, {whole, false, beginSteps}, {whole, true, mostSteps}}
	}
	return []part{{low, false, beginSteps}, {whole, false, mostSteps}}
}

// run goes through the parts.
func (f *fit) run(ctx context.Context, progress model.Progress) error {
	parts := f.parts()
	steps := 0
	for _, part := range parts {
		steps += part.steps
	}
	next := progress.Counter("fitting the room", steps)
	for _, part := range parts {
		if f.predictor.grid = part.grid; part.phases {
			f.predictor.settle(f.at, f.responses)
			f.predictor.phases = true
		}
		if err := f.start(ctx); err != nil {
			return err
		}
		damp := firstDamp
		for range part.steps {
			if err := ctx.Err(); err != nil {
				return err
			}
			before := f.cost(f.at, f.residuals)
			if err := f.derive(ctx); err != nil {
				return err
			}
			if err := f.step(ctx, &damp); err != nil {
				return err
			}
			next()
			if after := f.cost(f.at, f.residuals); before-after < enough*before {
				break
			}
		}
	}
	return f.derive(ctx)
}

// start computes the residuals at the present vector.
func (f *fit) start(ctx context.Context) error {
	if err := f.begin(ctx); err != nil {
		return err
	}
	f.residuals = f.predictor.residuals(f.at, f.responses)
	return nil
}

// begin computes what arrives at the present vector.
func (f *fit) begin(ctx context.Context) (err error) {
	if f.room, err = f.predictor.solver.Solve(ctx, f.predictor.grid, f.at.state()); err != nil {
		return fmt.Errorf("solving the room: %w", err)
	}
	f.responses, err = f.predictor.respondAll(ctx, f.room, f.at)
	return err
}

// cost returns what is minimised.
func (f *fit) cost(v vector, residuals []float64) float64 {
	var sum float64
	for _, r := range residuals {
		sum += r * r / independent
	}
	u := mat.NewVecDense(len(v.u), v.u)
	return sum + mat.Inner(u, f.precision, u)
}

// derive computes the derivatives of all residuals by every unknown.
func (f *fit) derive(ctx context.Context) error {
	n := f.at.len()
	f.jacobian = mat.NewDense(len(f.residuals), n, nil)
	return concurrent.Each(n, func(k int) error {
		if k >= atSlope && k < atSize {
			return nil // with the shift of the same wall
		}
		list, step, err := f.moved(ctx, k)
		if err != nil || list == nil {
			return err
		}
		f.column(k, f.at.with(k, step), step, list)
		if k < atSlope {
			f.bend(k, step, list)
		}
		return nil
	})
}

// column fills in the derivatives by unknown k from what arrives a step away.
func (f *fit) column(k int, v vector, step float64, list []arrivals) {
	for i, r := range f.predictor.residuals(v, list) {
		f.jacobian.Set(i, k, (r-f.residuals[i])/step)
	}
}

// bend fills in the derivatives by a wall's slope and curve. What a wall does at a frequency depends on
// its shift there alone.
func (f *fit) bend(wall int, step float64, moved []arrivals) {
	for n, k := range [...]int{wall + atSlope, wall + atCurve} {
		list := make([]arrivals, len(moved))
		for s := range moved {
			for side := range moved[s] {
				h := make([]complex128, len(moved[s][side]))
				for i, frequency := range f.predictor.grid {
					slope, curve := model.WallFit{}.Basis(frequency)
					share := [...]float64{slope, curve}[n] * f.at.deviation(k) / f.at.deviation(wall)
					was := f.responses[s][side][i]
					h[i] = was + complex(share, 0)*(moved[s][side][i]-was)
				}
				list[s][side] = h
			}
		}
		f.column(k, f.at.with(k, step), step, list)
	}
}

// moved returns what arrives after unknown k has moved by a step, and solves no more anew than it must;
// nil if nothing changes.
func (f *fit) moved(ctx context.Context, k int) (list []arrivals, step float64, err error) {
	p := f.predictor
	knows := p.solver.Knows()
	if step = differences; k < atSlope || k == atWool {
		step = knows.Step
	}
	v := f.at.with(k, step)
	switch {
	case k >= atSize && k < atTemperature && !knows.Size, k == atWool && !knows.Wool:
		return nil, step, nil
	case k < atSpeakers:
		room, err := p.solver.Solve(ctx, p.grid, v.state())
		if err != nil {
			return nil, step, err
		}
		list, err = p.respondAll(ctx, room, v)
		return list, step, err
	case k < atCorner:
		list, err = p.respondAll(ctx, f.room, v)
		return list, step, err
	case k >= atSeats && k < v.atMeasurements():
		seat := (k - atSeats) / 3
		h, err := p.respond(ctx, f.room, v, seat)
		list := append([]arrivals(nil), f.responses...)
		list[seat] = h
		return list, step, err
	}
	return f.responses, step, nil
}

// normal returns JᵀJ/independent and Jᵀr/independent.
func (f *fit) normal() (*mat.SymDense, *mat.VecDense) {
	n := f.at.len()
	var square mat.Dense
	square.Mul(f.jacobian.T(), f.jacobian)
	sym := mat.NewSymDense(n, nil)
	for i := range n {
		for j := range i + 1 {
			sym.SetSym(i, j, square.At(i, j)/independent)
		}
	}
	var slope mat.VecDense
	slope.MulVec(f.jacobian.T(), mat.NewVecDense(len(f.residuals), f.residuals))
	slope.ScaleVec(1/independent, &slope)
	return sym, &slope
}

// step makes one damped step that lowers the cost, or none.
func (f *fit) step(ctx context.Context, damp *float64) error {
	square, slope := f.normal()
	square.AddSym(square, f.precision)
	var prior mat.VecDense
	prior.MulVec(f.precision, mat.NewVecDense(f.at.len(), f.at.u))
	slope.AddVec(slope, &prior)
	before := f.cost(f.at, f.residuals)
	old := *f
	for *damp < mostDamp {
		damped := mat.NewSymDense(f.at.len(), nil)
		damped.CopySym(square)
		for i := range f.at.len() {
			damped.SetSym(i, i, square.At(i, i)*(1+*damp))
		}
		var chol mat.Cholesky
		var by mat.VecDense
		if chol.Factorize(damped) && chol.SolveVecTo(&by, slope) == nil {
			f.at = old.at.with(0, 0)
			for i := range f.at.u {
				f.at.u[i] -= max(-2, min(2, by.AtVec(i)))
			}
			err := f.start(ctx)
			if ctx.Err() != nil {
				return ctx.Err()
			}
			if err == nil && f.cost(f.at, f.residuals) < before {
				*damp /= 5
				return nil
			}
			f.at, f.residuals, f.room, f.responses = old.at, old.residuals, old.room, old.responses
		}
		*damp *= 5
	}
	return nil
}

// mismatch returns the mean square of the residuals.
func (f *fit) mismatch() float64 {
	var sum float64
	for _, r := range f.residuals {
		sum += r * r
	}
	return sum / float64(len(f.residuals))
}

// information returns the precision of the unknowns in deviations, given the mean square of the residuals.
func (f *fit) information(mean float64) *mat.SymDense {
	square, _ := f.normal()
	square.ScaleSym(1/(doubt*max(1, mean)), square)
	square.AddSym(square, f.precision)
	return square
}

// differences returns the differences of levels of each measurement, dB.
func (f *fit) differences() [][]model.Level {
	list := make([][]model.Level, len(f.predictor.data.list))
	for i := range list {
		list[i] = f.predictor.data.list[i].differences(f.predictor.response(f.at, f.responses, i))
	}
	return list
}

// rms returns the rms of several levels.
func rms(list []model.Level) model.Level {
	var sum float64
	for _, l := range list {
		sum += float64(l * l)
	}
	return model.Level(math.Sqrt(sum / float64(len(list))))
}
