package optimize

import (
	"evenbass/model"
	"evenbass/optimize/table"
)

// Domain returns where a search may put woofers and ears, without displacements. The areas are
// the hulls of the zones. It fails as [Place] does before it searches.
func Domain(p *model.Project) (table.Domain, error) {
	b, err := newProblem(p)
	if err != nil {
		return table.Domain{}, err
	}
	return b.domain(0), nil
}
