package absorber

import (
	"fmt"
	"slices"

	"evenbass/model"
	"evenbass/model/material"
)

// Material is a generic material that a layer may name. Figures that its kind
// does not have are zero.
type Material struct {
	Name        string
	Kind        model.LayerKind
	Density     material.Span // bulk density, kg/m³
	Resistivity material.Span // flow resistivity, Pa·s/m²; porous
	SurfaceMass material.Span // kg/m²; sheets that are sold by it
	Source      string
	Note        string // one clause for the owner, or empty
}

// Lookup finds a material by its name. Case and repeated spaces do not
// matter.
func Lookup(name string) (Material, bool) {
	all, key := Materials(), material.PlainName(name)
	i := slices.IndexFunc(all, func(m Material) bool { return m.Name == key })
	if i < 0 {
		return Material{}, false
	}
	return all[i], true
}

// Materials returns the whole library in the order in which a table would show
// it: porous ones from light to dense, then sheets, then panels. The slice is
// the caller's.
func Materials() []Material {
	return slices.Concat(porousMaterials(), sheetMaterials(), panelMaterials())
}

const (
	rangeOfTrade = "common practice, no source: range of makers' figures for the class"
	statedClass  = "a maker's calculated 7,000 Pa·s/m² at 13 to 15 kg/m³ with 6,000 declared (EN 13162 class); the range is common practice"
	polyesterLaw = "σ = 26 ρ^1.4 for coarse polyester fibre, common practice, no source"
)

func porousMaterials() []Material {
	wool := func(name string, density, sigma material.Span, source, note string) Material {
		return Material{Name: name, Kind: model.PorousLayer, Density: density, Resistivity: sigma, Source: source, Note: note}
	}
	return []Material{
		wool("polyester batts", span(10, 15, 20), span(600, 1150, 2000), polyesterLaw, "no itching fibres; needs depth"),
		wool("glass wool roll", span(8, 11, 12), span(2500, 4000, 5000), rangeOfTrade, "loft roll: cheapest volume, sags"),
		wool("polyester slab", span(30, 40, 60), span(3000, 4500, 8500), polyesterLaw, "no itching fibres"),
		wool("sheep wool", span(15, 25, 45), span(1000, 3000, 8000), rangeOfTrade, "hemp and cotton are alike; scattered figures"),
		wool("glass wool slab", span(13, 15, 18), span(5000, 6500, 8000), statedClass, "soft slab for stud walls"),
		wool("cellulose", span(30, 45, 60), span(3000, 8000, 15000), rangeOfTrade, "loose fill, settles"),
		wool("stone wool batts", span(28, 35, 45), span(6000, 10000, 14000), rangeOfTrade, "friction fit between studs"),
		wool("foam", span(18, 25, 35), span(5000, 10000, 20000), rangeOfTrade, "open-cell; burns; never packing or upholstery foam"),
		wool("medium glass wool slab", span(20, 25, 32), span(9000, 13000, 18000), rangeOfTrade, "stands by itself"),
		wool("stone wool slab", span(50, 60, 70), span(15000, 22000, 30000), rangeOfTrade, ""),
		wool("glass wool board", span(40, 55, 70), span(20000, 30000, 40000), rangeOfTrade, "for thin panels, poor as a deep fill"),
		wool("stone wool board", span(80, 110, 140), span(35000, 55000, 80000), rangeOfTrade, "too resistive for deep layers"),
	}
}

func sheetMaterials() []Material {
	sheet := func(name string, mass material.Span, note string) Material {
		return Material{Name: name, Kind: model.FilmLayer, SurfaceMass: mass, Source: rangeOfTrade, Note: note}
	}
	return []Material{
		{
			Name: "polyethylene film", Kind: model.FilmLayer, Density: span(910, PolyethyleneDensity, 937),
			Source: "makers state 920 to 937 kg/m³ and ±10 % in thickness", Note: "melts and drips when it burns",
		},
		sheet("kraft paper", span(0.07, 0.095, 0.12), "burns"),
		sheet("foil-faced kraft paper", span(0.10, 0.13, 0.16), ""),
		sheet("vinyl cloth", span(0.3, 0.5, 0.7), ""),
		sheet("roofing felt", span(1, 1.5, 2), "smells, burns"),
		sheet("heavy limp barrier", span(2.5, 4, 5), "heavy: mind the fixing"),
	}
}

func panelMaterials() []Material {
	panel := func(name string, density material.Span, source string) Material {
		return Material{Name: name, Kind: model.PanelLayer, Density: density, Source: source}
	}
	return []Material{
		panel("plasterboard", span(650, 704, 860), "12.5 mm board of 8.8 kg/m², common practice"),
		panel("plywood", span(450, 600, 700), "4 mm sheet of 2.4 kg/m², common practice"),
		panel("hardboard", span(850, 950, 1050), rangeOfTrade),
		panel("fibreboard", span(650, 750, 850), rangeOfTrade),
		panel("particle board", span(600, 650, 750), rangeOfTrade),
		panel("glass", span(2450, 2500, 2550), "soda-lime float glass, EN 572-1"),
	}
}

// fill gives a layer the figures that it leaves at zero.
func (m Material) fill(l model.Layer) model.Layer {
	l.Kind = m.Kind
	l.Density = or(l.Density, m.Density.Typical)
	l.Resistivity = or(l.Resistivity, m.Resistivity.Typical)
	if l.SurfaceMass == 0 && m.SurfaceMass.Typical > 0 {
		l.SurfaceMass = m.SurfaceMass.Typical
	}
	return l
}

// complete fills in what a layer leaves to the library.
func complete(l model.Layer) (model.Layer, error) {
	if l.Material == "" {
		return l, nil
	}
	m, ok := Lookup(l.Material)
	if !ok {
		return l, fmt.Errorf("no material is called %q", l.Material)
	}
	return m.fill(l), nil
}

// span returns the lowest, the typical and the highest value of a figure.
func span(low, typical, high float64) material.Span {
	return material.Span{Low: low, Typical: typical, High: high}
}
