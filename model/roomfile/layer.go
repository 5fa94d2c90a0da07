package roomfile

import (
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
)

// ParseLayers reads a whole build-up, its layers separated by commas and the one
// that faces the room first: "film 100 µm, wool 200 mm 6 kPa·s/m²". Materials of the
// owner's own may be named like those of the library. The error is a [*Mistake].
func ParseLayers(text string, own ...model.Material) ([]model.Layer, error) {
	return splitLayers(text, func(phrase string) (model.Layer, error) { return ParseLayer(phrase, own...) })
}

// splitLayers reads layers that are separated by commas.
func splitLayers(text string, parse func(string) (model.Layer, error)) ([]model.Layer, error) {
	if m := commaNumber.FindString(text); m != "" {
		return nil, commaMistake(text, tidy(text), m)
	}
	var layers []model.Layer
	for phrase := range strings.SplitSeq(text, ",") {
		l, err := parse(strings.TrimSpace(phrase))
		if err != nil {
			return nil, err
		}
		layers = append(layers, l)
	}
	return layers, nil
}

// ParseLayer reads one layer of a build-up. The layer keeps the phrase in its Text; of
// a material of the owner's own it takes over the figures that the phrase leaves out.
// The error is a [*Mistake].
func ParseLayer(text string, own ...model.Material) (model.Layer, error) {
	layer, name, err := layerPhrase(text, own)
	if err != nil {
		return layer, err
	}
	return layer, layerComplete(&layer, name)
}

// parseFill is ParseLayer for what fills a place: wool may go without a thickness.
func parseFill(text string, own []model.Material) (model.Layer, error) {
	layer, name, err := layerPhrase(text, own)
	if err != nil {
		return layer, err
	}
	whole := layer
	if layer.Kind == model.PorousLayer {
		whole.Thickness = 1
	}
	return layer, layerComplete(&whole, name)
}

// layerPhrase reads what a phrase says and leaves open what it lacks.
func layerPhrase(text string, own []model.Material) (model.Layer, layerName, error) {
	if strings.TrimSpace(text) == "" {
		return model.Layer{}, layerName{}, &Mistake{"a layer is empty", "write it as wool 200 mm 6 kPa·s/m², or leave out the comma"}
	}
	parts, err := scan(text)
	if err != nil {
		return model.Layer{}, layerName{}, err
	}
	if parts[0].text == "" {
		return model.Layer{}, layerName{}, &Mistake{fmt.Sprintf("%q is not a layer", text), "write a name and a thickness, such as wool 200 mm 6 kPa·s/m²"}
	}
	name, keyword, err := layerHead(parts[0].text, own)
	if err != nil {
		return model.Layer{}, layerName{}, err
	}
	parts[0].text = keyword
	parts = freeWords(parts)
	layer := model.Layer{Kind: name.kind, Text: text, Material: name.material}
	for _, p := range parts {
		if p.text = layerFrame(&layer, p.text); p.text == "" && p.number == "" {
			continue
		}
		if err := layerFigure(&layer, text, p); err != nil {
			return model.Layer{}, layerName{}, err
		}
	}
	takeOver(&layer, &name.own)
	return layer, name, nil
}

// freeWords moves words that were taken for a unit, such as that after the number of
// "tortuosity 1.1 viscous length 130 µm", to the number that they stand before.
func freeWords(parts []part) []part {
	var words []string
	for _, f := range layerFigures() {
		first, _, _ := strings.Cut(f.name, " ")
		words = append(words, f.word, first)
	}
	for _, w := range frameWords {
		words = append(words, w.word)
	}
	for i := 0; i < len(parts); i++ {
		word := parts[i].unit
		if word == "" || !slices.Contains(words, word) {
			continue
		}
		if parts[i].unit = ""; i == len(parts)-1 {
			parts = append(parts, part{})
		}
		parts[i+1].text = strings.TrimSpace(word + " " + parts[i+1].text)
	}
	return parts
}

// takeOver fills the figures that a layer leaves at zero from another.
func takeOver(l, from *model.Layer) {
	for _, f := range layerFigures() {
		if to := f.place(l); *to == 0 {
			*to = *f.place(from)
		}
	}
	if l.Frame == model.FrameUnknown {
		l.Frame = from.Frame
	}
}

// layerHead finds the layer that the words before the first number name; what
// follows the name is the keyword of that number.
func layerHead(words string, own []model.Material) (layerName, string, error) {
	var best layerName
	known := layerNames(own)
	names := make([]string, len(known))
	for i, n := range known {
		names[i] = n.name
		if (words == n.name || strings.HasPrefix(words, n.name+" ")) && len(n.name) > len(best.name) {
			best = n
		}
	}
	rest := strings.TrimSpace(words[len(best.name):])
	if like := namesWith(words, names); best.name == "" || rest != "" && len(like) > 0 {
		return best, "", &Mistake{fmt.Sprintf("no layer is called %q", words), layerMeant(words, names)}
	}
	return best, rest, nil
}

// namesWith returns the names in which the words stand side by side.
func namesWith(words string, names []string) []string {
	var list []string
	for _, n := range names {
		if strings.Contains(" "+n+" ", " "+words+" ") {
			list = append(list, n)
		}
	}
	return list
}

// layerMeant asks for the layers that may be meant: those that have the words or the last
// of them in their name, or the nearest in spelling.
func layerMeant(words string, names []string) string {
	list := namesWith(words, names)
	if n := Nearest(words, names); n != "" && len(list) == 0 {
		list = []string{n}
	}
	if fields := strings.Fields(words); len(list) == 0 && len(fields) > 0 {
		list = namesWith(fields[len(fields)-1], names)
	}
	if len(list) == 0 {
		return "known are film, wool, air, perforated, slotted, panel and the materials of the library"
	}
	for i := range list {
		list[i] = fmt.Sprintf("%q", list[i])
	}
	return "did you mean " + strings.Join(list, ", ") + "?"
}

// layerFrame takes a word on the skeleton of a porous layer off the words before a
// number, or at the end.
func layerFrame(l *model.Layer, words string) string {
	first, rest, _ := strings.Cut(words, " ")
	for _, w := range frameWords {
		if first == w.word && l.Kind == model.PorousLayer && l.Frame == model.FrameUnknown {
			l.Frame = w.frame
			return rest
		}
	}
	return words
}

// layerFigure puts one number where it belongs.
func layerFigure(l *model.Layer, text string, p part) error {
	if p.number == "" {
		return &Mistake{fmt.Sprintf("%q stands at the end of %q without a number", p.text, text), ""}
	}
	f, err := figureOf(l.Kind, text, p)
	if err != nil {
		return err
	}
	if p.unit == "" && f.dimension == &lengths {
		return &Mistake{fmt.Sprintf("%q has no unit in %q", p.number, text), "write " + p.number + " mm if that is its " + f.name}
	}
	v, err := f.dimension.convert(strings.TrimSpace(p.text+" "+p.number+" "+p.unit), p)
	if err != nil {
		return err
	}
	if v <= 0 {
		return &Mistake{fmt.Sprintf("the %s of %q must be above zero", f.name, text), ""}
	}
	if to := f.place(l); *to == 0 {
		*to = v
	} else {
		return &Mistake{fmt.Sprintf("%q gives the %s twice", text, f.name), "leave one out, or part two layers by a comma"}
	}
	return plausible(f, l, p)
}

// figureOf finds the figure that a number is, by its keyword and its unit.
func figureOf(kind model.LayerKind, text string, p part) (figure, error) {
	var words, units []string
	for _, f := range layerFigures() {
		if !slices.Contains(f.kinds, kind) {
			continue
		}
		if f.word != "" {
			words = append(words, f.word)
		} else {
			units = append(units, f.dimension.like)
		}
		_, known := f.dimension.find(p.unit)
		named := f.word == p.text || f.word != "" && f.name == p.text
		if named && (known || p.text != "" || p.unit == "" && f.name == "thickness") {
			return f, nil
		}
	}
	if p.text != "" {
		return figure{}, &Mistake{fmt.Sprintf("%q is not a word for this layer in %q", p.text, text), didYouMean(p.text, words)}
	}
	return figure{}, &Mistake{fmt.Sprintf("%q in %q is no figure of this layer", p.number+" "+p.unit, text), "its units are " + strings.Join(units, ", ")}
}

// plausible catches figures that are off by a factor of a thousand.
func plausible(f figure, l *model.Layer, p part) error {
	switch v := *f.place(l); {
	case f.name == "flow resistivity" && v < 500 && !strings.HasPrefix(p.unit, "k"):
		return &Mistake{
			fmt.Sprintf("%s %s is nearly no resistance", p.number, p.unit),
			fmt.Sprintf("did you mean %s k%s?", p.number, p.unit),
		}
	case f.name == "flow resistivity" && v > 1e6:
		return &Mistake{
			fmt.Sprintf("%s %s would hardly let air through", p.number, p.unit),
			"fibre mats have 1 to 100 kPa·s/m²",
		}
	case f.name == "open area" && v > 1:
		return &Mistake{fmt.Sprintf("an open area of %s %s is more than all of it", p.number, p.unit), "write it as open 3 %"}
	case f.name == "porosity" && v > 1:
		return &Mistake{fmt.Sprintf("a porosity of %s %s is more than all of it", p.number, p.unit), "write it as porosity 98 %"}
	case f.name == "tortuosity" && v < 1:
		return &Mistake{fmt.Sprintf("a tortuosity of %s %s is below 1, that of straight pores", p.number, p.unit), "wool has 1 to 1.1"}
	}
	return nil
}

// layerComplete reports what a layer lacks.
func layerComplete(l *model.Layer, n layerName) error {
	lacks := func(what, example string) error {
		return &Mistake{fmt.Sprintf("%q lacks its %s", l.Text, what), "write it as " + example}
	}
	switch {
	case l.Thickness == 0 && n.bySheet:
	case l.Thickness == 0 && !((l.Kind == model.FilmLayer || l.Kind == model.PanelLayer) && l.SurfaceMass > 0):
		return lacks("thickness", n.name+" 100 mm")
	case l.Kind == model.PorousLayer && l.Material == "" && l.Resistivity == 0:
		return lacks("flow resistivity", l.Text+" 6 kPa·s/m²")
	case l.Kind == model.PanelLayer && l.Material == "" && l.SurfaceMass == 0 && l.Density == 0:
		return lacks("mass per area", l.Text+" 8.8 kg/m²")
	case l.Kind == model.PerforatedLayer && (l.HoleDiameter == 0 || l.OpenArea == 0):
		return lacks("holes or open area", "perforated 6 mm holes 5 mm open 3 %")
	case l.Kind == model.SlottedLayer && (l.HoleDiameter == 0 || l.OpenArea == 0):
		return lacks("slots or open area", "slotted 9 mm slots 4 mm open 5 %")
	}
	return nil
}

// layerCodec is the codec of a layer of the library's materials and the owner's own.
func layerCodec(own []model.Material) codec[model.Layer] {
	return codec[model.Layer]{
		parse:  func(text string) (model.Layer, error) { return ParseLayer(text, own...) },
		format: func(l model.Layer) string { return formatLayer(l, own) },
	}
}

// formatLayer writes a layer as a phrase: its own text if that still says the same,
// else its figures.
func formatLayer(l model.Layer, own []model.Material) string {
	if same, err := ParseLayer(l.Text, own...); err == nil && same == l {
		return l.Text
	}
	words := []string{layerNameOf(l)}
	for _, f := range layerFigures() {
		v := *f.place(&l)
		if v == 0 || !slices.Contains(f.kinds, l.Kind) {
			continue
		}
		if f.word != "" {
			words = append(words, f.word)
		}
		words = append(words, f.dimension.format(v, f.write...))
	}
	if w := frameWord(l.Frame); w != "" {
		words = append(words, w)
	}
	return strings.Join(words, " ")
}

// layerNameOf returns the word that opens the phrase of a layer.
func layerNameOf(l model.Layer) string {
	for _, n := range layerNames(nil) {
		if n.kind == l.Kind && n.material == l.Material {
			return n.name
		}
	}
	return l.Material
}
