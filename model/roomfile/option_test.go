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

func TestParseTreatment(t *testing.T) {
	t.Parallel()
	room := &readText(t, around("", "")).Room
	read := func(text string) model.Treatment {
		t.Helper()
		got, err := ParseTreatment(text, room)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		return got
	}
	rear := read("rear layer: back wall, film 100 µm + wool 200 mm 6 kPa·s/m²")
	if rear.Name != "rear layer" || rear.Patch.Face != model.Back || rear.Patch.Width != room.Size.Y || len(rear.Layers) != 2 || rear.Layers[1].Thickness != 0.2 {
		t.Errorf("rear layer %+v", rear)
	}
	part := read("left wall 0.8 to 2 m, 0.6 m to 1.8 m, wool 100 mm 6 kPa·s/m², air 50 mm")
	if p := part.Patch; p.Along != 0.8 || p.Width != 1.2 || p.Up != 0.6 || p.Height != 1.2 || len(part.Layers) != 2 {
		t.Errorf("part of a wall %+v", part)
	}
	corner := read("corner left front 42 cm square, 0 m to 1 m, wool 6 kPa·s/m²")
	if c := corner.Corner; corner.Form != model.InCorner || !c.Square || c.Leg != 0.42 || c.To != 1 || c.Walls != [2]model.Face{model.Left, model.Front} {
		t.Errorf("corner %+v", corner)
	}
	cloud := read("cloud 0.9 m to 2.1 m, 0.7 m to 2.5 m, gap 15 cm, wool 100 mm 6 kPa·s/m²")
	if cloud.Form != model.UnderCeiling || cloud.Gap != 0.15 || cloud.Box.Max.Y != 2.5 {
		t.Errorf("cloud %+v", cloud)
	}
	panel := read("bag: panel 2.9 m to 4.1 m, 0 m to 0.2 m, 0 m to 0.6 m, wool 200 mm 6 kPa·s/m²")
	if panel.Form != model.FreeStanding || panel.Box.Max.Z != 0.6 {
		t.Errorf("panel %+v", panel)
	}
	if moved, err := ParsePlace("rear layer: front wall", room); err != nil || moved.Patch.Face != model.Front || moved.Layers != nil {
		t.Errorf("place %+v, %v", moved, err)
	}
}

func TestParseTreatmentMistakes(t *testing.T) {
	t.Parallel()
	room := &readText(t, around("", "")).Room
	for text, want := range map[string]string{
		"bakc wall, wool 100 mm 6 kPa·s/m²":                `did you mean "back wall"?`,
		"back wall":                                        "has no layers",
		"back wall, wol 100 mm":                            `did you mean "wool"?`,
		"corner front, wool 6 kPa·s/m²":                    "does not say which corner",
		"corner front back 40 cm, wool 6 kPa·s/m²":         "do not meet",
		"corner front left, wool 6 kPa·s/m²":               "has no leg",
		"cloud, wool 100 mm 6 kPa·s/m²":                    "0 of 2 ranges",
		"back wall 2 m, wool 100 mm 6 kPa·s/m²":            "give a range",
		"back wall 0,5 m to 2 m, wool 100 mm 6 kPa·s/m²":   "comma inside a number",
		"back wall square, wool 100 mm 6 kPa·s/m²":         "corners only",
		"back wall 0 to 1 m, 0 to 1 m, 0 to 1 m, wool 1 m": "at most 2",
		"": "is no place",
	} {
		if _, err := ParseTreatment(text, room); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, wanted %q", text, err, want)
		}
	}
	for text, want := range map[string]string{
		"front wall":                 "does not say what moves",
		"a: front wall, wool 100 mm": "keeps its layers",
	} {
		if _, err := ParsePlace(text, room); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, wanted %q", text, err, want)
		}
	}
}

// Whatever the text: no panic, and a refusal says what is wrong.
func FuzzParseTreatment(f *testing.F) {
	for _, s := range []string{
		"rear: back wall 0 m to 2 m, film 100 µm + wool 200 mm 6 kPa·s/m²", "corner front left 42 cm square, wool 6 kPa·s/m²",
		"cloud 1 m to 2 m, 1 m to 2 m, gap 15 cm, wool 1 m", "panel 1 to 2 m, 0 to 1 m, 0 to 1 m, air 1 m", ":,", "corner", "a:b:c", "back wall +",
	} {
		f.Add(s)
	}
	room := &model.Room{}
	room.Size.X, room.Size.Y, room.Size.Z = 4.3, 3.3, 2.4
	f.Fuzz(func(t *testing.T, text string) {
		got, err := ParseTreatment(text, room)
		if err != nil && err.Error() == "" {
			t.Error("a refusal without a word")
		}
		if err == nil && len(got.Layers) == 0 {
			t.Errorf("%q was taken without layers", text)
		}
	})
}
