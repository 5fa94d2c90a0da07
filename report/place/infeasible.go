package place

import (
	"strings"

	"evenbass/optimize"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// namedRelaxations is how many constraints are named that would make something fit.
const namedRelaxations = 5

// InfeasibleText says in the reader's units why nothing fits, and which constraint to relax
// by how much.
func InfeasibleText(e *optimize.Infeasible, s unit.Style) string {
	faults := make([]string, len(e.Breaches))
	for i, b := range e.Breaches {
		faults[i] = b.What + " by " + text.BreachAmount(b, s)
	}
	why := "nothing fits; in the nearest layout " + strings.Join(faults, ", ")
	if len(e.Relaxations) == 0 {
		return why + "; relaxing any single constraint would not be enough"
	}
	var ways []string
	for _, r := range e.Relaxations[:min(len(e.Relaxations), namedRelaxations)] {
		ways = append(ways, r.Constraint+" by "+text.BreachAmount(r.Least, s))
	}
	return why + "; relaxing one of these would be enough: " + strings.Join(ways, ", ")
}
