package mode

import (
	"math"

	"evenbass/model"
)

// walls is a box with the admittance of its walls as Taylor series about frequencies
// that stand a step apart. It can be asked at complex frequencies, and costs little
// where the walls themselves do.
type walls struct {
	box    model.Box
	lowest float64 // Hz
	series [][6]series
}

// wallStep is the ratio of two neighbouring frequencies.
const wallStep = 1.02

// newWalls expands the admittance from a frequency in Hz to another.
func newWalls(box model.Box, from, to float64) *walls {
	w := &walls{box: box, lowest: from}
	n := int(math.Ceil(math.Log(to/from)/math.Log(wallStep))) + 1
	w.series = make([][6]series, n)
	for _, face := range model.Faces {
		low, mid := box.Admittance(face, from/wallStep), box.Admittance(face, from)
		for i := range n {
			x := from * math.Pow(wallStep, float64(i))
			high := box.Admittance(face, x*wallStep)
			w.series[i][face] = newSeries(x, low, mid, high)
			low, mid = mid, high
		}
	}
	return w
}

// nearest returns the series nearest to a frequency in Hz.
func (w *walls) nearest(f float64) int {
	i := math.Round(math.Log(math.Abs(f)/w.lowest) / math.Log(wallStep))
	return int(max(0, min(float64(len(w.series)-1), i)))
}

// series is a Taylor series to second order about x Hz.
type series struct {
	x                  float64
	value, slope, bend complex128
}

// newSeries takes the values at x/wallStep, x and x·wallStep.
func newSeries(x float64, low, mid, high complex128) series {
	down, up := complex(x-x/wallStep, 0), complex(x*wallStep-x, 0)
	left, right := (mid-low)/down, (high-mid)/up
	return series{x: x, value: mid, slope: (left*up + right*down) / (up + down), bend: 2 * (right - left) / (up + down)}
}

func (s *series) at(f complex128) complex128 {
	off := f - complex(s.x, 0)
	return s.value + off*(s.slope+off/2*s.bend)
}
