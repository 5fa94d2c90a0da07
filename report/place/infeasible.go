package place

import (
	"strings"

	"evenbass/model"
	"evenbass/optimize/search"
	"evenbass/report/text"
	"evenbass/report/unit"
)

// namedRelaxations is how many constraints are named that would make something fit.
const namedRelaxations = 5

// InfeasibleText says in the reader's units why nothing fits, and which constraint to relax
// by how much.
func InfeasibleText(e *search.Infeasible, s unit.Style) string {
	faults := make([]string, len(e.Breaches))
	for i, b := range e.Breaches {
		faults[i] = text.RuleText(b.Rule) + " by " + text.BreachAmount(b, s)
	}
	why := "nothing fits; in the nearest layout " + strings.Join(faults, ", ")
	if len(e.Relaxations) == 0 {
		return why + "; relaxing any single constraint would not be enough"
	}
	var ways []string
	for _, r := range e.Relaxations[:min(len(e.Relaxations), namedRelaxations)] {
		way := constraintText(r.Constraint) + " by " + text.BreachAmount(r.Least, s)
		if key := defaultKeys[r.Constraint.Kind]; r.Constraint.Default && key != "" {
			way += " (a default: write " + key + ")"
		}
		ways = append(ways, way)
	}
	return why + "; relaxing one of these would be enough: " + strings.Join(ways, ", ")
}

// defaultKeys are the keys of the rules that hold by default.
var defaultKeys = map[search.ConstraintKind]string{
	search.DistanceConstraint: "listening.distance", search.AngleConstraint: "listening.angle", search.BackConstraint: "listening.back_distance",
}

// constraints names what the owner may relax.
var constraints = map[search.ConstraintKind]string{
	search.DistanceConstraint:     "the listening distance",
	search.AngleConstraint:        "the listening angle",
	search.BackConstraint:         "the distance of the ears from the back wall",
	search.BalanceConstraint:      "the difference of the two listening distances",
	search.ApartConstraint:        "the distance between the woofers",
	search.RearConstraint:         "the clearance behind the speakers",
	search.SideConstraint:         "the clearance beside the speakers",
	search.SpeakerZonesConstraint: "the zones of the speakers",
	search.SeatZonesConstraint:    "the zones of the seat",
	search.KeepClearConstraint:    "the space kept clear for {name}",
	search.SwingConstraint:        "the swing of the door in the {wall}",
}

func constraintText(c search.Constraint) string {
	return strings.NewReplacer("{name}", model.Quote(c.Name), "{wall}", text.Printable(c.Name)).Replace(constraints[c.Kind])
}
