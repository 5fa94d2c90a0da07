package calibration

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"evenbass/model"
)

// Result is what measurements say of a room.
type Result struct {
	Walls       [6]model.WallFit // by Face
	Calibration model.Calibration
	Engine      model.EngineKind
	Temperature model.Fitted // K above the room file's
	Resistivity model.Fitted // of all wool, as a ratio to that of the room file; not set without wool
	Speakers    [2]Offset    // left, right
	Seats       []Offset
	Balance     model.Fitted // how much louder the left speaker plays than the right one, dB
	Limit       model.Fitted // ratio of the speakers' low limit to that of the room file; not set without one
	Fits        []MeasurementFit
	Mismatch    float64 // rms of the residuals over the errors that were assumed; 1 is as assumed
	Next        []Gain  // what one more measurement would teach, the most telling first
	Warnings    []model.Warning
}

// Offset is how far something seems to stand from its place in the room file.
type Offset struct {
	Name string
	By   [3]model.Fitted // x, y, z, m
}

// MeasurementFit says how one measurement was matched.
type MeasurementFit struct {
	Name          string
	Complex       bool        // its phase counted, else its levels alone
	Before, After model.Level // rms difference of levels smoothed over 1/6 octave, their means aligned

	// Grid has the frequencies that were fitted. At each, Was and Is are by how much the prediction lies
	// above the measurement, dB, before and after, as Before and After count it.
	Grid    model.Grid
	Was, Is []model.Level
}

// result reads off the fit, and returns the precision of the unknowns with it.
func (f *fit) result(before [][]model.Level) (*Result, *mat.SymDense, error) {
	mean := f.mismatch()
	precision := f.information(mean)
	covariance, err := inverse(precision)
	if err != nil {
		return nil, nil, err
	}
	after, d := f.differences(), f.predictor.data
	at := func(k int) model.Fitted {
		return rounded(f.at.value(k), f.at.deviation(k)*math.Sqrt(covariance.At(k, k)))
	}
	offset := func(name string, k int) Offset { return Offset{name, [3]model.Fitted{at(k), at(k + 1), at(k + 2)}} }
	r := &Result{
		Engine: f.predictor.solver.Kind(), Temperature: at(atTemperature), Balance: at(atBalance), Mismatch: math.Sqrt(mean), Warnings: d.unused,
		Speakers: [2]Offset{offset("left speaker", atSpeakers), offset("right speaker", atSpeakers+3)},
	}
	for i := range r.Walls {
		shift := at(atShift + i)
		shift = rounded(shift.Value, math.Hypot(shift.Deviation, strayDeviation))
		r.Walls[i] = model.WallFit{Shift: shift, Slope: at(atSlope + i), Curve: at(atCurve + i)}
	}
	for i, s := range d.seats {
		r.Seats = append(r.Seats, offset(s.name, atSeats+3*i))
	}
	if f.predictor.solver.Knows().Wool {
		w := at(atWool)
		r.Resistivity = model.Fitted{Value: math.Exp(w.Value), Deviation: math.Exp(w.Value) * w.Deviation}
	}
	if f.predictor.project.Speakers.LowLimit > 0 {
		c := at(atCorner)
		r.Limit = model.Fitted{Value: math.Exp(c.Value), Deviation: math.Exp(c.Value) * c.Deviation}
	}
	c := &r.Calibration
	for i := range d.list {
		one := &d.list[i]
		grid := d.grid[one.first : one.first+len(one.h)]
		r.Fits = append(r.Fits, MeasurementFit{one.name, one.complex, rms(before[i]), rms(after[i]), grid, before[i], after[i]})
		c.From = append(c.From, one.name)
	}
	c.Seats, c.Before, c.After = len(d.seats), overall(before), overall(after)
	for i := range c.Size {
		v := at(atSize + i)
		c.Size[i] = model.Fitted{Value: round(v.Value, 1e4), Deviation: max(1e-4, round(v.Deviation, 1e4))}
	}
	c.Correlation = correlation(covariance)
	return r, precision, nil
}

// overall returns the rms of the differences of each measurement, measurements counting alike, in hundredths.
func overall(differences [][]model.Level) model.Level {
	var each []model.Level
	for _, list := range differences {
		each = append(each, rms(list))
	}
	return model.Level(round(float64(rms(each)), 100))
}

// rounded returns a figure with three digits of its deviation, which a room file then holds.
func rounded(value, deviation float64) model.Fitted {
	scale := math.Pow(10, 2-math.Floor(math.Log10(deviation)))
	return model.Fitted{Value: round(value, scale), Deviation: round(deviation, scale)}
}

func round(v, scale float64) float64 { return math.Round(v*scale)/scale + 0 }

// correlation returns the lower triangle of what a calibration correlates, in hundredths.
func correlation(covariance *mat.SymDense) []float64 {
	var at []int
	for i := range 6 {
		at = append(at, atShift+i)
	}
	at = append(at, atSize, atSize+1, atSize+2)
	variance := func(k int) float64 {
		v := covariance.At(k, k)
		if k < atSlope {
			v += math.Pow(strayDeviation/shiftDeviation, 2) // which no two walls share
		}
		return v
	}
	var list []float64
	for i := range at {
		for j := range i {
			list = append(list, round(covariance.At(at[i], at[j])/math.Sqrt(variance(at[i])*variance(at[j])), 100))
		}
	}
	return list
}

// Apply returns the project with the fitted figures of its room, so that every engine uses them.
// Places stay as they are: the owner checks their offsets with a tape.
func (r *Result) Apply(p *model.Project) *model.Project {
	out := *p
	c := r.Calibration
	out.Room.Calibration = &c
	for i := range out.Room.Walls {
		out.Room.Walls[i].Fit = r.Walls[i]
	}
	return &out
}

// Told reports whether the data narrow a figure down: its deviation is less than seven tenths of
// the prior one.
func learnt(f model.Fitted, prior float64) bool { return f.Deviation < 0.7*prior }

// WallLearnt reports whether the measurements narrow down how much a wall absorbs.
func (r *Result) WallLearnt(f model.Face) bool {
	return learnt(r.Walls[f].Shift, math.Hypot(shiftDeviation, strayDeviation))
}

// SizeLearnt reports whether the measurements narrow down a size: 0 length, 1 width, 2 height.
func (r *Result) SizeLearnt(axis int) bool { return learnt(r.Calibration.Size[axis], sizeDeviation) }

// WoolLearnt reports whether the measurements narrow down the flow resistivity of the wool.
func (r *Result) WoolLearnt() bool {
	return learnt(model.Fitted{Deviation: r.Resistivity.Deviation / r.Resistivity.Value}, woolDeviation)
}

// Peak returns the lowest axial resonance along an axis within the band that is fitted, as it
// follows from the size that was fitted, and its order.
func (r *Result) Peak(room *model.Room, axis int) (frequency float64, order int) {
	size := [3]float64{room.Size.X, room.Size.Y, room.Size.Z}[axis] + r.Calibration.Size[axis].Value
	for order = 1; ; order++ {
		if frequency = float64(order) * room.Air().Speed / (2 * size); frequency >= lowest {
			return frequency, order
		}
	}
}
