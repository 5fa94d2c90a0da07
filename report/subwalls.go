package report

import (
	"fmt"

	"evenbass/optimize"
)

// widened reports whether the plans were looked at with hard and soft walls.
func (m *SubReport) widened() bool { return m.Result.Plans[0].Seats[0].Walls.Given() }

// wallsTable is the range of every plan over what is not known of the walls; it has no
// rows if that was not looked at.
func (m *SubReport) wallsTable() table {
	t := table{
		Caption: fmt.Sprintf("From the least to the most with hard, typical and soft walls, all else held (%v; worst of left, right, both)", m.Result.Goal),
		Head:    []string{"subwoofers"},
	}
	if !m.widened() {
		return t
	}
	for i := range m.Result.Plans[0].Seats {
		t.Head = append(t.Head, m.seat(i))
	}
	row := func(name string, p *optimize.SubPlan) {
		cells := []string{name}
		for i := range p.Seats {
			low, high := p.Seats[i].Range()
			cells = append(cells, fmt.Sprintf("±%s to %s", decimal(float64(low), 1), Spread(high)))
		}
		t.Rows = append(t.Rows, cells)
	}
	for n := range m.Result.Plans {
		row(planName(n), &m.Result.Plans[n])
	}
	if now := m.Result.Now; now != nil {
		row(nowPlanName(now), now)
	}
	return t
}

// firm says whether what pays does so whatever the walls are; "" if nothing pays or that
// was not looked at.
func (m *SubReport) firm() string {
	n := m.Enough()
	switch {
	case n == 0 || !m.widened():
		return ""
	case optimize.FirmSubs(&m.Result.Plans[n], &m.Result.Plans[0]):
		return fmt.Sprintf("With hard and with soft walls alike the plan with %s does better than none at the %s.", counted(n), m.seat(0))
	}
	return fmt.Sprintf("Whether the plan with %s does better than none at the %s depends on the walls: measure before you buy.", counted(n), m.seat(0))
}

// planName names a plan by its number in a table.
func planName(n int) string { return []string{"none", "1", "2", "3", "4"}[n] }

func nowPlanName(p *optimize.SubPlan) string { return fmt.Sprintf("%d where now", len(p.Subs)) }
