package roomfile

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"evenbass/model"
	"evenbass/model/material/absorber"
)

// withMaterials is a valid file around a section of materials and the layers of one
// treatment.
func withMaterials(materials, layers string) string {
	return fmt.Sprintf(`room: {length: 4.7 m, width: 3.4 m, height: 2.4 m}
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
materials:
%s
treatments:
  - {name: rear, wall: back, layers: [%s]}
speakers: {box: {depth: 28 cm, width: 21 cm, height: 34 cm}}
seats: [{name: chair, may_move: [{x: 1.5 m to 2.5 m}]}]
`, materials, layers)
}

const feltAndDrape = `  - {name: cotton felt, kind: porous, flow_resistivity: 25 kPa·s/m², density: 60 kg/m³, frame: limp, source: own measurement}
  - {name: stage drape, kind: film, mass_per_area: 400 g/m²}
  - {name: steel sheet, kind: panel, thickness: 1 mm, density: 7850 kg/m³, damping: 300 Pa·s/m}`

// A layer that names a material of the owner's takes over its figures; those that the
// phrase gives win.
func TestOwnMaterials(t *testing.T) {
	t.Parallel()
	p, err := Read(strings.NewReader(withMaterials(feltAndDrape, "stage drape, cotton felt 20 mm, cotton felt 30 mm 12 kPa·s/m² held, steel sheet")), "own.yaml")
	if err != nil {
		t.Fatal(err)
	}
	want := []model.Layer{
		{Kind: model.FilmLayer, Text: "stage drape", SurfaceMass: 0.4},
		{Kind: model.PorousLayer, Text: "cotton felt 20 mm", Thickness: 0.02, Resistivity: 25000, Density: 60, Frame: model.FrameLimp},
		{Kind: model.PorousLayer, Text: "cotton felt 30 mm 12 kPa·s/m² held", Thickness: 0.03, Resistivity: 12000, Density: 60, Frame: model.FrameFixed},
		{Kind: model.PanelLayer, Text: "steel sheet", Thickness: 0.001, Density: 7850, Damping: 300},
	}
	if d := cmp.Diff(want, p.Room.Treatments[0].Layers); d != "" {
		t.Error(d)
	}
	if _, _, err := absorber.NewStack(p.Room.Treatments[0].Layers, nil); err != nil {
		t.Errorf("the build-up cannot be computed: %v", err)
	}
	text := written(t, p)
	back, err := Read(strings.NewReader(text), "written")
	if err != nil || !same(p, back) {
		t.Errorf("%v\n%s\n%s", err, cmp.Diff(p, back), text)
	}
}

// Layers in one string know the owner's materials as well.
func TestOwnMaterialsInOneString(t *testing.T) {
	t.Parallel()
	text := strings.Replace(withMaterials(feltAndDrape, "x"), "[x]", `"stage drape, cotton felt 20 mm"`, 1)
	p, err := Read(strings.NewReader(text), "own.yaml")
	if err != nil || len(p.Room.Treatments[0].Layers) != 2 {
		t.Errorf("%+v, %v", p, err)
	}
}

// Each mistake names its line and what would be right.
func TestOwnMaterialMistakes(t *testing.T) {
	t.Parallel()
	for line, want := range map[string]string{
		"{kind: porous, flow_resistivity: 8 kPa·s/m²}":                                                     "materials[0].name: is missing",
		"{name: felt, flow_resistivity: 8 kPa·s/m²}":                                                       "materials[0].kind: is missing",
		"{name: felt, kind: porous}":                                                                       "flow_resistivity: is missing",
		"{name: sheet, kind: panel, thickness: 2 mm}":                                                      "mass_per_area: is missing",
		"{name: felt, kind: woolly, flow_resistivity: 8 kPa·s/m²}":                                         `no kind of material is called "woolly"`,
		"{name: felt, kind: porus, flow_resistivity: 8 kPa·s/m²}":                                          `did you mean "porous"?`,
		"{name: felt, kind: porous, flow_resistivity: 8 Pa·s/m²}":                                          "did you mean 8 kPa·s/m²?",
		"{name: felt, kind: porous, flow_resistivity: -8 kPa·s/m²}":                                        "must be above zero",
		"{name: felt, kind: porous, flow_resistivity: 8}":                                                  "has no unit",
		"{name: felt, kind: porous, flow_resistivity: 8 kPa·s/m², porosity: 2}":                            "more than all of it",
		"{name: felt, kind: porous, flow_resistivity: 8 kPa·s/m², tortuosity: 0.5}":                        "below 1",
		"{name: felt, kind: porous, flow_resistivity: 8 kPa·s/m², frame: loose}":                           "write held or limp",
		"{name: felt, kind: porous, flow_resistivity: 8 kPa·s/m², stiffness: 3 Pa/m}":                      `unknown key "stiffness"`,
		"{name: wool, kind: porous, flow_resistivity: 8 kPa·s/m²}":                                         `there is a "wool" already`,
		"{name: stone wool batts, kind: porous, flow_resistivity: 8 kPa·s/m²}":                             "choose another name",
		"{name: felt 20, kind: porous, flow_resistivity: 8 kPa·s/m²}":                                      "no figures",
		"{name: \"a, b\", kind: porous, flow_resistivity: 8 kPa·s/m²}":                                     "cannot be the name",
		"{name: x, kind: film, mass_per_area: 1 kg/m²}\n  - {name: x, kind: film, mass_per_area: 1 kg/m²}": `there is a "x" already`,
	} {
		_, err := Read(strings.NewReader(withMaterials("  - "+line, "air 10 mm")), "own.yaml")
		if err == nil || !strings.Contains(err.Error(), want) || !(strings.Contains(err.Error(), "own.yaml:4:") || strings.Contains(err.Error(), "own.yaml:5:")) {
			t.Errorf("%s: got %v, want lines 4 or 5 with %q", line, err, want)
		}
	}
}

// A misspelt material of the owner's is suggested as those of the library are.
func TestOwnMaterialSuggested(t *testing.T) {
	t.Parallel()
	_, err := Read(strings.NewReader(withMaterials(feltAndDrape, "coton felt 20 mm")), "own.yaml")
	if err == nil || !strings.Contains(err.Error(), `did you mean "cotton felt"?`) {
		t.Errorf("got %v", err)
	}
}
