package roomfile

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
)

// gabled is a loft of which the back wall is cut by a slope, up to its treatments.
const gabled = `room: {length: 4.4 m, width: 3.2 m, height: 2.5 m}
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
ceiling: {slope: {rises: left to right, from: 1.5 m, to: 2.5 m, over: 1.6 m}}
speakers: {box: {depth: 26 cm, width: 19 cm, height: 30 cm}}
seats: [{name: chair, at: [1.9 m, 1.6 m, 1.15 m]}]
treatments:
`

// Layers that give no height reach to the ceiling, where that is highest over them; the slope trims them as
// it trims those that give one. What is written reads back as the same room.
func TestLayerUnderSlope(t *testing.T) {
	t.Parallel()
	p, err := Read(strings.NewReader(gabled+`  - {name: whole, wall: back, layers: [wool 100 mm 6 kPa·s/m²]}
  - {name: high, wall: front, from: 0.8 m, width: 0.4 m, sill: 0.5 m, layers: [wool 100 mm 6 kPa·s/m²]}
  - {name: tall, wall: front, from: 0 m, width: 0.4 m, height: 2 m, layers: [wool 100 mm 6 kPa·s/m²]}
`), "loft.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []model.Patch{
		{Face: model.Back, Width: 3.2, Height: 2.5},
		{Face: model.Front, Along: 0.8, Up: 0.5, Width: 0.4, Height: 1.75}, // 1.5 m + 1.2 m / 1.6 - 0.5 m
		{Face: model.Front, Width: 0.4, Height: 2},
	} {
		if tr := &p.Room.Treatments[i]; tr.Patch != want || !p.Room.Trimmed(tr) {
			t.Errorf("%s is on %+v, trimmed %v; want %+v, trimmed", tr.Name, tr.Patch, p.Room.Trimmed(tr), want)
		}
	}
	added, err := phrase.Treatment("left wall, wool 100 mm 6 kPa·s/m²", &p.Room)
	if err != nil || added.Patch.Height != 1.5 || p.Room.Trimmed(&added) {
		t.Errorf("a layer by phrase is %+v (%v)", added.Patch, err)
	}
	var text bytes.Buffer
	if err := Write(&text, p); err != nil {
		t.Fatal(err)
	}
	q, err := Read(&text, "written.yaml")
	if err != nil || !reflect.DeepEqual(p.Room.Treatments, q.Room.Treatments) {
		t.Errorf("read back: %+v (%v), was %+v", q.Room.Treatments, err, p.Room.Treatments)
	}
}

// Layers that are wholly above the slope are refused at their place.
func TestLayerAboveSlope(t *testing.T) {
	t.Parallel()
	_, err := Read(strings.NewReader(gabled+"  - {name: lost, wall: front, from: 0 m, width: 0.5 m, sill: 2 m, height: 0.5 m, layers: [wool 100 mm 6 kPa·s/m²]}\n"), "loft.yaml")
	if err == nil || !strings.Contains(err.Error(), "loft.yaml:7:") || !strings.Contains(err.Error(), "write sill: 1.63 m or less") {
		t.Errorf("layers above the slope give %v", err)
	}
}
