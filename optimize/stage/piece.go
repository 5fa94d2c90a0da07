package stage

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/model/build"
	"evenbass/optimize/geometry"
)

// Piece is something that can be built from one sort of batts: one treatment, or two that
// mirror each other about the mid-line.
type Piece struct {
	Name       string
	Kind       Kind
	Batt       int     // index into the stock's batts
	Batts      int     // that it takes, cut as package build cuts
	Cost       float64 // of these by the stock's prices, halfway between least and most; 0 is not known
	Offcut     float64 // share of them that is left over
	Treatments []model.Treatment
}

// Kind says how a piece is built.
type Kind int

// The kinds of pieces.
const (
	SingleLayer Kind = iota
	DoubleLayer
	GappedLayer // a single layer with as much air behind it
	FilmedLayer // a double layer with film before it
	Corner      // floor to ceiling, triangular or square
	EdgeFill    // along the edge of wall and ceiling
	Cloud
	Screen // a free-standing double layer
	Bag    // batts wrapped in film, standing on the floor at a wall
)

// String returns what a piece of the kind is called.
func (s Kind) String() string {
	return [...]string{"single layer", "double layer", "layer off the wall", "double layer behind film",
		"corner fill", "ceiling edge fill", "cloud", "free-standing panel", "bag"}[s]
}

// builder collects the pieces of one sort of batts.
type builder struct {
	project *model.Project
	layout  model.Layout
	before  map[model.Rule]bool // what the layout breaks already
	index   int                 // of the batts in the stock
	list    []Piece
}

// Pieces lists what can be built from the batts in hand, in a fixed order: where the wall
// may be covered, nothing else is in the way, and the pair and the seat have room. Each
// piece stands on the floor or hangs from the ceiling; in a rented room nothing hangs. A
// piece is as wide as a batt: wider ones are made of several. A project without stock has
// none.
func Pieces(p *model.Project, l model.Layout) []Piece {
	if p.Stock == nil {
		return nil
	}
	var all []Piece
	for i, batt := range p.Stock.Batts {
		if batt.Have <= 0 {
			continue
		}
		t := newBuilder(p, l)
		t.index = i
		t.columns()
		t.corners()
		t.edges()
		t.clouds()
		t.panels()
		all = append(all, t.list...)
	}
	return all
}

// batt returns the sort of batts.
func (t *builder) batt() model.Batt { return t.project.Stock.Batts[t.index] }

// wool returns n batts on top of one another.
func (t *builder) wool(n int) model.Layer {
	w := t.batt().Layer
	w.Thickness *= float64(n)
	w.Text = fmt.Sprintf("%s %.4g mm", w.Text, 1000*w.Thickness)
	return w
}

// film returns the stock's first film, if there is one.
func (t *builder) film() (model.Layer, bool) {
	if films := t.project.Stock.Films; len(films) > 0 {
		return films[0].Layer, true
	}
	return model.Layer{}, false
}

// stackHeight returns the height of the most whole batts, one above the other, that fit
// below a height, m; 0 if none fits.
func (t *builder) stackHeight(height float64) float64 {
	return math.Floor(height/t.batt().Length+1e-6) * t.batt().Length
}

// columns adds layers on the four walls, each as wide as a batt and as high as whole batts
// reach.
func (t *builder) columns() {
	width := t.batt().Width
	for _, f := range []model.Face{model.Back, model.Front, model.Left} {
		along, up := t.project.Room.Extent(f)
		height := t.stackHeight(up)
		if height == 0 {
			height = math.Floor(up/width+1e-6) * width
		}
		for i, at := range sites(along, width, f.Axis() == 0) {
			patch := model.Patch{Face: f, Along: geometry.Round(at), Width: width, Height: height}
			t.layers(patch, i+1)
		}
	}
}

// layers adds every build-up on one patch, the nth of its wall.
func (t *builder) layers(patch model.Patch, n int) {
	one, two := t.wool(1), t.wool(2)
	gap := model.Layer{Kind: model.GapLayer, Text: fmt.Sprintf("air %.0f mm", 1000*one.Thickness), Thickness: one.Thickness}
	t.onWall(SingleLayer, n, patch, one)
	t.onWall(DoubleLayer, n, patch, two)
	t.onWall(GappedLayer, n, patch, one, gap)
	film, ok := t.film()
	if !ok || len(t.project.Stock.Cloths) == 0 {
		return // film is not to face the room bare
	}
	t.onWall(FilmedLayer, n, patch, film, two)
	low := patch
	low.Height = t.batt().Length
	if low.Height < patch.Height {
		t.bags(n, low, film, two, film)
	}
}

// bags adds bags that stand on the floor against a wall, wherever a layer could be.
func (t *builder) bags(n int, patch model.Patch, layers ...model.Layer) {
	wall := model.Treatment{Patch: patch, Layers: layers}
	twin := wall
	twin.Patch = t.mirror(patch)
	stand := func(w model.Treatment) model.Treatment {
		return model.Treatment{Form: model.FreeStanding, Box: t.project.Room.Space(&w), Layers: layers}
	}
	a, b := t.allowed(wall), t.allowed(twin)
	switch {
	case a && onMidLine(patch, twin.Patch):
		t.add(Bag, t.place(patch, n), stand(wall))
	case a && b:
		t.pair(Bag, t.place(patch, n), stand(wall), stand(twin))
	case a:
		t.add(Bag, t.place(patch, n)+", left only", stand(wall))
	case b:
		t.add(Bag, t.place(patch, n)+", right only", stand(twin))
	}
}

// mirror returns a patch's mirror image: on front and back wall across the mid-line, from
// the left to the right wall.
func (t *builder) mirror(p model.Patch) model.Patch {
	if p.Face == model.Left {
		p.Face = model.Right
	} else {
		p.Along = geometry.Round(t.project.Room.Size.Y - p.Along - p.Width)
	}
	return p
}

// onMidLine reports whether a patch is its own mirror image.
func onMidLine(patch, mirrored model.Patch) bool {
	return math.Abs(mirrored.Along-patch.Along) < 0.01 && mirrored.Face == patch.Face
}

// place names the nth patch of a wall.
func (t *builder) place(p model.Patch, n int) string {
	if p.Face == model.Left {
		return fmt.Sprintf("side walls, place %d", n)
	}
	return fmt.Sprintf("%s, place %d", p.Face.Wall(), n)
}

// add adds a piece if it may be built, and counts its batts.
func (t *builder) add(kind Kind, where string, pieces ...model.Treatment) {
	name := kind.String() + ", " + where
	for i := range pieces {
		if !t.allowed(pieces[i]) {
			return
		}
		pieces[i].Name = name
		if len(pieces) == 2 {
			pieces[i].Name += []string{" (left)", " (right)"}[i]
		}
	}
	n, offcut := battsOf(t.project, t.index, pieces)
	if n == 0 {
		return
	}
	price := t.batt().Price
	cost := float64(n) * (price.Min + price.Max) / 2 / float64(t.batt().Pack())
	t.list = append(t.list, Piece{Name: name, Kind: kind, Batt: t.index, Batts: n, Cost: cost, Offcut: offcut, Treatments: pieces})
}

// battsOf returns how many batts of one sort of the stock the treatments take, offcuts
// reused, and the share of them that is left over; 0 if they cannot be built from that sort.
func battsOf(p *model.Project, batt int, pieces []model.Treatment) (n int, offcut float64) {
	stock := *p.Stock
	stock.Batts = []model.Batt{p.Stock.Batts[batt]}
	q := *p
	q.Stock, q.Room.Treatments = &stock, pieces
	plan, err := build.Make(&q)
	if err != nil || len(plan.Batts) == 0 || plan.Batts[0].Assumed {
		return 0, 0
	}
	n = len(plan.Batts[0].Nesting.Sheets)
	return n, plan.Batts[0].Nesting.Waste
}
