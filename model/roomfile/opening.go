package roomfile

import (
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

func opening(f *form, o *model.Opening, r *model.Room) {
	must(f, "kind", "door", &o.Kind, oneOf("door", "window", "hole"))
	may(f, "name", &o.Name, nameValue)
	for _, k := range [][2]string{{"width", "0.80 m"}, {"height", "2.02 m"}} {
		if f.reading() && f.node.value(k[0]) == nil {
			f.lack(k[0], k[1])
		}
	}
	openingWall(f, o, r)
	patchKeys(f, &o.Patch, 0, 0)
	surfaceKeys(f, &o.Surface)
	may(f, "swing", &o.Swing, oneOf("inward", "outward", "sliding"))
}

// openingWall is the wall of an opening: one of the six, or one that the outline names.
func openingWall(f *form, o *model.Opening, r *model.Room) {
	word := ""
	if !f.reading() {
		if word = o.Patch.Face.String(); o.Edge > 0 && o.Edge <= len(r.Edges) {
			word = r.Edges[o.Edge-1].Name
		}
	}
	must(f, "wall", "back", &word, wallName(r, f.reading() && f.in.faulty("room.outline")))
	if !f.reading() {
		return
	}
	if i := slices.IndexFunc(r.Edges, func(e model.Edge) bool { return e.Name == word }); i >= 0 && word != "" {
		o.Edge, o.Patch.Face = i+1, r.EdgeFace(i)
		return
	}
	o.Patch.Face, _ = model.ParseFace(word)
}

// wallName is the codec of the name of a wall: one of the six, or one of the outline. Of
// an outline that could not be read any name may be one.
func wallName(r *model.Room, unknown bool) codec[string] {
	parse := func(s string) (string, error) {
		var names []string
		for _, f := range model.Faces {
			names = append(names, f.String())
		}
		for _, e := range r.Edges {
			if e.Name != "" {
				names = append(names, e.Name)
			}
		}
		if unknown || slices.Contains(names, s) {
			return s, nil
		}
		m := &quantity.Mistake{What: model.Sprintf("no wall is called %q; the walls are %s", s, strings.Join(names, ", ")), Right: quantity.Suggestion(s, names)}
		if m.Right == "" && len(r.Outline) > 0 {
			m.Right = "name a wall of the outline at the corner where it begins: {at: [3.6 m, 2.4 m], wall: partition}"
		}
		return "", m
	}
	return codec[string]{parse, func(s string) string { return s }}
}

// faulty reports whether something is wrong with what stands at a path or in it.
func (d *document) faulty(path string) bool {
	return slices.ContainsFunc(d.faults, func(f Fault) bool { return within(f.Path, path) })
}
