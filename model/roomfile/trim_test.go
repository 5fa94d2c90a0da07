package roomfile

import (
	"strings"
	"testing"

	"evenbass/model/roomfile/phrase"
)

// A layer that gives no height ends below a sloped ceiling, where that is lowest above it; one that
// gives its height is refused if it does not fit.
func TestLayerUnderSlope(t *testing.T) {
	t.Parallel()
	const room = `room: {length: 4.4 m, width: 3.2 m, height: 2.5 m}
walls: {front: concrete, back: concrete, left: concrete, right: concrete, floor: concrete, ceiling: concrete}
ceiling: {slope: {rises: left to right, from: 1.5 m, to: 2.5 m, over: 1.6 m}}
speakers: {box: {depth: 26 cm, width: 19 cm, height: 30 cm}}
seats: [{name: chair, at: [1.9 m, 1.6 m, 1.15 m]}]
treatments:
  - {name: whole, wall: back, layers: [wool 100 mm 6 kPa·s/m²]}
`
	p, err := Read(strings.NewReader(room+"  - {name: high, wall: front, from: 0.8 m, width: 2 m, sill: 0.5 m, layers: [wool 100 mm 6 kPa·s/m²]}\n"), "loft.yaml")
	if err != nil {
		t.Fatal(err)
	}
	if whole, high := p.Room.Treatments[0].Patch, p.Room.Treatments[1].Patch; whole.Height != 1.5 || whole.Width != 3.2 || high.Height != 1.5 {
		t.Errorf("the layers are %+v and %+v", whole, high)
	}
	if _, err := Read(strings.NewReader(room+"  - {name: tall, wall: front, height: 2 m, layers: [wool 100 mm 6 kPa·s/m²]}\n"), "loft.yaml"); err == nil || !strings.Contains(err.Error(), "must end below the sloped ceiling, reaches ") || !strings.Contains(err.Error(), "m above it; write height: ") {
		t.Errorf("a layer that is too tall gives %v", err)
	}
	added, err := phrase.Treatment("left wall, wool 100 mm 6 kPa·s/m²", &p.Room)
	if err != nil || added.Patch.Height != 1.5 {
		t.Errorf("a layer by phrase is %+v (%v)", added.Patch, err)
	}
}
