package calibration

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/response"
)

// Place is where a microphone may stand.
type Place struct {
	Seat string // its name; "" for a place that is no seat
	At   r3.Vec
}

// Gain says how much one more measurement is expected to teach.
type Gain struct {
	Place    Place
	Speakers []model.Source // that were not measured there yet

	// Before and After are the standard deviations of the predicted levels at the project's seats, as
	// they are and as they are expected to be, dB: rms over the goal's band below 225 Hz, both speakers and
	// all seats, each curve's mean taken out. What no measurement tells is in both.
	Before, After model.Level
}

// apart is how far from every microphone a place must be for the measurement to count as another, m.
const apart = 0.4

// Next returns what measurements at the places of the settings would teach beside those there are,
// the most telling first, without a fit: the model is taken as it is by the project, with its
// calibration if there is one.
func Next(ctx context.Context, p *model.Project, list []*measure.Measurement, s Settings) ([]Gain, error) {
	f, err := newFit(p, list, s)
	if err != nil {
		return nil, err
	}
	for _, face := range model.Faces {
		fit := p.Room.Walls[face].Fit
		for at, v := range map[int]float64{atShift: fit.Shift.Value, atSlope: fit.Slope.Value, atCurve: fit.Curve.Value} {
			f.at.u[at+int(face)] = v / f.at.deviation(at+int(face))
		}
	}
	if c := p.Room.Calibration; c != nil {
		for axis, v := range c.Size {
			f.at.u[atSize+axis] = v.Value / sizeDeviation
		}
	}
	if err := f.start(ctx); err != nil {
		return nil, err
	}
	f.predictor.settle(f.at, f.responses)
	f.predictor.phases = f.predictor.data.phases()
	if err := errors.Join(f.start(ctx), f.derive(ctx)); err != nil {
		return nil, err
	}
	return f.gains(ctx, p, f.information(1), 1, s.Places)
}

// gains returns what measurements at places would teach, given the precision of the unknowns and the mean
// square of the residuals. Linear about the fit, the data of a measurement with derivatives J add
// JᵀJ/s² to the precision whatever they turn out to be (Tarantola 2005, section 3.2), so that the
// choice needs no data (Lindley 1956; Chaloner and Verdinelli 1995, section 2).
func (f *fit) gains(ctx context.Context, p *model.Project, precision *mat.SymDense, mean float64, places []Place) ([]Gain, error) {
	if len(places) == 0 {
		return nil, nil
	}
	goal, err := f.goal(ctx, p)
	if err != nil || goal == nil {
		return nil, err
	}
	before, err := deviation(goal, precision)
	if err != nil {
		return nil, err
	}
	var stands []place
	for _, p := range places {
		stands = append(stands, place{p.Seat, p.At})
	}
	is, err := f.imagined(ctx, stands, levelSmoothing, f.predictor.data.phases())
	if err != nil {
		return nil, fmt.Errorf("measurements at other places: %w", err)
	}
	var list []Gain
	for i, place := range places {
		one := Gain{Place: place, Speakers: f.missing(place), Before: before}
		if len(one.Speakers) == 0 {
			continue
		}
		if one.After, err = deviation(goal, f.with(is, i, one.Speakers, precision, mean)); err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	slices.SortStableFunc(list, func(a, b Gain) int { return cmp.Compare(a.After, b.After) })
	return list, nil
}

// missing returns which of left and right were not measured at a place: none of them near a
// microphone that is not at the very place.
func (f *fit) missing(place Place) []model.Source {
	d, missing := f.predictor.data, []model.Source{model.LeftSpeaker, model.RightSpeaker}
	for i, s := range d.seats {
		switch off := r3.Norm(r3.Sub(s.at, place.At)); {
		case off == 0:
			for _, one := range d.list {
				if one.seat == i {
					missing = slices.DeleteFunc(missing, func(s model.Source) bool { return s == one.speaker })
				}
			}
		case off < apart:
			return nil
		}
	}
	return missing
}

// imagined returns a fit of measurements that nobody made, as they are predicted now: of left and right at
// places, in this order, smoothed over fractions of an octave. Its derivatives are computed.
func (f *fit) imagined(ctx context.Context, places []place, smoothing int, phases bool) (*fit, error) {
	now := *f.predictor
	d := &data{grid: now.data.grid, seats: places}
	smoother, coarse := response.NewSmoother(d.grid, smoothing), response.NewSmoother(d.grid, 3)
	for seat := range places {
		for _, speaker := range bothSides {
			d.list = append(d.list, datum{seat: seat, speaker: speaker, complex: phases, h: make([]complex128, len(d.grid)), smoother: smoother})
		}
	}
	now.data, now.phases, now.grid = d, phases, d.grid
	n := unknowns{len(d.seats), len(d.list)}
	out := &fit{predictor: &now, at: vector{n, make([]float64, n.len())}}
	copy(out.at.u[:atSeats], f.at.u)
	if err := out.begin(ctx); err != nil {
		return nil, err
	}
	for i := range d.list {
		d.list[i].take(now.response(out.at, out.responses, i), coarse, nil)
	}
	out.residuals = now.residuals(out.at, out.responses)
	return out, out.derive(ctx)
}

// bothSides are the speakers of imagined measurements.
var bothSides = []model.Source{model.LeftSpeaker, model.RightSpeaker}

// goal returns the derivatives of the levels in the goal's band by the unknowns of the room, a row for each
// frequency, speaker and seat, dB for each deviation; nil if the band is not fitted.
func (f *fit) goal(ctx context.Context, p *model.Project) (*mat.Dense, error) {
	var seats []place
	for _, s := range p.Seats {
		if s.Placed {
			seats = append(seats, place{s.Name, s.At})
		}
	}
	grid := f.predictor.data.grid
	from, to := grid.Nearest(p.Goal.From), grid.Nearest(p.Goal.To)+1
	if len(seats) == 0 || to-from < 2 {
		return nil, nil
	}
	is, err := f.imagined(ctx, seats, max(1, p.Goal.Smoothing), false)
	if err != nil {
		return nil, fmt.Errorf("the levels at the seats: %w", err)
	}
	rows := len(is.predictor.data.list) * (to - from)
	out := mat.NewDense(rows, f.at.len(), nil)
	for i := range is.predictor.data.list {
		for k := range atSpeakers { // each mark has its own tape error
			var mean float64
			for n := from; n < to; n++ {
				mean += is.jacobian.At(i*len(grid)+n, k) / float64(to-from)
			}
			for n := from; n < to; n++ {
				out.Set(i*(to-from)+n-from, k, levelError*(is.jacobian.At(i*len(grid)+n, k)-mean))
			}
		}
	}
	return out, nil
}

// with returns the precision of the unknowns after one more measurement, of speakers at one of the imagined
// places. What is unknown of the measurement alone, its microphone's place and its level, is added behind
// those there are.
func (f *fit) with(is *fit, stand int, speakers []model.Source, precision *mat.SymDense, mean float64) *mat.SymDense {
	old := f.at.len()
	from, to := make([]int, atSeats), make([]int, atSeats) // its unknowns among those imagined, and where they stand
	for k := range from {
		from[k], to[k] = k, k
	}
	own := old
	add := func(k, at int) {
		if from = append(from, k); at < 0 {
			at = own
			own++
		}
		to = append(to, at)
	}
	known := slices.IndexFunc(f.predictor.data.seats, func(s place) bool { return s.at == is.predictor.data.seats[stand].at })
	for axis := range 3 {
		at := -1
		if known >= 0 { // measured before: the microphone stands where it stood
			at = atSeats + 3*known + axis
		}
		add(atSeats+3*stand+axis, at)
	}
	size := len(is.residuals) / len(is.predictor.data.list)
	var rows []int // where the residuals of each speaker begin
	for side, s := range bothSides {
		if slices.Contains(speakers, s) {
			one := stand*len(bothSides) + side
			rows = append(rows, one*size)
			add(is.at.atMeasurements()+one, -1)
		}
	}
	out := mat.NewSymDense(own, nil)
	for i := range own {
		out.SetSym(i, i, 1)
	}
	for i := range old {
		for j := range i + 1 {
			out.SetSym(i, j, precision.At(i, j))
		}
	}
	scale := 1 / (independent * doubt * max(1, mean))
	for _, row := range rows {
		j := is.jacobian.Slice(row, row+size, 0, is.at.len())
		var square mat.Dense
		square.Mul(j.T(), j)
		for a, i := range to {
			for b, k := range to {
				if k <= i {
					out.SetSym(i, k, out.At(i, k)+scale*square.At(from[a], from[b]))
				}
			}
		}
	}
	return out
}

// deviation returns the rms standard deviation of what has these derivatives, given the precision of the
// unknowns, which may be more of them.
func deviation(goal *mat.Dense, precision *mat.SymDense) (model.Level, error) {
	covariance, err := inverse(precision)
	if err != nil {
		return 0, err
	}
	rows, n := goal.Dims()
	c := mat.DenseCopyOf(covariance.SliceSym(0, n))
	for k := range atSlope { // what no measurement determines of a wall
		c.Set(k, k, c.At(k, k)+math.Pow(strayDeviation/shiftDeviation, 2))
	}
	var product mat.Dense
	product.Mul(goal, c)
	var sum float64
	for i := range rows {
		sum += mat.Dot(goal.RowView(i), product.RowView(i))
	}
	return model.Level(math.Sqrt(sum / float64(rows))), nil
}

// inverse returns the covariance of a precision.
func inverse(precision *mat.SymDense) (*mat.SymDense, error) {
	var chol mat.Cholesky
	if !chol.Factorize(precision) {
		return nil, errors.New("the fit has no covariance")
	}
	out := mat.NewSymDense(precision.SymmetricDim(), nil)
	if err := chol.InverseTo(out); err != nil {
		return nil, fmt.Errorf("the fit's covariance: %w", err)
	}
	return out, nil
}
