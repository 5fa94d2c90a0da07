package roomfile

import (
	"strings"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile/quantity"
)

// layerFigure puts one number where it belongs.
func layerFigure(l *model.Layer, text string, p quantity.Part) error {
	if p.Number == "" {
		return &quantity.Mistake{What: model.Sprintf("%q stands at the end of %q without a number", p.Text, text)}
	}
	f, err := figureOf(l.Kind, text, p)
	if err != nil {
		return err
	}
	if p.Unit == "" && f.dimension == &quantity.Lengths {
		return &quantity.Mistake{What: model.Sprintf("%q has no unit in %q", p.Number, text), Right: "write " + quantity.Join(p.Number, usualThickness(l.Kind)) + " if that is its " + f.name}
	}
	v, err := f.dimension.Convert(strings.TrimSpace(p.Text+" "+p.Number+" "+p.Unit), p)
	if err != nil {
		return err
	}
	if v <= 0 {
		return &quantity.Mistake{What: model.Sprintf("the %s of %q must be above zero", f.name, text)}
	}
	if to := f.place(l); *to == 0 {
		*to = v
	} else {
		return &quantity.Mistake{What: model.Sprintf("%q gives the %s twice", text, f.name), Right: "leave one out, or part two layers by a comma"}
	}
	return plausible(f, l, p)
}

// usualThickness is the unit in which the thickness of a layer is sold.
func usualThickness(kind model.LayerKind) string {
	if kind == model.FilmLayer {
		return "µm"
	}
	return "mm"
}

// figureOf finds the figure that a number is, by its keyword and its unit.
func figureOf(kind model.LayerKind, text string, p quantity.Part) (figure, error) {
	var words, units []string
	takes := absorber.KindOf(kind)
	for _, f := range layerFigures() {
		if !takes.May(f.quantity) {
			continue
		}
		if f.word != "" {
			words = append(words, f.word)
		} else {
			units = append(units, f.dimension.Like)
		}
		_, known := f.dimension.Find(p.Unit)
		named := f.word == p.Text || f.word != "" && f.name == p.Text
		if named && (known || p.Text != "" || p.Unit == "" && f.quantity == absorber.Thickness) {
			return f, nil
		}
	}
	if p.Text != "" {
		return figure{}, &quantity.Mistake{What: model.Sprintf("%q is not a word for this layer in %q", p.Text, text), Right: quantity.DidYouMean(p.Text, words)}
	}
	return figure{}, &quantity.Mistake{What: model.Sprintf("%q in %q is no figure of this layer", p.Number+" "+p.Unit, text), Right: "its units are " + strings.Join(units, ", ")}
}

// plausible catches figures that are off by a factor of a thousand.
func plausible(f figure, l *model.Layer, p quantity.Part) error {
	switch v := *f.place(l); {
	case f.quantity == absorber.FlowResistivity && v < 500 && !strings.HasPrefix(p.Unit, "k"):
		return &quantity.Mistake{
			What:  model.Sprintf("%s %s is nearly no resistance", p.Number, p.Unit),
			Right: model.Sprintf("did you mean %s k%s?", p.Number, p.Unit),
		}
	case f.quantity == absorber.FlowResistivity && v > 1e6:
		return &quantity.Mistake{
			What:  model.Sprintf("%s %s would hardly let air through", p.Number, p.Unit),
			Right: "fibre mats have 1 to 100 kPa·s/m²",
		}
	case f.quantity == absorber.OpenArea && v > 1:
		return &quantity.Mistake{What: model.Sprintf("an open area of %s %s is more than all of it", p.Number, p.Unit), Right: "write it as open 3 %"}
	case f.quantity == absorber.Porosity && v > 1:
		return &quantity.Mistake{What: model.Sprintf("a porosity of %s %s is more than all of it", p.Number, p.Unit), Right: "write it as porosity 98 %"}
	case f.quantity == absorber.Tortuosity && v < 1:
		return &quantity.Mistake{What: model.Sprintf("a tortuosity of %s %s is below 1, that of straight pores", p.Number, p.Unit), Right: "wool has 1 to 1.1"}
	}
	return nil
}

// layerComplete reports what a layer lacks.
func layerComplete(l *model.Layer, n layerName) error {
	missing := absorber.KindOf(l.Kind).Missing(*l)
	if len(missing) == 0 {
		return nil
	}
	example := l.Text
	var names []string
	for _, need := range missing {
		f := figureOfQuantity(need[0])
		if f.quantity == absorber.Thickness {
			return &quantity.Mistake{What: model.Sprintf("%q needs its %s", l.Text, f.name), Right: "write it as " + n.name + " " + f.sample}
		}
		names = append(names, f.name)
		example += " " + strings.TrimSpace(f.word+" "+f.sample)
	}
	return &quantity.Mistake{What: model.Sprintf("%q needs its %s", l.Text, strings.Join(names, " and ")), Right: "write it as " + example}
}
