package roomfile

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// ownMaterial is a material of the owner's own. Its figures are those of a layer
// phrase, under their names with underscores for spaces. Materials before it in the
// list have taken their names.
func ownMaterial(f *form, m *model.Material, before []model.Material) {
	must(f, "name", "cotton felt", &m.Name, ownName(before))
	must(f, "kind", "porous", &m.Layer.Kind, layerKind)
	kind := absorber.KindOf(m.Layer.Kind)
	for _, g := range phrase.Figures() {
		if m.Layer.Kind == 0 || kind.May(g.Quantity) {
			may(f, strings.ReplaceAll(g.Name, " ", "_"), g.Place(&m.Layer), figureValue(g))
		}
	}
	if m.Layer.Kind == 0 || kind.Form == absorber.Wool {
		may(f, "frame", &m.Layer.Frame, frameValue)
	}
	may(f, "source", &m.Source, nameValue)
	if f.reading() {
		ownComplete(f, m)
	}
}

// layerKind is the codec of the kinds that a material may be of.
var layerKind = codec[model.LayerKind]{
	func(text string) (model.LayerKind, error) {
		var words []string
		for _, k := range absorber.Kinds() {
			switch k.Key {
			case "":
				continue
			case text:
				return k.Kind, nil
			}
			words = append(words, k.Key)
		}
		return 0, &quantity.Mistake{What: model.Sprintf("no kind of material is called %q", text), Right: quantity.DidYouMean(text, words)}
	},
	func(kind model.LayerKind) string { return absorber.KindOf(kind).Key },
}

var frameValue = codec[model.Frame]{
	func(text string) (model.Frame, error) {
		if frame, ok := phrase.Frame(text); ok {
			return frame, nil
		}
		return 0, &quantity.Mistake{What: model.Sprintf("%q does not say how the skeleton is held", text), Right: "write held or limp"}
	},
	phrase.FrameWord,
}

// ownName is the codec of the name of a material: words without figures, none of them
// the name of a layer already.
func ownName(before []model.Material) codec[string] {
	return codec[string]{
		func(text string) (string, error) {
			name := quantity.Tidy(text)
			if name == "" || !unicode.IsLetter([]rune(name)[0]) || strings.ContainsFunc(name, func(r rune) bool {
				return !unicode.IsLetter(r) && r != ' ' && r != '-'
			}) {
				return "", &quantity.Mistake{What: model.Sprintf("%q cannot be the name of a material", text), Right: "use letters, spaces and hyphens, and no figures"}
			}
			if slices.Contains(phrase.Names(before), name) {
				return "", &quantity.Mistake{What: model.Sprintf("there is a %q already", name), Right: "choose another name, such as my " + name}
			}
			return phrase.Name(name)
		},
		func(name string) string { return name },
	}
}

// figureValue is the codec of a figure under a key of its own.
func figureValue(g phrase.Figure) codec[float64] {
	return codec[float64]{
		func(text string) (float64, error) {
			v, err := g.Dimension.Parse(text)
			if err != nil {
				return 0, err
			}
			if v <= 0 {
				return 0, &quantity.Mistake{What: model.Sprintf("the %s must be above zero", g.Name)}
			}
			var l model.Layer
			*g.Place(&l) = v
			parts, err := quantity.Scan(text)
			if err != nil {
				return 0, err
			}
			return v, phrase.Plausible(g, &l, parts[0])
		},
		func(v float64) string { return g.Dimension.Format(v, g.Write...) },
	}
}

// ownComplete notes what a material lacks. What has a word of its own, like holes, may be
// said with each use.
func ownComplete(f *form, m *model.Material) {
	if f.node.value("kind") == nil || m.Layer.Kind == 0 {
		return
	}
	key := func(q absorber.Quantity) string { return strings.ReplaceAll(phrase.FigureOf(q).Name, " ", "_") }
	for _, need := range absorber.KindOf(m.Layer.Kind).Needs {
		g := phrase.FigureOf(need[0])
		said := slices.ContainsFunc(need, func(q absorber.Quantity) bool { return f.node.value(key(q)) != nil })
		if g.Word == "" && !said {
			f.lack(key(need[0]), g.Sample)
		}
	}
}

// construction is the codec of the name of a construction, in the library's spelling.
var construction = codec[string]{
	func(s string) (string, error) {
		if c, ok := material.Lookup(s); ok {
			return c.Name, nil
		}
		return "", &quantity.Mistake{What: model.Sprintf("no construction is called %q", s), Right: "did you mean \"" + material.Nearest(s) + "\"? evenbass new --list lists all"}
	},
	func(s string) string { return s },
}

// warnings are those of the project, and those about constructions in places that they
// are not made for.
func warnings(p *model.Project) []model.Warning {
	warnings := p.FindWarnings()
	misplaced := func(what string, s model.Surface, serves material.Kind) {
		c, ok := material.Lookup(s.Construction)
		if ok && c.Kind&serves == 0 {
			warnings = append(warnings, model.ConstructionMisplaced{Surface: what, Construction: c.Name, Serves: c.Kind.String()})
		}
	}
	for _, f := range model.Faces {
		serves := material.Wall | material.Door | material.Window // a whole wall may be glass
		switch f {
		case model.Floor:
			serves = material.Floor
		case model.Ceiling:
			serves = material.Ceiling
		}
		misplaced("the "+f.Wall(), p.Room.Walls[f], serves)
	}
	for _, o := range p.Room.Openings {
		serves := material.Door | material.Window
		misplaced(fmt.Sprintf("a %s in the %s", o.Kind, p.Room.OpeningWall(&o)), o.Surface, serves)
	}
	return warnings
}
