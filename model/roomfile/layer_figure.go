package roomfile

import (
	"strings"

	"evenbass/model"
	"evenbass/model/material/absorber"
)

// layerFigure puts one number where it belongs.
func layerFigure(l *model.Layer, text string, p part) error {
	if p.number == "" {
		return &Mistake{model.Sprintf("%q stands at the end of %q without a number", p.text, text), ""}
	}
	f, err := figureOf(l.Kind, text, p)
	if err != nil {
		return err
	}
	if p.unit == "" && f.dimension == &lengths {
		return &Mistake{model.Sprintf("%q has no unit in %q", p.number, text), "write " + join(p.number, usualThickness(l.Kind)) + " if that is its " + f.name}
	}
	v, err := f.dimension.convert(strings.TrimSpace(p.text+" "+p.number+" "+p.unit), p)
	if err != nil {
		return err
	}
	if v <= 0 {
		return &Mistake{model.Sprintf("the %s of %q must be above zero", f.name, text), ""}
	}
	if to := f.place(l); *to == 0 {
		*to = v
	} else {
		return &Mistake{model.Sprintf("%q gives the %s twice", text, f.name), "leave one out, or part two layers by a comma"}
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
func figureOf(kind model.LayerKind, text string, p part) (figure, error) {
	var words, units []string
	takes := absorber.KindOf(kind)
	for _, f := range layerFigures() {
		if !takes.May(f.quantity) {
			continue
		}
		if f.word != "" {
			words = append(words, f.word)
		} else {
			units = append(units, f.dimension.like)
		}
		_, known := f.dimension.find(p.unit)
		named := f.word == p.text || f.word != "" && f.name == p.text
		if named && (known || p.text != "" || p.unit == "" && f.quantity == absorber.Thickness) {
			return f, nil
		}
	}
	if p.text != "" {
		return figure{}, &Mistake{model.Sprintf("%q is not a word for this layer in %q", p.text, text), didYouMean(p.text, words)}
	}
	return figure{}, &Mistake{model.Sprintf("%q in %q is no figure of this layer", p.number+" "+p.unit, text), "its units are " + strings.Join(units, ", ")}
}

// plausible catches figures that are off by a factor of a thousand.
func plausible(f figure, l *model.Layer, p part) error {
	switch v := *f.place(l); {
	case f.quantity == absorber.FlowResistivity && v < 500 && !strings.HasPrefix(p.unit, "k"):
		return &Mistake{
			model.Sprintf("%s %s is nearly no resistance", p.number, p.unit),
			model.Sprintf("did you mean %s k%s?", p.number, p.unit),
		}
	case f.quantity == absorber.FlowResistivity && v > 1e6:
		return &Mistake{
			model.Sprintf("%s %s would hardly let air through", p.number, p.unit),
			"fibre mats have 1 to 100 kPa·s/m²",
		}
	case f.quantity == absorber.OpenArea && v > 1:
		return &Mistake{model.Sprintf("an open area of %s %s is more than all of it", p.number, p.unit), "write it as open 3 %"}
	case f.quantity == absorber.Porosity && v > 1:
		return &Mistake{model.Sprintf("a porosity of %s %s is more than all of it", p.number, p.unit), "write it as porosity 98 %"}
	case f.quantity == absorber.Tortuosity && v < 1:
		return &Mistake{model.Sprintf("a tortuosity of %s %s is below 1, that of straight pores", p.number, p.unit), "wool has 1 to 1.1"}
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
			return &Mistake{model.Sprintf("%q needs its %s", l.Text, f.name), "write it as " + n.name + " " + f.sample}
		}
		names = append(names, f.name)
		example += " " + strings.TrimSpace(f.word+" "+f.sample)
	}
	return &Mistake{model.Sprintf("%q needs its %s", l.Text, strings.Join(names, " and ")), "write it as " + example}
}
