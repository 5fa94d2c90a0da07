package floormap

import (
	"cmp"
	"math"
	"slices"

	"evenbass/model"
)

// Moved names what a map moves from place to place; everything else stays.
type Moved string

// What maps move.
const (
	Chair        Moved = "chair"
	Pair         Moved = "speakers" // the left one as mapped, the right one mirrored
	LeftSpeaker  Moved = "left speaker"
	RightSpeaker Moved = "right speaker"
)

// Spread is the spread of a pair, the worst of left, right and both, for every place that
// one mark could have. The slices are indexed by the places of the lattice.
type Spread struct {
	Floor
	Moved Moved
	Goal  model.Goal

	Spread []model.Level // plain, dB; NaN outside the air
	Rule   []model.Rule  // a rule of the project that this place breaks; zero for none

	// Anyway holds the rules that every place breaks alike, so that they say nothing
	// about the place. They are not in Rule.
	Anyway []model.Breach
}

// Open reports whether the mark can be at place n at all.
func (m *Spread) Open(n int) bool { return !math.IsNaN(float64(m.Spread[n])) }

// Allowed reports whether the mark can be at place n and breaks no rule there.
func (m *Spread) Allowed(n int) bool { return m.Open(n) && m.Rule[n] == (model.Rule{}) }

// Best returns the place of least spread among those selected, and whether there is one.
func (m *Spread) Best(among func(n int) bool) (best int, ok bool) {
	return m.extreme(among, func(a, b model.Level) bool { return a < b })
}

// Worst returns the place of greatest spread among those selected, and whether there is
// one.
func (m *Spread) Worst(among func(n int) bool) (worst int, ok bool) {
	return m.extreme(among, func(a, b model.Level) bool { return a > b })
}

func (m *Spread) extreme(among func(int) bool, beats func(a, b model.Level) bool) (at int, ok bool) {
	for n, v := range m.Spread {
		if among(n) && (!ok || beats(v, m.Spread[at])) {
			at, ok = n, true
		}
	}
	return at, ok
}

// Within returns the share of the places selected, 0..1, whose spread is at most by above
// the least of them; 0 if there are none.
func (m *Spread) Within(by model.Level, among func(n int) bool) float64 {
	best, ok := m.Best(among)
	if !ok {
		return 0
	}
	good, all := 0, 0
	for n, v := range m.Spread {
		if !among(n) {
			continue
		}
		all++
		if v <= m.Spread[best]+by {
			good++
		}
	}
	return float64(good) / float64(all)
}

// Places returns up to most allowed places, the best first. Each is a local minimum among
// the allowed places and at least apart m from those before it.
func (m *Spread) Places(most int, apart float64) []int {
	var order []int
	for n := range m.Spread {
		if m.Allowed(n) && m.lowest(n) {
			order = append(order, n)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(m.Spread[a], m.Spread[b]) })
	var found []int
	for _, n := range order {
		near := func(o int) bool { return model.Plan(m.Place(n), m.Place(o)) < apart }
		if len(found) < most && !slices.ContainsFunc(found, near) {
			found = append(found, n)
		}
	}
	return found
}

// lowest reports whether no allowed neighbour of an allowed place has less spread.
func (m *Spread) lowest(n int) bool {
	row, column := n/len(m.Y), n%len(m.Y)
	for i := max(0, row-1); i <= min(len(m.X)-1, row+1); i++ {
		for j := max(0, column-1); j <= min(len(m.Y)-1, column+1); j++ {
			if o := i*len(m.Y) + j; m.Allowed(o) && m.Spread[o] < m.Spread[n] {
				return false
			}
		}
	}
	return true
}

// Reach returns the greatest spread within a radius in m of the central place of a map laid
// around one place; NaN if the radius holds no place.
func (m *Spread) Reach(radius float64) model.Level {
	middle := m.Place(m.Len() / 2)
	inside := func(n int) bool { return m.Open(n) && model.Plan(m.Place(n), middle) <= radius+1e-6 }
	worst, ok := m.Worst(inside)
	if !ok {
		return model.Level(math.NaN())
	}
	return m.Spread[worst]
}

// findRules fills in the rules that the layout for each open place breaks.
func (m *Spread) findRules(p *model.Project, layout func(n int) model.Layout) {
	m.Rule = make([]model.Rule, m.Len())
	broken := make([][]model.Breach, m.Len())
	count, open := map[model.Breach]int{}, 0
	for n := range broken {
		if !m.Open(n) {
			continue
		}
		open++
		broken[n] = p.Breaches(layout(n))
		for _, b := range broken[n] {
			count[b]++
			if open == 1 {
				m.Anyway = append(m.Anyway, b)
			}
		}
	}
	m.Anyway = slices.DeleteFunc(m.Anyway, func(b model.Breach) bool { return open < 2 || count[b] < open })
	for n, list := range broken {
		list = slices.DeleteFunc(list, func(b model.Breach) bool { return slices.Contains(m.Anyway, b) })
		if len(list) > 0 {
			m.Rule[n] = list[0].Rule
		}
	}
}
