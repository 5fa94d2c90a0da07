package roomfile

import (
	"slices"
	"strconv"
	"strings"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// stock is the material in hand or to be bought, and the terms of building.
func stock(f *form, p *model.Project) {
	if !f.has("stock", p.Stock != nil) {
		return
	}
	s := p.Stock
	if f.reading() {
		s = &model.Stock{}
		p.Stock = s
	}
	body := func(g *form) { stockKeys(g, s, p) }
	if f.reading() {
		f.section("stock", body)
		return
	}
	g := &form{node: &node{shape: mapping}}
	body(g)
	f.put("stock", g.node) // also an empty one: it is a stock of nothing
}

func stockKeys(f *form, s *model.Stock, p *model.Project) {
	may(f, "currency", &s.Currency, nameValue)
	may(f, "dated", &s.Dated, nameValue)
	list(f, "batts", &s.Batts, model.Batt{}, func(g *form, b *model.Batt) { batt(g, b, p.Materials) })
	list(f, "films", &s.Films, model.Roll{}, func(g *form, r *model.Roll) { film(g, r, p.Materials) })
	list(f, "cloths", &s.Cloths, model.Roll{}, cloth)
	list(f, "bags", &s.Bags, model.Roll{}, func(g *form, r *model.Roll) { film(g, r, p.Materials) })
	list(f, "timber", &s.Timber, model.Timber{}, timber)
	list(f, "may_cover", &s.Cover, model.Cover{}, func(g *form, c *model.Cover) {
		patch(g, &c.Patch, &p.Room, face)
		amount(g, "deepest", &c.Deepest, lengthValue)
	})
	list(f, "keep_free", &s.Free, model.Keep{}, func(g *form, k *model.Keep) { keep(g, k, &p.Room) })
	may(f, "rental", &s.Rental, truth)
	f.section("passage", func(g *form) {
		may(g, "width", &s.Passage.Width, lengthValue)
		may(g, "height", &s.Passage.Height, lengthValue)
		may(g, "longest", &s.Passage.Longest, lengthValue)
	})
}

func batt(f *form, b *model.Batt, own []model.Material) {
	may(f, "name", &b.Name, nameValue)
	thickness := b.Layer.Thickness
	must(f, "material", "wool 6 kPa·s/m² 14 kg/m³", &b.Layer, woolCodec(own))
	sizes(f, "1200 mm x 600 mm x 100 mm (length, width, thickness)", &b.Length, &b.Width, &thickness)
	b.Layer.Thickness = thickness
	may(f, "have", &b.Have, countValue)
	may(f, "per_pack", &b.PerPack, countValue)
	may(f, "price", &b.Price, priceRange)
}

// woolCodec is the codec of wool whose thickness stands elsewhere.
func woolCodec(own []model.Material) codec[model.Layer] {
	return codec[model.Layer]{
		parse: func(text string) (model.Layer, error) { return parseWool(text, own) },
		format: func(l model.Layer) string {
			l.Thickness = 0
			if same, err := parseWool(l.Text, own); err == nil && same == l {
				return l.Text
			}
			return phrase.Format(l, own)
		},
	}
}

// parseWool is [phrase.Fill] for wool that must not give a thickness.
func parseWool(text string, own []model.Material) (model.Layer, error) {
	own = slices.Clone(own)
	for i := range own {
		own[i].Layer.Thickness = 0
	}
	l, err := phrase.Fill(text, own)
	switch {
	case err == nil && l.Kind != model.PorousLayer:
		return model.Layer{}, &quantity.Mistake{What: model.Sprintf("%q must be a porous material", text), Right: "write it as wool 6 kPa·s/m² 14 kg/m³"}
	case err == nil && l.Thickness != 0:
		return model.Layer{}, &quantity.Mistake{What: model.Sprintf("%q gives a thickness", text), Right: "give it as the last number of size"}
	}
	return l, err
}

func film(f *form, r *model.Roll, own []model.Material) {
	may(f, "name", &r.Name, nameValue)
	must(f, "material", "film 100 µm", &r.Layer, filmCodec(own))
	rollKeys(f, r)
}

// filmCodec is [layerCodec] for a roll or a bag, which must be a film.
func filmCodec(own []model.Material) codec[model.Layer] {
	c := layerCodec(own)
	c.parse = func(text string) (model.Layer, error) {
		l, err := phrase.Layer(text, own...)
		if l.Kind != 0 && l.Kind != model.FilmLayer {
			right := "write it with its mass, film 0.1 kg/m², or its thickness, film 100 µm"
			if l.Kind == model.PorousLayer {
				right += "; wool belongs in stock.batts"
			}
			return model.Layer{}, &quantity.Mistake{What: model.Sprintf("%q must be a film", text), Right: right}
		}
		return l, err
	}
	return c
}

func cloth(f *form, r *model.Roll) {
	may(f, "name", &r.Name, nameValue)
	may(f, "mass", &r.Mass, codec[float64]{
		quantity.SurfaceMasses.Parse, func(v float64) string { return quantity.SurfaceMasses.Format(v) },
	})
	rollKeys(f, r)
}

func rollKeys(f *form, r *model.Roll) {
	sizes(f, "4 m x 25 m (width across, length; of a bag lying flat, the width is that of its mouth)", &r.Width, &r.Length)
	may(f, "have", &r.Have, countValue)
	may(f, "price", &r.Price, priceRange)
}

func timber(f *form, t *model.Timber) {
	may(f, "name", &t.Name, nameValue)
	sizes(f, "2400 mm x 44 mm x 19 mm (length, width, thickness)", &t.Length, &t.Width, &t.Thickness)
	may(f, "have", &t.Have, countValue)
	may(f, "price", &t.Price, priceRange)
}

func keep(f *form, k *model.Keep, r *model.Room) {
	may(f, "name", &k.Name, nameValue)
	if k.OnWall = f.has("wall", k.OnWall); k.OnWall {
		patch(f, &k.Patch, r, face)
		return
	}
	corner(f, "from", &k.Block.Min)
	corner(f, "to", &k.Block.Max)
}

// sizes reads or writes lengths as carpenters do: "48 in x 24 in x 4 in". A number
// without unit takes that of the last.
func sizes(f *form, example string, to ...*float64) {
	const key = "size"
	if f.reading() && f.node.value(key) == nil {
		f.lack(key, example)
		return
	}
	texts := make([]string, len(to))
	for i, v := range to {
		texts[i] = lengthValue.format(*v)
	}
	all := strings.Join(texts, " x ")
	var read []float64
	preset(f, key, &all, codec[string]{
		func(text string) (got string, err error) {
			read, err = parseSizes(text, len(to), example)
			return text, err
		},
		func(text string) string { return text },
	})
	for i := range read {
		*to[i] = read[i]
	}
}

// parseSizes reads n lengths with an x between them.
func parseSizes(text string, n int, example string) ([]float64, error) {
	words := strings.Split(strings.NewReplacer("×", "x", "X", "x").Replace(quantity.Tidy(text)), "x")
	if len(words) != n {
		return nil, &quantity.Mistake{What: model.Sprintf("%q is not %d lengths with an x between them", text, n), Right: "write " + example}
	}
	last := strings.TrimSpace(words[n-1])
	if quantity.BareNumber.MatchString(last) {
		return nil, &quantity.Mistake{What: model.Sprintf("%q has no unit", text), Right: "write " + text + " mm if that is what it is"}
	}
	lengths := make([]float64, n)
	for i, w := range words {
		if w = strings.TrimSpace(w); quantity.BareNumber.MatchString(w) {
			w = quantity.Join(w, strings.TrimLeft(last, "+-.0123456789/ "))
		}
		v, err := quantity.ParseLength(w)
		if err != nil {
			return nil, err
		}
		lengths[i] = v
	}
	return lengths, nil
}

// countValue is the codec of a number of things.
var countValue = codec[int]{
	func(text string) (int, error) {
		n, err := strconv.Atoi(quantity.Tidy(text))
		if err != nil || n < 0 {
			return 0, &quantity.Mistake{What: model.Sprintf("%q is not a number of things", text), Right: "write a whole number, such as 24"}
		}
		return n, nil
	},
	strconv.Itoa,
}

// priceRange is the codec of a price: one number or a range, without currency.
var priceRange = codec[model.Range]{
	func(text string) (model.Range, error) {
		r, err := quantity.ParseRange(text, parsePrice)
		if err == nil && (r.Min < 0 || r.Max < r.Min) {
			return r, &quantity.Mistake{What: model.Sprintf("%q is not a price", text), Right: "write it from low to high, such as 31 to 36"}
		}
		return r, err
	},
	func(r model.Range) string { return formatRange(r, quantity.Decimal) },
}

func parsePrice(text string) (float64, error) {
	v, err := parseWeight(text)
	if err != nil {
		if quantity.CommaNumber.MatchString(text) {
			return 0, err
		}
		return 0, &quantity.Mistake{What: model.Sprintf("%q is not a price", text), Right: "write the number alone, such as 31.50, and the currency once, under stock"}
	}
	return v, nil
}

// truth is the codec of yes and no.
var truth = codec[bool]{
	func(text string) (bool, error) {
		switch strings.ToLower(text) {
		case "true", "yes":
			return true, nil
		case "false", "no":
			return false, nil
		}
		return false, &quantity.Mistake{What: model.Sprintf("%q is neither yes nor no", text), Right: "write yes or no"}
	},
	func(v bool) string {
		if v {
			return "yes"
		}
		return "no"
	},
}
