package phrase

import (
	"strings"
	"testing"

	"evenbass/model"
)

// den is a room of 4.3 x 3.3 x 2.4 m.
func den() *model.Room {
	room := &model.Room{}
	room.Size.X, room.Size.Y, room.Size.Z = 4.3, 3.3, 2.4
	return room
}

func TestTreatment(t *testing.T) {
	t.Parallel()
	room := den()
	read := func(text string) model.Treatment {
		t.Helper()
		got, err := Treatment(text, room)
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
	if moved, err := Place("rear layer: front wall", room); err != nil || moved.Patch.Face != model.Front || moved.Layers != nil {
		t.Errorf("place %+v, %v", moved, err)
	}
}

func TestTreatmentMistakes(t *testing.T) {
	t.Parallel()
	room := den()
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
		if _, err := Treatment(text, room); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, wanted %q", text, err, want)
		}
	}
	for text, want := range map[string]string{
		"front wall":                 "does not say what moves",
		"a: front wall, wool 100 mm": "keeps its layers",
	} {
		if _, err := Place(text, room); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v, wanted %q", text, err, want)
		}
	}
}
