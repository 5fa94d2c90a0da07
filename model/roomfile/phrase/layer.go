package phrase

import (
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile/quantity"
)

// Layers reads a whole build-up, its layers separated by commas and the one
// that faces the room first: "film 100 µm, wool 200 mm 6 kPa·s/m²". Materials of the
// owner's own may be named like those of the library. The error is a [*quantity.Mistake].
func Layers(text string, own ...model.Material) ([]model.Layer, error) {
	return split(text, func(phrase string) (model.Layer, error) { return Layer(phrase, own...) })
}

// Fills is Layers for what fills a place: wool may go without a thickness.
func Fills(text string, own ...model.Material) ([]model.Layer, error) {
	return split(text, func(phrase string) (model.Layer, error) { return Fill(phrase, own) })
}

// split reads layers that are separated by commas.
func split(text string, parse func(string) (model.Layer, error)) ([]model.Layer, error) {
	if m := quantity.CommaNumber.FindString(text); m != "" {
		return nil, quantity.CommaMistake(text, quantity.Tidy(text), m)
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

// Layer reads one layer of a build-up. The layer keeps the phrase in its Text; of
// a material of the owner's own it takes over the figures that the phrase leaves out.
// The error is a [*quantity.Mistake].
func Layer(text string, own ...model.Material) (model.Layer, error) {
	layer, name, err := layerPhrase(text, own)
	if err != nil {
		return layer, err
	}
	return layer, layerComplete(&layer, name)
}

// Fill is Layer for what fills a place: wool may go without a thickness.
func Fill(text string, own []model.Material) (model.Layer, error) {
	layer, name, err := layerPhrase(text, own)
	if err != nil {
		return layer, err
	}
	whole := layer
	if absorber.FormOf(layer) == absorber.Wool {
		whole.Thickness = 1
	}
	return layer, layerComplete(&whole, name)
}

// layerPhrase reads what a phrase says and leaves open what it lacks.
func layerPhrase(text string, own []model.Material) (model.Layer, layerName, error) {
	if strings.TrimSpace(text) == "" {
		return model.Layer{}, layerName{}, &quantity.Mistake{What: "a layer is empty", Right: "write it as wool 200 mm 6 kPa·s/m², or leave out the comma"}
	}
	parts, err := quantity.Scan(text)
	if err != nil {
		return model.Layer{}, layerName{}, err
	}
	if parts[0].Text == "" {
		return model.Layer{}, layerName{}, &quantity.Mistake{What: model.Sprintf("%q is not a layer", text), Right: "write a name and a thickness, such as wool 200 mm 6 kPa·s/m²"}
	}
	name, keyword, err := layerHead(parts[0].Text, own)
	if err != nil {
		return model.Layer{}, layerName{}, err
	}
	parts[0].Text = keyword
	parts = freeWords(parts)
	layer := model.Layer{Kind: name.kind, Text: text, Material: name.material}
	for _, p := range parts {
		if p.Text = layerFrame(&layer, p.Text); p.Text == "" && p.Number == "" {
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
func freeWords(parts []quantity.Part) []quantity.Part {
	var words []string
	for _, f := range Figures() {
		first, _, _ := strings.Cut(f.Name, " ")
		words = append(words, f.Word, first)
	}
	for _, w := range frameWords {
		words = append(words, w.word)
	}
	for i := 0; i < len(parts); i++ {
		word := parts[i].Unit
		if word == "" || !slices.Contains(words, word) {
			continue
		}
		if parts[i].Unit = ""; i == len(parts)-1 {
			parts = append(parts, quantity.Part{})
		}
		parts[i+1].Text = strings.TrimSpace(word + " " + parts[i+1].Text)
	}
	return parts
}

// takeOver fills the figures that a layer leaves at zero from another.
func takeOver(l, from *model.Layer) {
	for _, f := range Figures() {
		if to := f.Place(l); *to == 0 {
			*to = *f.Place(from)
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
		return best, "", &quantity.Mistake{What: model.Sprintf("no layer is called %q", words), Right: layerMeant(words, names)}
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
	if n := quantity.Nearest(words, names); n != "" && len(list) == 0 {
		list = []string{n}
	}
	if fields := strings.Fields(words); len(list) == 0 && len(fields) > 0 {
		list = namesWith(fields[len(fields)-1], names)
	}
	if len(list) == 0 {
		var words []string
		for _, k := range absorber.Kinds() {
			words = append(words, k.Word)
		}
		return "known are " + strings.Join(words, ", ") + " and the materials of the library"
	}
	for i := range list {
		list[i] = model.Sprintf("%q", list[i])
	}
	return "did you mean " + strings.Join(list, ", ") + "?"
}

// layerFrame takes a word on the skeleton of a porous layer off the words before a
// number, or at the end.
func layerFrame(l *model.Layer, words string) string {
	first, rest, _ := strings.Cut(words, " ")
	for _, w := range frameWords {
		if first == w.word && absorber.FormOf(*l) == absorber.Wool && l.Frame == model.FrameUnknown {
			l.Frame = w.frame
			return rest
		}
	}
	return words
}

// Format writes a layer as a phrase: its own text if that still says the same,
// else its figures.
func Format(l model.Layer, own []model.Material) string {
	if same, err := Layer(l.Text, own...); err == nil && same == l {
		return l.Text
	}
	words, kind := []string{layerNameOf(l)}, absorber.KindOf(l.Kind)
	for _, f := range Figures() {
		v := *f.Place(&l)
		if v == 0 || !kind.May(f.Quantity) {
			continue
		}
		if f.Word != "" {
			words = append(words, f.Word)
		}
		words = append(words, f.Dimension.Format(v, f.Write...))
	}
	if w := FrameWord(l.Frame); w != "" {
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
