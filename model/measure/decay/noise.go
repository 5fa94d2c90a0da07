package decay

import (
	"math"

	"gonum.org/v1/gonum/floats"
	"gonum.org/v1/gonum/stat"
)

// tail is how a decay ends: it sinks into the noise, or the record stops first.
type tail struct {
	floor float64 // mean energy of the noise, or of the end of the record
	noise float64 // of the noise; 0 if the record stops before it
	end   int     // step at which the line through the late decay meets the noise
	rate  float64 // of that line, dB per step, negative; 0 if none was found
	level float64 // of that line at the step before end, dB
}

// findTail finds where a decay sinks into the noise, by the steps of Lundeby et al. 1995:
// smooth the energy, take the noise from the end, lay a line through what stands above it,
// and take the noise anew from behind the crossing, until the crossing rests.
func findTail(e []float64, step float64) tail {
	block := max(1, int(0.005/step))
	least := floats.Max(e) * math.Pow(10, -quietest/10)
	t := tail{floor: max(least, mean(e[len(e)*9/10:])), end: len(e)}
	for range 6 {
		levels, centres := blocks(e, block)
		slope, offset, ok := lateLine(levels, centres, 10*math.Log10(t.floor))
		if !ok {
			return t.sunk(levels, block)
		}
		end, noise := len(e), 0.0
		crossing := (10*math.Log10(t.floor) - offset) / slope
		behind := crossing - 5/slope // 5 dB of decay later
		if behind < float64(len(e)*9/10) {
			end, noise = max(block, int(crossing)), max(least, mean(e[max(0, int(behind)):]))
			t.floor = noise
		}
		settled := end == t.end
		t.end, t.noise, t.rate, t.level = end, noise, slope, offset+slope*float64(end-1)
		if settled {
			return t
		}
		block = max(1, min(int(0.05/step), int(-10/slope/5))) // five blocks per 10 dB of decay
	}
	return t
}

// sunk ends the decay where it first comes within 3 dB of the noise. It is for a decay that is too
// fast or too short for a line: what lies beyond is unknown.
func (t tail) sunk(levels []float64, block int) tail {
	for i := floats.MaxIdx(levels); i < len(levels); i++ {
		if levels[i] < 10*math.Log10(t.floor)+3 {
			return tail{floor: t.floor, noise: t.floor, end: max(2, i*block)}
		}
	}
	return t
}

// quietest is the range in dB beyond which a noise counts as none.
const quietest = 150.0

// lateLine lays a line through the blocks from 25 to 5 dB above the noise that lie between the
// loudest block and the first that sinks below them.
func lateLine(levels, centres []float64, noise float64) (slope, offset float64, ok bool) {
	loudest := floats.MaxIdx(levels)
	top := min(levels[loudest]-5, noise+30)
	var x, y []float64
	for i := loudest; i < len(levels) && levels[i] > noise+7; i++ {
		if levels[i] <= top {
			x, y = append(x, centres[i]), append(y, levels[i])
		}
	}
	if len(x) < 3 {
		return 0, 0, false
	}
	offset, slope = stat.LinearRegression(x, y, nil, false)
	return slope, offset, slope < 0
}

// blocks returns the mean level in dB of each block of so many steps, and its centre.
func blocks(e []float64, size int) (levels, centres []float64) {
	for i := 0; i+size <= len(e); i += size {
		levels = append(levels, 10*math.Log10(mean(e[i:i+size])+math.SmallestNonzeroFloat64))
		centres = append(centres, float64(i)+float64(size-1)/2)
	}
	return levels, centres
}

func mean(e []float64) float64 { return floats.Sum(e) / float64(len(e)) }
