package roomfile

import "evenbass/model"

// option is a change to the room that is to be looked at.
func option(f *form, o *model.Option, p *model.Project) {
	must(f, "name", "rear layer", &o.Name, nameValue)
	if f.has("remove", len(o.Remove) > 0) {
		words(f, "remove", &o.Remove, nameValue)
	}
	list(f, "move", &o.Move, model.Treatment{}, func(g *form, t *model.Treatment) {
		if g.reading() && g.node.value("name") == nil {
			g.lack("name", "that of the treatment that moves")
		}
		treatmentPlace(g, t, p)
		if g.has("layers", len(t.Layers) > 0) {
			layers(g, t, p.Materials)
		}
	})
	if f.has("double", len(o.Double) > 0) {
		words(f, "double", &o.Double, nameValue)
	}
	list(f, "front", &o.Front, model.Treatment{}, func(g *form, t *model.Treatment) {
		must(g, "name", "that of the treatment to put layers before", &t.Name, nameValue)
		layers(g, t, p.Materials)
	})
	list(f, "add", &o.Add, model.Treatment{}, func(g *form, t *model.Treatment) { treatment(g, t, p) })
	f.section("walls", func(g *form) { otherWalls(g, o) })
}

// otherWalls says which walls become something else.
func otherWalls(f *form, o *model.Option) {
	for _, face := range model.Faces {
		s, set := o.Walls[face]
		if !f.has(face.String(), set) {
			continue
		}
		surface(f, face.String(), &s)
		if o.Walls == nil {
			o.Walls = map[model.Face]model.Surface{}
		}
		o.Walls[face] = s
	}
}
