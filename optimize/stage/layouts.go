package stage

import (
	"context"

	"evenbass/model"
	"evenbass/model/concurrent"
)

// moveGain is the least gain in score for which pair and seat move to another layout, dB: smaller gains are
// not worth new tape marks. Our own choice.
const moveGain = 0.5

// pieceChange is by how much a piece changes the difference of two layouts, dB; see MEASURED.md of package
// optimize. A layout that is further behind is tried again only when enough pieces more are built.
const pieceChange = 3

// behind says how far a layout was behind the best one, dB, when some pieces were built.
type behind struct {
	pieces int
	lag    float64
}

// waits reports whether a layout cannot have caught up yet.
func (b behind) waits(pieces int) bool {
	return pieces >= b.pieces && pieceChange*float64(max(1, pieces-b.pieces)) < b.lag
}

// best returns which of the layouts suits a room with some pieces built best, as its number. The
// present one stays unless another gains moveGain or more. Layouts for which the pieces leave no
// space are left out, and those that cannot have caught up yet.
func (c *choosing) best(ctx context.Context, built []Piece, now int, lags map[int]behind) (int, error) {
	if c.stays {
		return 0, nil
	}
	scores := make([]float64, len(c.layouts))
	allowed := make([]bool, len(c.layouts))
	err := concurrent.Each(len(c.layouts), func(i int) error {
		if i != now && (lags[i].waits(len(built)) || !c.admits(i, built)) {
			return nil
		}
		h, err := c.state(ctx, built, i, Ranked)
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
	for i, score := range scores {
		if allowed[i] {
			lags[i] = behind{len(built), score - scores[best]}
		}
	}
	return best, nil
}

// admits reports whether pieces leave room for the pair and the seats of a layout.
func (l *Planner) admits(layout int, built []Piece) bool {
	t := newBuilder(l.project, l.layouts[layout])
	for i := range built {
		for j := range built[i].Treatments {
			if t.takesNeededRoom(l.project.Room.Space(&built[i].Treatments[j])) {
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
