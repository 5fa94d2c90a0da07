package roomfile

import (
	"fmt"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// outline is the floor plan: a list of corners. A corner is a place on plan, or a
// mapping that also says what the wall from there to the next corner is called and made
// of.
func outline(f *form, r *model.Room) {
	const key = "outline"
	if !f.reading() {
		if len(r.Outline) > 0 {
			f.put(key, outlineNode(r))
		}
		return
	}
	faults := len(f.in.faults)
	for i, n := range f.sequence(key, false) {
		path := fmt.Sprintf("%s[%d]", f.at(key), i)
		var c r2.Vec
		var e model.Edge
		if n.shape == mapping {
			f.in.mapping(n, path, func(g *form) { planCorner(g, "at", &c); edgeKeys(g, &e) })
		} else {
			readPlace(f.in, n, path, onPlan, &c.X, &c.Y)
		}
		r.Outline = append(r.Outline, c)
		if e.Name != "" || e.Set() {
			r.Edges = append(r.Edges, make([]model.Edge, i-len(r.Edges))...)
			r.Edges = append(r.Edges, e)
		}
	}
	if len(f.in.faults) > faults {
		r.Outline, r.Edges = nil, nil // half an outline would be found fault with twice
	}
}

// outlineNode is the outline as the file has it.
func outlineNode(r *model.Room) *node {
	out := &node{shape: sequence}
	for i, c := range r.Outline {
		var e model.Edge
		if i < len(r.Edges) {
			e = r.Edges[i]
		}
		g := &form{node: &node{shape: mapping}}
		planCorner(g, "at", &c)
		if edgeKeys(g, &e); len(g.node.items) > 1 {
			out.items = append(out.items, g.node)
		} else {
			out.items = append(out.items, g.node.items[0])
		}
	}
	return out
}

// edgeKeys are the wall from a corner of the outline to the next.
func edgeKeys(f *form, e *model.Edge) {
	may(f, "wall", &e.Name, nameValue)
	surfaceKeys(f, &e.Surface)
}

// ceiling is what the file says of a ceiling that is not level: a slope, a ridge or
// any planes.
func ceiling(f *form, r *model.Room) {
	if f.reading() {
		readCeiling(f, r)
		return
	}
	if s, ok := shedOf(r); ok {
		f.section("slope", func(g *form) { shedKeys(g, &s) })
	} else if s, ok := gableOf(r); ok {
		f.section("ridge", func(g *form) { gableKeys(g, &s) })
	} else {
		list(f, "planes", &r.Slopes, model.Slope{}, slopePlane)
	}
}

func readCeiling(f *form, r *model.Room) {
	faults := len(f.in.faults)
	f.section("slope", func(g *form) {
		s := shed{To: r.Size.Z}
		shedKeys(g, &s)
		if s.From > s.To && len(f.in.faults) == faults {
			g.in.add(g.node.value("from").at, g.at("from"), quantity.Mistake{What: model.Sprintf("must be below to, for the slope rises from one to the other: have %.4g m and %.4g m", s.From, s.To), Right: "swap them; if the ceiling falls that way, turn rises round too"})
		}
		r.Slopes = s.slopes(r.Size)
	})
	f.section("ridge", func(g *form) {
		s := gable{Height: r.Size.Z, At: r.Size.Y / 2}
		if along := g.node.value("along"); along != nil && along.text == "y" {
			s.At = r.Size.X / 2
		}
		gableKeys(g, &s)
		if n := len(s.Eaves); n == 0 || n > 2 {
			g.in.add(g.node.at, g.at("eaves"), quantity.Mistake{What: model.Sprintf("needs one height or two, found %d", n), Right: "write eaves: 1.3 m, or [1.3 m, 1.1 m] for the two sides"})
			return
		}
		r.Slopes = s.slopes(r.Size)
	})
	list(f, "planes", &r.Slopes, model.Slope{}, slopePlane)
	if n := len(f.node.keys); n != 1 && len(f.in.faults) == faults {
		f.in.add(f.node.at, f.path, quantity.Mistake{What: model.Sprintf("is described in %d ways", n), Right: "write one of slope, ridge and planes; a level ceiling needs none"})
	}
	if len(f.in.faults) > faults {
		r.Slopes = nil
	}
}

// shed is a ceiling of one slope.
type shed struct {
	Rises    string // "left to right"
	From, To float64
	Over     float64 // horizontal length of the slope, m; 0 is all the way
	Surface  model.Surface
}

var rises = []string{"left to right", "right to left", "front to back", "back to front"}

func shedKeys(f *form, s *shed) {
	must(f, "rises", rises[0], &s.Rises, oneOf(rises...))
	must(f, "from", "1.40 m", &s.From, lengthValue)
	preset(f, "to", &s.To, lengthValue)
	amount(f, "over", &s.Over, lengthValue)
	surfaceKeys(f, &s.Surface)
}

// slopes returns the plane: two points at the wall where it begins, one where it ends.
func (s shed) slopes(size r3.Vec) []model.Slope {
	across := size.Y
	begin, end := r3.Vec{Z: s.From}, r3.Vec{X: size.X, Z: s.From}
	to := r3.Vec{Z: s.To}
	if s.Rises == rises[2] || s.Rises == rises[3] {
		across, end = size.X, r3.Vec{Y: size.Y, Z: s.From}
	}
	over := s.Over
	if over == 0 {
		over = across
	}
	switch s.Rises {
	case rises[0]:
		to.Y = over
	case rises[1]:
		begin.Y, end.Y, to.Y = size.Y, size.Y, across-over
	case rises[2]:
		to.X = over
	case rises[3]:
		begin.X, end.X, to.X = size.X, size.X, across-over
	}
	return []model.Slope{{Through: [3]r3.Vec{begin, end, to}, Surface: s.Surface}}
}

// shedOf returns the shed that gives a room's slopes to the last bit, if one does.
func shedOf(r *model.Room) (shed, bool) {
	if len(r.Slopes) != 1 {
		return shed{}, false
	}
	p, size := r.Slopes[0].Through, r.Size
	lengths := [4]float64{p[2].Y, size.Y - p[2].Y, p[2].X, size.X - p[2].X}
	whole := [4]float64{size.Y, size.Y, size.X, size.X}
	for i, word := range rises {
		s := shed{Rises: word, From: p[0].Z, To: p[2].Z, Over: lengths[i], Surface: r.Slopes[0].Surface}
		if s.Over == whole[i] {
			s.Over = 0
		}
		if sameSlopes(s.slopes(size), r.Slopes) {
			return s, true
		}
	}
	return shed{}, false
}

// gable is a ceiling of two slopes that meet in a ridge.
type gable struct {
	Along   string // "x" or "y"
	At      float64
	Height  float64
	Eaves   []float64 // one for both sides, or that nearer the origin first
	Surface model.Surface
}

func gableKeys(f *form, s *gable) {
	must(f, "along", "x", &s.Along, oneOf("x", "y"))
	preset(f, "at", &s.At, lengthValue)
	preset(f, "height", &s.Height, lengthValue)
	if f.reading() && f.node.value("eaves") == nil {
		f.lack("eaves", "1.30 m")
		s.Eaves = []float64{0}
	} else {
		words(f, "eaves", &s.Eaves, lengthValue)
	}
	surfaceKeys(f, &s.Surface)
}

// slopes returns the two planes, each through its eaves and the ridge.
func (s gable) slopes(size r3.Vec) []model.Slope {
	near, far := s.Eaves[0], s.Eaves[len(s.Eaves)-1]
	at := func(along, across, z float64) r3.Vec {
		if s.Along == "y" {
			return r3.Vec{X: across, Y: along, Z: z}
		}
		return r3.Vec{X: along, Y: across, Z: z}
	}
	length, width := size.X, size.Y
	if s.Along == "y" {
		length, width = width, length
	}
	top := at(0, s.At, s.Height)
	return []model.Slope{
		{Through: [3]r3.Vec{at(0, 0, near), at(length, 0, near), top}, Surface: s.Surface},
		{Through: [3]r3.Vec{at(0, width, far), at(length, width, far), top}, Surface: s.Surface},
	}
}

// gableOf returns the gable that gives a room's slopes to the last bit, if one does.
func gableOf(r *model.Room) (gable, bool) {
	if len(r.Slopes) != 2 {
		return gable{}, false
	}
	first, second := r.Slopes[0].Through, r.Slopes[1].Through
	for _, s := range []gable{{Along: "x", At: first[2].Y}, {Along: "y", At: first[2].X}} {
		s.Height, s.Surface = first[2].Z, r.Slopes[0].Surface
		if s.Eaves = []float64{first[0].Z}; second[0].Z != first[0].Z {
			s.Eaves = append(s.Eaves, second[0].Z)
		}
		if sameSlopes(s.slopes(r.Size), r.Slopes) {
			return s, true
		}
	}
	return gable{}, false
}

func sameSlopes(a, b []model.Slope) bool {
	return slices.EqualFunc(a, b, func(p, q model.Slope) bool {
		return p.Through == q.Through && p.Surface.Construction == q.Surface.Construction &&
			p.Surface.Impedance == q.Surface.Impedance && slices.Equal(p.Surface.Absorption, q.Surface.Absorption)
	})
}

// slopePlane is a plane through three points.
func slopePlane(f *form, s *model.Slope) {
	const key = "through"
	if !f.reading() {
		out := &node{shape: sequence}
		for _, p := range s.Through {
			g := &form{node: &node{shape: mapping}}
			corner(g, key, &p)
			out.items = append(out.items, g.node.items[0])
		}
		f.put(key, out)
	} else if f.node.value(key) == nil {
		f.lack(key, "[[0 m, 0 m, 1.4 m], [4.5 m, 0 m, 1.4 m], [0 m, 3.4 m, 2.4 m]]")
	} else if items := f.sequence(key, false); len(items) == len(s.Through) {
		for i, n := range items {
			p := &s.Through[i]
			readPlace(f.in, n, fmt.Sprintf("%s[%d]", f.at(key), i), inRoom, &p.X, &p.Y, &p.Z)
		}
	} else if items != nil {
		n := f.node.value(key)
		f.in.add(n.at, f.at(key), quantity.Mistake{What: model.Sprintf("a plane needs 3 points, here are %d", len(items))})
	}
	surfaceKeys(f, &s.Surface)
}
