package roomfile

import (
	"fmt"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// file is the whole of a room file.
func file(f *form, p *model.Project) {
	for _, s := range []struct {
		key, example string
		body         func(*form)
	}{
		{"room", "{length: 4.62 m, width: 3.48 m, height: 2.44 m}", func(g *form) { room(g, &p.Room) }},
		{"walls", "{front: brick plastered, back: unknown, ...} for all six", func(g *form) { walls(g, &p.Room) }},
	} {
		if f.reading() && f.node.value(s.key) == nil {
			f.lack(s.key, s.example)
			continue
		}
		f.section(s.key, s.body)
	}
	f.section("ceiling", func(g *form) { ceiling(g, &p.Room) })
	list(f, "materials", &p.Materials, model.Material{}, func(g *form, m *model.Material) { ownMaterial(g, m, p.Materials) })
	list(f, "openings", &p.Room.Openings, model.Opening{}, func(g *form, o *model.Opening) { opening(g, o, &p.Room) })
	list(f, "blocks", listed(f, &p.Room.Blocks, isFurniture), model.Block{}, block)
	list(f, "treatments", listed(f, &p.Room.Treatments, (*model.Treatment).Furnished), model.Treatment{}, func(g *form, t *model.Treatment) { treatment(g, t, p) })
	movable(f, p)
	if f.reading() {
		p.Unwritten = findUnwritten(f.node)
	}
	f.section("listening", func(g *form) { listening(g, &p.Listening, p.Unwritten) })
	list(f, "keep_clear", listed(f, &p.KeepClear, isFurniture), model.Block{}, clear)
	furniture(f, p)
	f.section("goal", func(g *form) { goal(g, &p.Goal, p.Unwritten) })
	stock(f, p)
	subwoofers(f, p)
	if f.reading() && p.Unwritten.From {
		p.Goal.From = defaultFrom(p)
	}
	f.section("report", func(g *form) { titleBlock(g, &p.Report) })
	list(f, "options", &p.Options, model.Option{}, func(g *form, o *model.Option) { option(g, o, p) })
	list(f, "measurements", &p.Measurements, model.Measured{}, measured)
	calibrated(f, p)
}

// movable is what the search may move.
func movable(f *form, p *model.Project) {
	if f.reading() && f.node.value("speakers") == nil {
		f.lack("speakers", "{box: {depth: 28 cm, width: 21 cm, height: 34 cm}}")
	} else {
		f.section("speakers", func(g *form) { speakers(g, &p.Speakers) })
	}
	if f.reading() && f.node.value("seats") == nil {
		f.lack("seats", "[{name: chair, at: [1.8 m, 1.7 m, 1.2 m]}]")
	} else {
		list(f, "seats", &p.Seats, defaultSeat(), seat)
	}
}

func room(f *form, r *model.Room) {
	may(f, "name", &r.Name, nameValue)
	must(f, "length", "4.62 m", &r.Size.X, lengthValue)
	must(f, "width", "3.48 m", &r.Size.Y, lengthValue)
	must(f, "height", "2.44 m", &r.Size.Z, lengthValue)
	may(f, "temperature", &r.Temperature, temperatureValue)
	if f.reading() || len(r.Outer) > 0 {
		words(f, "outer", &r.Outer, face)
	}
	outline(f, r)
}

func walls(f *form, r *model.Room) {
	for _, face := range model.Faces {
		key := face.String()
		if f.reading() && f.node.value(key) == nil {
			f.lack(key, "plasterboard on studs, or another construction, or unknown")
			continue
		}
		surface(f, key, &r.Walls[face])
	}
}

// surface is the name of a construction, or a mapping with one of the three ways
// to say what a surface is.
func surface(f *form, key string, s *model.Surface) {
	if !f.reading() && s.Construction != "" {
		preset(f, key, &s.Construction, construction)
		return
	}
	if f.reading() && f.node.value(key).shape == word {
		preset(f, key, &s.Construction, construction)
		return
	}
	f.section(key, func(g *form) { surfaceKeys(g, s) })
}

func surfaceKeys(f *form, s *model.Surface) {
	may(f, "construction", &s.Construction, construction)
	may(f, "impedance", &s.Impedance, impedanceValue)
	absorption(f, &s.Absorption)
}

// absorption is a table of random-incidence absorption by frequency.
func absorption(f *form, rows *[]model.Absorption) {
	const key = "absorption"
	if !f.reading() {
		out := &node{shape: mapping}
		for _, r := range *rows {
			out.keys = append(out.keys, &node{shape: word, text: frequencyValue.format(r.Frequency)})
			out.items = append(out.items, &node{shape: word, text: shareValue.format(r.Coefficient)})
		}
		if len(*rows) > 0 {
			f.put(key, out)
		}
		return
	}
	n := f.take(key)
	if n == nil || n.shape == nothing {
		return
	}
	if n.shape != mapping || len(n.keys) == 0 || len(n.keys) > 2*maxItems {
		f.in.add(n.at, f.at(key), quantity.Mistake{What: "this is not a table of absorption", Right: "write {63 Hz: 0.12, 125 Hz: 0.08, 250 Hz: 0.05}"})
		return
	}
	for i, k := range n.keys {
		var r model.Absorption
		path := fmt.Sprintf("%s[%d]", f.at(key), i)
		decode(f.in, k, path, &r.Frequency, frequencyValue)
		decode(f.in, n.items[i], path, &r.Coefficient, shareValue)
		*rows = append(*rows, r)
	}
}

// patch is a rectangle on a wall, which the codec reads. What is left out reaches to the wall's end.
func patch(f *form, p *model.Patch, r *model.Room, wall codec[model.Face]) {
	must(f, "wall", "back", &p.Face, wall)
	if f.reading() && f.node.value("wall") == nil {
		f.know("from", "sill", "width", "height")
		return
	}
	along, up := r.Extent(p.Face)
	patchKeys(f, p, along, up)
	if f.reading() && f.node.value("height") == nil {
		*p = r.ToCeiling(*p)
	}
}

// patchKeys are where a rectangle is on its wall, of the given length and height in m.
func patchKeys(f *form, p *model.Patch, along, up float64) {
	may(f, "from", &p.Along, lengthValue)
	may(f, "sill", &p.Up, lengthValue)
	if f.reading() {
		p.Width, p.Height = model.CleanLength(along-p.Along), model.CleanLength(up-p.Up)
	}
	preset(f, "width", &p.Width, lengthValue)
	preset(f, "height", &p.Height, lengthValue)
}

func block(f *form, b *model.Block) {
	may(f, "name", &b.Name, nameValue)
	corner(f, "from", &b.Min)
	corner(f, "to", &b.Max)
}

// clear is a box of air in which nothing may stand, and how it moves.
func clear(f *form, b *model.Block) {
	block(f, b)
	may(f, "moves_with", &b.With, named(model.WithSpeakers, model.WithSeat))
	may(f, "may_move", &b.Along, lengthValue)
	may(f, "carries_speakers", &b.Carries, truth)
}

func speakers(f *form, s *model.Speakers) {
	if f.has("now", s.Placed) {
		f.section("now", func(g *form) {
			corner(g, "left", &s.Left)
			corner(g, "right", &s.Right)
		})
		s.Placed = true
	}
	arrangement := "symmetric"
	switch {
	case s.Fixed:
		arrangement = "fixed"
	case s.Free:
		arrangement = "free"
	}
	preset(f, "arrangement", &arrangement, oneOf("symmetric", "free", "fixed"))
	s.Free, s.Fixed = arrangement != "symmetric", arrangement == "fixed"
	f.section("box", func(g *form) {
		if g.reading() || s.Box != (model.Dimensions{}) {
			boxKeys(g, &s.Box, "28 cm", "21 cm", "34 cm")
		}
	})
	may(f, "woofer_below_axis", &s.WooferBelow, lengthValue)
	words(f, "axis_height", &s.AxisHeights, lengthValue)
	preset(f, "rear_clearance", &s.RearClearance, lengthValue)
	preset(f, "side_clearance", &s.SideClearance, lengthValue)
	amount(f, "low_limit", &s.LowLimit, frequencyValue)
	if f.reading() || s.LowLimit > 0 {
		preset(f, "alignment", &s.Alignment, alignmentValue)
	}
	list(f, "may_stand", &s.Zones, model.Zone{}, zone)
	may(f, "apart", &s.Apart, lengthRange)
}

// boxKeys reads the size of a box; depth, width and height are examples of one.
func boxKeys(f *form, b *model.Dimensions, depth, width, height string) {
	must(f, "depth", depth, &b.Depth, lengthValue)
	must(f, "width", width, &b.Width, lengthValue)
	must(f, "height", height, &b.Height, lengthValue)
}

func zone(f *form, z *model.Zone) {
	may(f, "x", &z.X, lengthRange)
	may(f, "y", &z.Y, lengthRange)
}

func seat(f *form, s *model.Seat) {
	may(f, "name", &s.Name, nameValue)
	if f.has("at", s.Placed) {
		corner(f, "at", &s.At)
		s.Placed = true
	}
	if f.reading() {
		if s.Height = defaultHeight; s.Placed {
			s.Height = s.At.Z
		}
	}
	preset(f, "height", &s.Height, lengthValue)
	list(f, "may_move", &s.Zones, model.Zone{}, zone)
	preset(f, "weight", &s.Weight, weightValue)
	may(f, "on", &s.On, nameValue)
}

func listening(f *form, l *model.Listening, u model.Unwritten) {
	byDefault(f, "distance", &l.Distance, lengthRange, u.Distance)
	byDefault(f, "angle", &l.Angle, angleRange, u.Angle)
	byDefault(f, "back_distance", &l.BackDistance, lengthValue, u.Back)
	amount(f, "balance", &l.Balance, lengthValue)
	if f.reading() || len(l.AlsoFace) > 0 {
		words(f, "also_face", &l.AlsoFace, face)
	}
}

func titleBlock(f *form, t *model.TitleBlock) {
	may(f, "title", &t.Title, nameValue)
	may(f, "client", &t.Client, nameValue)
	may(f, "project", &t.Project, nameValue)
	may(f, "author", &t.Author, nameValue)
	may(f, "date", &t.Date, nameValue)
	if f.reading() || len(t.Notes) > 0 {
		words(f, "notes", &t.Notes, noteValue)
	}
	may(f, "logo", &t.Logo, nameValue)
}

func goal(f *form, g *model.Goal, u model.Unwritten) {
	byDefault(f, "from", &g.From, frequencyValue, u.From)
	preset(f, "to", &g.To, frequencyValue)
	preset(f, "smoothing", &g.Smoothing, smoothingValue)
	may(f, "decay_weight", &g.DecayWeight, weightValue)
}
