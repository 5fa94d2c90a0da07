package roomfile

import (
	"fmt"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/roomfile/quantity"
)

// construction is the codec of the name of a construction, in the library's spelling.
var construction = codec[string]{
	func(s string) (string, error) {
		if c, ok := material.Lookup(s); ok {
			return c.Name, nil
		}
		return "", &quantity.Mistake{What: model.Sprintf("no construction is called %q", s), Right: "did you mean \"" + material.Nearest(s) + "\"? evenbass new --list lists all"}
	},
	func(s string) string { return s },
}

// warnings are those of the project, and those about constructions in places that they
// are not made for.
func warnings(p *model.Project) []model.Warning {
	warnings := p.FindWarnings()
	misplaced := func(what string, s model.Surface, serves material.Kind) {
		c, ok := material.Lookup(s.Construction)
		if ok && c.Kind&serves == 0 {
			warnings = append(warnings, model.ConstructionMisplaced{Surface: what, Construction: c.Name, Serves: c.Kind.String()})
		}
	}
	for _, f := range model.Faces {
		serves := material.Wall | material.Door | material.Window // a whole wall may be glass
		switch f {
		case model.Floor:
			serves = material.Floor
		case model.Ceiling:
			serves = material.Ceiling
		}
		misplaced("the "+f.Wall(), p.Room.Walls[f], serves)
	}
	for _, o := range p.Room.Openings {
		serves := material.Door | material.Window
		misplaced(fmt.Sprintf("a %s in the %s", o.Kind, p.Room.OpeningWall(&o)), o.Surface, serves)
	}
	return warnings
}
