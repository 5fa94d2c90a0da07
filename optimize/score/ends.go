package score

import (
	"evenbass/model"
	"evenbass/model/concurrent"
)

// Ends holds n readings in rooms with hard, soft and typical walls. The last is empty where the figures shown
// come from the same engines.
type Ends[T any] struct{ hard, soft, typical []T }

// AtEnds takes n readings by engines with hard, soft and typical walls. The typical engine may be nil.
func AtEnds[T any](typical, hard, soft model.Engine, n int, read func(e model.Engine, i int) (T, error)) (Ends[T], error) {
	engines := []model.Engine{hard, soft}
	if typical != nil {
		engines = append(engines, typical)
	}
	found := make([]T, len(engines)*n)
	err := concurrent.Each(len(found), func(i int) (err error) {
		found[i], err = read(engines[i/n], i%n)
		return err
	})
	return Ends[T]{found[:n], found[n : 2*n], found[2*n:]}, err
}

// Read returns reading i with typical, hard and soft walls. The figure shown serves as the typical one if it
// comes from the same engines.
func (e Ends[T]) Read(i int, shown T) [3]T {
	if len(e.typical) > 0 {
		shown = e.typical[i]
	}
	return [3]T{shown, e.hard[i], e.soft[i]}
}

// Bounds returns the bounds of a figure shown, by a level of reading i.
func (e Ends[T]) Bounds(i int, shown model.Level, level func(T) model.Level) Bounds {
	var off model.Level
	if len(e.typical) > 0 {
		off = shown - level(e.typical[i])
	}
	return Bounds{Hard: level(e.hard[i]) + off, Soft: level(e.soft[i]) + off}
}
