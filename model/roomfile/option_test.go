package roomfile

import (
	"strings"
	"testing"

	"evenbass/model"
)

const someOptions = `treatments:
  - {name: rear layer, wall: back, layers: [film 100 µm, wool 200 mm 6 kPa·s/m²]}
options:
  - name: twice as deep
    remove: [rear layer]
    add: [{wall: back, layers: [wool 400 mm 6 kPa·s/m²]}]
  - name: at the front
    move: [{name: rear layer, wall: front, from: 0.5 m}]
    walls: {left: concrete}
  - {name: deeper, double: [rear layer]}
  - {name: softer, front: [{name: rear layer, layers: [wool 50 mm 6 kPa·s/m²]}]}
`

func TestOptions(t *testing.T) {
	t.Parallel()
	p := readText(t, around("", someOptions))
	if len(p.Options) != 4 || p.Options[2].Double[0] != "rear layer" || len(p.Options[3].Front[0].Layers) != 1 || p.Options[0].Remove[0] != "rear layer" || p.Options[1].Walls[model.Left].Construction != "concrete" {
		t.Fatalf("options %+v", p.Options)
	}
	q, err := p.With(&p.Options[1])
	if err != nil {
		t.Fatal(err)
	}
	moved := q.Room.Treatments[0]
	if moved.Patch.Face != model.Front || moved.Patch.Along != 0.5 || len(moved.Layers) != 2 {
		t.Errorf("moved %+v, wanted at the front with the layers it had", moved)
	}
	if p.Room.Treatments[0].Patch.Face != model.Back || q.Room.Walls[model.Left].Construction != "concrete" || len(q.Options) != 0 {
		t.Error("the project itself changed, or the wall did not")
	}
	if back := readText(t, written(t, p)); !same(p, back) {
		t.Errorf("reads back as %+v", back.Options)
	}
}

func TestOptionsThatCannotBe(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ options, at, what string }{
		{"options: [{name: a, remove: [rear]}]", "options[0].remove[0]", "no treatment is called"},
		{"options: [{name: a}]", "options[0]", "must change something"},
		{"options: [{name: a, add: [{wall: back, layers: [wool 9 m 6 kPa·s/m²]}]}]", "options[0].add[0].layers", "thinner than the room"},
		{"options: [{name: a, walls: {lef: concrete}}]", "options[0].walls", "unknown key"},
		{"options: [{name: a, double: [rear]}]", "options[0].double[0]", "no treatment is called"},
		{"options: [{name: a, front: [{layers: [wool 50 mm 6 kPa·s/m²]}]}]", "options[0].front[0].name", "is missing"},
		{"options: [{name: a, move: [{wall: back}]}]", "options[0].move[0].name", "is missing"},
	} {
		found := false
		for _, f := range faultsOf(t, strings.NewReader(around("", c.options))) {
			found = found || f.Path == c.at && strings.Contains(f.What, c.what)
		}
		if !found {
			t.Errorf("%s: no fault at %s that says %q: %v", c.options, c.at, c.what, faultsOf(t, strings.NewReader(around("", c.options))))
		}
	}
}
