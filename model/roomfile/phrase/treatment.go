package phrase

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// Treatment reads a treatment on one line: its name, where it goes, and its
// layers, the one that faces the room first. The name may be left out, with its colon:
//
//	rear layer: back wall, film 100 µm + wool 200 mm 6 kPa·s/m²
//	left panel: left wall 0.8 m to 2 m, 0.6 m to 1.8 m, wool 100 mm 6 kPa·s/m² + air 50 mm
//	front corner: corner front left 42 cm, wool 6 kPa·s/m²
//	cloud 0.9 m to 2.1 m, 0.7 m to 2.5 m, gap 15 cm, wool 100 mm 6 kPa·s/m²
//	panel 2.9 m to 4.1 m, 0 m to 0.2 m, 0 m to 1.2 m, wool 200 mm 6 kPa·s/m²
//
// On a wall the ranges run along it, from the corner nearer the origin, and up; on
// floor and ceiling, along the length and the width; what is left out reaches to the
// ends. A corner has a leg, may be "square", and its range runs along the edge. Layers
// are parted by commas or plus signs. Names of materials may be the owner's own. The
// error is a [*quantity.Mistake].
func Treatment(text string, room *model.Room, own ...model.Material) (model.Treatment, error) {
	t, rest, err := placePhrase(text, room)
	if err != nil {
		return t, err
	}
	if rest == "" {
		return t, &quantity.Mistake{What: model.Sprintf("%q has no layers", text), Right: "add them after the place, such as ', film 100 µm + wool 200 mm 6 kPa·s/m²'"}
	}
	parse := func(text string) (model.Layer, error) { return Layer(text, own...) }
	if t.Form == model.InCorner {
		parse = func(text string) (model.Layer, error) { return Fill(text, own) }
	}
	t.Layers, err = split(strings.ReplaceAll(rest, "+", ","), parse)
	return t, err
}

// Place reads the name of a treatment and a place for it, written as for
// [Treatment] but without layers: "rear layer: front wall". The error is a
// [*quantity.Mistake].
func Place(text string, room *model.Room) (model.Treatment, error) {
	t, rest, err := placePhrase(text, room)
	switch {
	case err != nil:
		return t, err
	case rest != "":
		return t, &quantity.Mistake{What: model.Sprintf("%q does not belong in a place", rest), Right: "a treatment that moves keeps its layers; leave them out"}
	case t.Name == "":
		return t, &quantity.Mistake{What: model.Sprintf("%q does not say what moves", text), Right: "write the name of a treatment and a colon before the place, such as 'rear layer: front wall'"}
	}
	return t, nil
}

// Front reads the name of a treatment and layers to put before it, written as for
// [Treatment]: "rear layer: wool 50 mm 6 kPa·s/m²". The error is a [*quantity.Mistake].
func Front(text string, own ...model.Material) (t model.Treatment, err error) {
	name, line, named := strings.Cut(text, ":")
	if line = strings.TrimSpace(line); !named || line == "" {
		return t, &quantity.Mistake{What: model.Sprintf("%q does not say what goes before which treatment", text), Right: "write its name, a colon and the layers, such as 'rear layer: wool 50 mm 6 kPa·s/m²'"}
	}
	if t.Name, err = Name(strings.TrimSpace(name)); err != nil {
		return t, err
	}
	if m := quantity.CommaNumber.FindString(line); m != "" {
		return t, quantity.CommaMistake(text, line, m)
	}
	t.Layers, err = split(strings.ReplaceAll(line, "+", ","), func(text string) (model.Layer, error) { return Layer(text, own...) })
	return t, err
}

// placePhrase reads name and place and returns what is left of the text.
func placePhrase(text string, room *model.Room) (t model.Treatment, rest string, err error) {
	name, line, named := strings.Cut(text, ":")
	if !named {
		name, line = "", text
	}
	if t.Name, err = Name(strings.TrimSpace(name)); err != nil {
		return t, "", err
	}
	if m := quantity.CommaNumber.FindString(line); m != "" {
		return t, "", quantity.CommaMistake(text, line, m)
	}
	segments := strings.Split(quantity.Tidy(line), ",")
	for i := range segments {
		segments[i] = strings.TrimSpace(segments[i])
	}
	where := segments[:1]
	for _, s := range segments[1:] {
		if !placeSegment.MatchString(s) {
			break
		}
		where = segments[:len(where)+1]
	}
	w, err := readWhere(where)
	if err != nil {
		return t, "", err
	}
	if err := w.fill(&t, room); err != nil {
		return t, "", err
	}
	return t, strings.Join(segments[len(where):], ", "), nil
}

// placeSegment is a segment after the first that still belongs to the place.
var placeSegment = regexp.MustCompile(`^(?:[-+.\d].* to |gap\b|leg\b|square$|triangle$)`)

// placeWords are the words that open a place.
var placeWords = []string{
	"front wall", "back wall", "left wall", "right wall", "floor", "ceiling", "corner", "cloud", "panel",
	"front", "back", "left", "right",
}

// where is a place as written.
type where struct {
	text   string
	word   string // of placeWords
	walls  [2]model.Face
	ranges []model.Range
	leg    float64
	gap    float64
	square bool
}

// readWhere reads the segments of a place.
func readWhere(segments []string) (w where, err error) {
	w.text = strings.Join(segments, ", ")
	for _, word := range placeWords {
		if rest, ok := strings.CutPrefix(segments[0], word); ok && (rest == "" || rest[0] == ' ') {
			w.word, segments[0] = word, strings.TrimSpace(rest)
			break
		}
	}
	if w.word == "" {
		first := segments[0]
		if i := strings.IndexAny(first, "0123456789"); i > 0 {
			first = strings.TrimSpace(first[:i])
		}
		return w, &quantity.Mistake{What: model.Sprintf("%q is no place", segments[0]), Right: placeHint(first)}
	}
	if w.word == "corner" {
		if segments[0], err = w.edge(segments[0]); err != nil {
			return w, err
		}
	}
	for _, s := range segments {
		if err := w.segment(s); err != nil {
			return w, err
		}
	}
	return w, nil
}

func placeHint(word string) string {
	if n := quantity.Nearest(word, placeWords); n != "" {
		return model.Sprintf("did you mean %q?", n)
	}
	return "places are " + strings.Join(placeWords[:9], ", ")
}

// edge reads the two walls of a corner and returns what follows them.
func (w *where) edge(text string) (string, error) {
	words := strings.Fields(text)
	if len(words) < 2 {
		return "", &quantity.Mistake{What: model.Sprintf("%q does not say which corner", w.text), Right: "name the two walls that meet and the leg, such as corner front left 42 cm"}
	}
	var err error
	w.walls, err = Edge(words[0] + " " + words[1])
	return strings.Join(words[2:], " "), err
}

// segment reads a range, a leg, a gap, or the shape of a corner.
func (w *where) segment(s string) error {
	var err error
	if s, err = w.shape(s); err != nil || s == "" {
		return err
	}
	if rest, ok := strings.CutPrefix(s, "gap "); ok && w.word == "cloud" {
		w.gap, err = quantity.ParseLength(rest)
		return err
	}
	if strings.Contains(s, " to ") {
		r, err := quantity.ParseRange(s, quantity.ParseLength)
		w.ranges = append(w.ranges, r)
		return err
	}
	if w.word == "corner" {
		w.leg, err = quantity.ParseLength(strings.TrimPrefix(s, "leg "))
		return err
	}
	return &quantity.Mistake{What: model.Sprintf("%q does not belong in the place %q", s, w.text), Right: "give a range from and to, such as " + w.word + " 0.5 m to 2.5 m"}
}

// shape takes the word for the shape off a corner's segment.
func (w *where) shape(s string) (string, error) {
	fields := strings.Fields(s)
	for i, f := range fields {
		if f != "square" && f != "triangle" {
			continue
		}
		if w.word != "corner" {
			return "", &quantity.Mistake{What: model.Sprintf("%q is a word for corners only", f), Right: "leave it out"}
		}
		w.square = f == "square"
		return strings.Join(slices.Delete(fields, i, i+1), " "), nil
	}
	return s, nil
}

// fill turns what was read into the place of a treatment.
func (w *where) fill(t *model.Treatment, room *model.Room) error {
	most := map[string]int{"corner": 1, "panel": 3}
	if n := cmp.Or(most[w.word], 2); len(w.ranges) > n {
		return &quantity.Mistake{What: model.Sprintf("%q has %d ranges", w.text, len(w.ranges)), Right: model.Sprintf("a place of this kind takes at most %d", n)}
	}
	switch w.word {
	case "corner":
		return w.corner(t, room)
	case "cloud", "panel":
		return w.box(t)
	}
	t.Form = model.OnWall
	face, err := model.ParseFace(strings.TrimSuffix(w.word, " wall"))
	if err != nil {
		return &quantity.Mistake{What: err.Error()}
	}
	along, up := room.Extent(face)
	t.Patch = model.Patch{Face: face, Width: along, Height: up}
	if len(w.ranges) > 0 {
		t.Patch.Along, t.Patch.Width = w.ranges[0].Min, model.CleanLength(w.ranges[0].Max-w.ranges[0].Min)
	}
	if len(w.ranges) > 1 {
		t.Patch.Up, t.Patch.Height = w.ranges[1].Min, model.CleanLength(w.ranges[1].Max-w.ranges[1].Min)
	} else {
		t.Patch = room.ToCeiling(t.Patch)
	}
	return nil
}

func (w *where) corner(t *model.Treatment, room *model.Room) error {
	if w.leg == 0 {
		return &quantity.Mistake{What: model.Sprintf("%q has no leg", w.text), Right: "say how far it reaches along the walls, such as corner front left 42 cm"}
	}
	t.Form = model.InCorner
	t.Corner = model.Corner{Walls: w.walls, Square: w.square, Leg: w.leg}
	t.Corner.To = [3]float64{room.Size.X, room.Size.Y, room.Size.Z}[t.Corner.Axis()]
	if len(w.ranges) > 0 {
		t.Corner.From, t.Corner.To = w.ranges[0].Min, w.ranges[0].Max
	}
	return nil
}

func (w *where) box(t *model.Treatment) error {
	need, example := 2, "cloud 0.9 m to 2.1 m, 0.7 m to 2.5 m, gap 15 cm"
	t.Form, t.Gap = model.UnderCeiling, w.gap
	if w.word == "panel" {
		need, example = 3, "panel 2.9 m to 4.1 m, 0 m to 0.2 m, 0 m to 1.2 m"
		t.Form = model.FreeStanding
	}
	if len(w.ranges) != need {
		return &quantity.Mistake{What: model.Sprintf("%q has %d of %d ranges", w.text, len(w.ranges), need), Right: "write it as " + example}
	}
	r := append(slices.Clone(w.ranges), model.Range{})
	t.Box = model.Block{Min: r3.Vec{X: r[0].Min, Y: r[1].Min, Z: r[2].Min}, Max: r3.Vec{X: r[0].Max, Y: r[1].Max, Z: r[2].Max}}
	return nil
}
