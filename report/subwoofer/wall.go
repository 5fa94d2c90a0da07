package subwoofer

import (
	"evenbass/optimize/subwoofer"
	"evenbass/report/text"
	"evenbass/report/unit"
	"fmt"
)

// hasBounds reports whether the plans were computed with hard and soft walls too.
func (m *Report) hasBounds() bool { return m.Result.Plans[0].Seats[0].Walls.Given() }

// wallsTable is the range of every plan over the uncertainty of the walls; it has no rows
// without that range.
func (m *Report) wallsTable() text.Table {
	t := text.Table{
		Caption: fmt.Sprintf("Range of the spread over hard, typical and soft walls, places and settings fixed (%v; worst of left, right, both)", m.Result.Goal),
		Head:    []string{"subwoofers"},
	}
	if !m.hasBounds() {
		return t
	}
	for i := range m.Result.Plans[0].Seats {
		t.Head = append(t.Head, m.seat(i))
	}
	row := func(name string, p *subwoofer.Plan) {
		cells := []string{name}
		for i := range p.Seats {
			low, high := p.Seats[i].Range()
			cells = append(cells, fmt.Sprintf("%s–%s dB", unit.DecibelsOnly(low), unit.Decimal(float64(high), 1)))
		}
		t.Rows = append(t.Rows, cells)
	}
	for n := range m.Result.Plans {
		row(planName(n), &m.Result.Plans[n])
	}
	if now := m.Result.Now; now != nil {
		row(presentName(now), now)
	}
	return t
}

// certainty says whether what pays does so whatever the walls are; "" if nothing pays or
// the search did not try other walls.
func (m *Report) certainty() string {
	n := m.worthwhile()
	switch {
	case n == 0 || !m.hasBounds():
		return ""
	case subwoofer.BetterThroughout(&m.Result.Plans[n], &m.Result.Plans[0]):
		return text.Sentence(m.choice(n)) + " does better than none with hard and with soft walls alike."
	}
	return fmt.Sprintf("Whether %s does better than none at the %s depends on the walls: measure before you buy.", m.choice(n), m.seat(0))
}

// choice names the plan with so many subwoofers.
func (m *Report) choice(n int) string { return "the plan with " + counted(n) }

// rangeText says what the range over walls is, or that there is none.
func (m *Report) rangeText() string {
	if !m.hasBounds() {
		return "The search did not try walls that absorb less or more than typical."
	}
	return "Hard and soft walls absorb as little and as much as their constructions may. Places and settings stay fixed, as if you found out after the set-up."
}

// planName names a plan by its number in a table.
func planName(n int) string { return []string{"none", "1", "2", "3", "4"}[n] }

// presentName names the subwoofers that stand already.
func presentName(p *subwoofer.Plan) string { return fmt.Sprintf("%d, present places", len(p.Units)) }
