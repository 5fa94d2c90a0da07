package roomfile

import (
	"fmt"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// ParseLevel reads a level in dB. The error is a [*quantity.Mistake].
func ParseLevel(text string) (float64, error) { return quantity.Levels.Parse(text) }

// defaultSubwoofers is a section of subwoofers before its keys are read. The figures
// are common practice, no source: a box of 38 cm, filters that add up to a flat
// response, no high-pass, whatever a common amplifier can be set to.
func defaultSubwoofers() *model.Subwoofers {
	return &model.Subwoofers{
		Count: 1, Height: 0.25, Filter: model.LinkwitzRiley4,
		Box:     model.Dimensions{Depth: 0.38, Width: 0.38, Height: 0.40},
		LowPass: model.Range{Min: 50, Max: 120},
		Gain:    model.Range{Min: -12, Max: 6},
		Delay:   model.Range{Min: 0, Max: model.LongestDelay},
	}
}

// subwoofers is what may be chosen of the subwoofers.
func subwoofers(f *form, p *model.Project) {
	if !f.has("subwoofers", p.Subwoofers != nil) {
		return
	}
	if f.reading() {
		p.Subwoofers = defaultSubwoofers()
	}
	f.section("subwoofers", func(g *form) { subwooferKeys(g, p.Subwoofers) })
}

func subwooferKeys(f *form, s *model.Subwoofers) {
	must(f, "count", "2 (how many to plan for at most)", &s.Count, countValue)
	f.section("box", func(g *form) {
		boxKeys(g, &s.Box, "40 cm", "35 cm", "42 cm")
	})
	preset(f, "driver_height", &s.Height, lengthValue)
	amount(f, "low_limit", &s.LowLimit, frequencyValue)
	if f.reading() || s.LowLimit > 0 {
		preset(f, "alignment", &s.Alignment, alignmentValue)
	}
	preset(f, "low_pass", &s.LowPass, frequencyRange)
	preset(f, "filter", &s.Filter, filterValue)
	amount(f, "mains_high_pass", &s.HighPass, frequencyValue)
	preset(f, "gain", &s.Gain, levelRange)
	preset(f, "delay", &s.Delay, delayRange)
	preset(f, "polarity", &s.Polarity, polarityValue)
	preset(f, "stand", &s.Where, standValue)
	list(f, "may_stand", &s.Zones, model.Zone{}, zone)
	list(f, "now", &s.Placed, r3.Vec{}, func(g *form, at *r3.Vec) { corner(g, "at", at) })
}

// The codecs of subwoofers.
var (
	frequencyRange = codec[model.Range]{
		func(s string) (model.Range, error) { return setRange(s, quantity.ParseFrequency) },
		func(r model.Range) string { return formatRange(r, frequencyValue.format) },
	}
	levelRange = codec[model.Range]{
		func(s string) (model.Range, error) { return setRange(s, ParseLevel) },
		func(r model.Range) string {
			return formatEnds(r, func(v float64) string { return quantity.Levels.Format(v) })
		},
	}
	delayRange = codec[model.Range]{
		func(s string) (model.Range, error) { return setRange(s, quantity.ParseTime) },
		func(r model.Range) string {
			return formatEnds(r, func(v float64) string { return quantity.Times.Format(v, "ms") })
		},
	}
	alignmentValue = named(model.Sealed, model.Ported)
	filterValue    = named(model.Butterworth2, model.Butterworth4, model.LinkwitzRiley4)
	polarityValue  = enumerated(map[string]model.Polarity{
		"either": model.EitherPolarity, "normal": model.NormalPolarity, "reversed": model.ReversedPolarity,
	}, "either", "normal", "reversed")
	standValue = enumerated(map[string]model.Stand{
		"along walls": model.AlongWalls, "in corners": model.InCorners, "anywhere": model.Anywhere,
	}, "along walls", "in corners", "anywhere")
)

// setRange is ParseRange for what a knob is set to: both ends may be 0, and there is
// no "any".
func setRange(text string, parse func(string) (float64, error)) (model.Range, error) {
	if quantity.Tidy(text) == "any" {
		return model.Range{}, &quantity.Mistake{What: `"any" says nothing here`, Right: "write one value, or from low to high"}
	}
	return quantity.ParseEnds(text, parse)
}

// formatEnds is formatRange for a range that may be 0 to 0.
func formatEnds(r model.Range, format func(float64) string) string {
	if r.Min == r.Max {
		return format(r.Min)
	}
	return format(r.Min) + " to " + format(r.Max)
}

// named is the codec of values that tell their own names.
func named[T interface {
	comparable
	fmt.Stringer
}](values ...T) codec[T] {
	byName, names := map[string]T{}, []string{}
	for _, v := range values {
		byName[v.String()] = v
		names = append(names, v.String())
	}
	return enumerated(byName, names...)
}

// enumerated is the codec of values by name, the names in the order to offer them.
func enumerated[T comparable](byName map[string]T, names ...string) codec[T] {
	text := oneOf(names...)
	return codec[T]{
		func(s string) (T, error) {
			name, err := text.parse(quantity.Tidy(s))
			return byName[name], err
		},
		func(v T) string {
			for _, n := range names {
				if byName[n] == v {
					return n
				}
			}
			return names[0]
		},
	}
}
