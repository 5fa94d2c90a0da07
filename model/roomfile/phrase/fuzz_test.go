package phrase

import (
	"errors"
	"reflect"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/material/absorber"
	"evenbass/model/roomfile/quantity"
)

// owned is a material of the owner's own, for phrases that name it.
var owned = model.Material{Name: "felt", Layer: model.Layer{Kind: model.PorousLayer, Thickness: 0.02, Resistivity: 20e3}}

// checkMistake wants an error to say something.
func checkMistake(t *testing.T, text string, err error) {
	t.Helper()
	var m *quantity.Mistake
	if !errors.As(err, &m) || m.What == "" {
		t.Errorf("%q: the error says nothing: %v", text, err)
	}
}

// Whatever the text: no panic, and a refusal says why. What is taken is complete, and means the same
// after it has been written and read again.
func FuzzLayers(f *testing.F) {
	for _, text := range []string{
		"wool 200 mm 6 kPa·s/m²", "film 100 µm, wool 200 mm 6 kPa·s/m² limp, air 50 mm", "felt", "felt 40 mm held",
		"slotted 18 mm slots 6 mm open 9 %, wool 60 mm 10 kPa·s/m²", "perforated 12 mm holes 5 mm open 3 %",
		"panel 8.8 kg/m² damping 150 Pa·s/m stiffness 100 kPa/m", "wool 4 in 6 krayl/m porosity 98 % tortuosity 1.1 viscous 130 µm thermal 260 µm",
		"wool 0,2 m", ",", "wool 200 mm 6 kPa·s/m²,", "film 4 mil + air", "½ in", "wool 1e300 m 6 kPa·s/m²",
	} {
		f.Add(text)
	}
	own := []model.Material{owned}
	f.Fuzz(func(t *testing.T, text string) {
		fills, fillErr := Fills(text, owned)
		layers, err := Layers(text, owned)
		if fillErr != nil {
			checkMistake(t, text, fillErr)
		}
		if err != nil {
			checkMistake(t, text, err)
			return
		}
		if fillErr != nil || !reflect.DeepEqual(fills, layers) {
			t.Errorf("%q: as a fill %v, %v", text, fills, fillErr)
		}
		for _, l := range layers {
			if missing := absorber.KindOf(l.Kind).Missing(l); len(missing) > 0 {
				t.Errorf("%q: taken without %v", text, missing)
			}
			l.Text = ""
			written := Format(l, own)
			back, err := Layer(written, own...)
			if back.Text = ""; err != nil || back != l {
				t.Errorf("%q is %+v, written %q, reads %+v, %v", text, l, written, back, err)
			}
		}
	})
}

// Whatever the text: no panic, and a refusal says why. What is taken has layers, a place to be and a
// name that a terminal may show.
func FuzzTreatment(f *testing.F) {
	for _, text := range []string{
		"rear layer: back wall, film 100 µm + wool 200 mm 6 kPa·s/m²", "left wall 0.8 to 2 m, 0.6 m to 1.8 m, wool 100 mm 6 kPa·s/m², air 50 mm",
		"corner left front 42 cm square, 0 m to 1 m, wool 6 kPa·s/m²", "cloud 0.9 m to 2.1 m, 0.7 m to 2.5 m, gap 15 cm, felt",
		"panel 2.9 m to 4.1 m, 0 m to 0.2 m, 0 m to 1.2 m, wool 200 mm 6 kPa·s/m²", "rear layer: front wall", "rear layer: wool 50 mm 6 kPa·s/m²",
		": floor, felt", "corner", "corner front", "back wal, felt", "panel, gap", "a:b:c", "front 1,5 m to 2 m, felt", "\x1b[31m: back wall, felt",
	} {
		f.Add(text)
	}
	room := den()
	f.Fuzz(func(t *testing.T, text string) {
		if _, err := Place(text, room); err != nil {
			checkMistake(t, text, err)
		}
		if front, err := Front(text, owned); err != nil {
			checkMistake(t, text, err)
		} else if len(front.Layers) == 0 {
			t.Errorf("%q: taken without layers", text)
		}
		got, err := Treatment(text, room, owned)
		if err != nil {
			checkMistake(t, text, err)
			return
		}
		if len(got.Layers) == 0 || strings.ContainsFunc(got.Name, Hidden) || model.Printable(got.Name) != got.Name {
			t.Errorf("%q: taken as %+v", text, got)
		}
		room := *room
		room.Treatments = []model.Treatment{got}
		p := model.Project{Room: room}
		p.Validate() // must not panic, whatever the place
	})
}
