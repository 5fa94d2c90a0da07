package roomfile

import (
	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
)

// forms are the words for the forms of treatments, by model.Form.
var forms = []string{
	model.OnWall.String(), model.InCorner.String(), model.UnderCeiling.String(), model.FreeStanding.String(),
}

func treatment(f *form, t *model.Treatment, p *model.Project) {
	treatmentPlace(f, t, p)
	layers(f, t, p.Materials)
	if built := t.Built > 0 && t.Built == len(t.Layers); f.reading() || built {
		if preset(f, "built", &built, truth); built {
			t.Built = len(t.Layers)
		}
	}
}

// treatmentPlace is a treatment without its layers.
func treatmentPlace(f *form, t *model.Treatment, p *model.Project) {
	may(f, "name", &t.Name, nameValue)
	if f.reading() || t.Form != model.OnWall {
		if n := f.node.value("form"); n != nil {
			t.Form = -1 // until it is read
		}
		preset(f, "form", &t.Form, formWord)
	}
	switch t.Form {
	case model.OnWall:
		patch(f, &t.Patch, &p.Room, layeredWall(&p.Room))
	case model.InCorner:
		cornerKeys(f, &t.Corner, &p.Room)
	case model.UnderCeiling:
		rectangle(f, &t.Box)
		may(f, "gap", &t.Gap, lengthValue)
	case model.FreeStanding:
		corner(f, "from", &t.Box.Min)
		corner(f, "to", &t.Box.Max)
	default: // a form that could not be read, of which all keys may be right
		f.know("wall", "from", "to", "width", "sill", "height", "edge", "shape", "leg", "gap")
	}
}

// formWord is the codec of a form. One that is wrong gives a form that is none.
var formWord = codec[model.Form]{
	func(s string) (model.Form, error) {
		for i, w := range forms {
			if s == w {
				return model.Form(i), nil
			}
		}
		_, err := oneOf(forms...).parse(s)
		return 0, err
	},
	model.Form.String,
}

// layers are a list, or one text with commas.
func layers(f *form, t *model.Treatment, own []model.Material) {
	one, whole, example := layerCodec(own), phrase.Layers, "[film 100 µm, wool 200 mm 6 kPa·s/m²]"
	if t.Form == model.InCorner || t.Form < 0 {
		one, whole, example = fillCodec(own), phrase.Fills, "[wool 6 kPa·s/m²]"
	}
	if f.reading() {
		switch n := f.node.value("layers"); {
		case n == nil:
			f.lack("layers", example)
			return
		case n.shape == word:
			preset(f, "layers", &t.Layers, codec[[]model.Layer]{parse: func(text string) ([]model.Layer, error) { return whole(text, own...) }})
			return
		}
	}
	words(f, "layers", &t.Layers, one)
}

// layerCodec is the codec of a layer of the library's materials and the owner's own.
func layerCodec(own []model.Material) codec[model.Layer] {
	return codec[model.Layer]{
		parse:  func(text string) (model.Layer, error) { return phrase.Layer(text, own...) },
		format: func(l model.Layer) string { return phrase.Format(l, own) },
	}
}

// fillCodec is layerCodec for a corner, whose wool needs no thickness.
func fillCodec(own []model.Material) codec[model.Layer] {
	return codec[model.Layer]{
		parse: func(text string) (model.Layer, error) { return phrase.Fill(text, own) },
		format: func(l model.Layer) string {
			if same, err := phrase.Fill(l.Text, own); err == nil && same == l {
				return l.Text
			}
			return phrase.Format(l, own)
		},
	}
}

// cornerKeys say which edge of the room is filled, and how much of it.
func cornerKeys(f *form, c *model.Corner, r *model.Room) {
	must(f, "edge", "front left, or back ceiling", &c.Walls, edgeValue)
	shape := "triangle"
	if c.Square {
		shape = "square"
	}
	preset(f, "shape", &shape, oneOf("triangle", "square"))
	c.Square = shape == "square"
	must(f, "leg", "40 cm", &c.Leg, lengthValue)
	may(f, "from", &c.From, lengthValue)
	if f.reading() && c.Walls[0].Axis() != c.Walls[1].Axis() {
		c.To = [3]float64{r.Size.X, r.Size.Y, r.Size.Z}[c.Axis()]
	}
	preset(f, "to", &c.To, lengthValue)
}

// edgeValue is the codec of the edge between two walls: "front left".
var edgeValue = codec[[2]model.Face]{
	phrase.Edge,
	func(w [2]model.Face) string { return w[0].String() + " " + w[1].String() },
}

// rectangle is two corners on plan.
func rectangle(f *form, b *model.Block) {
	from, to := r2.Vec{X: b.Min.X, Y: b.Min.Y}, r2.Vec{X: b.Max.X, Y: b.Max.Y}
	planCorner(f, "from", &from)
	planCorner(f, "to", &to)
	b.Min.X, b.Min.Y, b.Max.X, b.Max.Y = from.X, from.Y, to.X, to.Y
}

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
