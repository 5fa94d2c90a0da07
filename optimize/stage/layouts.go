package stage

import (
	"context"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// moveGain is the least gain in score for which pair and seat move to another layout, dB: smaller gains are
// not worth new tape marks. Our own choice.
const moveGain = 0.5

// best returns which of the layouts suits a room with some pieces built best, as its number. The
// present one stays unless another gains moveGain or more. Layouts for which the pieces leave no
// space are left out.
func (l *Planner) best(ctx context.Context, built []Piece, now int) (int, error) {
	if len(l.layouts) == 1 {
		return 0, nil
	}
	scores := make([]float64, len(l.layouts))
	allowed := make([]bool, len(l.layouts))
	err := concurrent.Each(len(l.layouts), func(i int) error {
		if i != now && !l.admits(i, built) {
			return nil
		}
		h, err := l.state(ctx, built, i, rough)
		if err == nil {
			scores[i], allowed[i] = h.Score(), true
		}
		return err
	})
	if err != nil {
		return now, err
	}
	best := now
	for i, score := range scores {
		if !allowed[i] || i == now {
			continue
		}
		if best == now && score < scores[now]-moveGain || best != now && score < scores[best] {
			best = i
		}
	}
	return best, nil
}

// admits reports whether pieces leave room for the pair and the seats of a layout.
func (l *Planner) admits(layout int, built []Piece) bool {
	t := newBuilder(l.project, l.layouts[layout])
	for i := range built {
		for j := range built[i].Treatments {
			if t.crowds(l.project.Room.Space(&built[i].Treatments[j])) {
				return false
			}
		}
	}
	return true
}

// newBuilder returns a builder of pieces beside a layout.
func newBuilder(p *model.Project, l model.Layout) *builder {
	t := &builder{project: p, layout: l, before: map[model.Rule]bool{}}
	for _, b := range p.Breaches(l) {
		t.before[b.Rule] = true
	}
	return t
}
