package phrase

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile/quantity"
)

// The text aside, a phrase gives exactly these figures.
func TestParseLayer(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]model.Layer{
		"film 100 µm":                      {Kind: model.FilmLayer, Thickness: 1e-4},
		"film 4 mil":                       {Kind: model.FilmLayer, Thickness: 1.016e-4},
		"film 0.2 kg/m²":                   {Kind: model.FilmLayer, SurfaceMass: 0.2},
		"film 200 g/m2":                    {Kind: model.FilmLayer, SurfaceMass: 0.2},
		"wool 200 mm 6 kPa·s/m²":           {Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000},
		"wool 200 mm 6000 Pa·s/m²":         {Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000},
		"wool 200 mm 6 kPa.s/m2":           {Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000},
		"wool 200 mm 6 kPa s/m^2":          {Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000},
		"wool 200 mm 6 krayl/m":            {Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000},
		"wool 200 mm 6 rayl/cm":            {Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000}, // CGS
		"wool 6 kPa·s/m² 200 mm":           {Kind: model.PorousLayer, Thickness: 0.2, Resistivity: 6000},
		"wool 100 mm 12 kPa·s/m² 40 kg/m³": {Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 12000, Density: 40},
		"wool 100 mm 6 kPa·s/m² limp":      {Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000, Frame: model.FrameLimp},
		"wool fixed 100 mm 6 kPa·s/m²":     {Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000, Frame: model.FrameFixed},
		"wool 100 mm 6 kPa·s/m² held":      {Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000, Frame: model.FrameFixed},
		"panel 8.8 kg/m²":                  {Kind: model.PanelLayer, SurfaceMass: 8.8},
		"wool 40 mm 8 kPa·s/m² porosity 98 % tortuosity 1.1 viscous length 130 µm thermal length 260 µm limp": {
			Kind: model.PorousLayer, Thickness: 0.04, Resistivity: 8000, Porosity: 0.98, Tortuosity: 1.1,
			ViscousLength: 1.3e-4, ThermalLength: 2.6e-4, Frame: model.FrameLimp,
		},
		"wool 40 mm 8 kPa·s/m² viscous 130 µm thermal 260 µm": {
			Kind: model.PorousLayer, Thickness: 0.04, Resistivity: 8000, ViscousLength: 1.3e-4, ThermalLength: 2.6e-4,
		},
		"panel 4 mm 2.4 kg/m² damping 120 Pa·s/m stiffness 500000 Pa/m": {
			Kind: model.PanelLayer, Thickness: 0.004, SurfaceMass: 2.4, Damping: 120, Stiffness: 5e5,
		},
		"wool 100 mm 6 kPa·s/m² porosity 95%": {Kind: model.PorousLayer, Thickness: 0.1, Resistivity: 6000, Porosity: 0.95},
		"stone wool batts 100 mm":             {Kind: model.PorousLayer, Material: "stone wool batts", Thickness: 0.1},
		"stone wool batts 4 in 8 kPa·s/m²":    {Kind: model.PorousLayer, Material: "stone wool batts", Thickness: 0.1016, Resistivity: 8000},
		"air 100 mm":                          {Kind: model.GapLayer, Thickness: 0.1},
		"perforated 6 mm holes 5 mm open 3 %": {Kind: model.PerforatedLayer, Thickness: 0.006, HoleDiameter: 0.005, OpenArea: 0.03},
		"slotted 9 mm slots 4 mm open 5 %":    {Kind: model.SlottedLayer, Thickness: 0.009, HoleDiameter: 0.004, OpenArea: 0.05},
		"panel 12.5 mm 8.8 kg/m²":             {Kind: model.PanelLayer, Thickness: 0.0125, SurfaceMass: 8.8},
		"plywood 4 mm":                        {Kind: model.PanelLayer, Material: "plywood", Thickness: 0.004},
		"kraft paper":                         {Kind: model.FilmLayer, Material: "kraft paper"},
	} {
		got, err := Layer(text)
		want.Text = text
		if err != nil || got != want {
			t.Errorf("%q is\n%+v, %v; want\n%+v", text, got, err, want)
		}
	}
}

func TestLayerMistakes(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"":                     "a layer is empty",
		"200 mm":               "is not a layer",
		"wool":                 "needs its thickness",
		"felt 20 mm":           `no layer is called "felt"`,
		"wol 20 mm 6 kPa·s/m²": `did you mean "wool"?`,
		"wool 200 6 kPa·s/m²":  `"200" has no unit in "wool 200 6 kPa·s/m²"; write 200 mm`,
		"film 100":             `"100" has no unit in "film 100"; write 100 µm`,
		"wool 200 mm 6":        `"6" has no unit`,
		"wool 200 mm 6 kPa·s/m² porosity 980 %": "more than all of it",
		"wool 1 mm 9 kPa·s/m² tortuosity 0.9":   "below 1",
		"wool 1 mm 9 kPa·s/m² limpid":           `"limpid" stands at the end`,
		"wool 1 mm 9 kPa·s/m² viscous 130":      "write 130 mm if that is its viscous length",
		"wool 200 mm":                           "needs its flow resistivity",
		"wool 200 mm 10 Pa·s/m²":                "10 Pa·s/m² is nearly no resistance; did you mean 10 kPa·s/m²?",
		"wool 200 mm 10 rayl/m":                 "did you mean 10 krayl/m?",
		"wool 200 mm 6000 kPa·s/m²":             "would hardly let air through",
		"wool 0 mm 6 kPa·s/m²":                  "must be above zero",
		"wool -5 cm 6 kPa·s/m²":                 "must be above zero",
		"wool 5 cm 6 cm 6 kPa·s/m²":             "gives the thickness twice",
		"wool 5 cm 6 kPa·s/m² soft":             `"soft" stands at the end`,
		"wool 5 cm thick 6 kPa·s/m²":            `"thick" is not a word for this layer`,
		"wool 0,2 m 6 kPa·s/m²":                 "has a comma inside a number",
		"air 100 mm 6 kPa·s/m²":                 "is no figure of this layer",
		"film 2 kPa·s/m²":                       "is no figure of this layer",
		"perforated 6 mm":                       "needs its hole diameter and open area",
		"perforated 6 mm holes 5 mm":            "needs its open area",
		"slotted 9 mm slots 4 mm":               "needs its open area",
		"panel 12 mm":                           "needs its mass per area",
		"plywood":                               "needs its thickness",
		"perforated 6 mm hole 5 mm":             `did you mean "holes"?`,
		"slotted 9 mm slots 4 open 5%":          `"4" has no unit`,
		"perforated 6 mm holes 5 mm open 300 %": "more than all of it",
	} {
		l, err := Layer(text)
		var m *quantity.Mistake
		if !errors.As(err, &m) || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %+v and %v, want an error with %q", text, l, err, want)
		}
	}
}

func TestLayers(t *testing.T) {
	t.Parallel()
	layers, err := Layers("film 100 µm, wool 200 mm 6 kPa·s/m²,air 5 cm")
	if err != nil || len(layers) != 3 || layers[1].Text != "wool 200 mm 6 kPa·s/m²" || layers[2].Thickness != 0.05 {
		t.Errorf("got %+v, %v", layers, err)
	}
	for text, want := range map[string]string{
		"":                        "a layer is empty",
		"film 100 µm,":            "a layer is empty",
		"air 1 m,, air 1 m":       "a layer is empty",
		"wool 0,2 m 6 kPa·s/m²":   "write wool 0.2 m 6 kPa·s/m²",
		"wool 1 m 10,000 Pa·s/m²": "or wool 1 m 10000 Pa·s/m²",
	} {
		if l, err := Layers(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: got %+v and %v, want an error with %q", text, l, err, want)
		}
	}
}

// Every material of the library may open a phrase, and is found by its whole name.
func TestEveryMaterialIsALayer(t *testing.T) {
	t.Parallel()
	for _, m := range absorber.Materials() {
		l, err := Layer(m.Name + " 20 mm")
		if err != nil || l.Material != m.Name || l.Kind != m.Kind {
			t.Errorf("%s: %+v, %v", m.Name, l, err)
		}
	}
}

// A layer that was made by a program, without a text, is written by its figures.
func TestFormatLayerReadsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		l, err := Layer(rapid.SampledFrom(phrases).Draw(t, "phrase"))
		if err != nil {
			t.Fatal(err)
		}
		if l.Thickness > 0 {
			l.Thickness = rapid.Float64Range(1e-6, 2).Draw(t, "thickness")
		}
		if l.Resistivity > 0 {
			l.Resistivity = rapid.Float64Range(600, 1e5).Draw(t, "resistivity")
		}
		l.Text = ""
		text := Format(l, nil)
		got, err := Layer(text)
		if got.Text = ""; err != nil || got != l {
			t.Fatalf("%+v is written %q and reads %+v, %v", l, text, got, err)
		}
	})
}

// The flow resistance of 200 mm of wool at 6 kPa·s/m² is 1200 Pa·s/m, some three times
// that of air (413 Pa·s/m at 20 °C): a figure that the units alone decide.
func TestLayerUnitsGiveFlowResistance(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"wool 200 mm 6 kPa·s/m²", "wool 20 cm 6 krayl/m", "wool 0.2 m 6000 rayl/m"} {
		l, err := Layer(text)
		if err != nil || math.Abs(l.Thickness*l.Resistivity-1200) > 1e-9 {
			t.Errorf("%q: %v Pa·s/m, %v", text, l.Thickness*l.Resistivity, err)
		}
	}
}

func ExampleLayers() {
	layers, err := Layers("wool 50 mm 6 kPa·s/m², film 100 µm, stone wool batts 200 mm")
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, l := range layers {
		fmt.Printf("%.4f m  %s\n", l.Thickness, l.Text)
	}
	// Output:
	// 0.0500 m  wool 50 mm 6 kPa·s/m²
	// 0.0001 m  film 100 µm
	// 0.2000 m  stone wool batts 200 mm
}

// The mistake that a bare kind makes says how to write it whole, and so written it is
// read; each quantity that a kind may have can be written.
func TestEveryKindCanBeWritten(t *testing.T) {
	t.Parallel()
	for _, k := range absorber.Kinds() {
		text := k.Word
		for range 2 {
			var m *quantity.Mistake
			if _, err := Layer(text); errors.As(err, &m) {
				text = strings.TrimPrefix(m.Right, "write it as ")
			}
		}
		l, err := Layer(text)
		if err != nil || l.Kind != k.Kind {
			t.Errorf("%q: %+v, %v", text, l, err)
		}
		for _, q := range k.Takes {
			f := FigureOf(q)
			whole := l
			*q.Of(&whole) = 0
			text := strings.TrimSpace(Format(whole, nil) + " " + f.Word + " " + f.Sample)
			if got, err := Layer(text); err != nil || *q.Of(&got) == 0 {
				t.Errorf("%q: %+v, %v", text, got, err)
			}
		}
	}
}

func ExampleLayer() {
	felt := model.Material{Name: "cotton felt", Layer: model.Layer{Kind: model.PorousLayer, Resistivity: 25000}}
	l, err := Layer("cotton felt 20 mm", felt)
	fmt.Println(l.Thickness, l.Resistivity, err)
	// Output: 0.02 25000 <nil>
}

// phrases are layers of every kind.
var phrases = []string{
	"film 100 µm", "film 4 mil", "film 0.2 kg/m²", "wool 200 mm 6 kPa·s/m²", "wool 100 mm 12 kPa·s/m² 40 kg/m³",
	"stone wool batts 100 mm", "air 100 mm", "perforated 6 mm holes 5 mm open 3 %", "slotted 9 mm slots 4 mm open 5 %",
	"panel 12.5 mm 8.8 kg/m²", "plywood 4 mm", "wool 2 in 6 krayl/m limp", "kraft paper",
	"wool 40 mm 8 kPa·s/m² held porosity 98 % tortuosity 1.1 viscous length 130 µm thermal length 260 µm",
	"panel 8.8 kg/m² damping 120 Pa·s/m stiffness 500000 Pa/m",
}
