package fit

import (
	"encoding/binary"
	"math"
	"sync"

	"evenbass/model"
)

// Memory keeps what [Boundary] has found, for walls that are fitted again. The zero value is ready, a nil one
// remembers nothing. It is safe for use by several goroutines.
type Memory struct {
	mutex sync.Mutex
	done  map[string]*oneFit
}

type oneFit struct {
	once     sync.Once
	branches Branches
	worst    float64
}

// Branches is [Boundary], computed once for boundaries of the same admittance.
func (f *Memory) Branches(b model.Boundary, air model.Air, n int) (Branches, float64) {
	if f == nil {
		return Boundary(b, air, n)
	}
	key := fitKey(b, air, n)
	f.mutex.Lock()
	if f.done == nil {
		f.done = map[string]*oneFit{}
	}
	one := f.done[key]
	if one == nil {
		one = &oneFit{}
		f.done[key] = one
	}
	f.mutex.Unlock()
	one.once.Do(func() { one.branches, one.worst = Boundary(b, air, n) })
	return one.branches, one.worst
}

// fitKey tells boundaries apart: their admittance at 64 frequencies from 15 to 400 Hz, the
// air and the number of branches.
func fitKey(b model.Boundary, air model.Air, n int) string {
	var key []byte
	add := func(v float64) { key = binary.LittleEndian.AppendUint64(key, math.Float64bits(v)) }
	add(float64(n))
	add(air.Density)
	add(air.Speed)
	add(air.Loss)
	const points = 64
	for i := range points {
		y := b.Admittance(15 * math.Pow(400.0/15, float64(i)/(points-1)))
		add(real(y))
		add(imag(y))
	}
	return string(key)
}
