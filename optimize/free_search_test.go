package optimize

import (
	"iter"
	"math"
	"slices"
	"testing"

	"evenbass/model"
	"evenbass/model/concurrent"
	"evenbass/optimize/geometry"
	"evenbass/optimize/score"

	"gonum.org/v1/gonum/spatial/r3"
)

// freeCorner is the room round the corner with a pair that goes its own ways and a head
// that need not stay on a line.
func freeCorner(t *testing.T) *model.Project {
	t.Helper()
	p := readProject(t, "l-room")
	p.Speakers.Free = true
	p.Seats[0].Zones[0].Y = model.Range{Min: 1.6, Max: 2.4}
	return p
}

// Lattice lists the legal layouts of a free pair on a lattice of the given pitch in m, each
// once.
func (b *problem) Lattice(pitch float64) []model.Layout {
	var all []model.Layout
	seen := map[model.Layout]bool{}
	for _, s := range b.pairAreas {
		for seat := range points(geometry.HullOf(b.seats), pitch) {
			seat.Z = geometry.Round(b.ears)
			for left := range points(s.left, pitch) {
				for right := range points(s.right, pitch) {
					if left.Y > right.Y || math.Abs(model.Plan(seat, left)-model.Plan(seat, right)) > b.project.SeatBalance() {
						continue // most are: no need to look at the rest
					}
					for _, h := range b.heights {
						l := b.withHeight(model.Layout{Left: left, Right: right, Seat: seat}, h)
						if b.project.Violation(l) == 0 && !seen[l] {
							seen[l] = true
							all = append(all, l)
						}
					}
				}
			}
		}
	}
	return all
}

// points yields the lattice points of an area, m.
func points(a geometry.Area, pitch float64) iter.Seq[r3.Vec] {
	return func(yield func(r3.Vec) bool) {
		for x := a.X.Lo; x <= a.X.Hi+1e-9; x += pitch {
			for y := a.Y.Lo; y <= a.Y.Hi+1e-9; y += pitch {
				if !yield(r3.Vec{X: geometry.Round(x), Y: geometry.Round(y)}) {
					return
				}
			}
		}
	}
}

// bestPolished rates a lattice of the given pitch in m, polishes the best that are 20 cm
// apart and returns the best before and after that, with the number of layouts rated.
func (b *problem) bestPolished(t *testing.T, g *archive, pitch float64) (before, after record, count int) {
	t.Helper()
	const polished, apart = 150, 0.20
	layouts := b.Lattice(pitch)
	rated := make([]record, len(layouts))
	err := concurrent.Each(len(layouts), func(i int) error {
		v, err := g.score(t.Context(), layouts[i])
		rated[i] = record{layouts[i], float64(v)}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	top := bestApart(rated, polished, apart)
	ends, err := b.polishAll(t.Context(), g, slices.Clone(top), nil)
	if err != nil {
		t.Fatal(err)
	}
	return top[0], bestApart(ends, 1, 0)[0], len(layouts)
}

// A free pair and a head that leaves the mid-line are six coordinates and more. On the
// table of a wide search every layout of a coarse lattice is rated and the best are
// polished. The search, which sees nothing of that, comes within 0.1 dB of the best with
// nineteen of twenty seeds, and beats as many layouts drawn at random.
func TestFreeWaveSearchAgainstExhaustive(t *testing.T) {
	if !long() {
		t.Skip("takes minutes: EVENBASS_LONG=1")
	}
	for _, c := range []struct {
		project *model.Project
		pitch   float64
	}{{freeCorner(t), 0.09}} {
		t.Run(c.project.Room.Name, func(t *testing.T) {
			pr, err := newProblem(c.project)
			if err != nil {
				t.Fatal(err)
			}
			room := waveRoom(t, c.project, wideRun)
			rate := pr.wideRater(t, room)
			before, best, count := pr.bestPolished(t, newArchive(c.project, rate), c.pitch)
			t.Logf("%d fields; best of %d on %g cm: %.3f dB, polished %.3f dB at %+v",
				room.fields.Load(), count, 100*c.pitch, before.score, best.score, best.layout)
			pr.searchFreely(t, room, rate, best.score)
		})
	}
}

// wideRater returns what a wide search rates layouts by, and sets the problem up for it.
func (b *problem) wideRater(t *testing.T, room *counted) rater {
	t.Helper()
	s, p := Settings{Wide: room}.withDefaults(), b.project
	wide, err := score.NewBand(room, p.Goal)
	if err != nil {
		t.Fatal(err)
	}
	fast, _, err := b.fastEngine(t.Context(), wide, s)
	if err != nil {
		t.Fatal(err)
	}
	return score.NewScorer(fast, p, s.Displacement).Robust
}

// searchFreely searches with twenty seeds, of which one may miss a score by more than
// 0.1 dB.
func (b *problem) searchFreely(t *testing.T, room *counted, rate rater, best float64) {
	t.Helper()
	missed, beaten := 0, 0
	for seed := range int64(20) {
		r := new(Result)
		found, err := b.breedAndPolish(t.Context(), newArchive(b.project, rate), Settings{Seed: seed, Wide: room}.withDefaults(), r)
		if err != nil {
			t.Fatal(err)
		}
		blind := b.random(t, rate, seed, r.Evaluations)
		t.Logf("seed %d: %.3f dB after %d layouts, %v; as many at random %.3f dB; at %+v",
			seed, found[0].score, r.Evaluations, r.Stopped, blind.score, found[0].layout)
		if found[0].score > best+0.1 {
			missed++
		}
		if blind.score < found[0].score-0.05 {
			beaten++
		}
	}
	if missed > 1 {
		t.Errorf("%d of 20 seeds are more than 0.1 dB off", missed)
	}
	if beaten > 1 {
		t.Errorf("layouts at random do better than %d of 20 seeds", beaten)
	}
}
