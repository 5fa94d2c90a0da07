package absorber

import "evenbass/model"

// gap is a layer of air. Between walls far apart sound also runs along it (bulk
// reaction); one that is divided by battens every half metre or so is locally
// reacting in the bass.
type gap struct {
	thickness float64
	air       model.Air
}

func (g *gap) at(f float64) section { return sectionOf(airFluid(f, g.air), g.thickness) }

func newGap(l model.Layer, o *Options) (layer, []model.Warning, error) {
	return &gap{thickness: l.Thickness, air: o.Air}, nil, nil
}

func (g *gap) weight(model.Layer) (float64, model.Warning) { return 0, nil }
