package phrase

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
	f, err := readFigure(l.Kind, text, p)
	if err != nil {
		return err
	}
	if p.Unit == "" && f.Dimension == &quantity.Lengths {
		return &quantity.Mistake{What: model.Sprintf("%q has no unit in %q", p.Number, text), Right: "write " + quantity.Join(p.Number, usualThickness(l.Kind)) + " if that is its " + f.Name}
	}
	v, err := f.Dimension.Convert(strings.TrimSpace(p.Text+" "+p.Number+" "+p.Unit), p)
	if err != nil {
		return err
	}
	if v <= 0 {
		return &quantity.Mistake{What: model.Sprintf("the %s of %q must be above zero", f.Name, text)}
	}
	if to := f.Place(l); *to == 0 {
		*to = v
	} else {
		return &quantity.Mistake{What: model.Sprintf("%q gives the %s twice", text, f.Name), Right: "leave one out, or part two layers by a comma"}
	}
	return Plausible(f, l, p)
}

// usualThickness is the unit in which the thickness of a layer is sold.
func usualThickness(kind model.LayerKind) string {
	if kind == model.FilmLayer {
		return "µm"
	}
	return "mm"
}

// usualLayer is a thickness that such layers have.
func usualLayer(kind model.LayerKind) string {
	switch absorber.KindOf(kind).Form {
	case absorber.Film:
		return "100 µm"
	case absorber.Board, absorber.Pierced:
		return "12 mm"
	}
	return "100 mm"
}

// readFigure finds the figure that a number is, by its keyword and its unit.
func readFigure(kind model.LayerKind, text string, p quantity.Part) (Figure, error) {
	var words, units []string
	takes := absorber.KindOf(kind)
	for _, f := range Figures() {
		if !takes.May(f.Quantity) {
			continue
		}
		if f.Word != "" {
			words = append(words, f.Word)
		} else {
			units = append(units, f.Dimension.Like)
		}
		_, known := f.Dimension.Find(p.Unit)
		named := f.Word == p.Text || f.Word != "" && f.Name == p.Text
		if named && (known || p.Text != "" || p.Unit == "" && f.Quantity == absorber.Thickness) {
			return f, nil
		}
	}
	if p.Text != "" {
		return Figure{}, &quantity.Mistake{What: model.Sprintf("%q is not a word for this layer in %q", p.Text, text), Right: quantity.DidYouMean(p.Text, words)}
	}
	return Figure{}, &quantity.Mistake{What: model.Sprintf("%q in %q is no figure of this layer", p.Number+" "+p.Unit, text), Right: "its units are " + strings.Join(units, ", ")}
}

// Plausible catches figures that are off by a factor of a thousand.
func Plausible(f Figure, l *model.Layer, p quantity.Part) error {
	switch v := *f.Place(l); {
	case f.Quantity == absorber.FlowResistivity && v < 500 && !strings.HasPrefix(p.Unit, "k"):
		return &quantity.Mistake{
			What:  model.Sprintf("%s %s is nearly no resistance", p.Number, p.Unit),
			Right: model.Sprintf("did you mean %s k%s?", p.Number, p.Unit),
		}
	case f.Quantity == absorber.FlowResistivity && v > 1e6:
		return &quantity.Mistake{
			What:  model.Sprintf("%s %s would hardly let air through", p.Number, p.Unit),
			Right: "fibre mats have 1 to 100 kPa·s/m²",
		}
	case f.Quantity == absorber.OpenArea && v > 1:
		return &quantity.Mistake{What: model.Sprintf("an open area of %s %s is more than all of it", p.Number, p.Unit), Right: "write it as open 3 %"}
	case f.Quantity == absorber.Porosity && v > 1:
		return &quantity.Mistake{What: model.Sprintf("a porosity of %s %s is more than all of it", p.Number, p.Unit), Right: "write it as porosity 98 %"}
	case f.Quantity == absorber.Tortuosity && v < 1:
		return &quantity.Mistake{What: model.Sprintf("a tortuosity of %s is below 1, that of straight pores", quantity.Join(p.Number, p.Unit)), Right: "wool has 1 to 1.1"}
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
		f := FigureOf(need[0])
		if f.Quantity == absorber.Thickness {
			return &quantity.Mistake{What: model.Sprintf("%q needs its %s", l.Text, f.Name), Right: "write it as " + n.name + " " + usualLayer(l.Kind) + strings.TrimPrefix(l.Text, n.name)}
		}
		names = append(names, f.Name)
		example += " " + strings.TrimSpace(f.Word+" "+f.Sample)
	}
	return &quantity.Mistake{What: model.Sprintf("%q needs its %s", l.Text, strings.Join(names, " and ")), Right: "write it as " + example}
}
