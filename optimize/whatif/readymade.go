package whatif

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"gonum.org/v1/gonum/spatial/r2"

	"evenbass/model"
)

// readyMade lists the ready-made comparisons. Each puts wool on the widest free stretch of
// the back wall.
var readyMade = []struct {
	name    string
	options func(s *freeWall) []model.Option
}{
	{"depth", (*freeWall).depth}, {"gap", (*freeWall).gap}, {"corners", (*freeWall).corners}, {"front", (*freeWall).front},
}

// ReadyMadeNames lists the ready-made comparisons.
func ReadyMadeNames() []string {
	var names []string
	for _, s := range readyMade {
		names = append(names, s.name)
	}
	return names
}

// ReadyMade returns the options of a ready-made comparison: a layer doubled, and against
// half the area with the same wool (depth), moved off the wall (gap), the same wool in corners (corners),
// behind a film and with a layer in front of it (front). The wool is that of the first batts
// of the stock, or of 6 kPa·s/m². Options that do not fit the room are left out. The error lists the
// comparisons there are, or says that no part of the back wall is free or that nothing fits.
func ReadyMade(name string, p *model.Project) ([]model.Option, error) {
	for _, s := range readyMade {
		if s.name != name {
			continue
		}
		free := newFreeWall(p)
		if free.width < 0.5 {
			return nil, fmt.Errorf("the study %q needs 0.5 m of free back wall, but between doors, windows and treatments the widest stretch is %.2f m; remove a treatment from the room file, or give options with --add", name, free.width)
		}
		options := slices.DeleteFunc(s.options(free), func(o model.Option) bool {
			_, err := p.With(&o)
			return err != nil
		})
		if len(options) == 0 {
			return nil, fmt.Errorf("nothing of the study %q fits this room; give options of your own with --add or in the room file", name)
		}
		return options, nil
	}
	return nil, fmt.Errorf("there is no study %q; the studies are %s", name, strings.Join(ReadyMadeNames(), ", "))
}

// freeWall is the widest stretch of the back wall without doors, windows and treatments.
type freeWall struct {
	from, width, height float64
	wool                model.Layer
}

func newFreeWall(p *model.Project) *freeWall {
	along, up := p.Room.Extent(model.Back)
	s := &freeWall{height: up, wool: model.Layer{Kind: model.PorousLayer, Resistivity: 6000}}
	if p.Stock != nil && len(p.Stock.Batts) > 0 {
		s.wool = p.Stock.Batts[0].Layer
		s.wool.Text = ""
	}
	taken := append(noBackWall(&p.Room), model.Range{Min: along, Max: along})
	for i := range p.Room.Openings {
		if in, ok := p.Room.BorderPatch(&p.Room.Openings[i]); ok && in.Face == model.Back {
			taken = append(taken, model.Range{Min: in.Along, Max: in.Along + in.Width})
		}
	}
	for i := range p.Room.Treatments {
		if b := p.Room.Space(&p.Room.Treatments[i]); b.Max.X > p.Room.Size.X-studyDepth {
			taken = append(taken, model.Range{Min: b.Min.Y, Max: b.Max.Y})
		}
	}
	slices.SortFunc(taken, func(a, b model.Range) int { return cmp.Compare(a.Min, b.Min) })
	at := 0.0
	for _, r := range taken {
		if w := r.Min - at; w > s.width {
			s.from, s.width = at, w
		}
		at = max(at, r.Max)
	}
	for _, y := range []float64{s.from, s.from + s.width} { // a slope may come down to the back wall
		s.height = min(s.height, p.Room.CeilingAt(r2.Vec{X: p.Room.Size.X, Y: y}))
	}
	return s
}

// noBackWall lists the stretches, m from the left wall, where an outline leaves no back wall.
func noBackWall(r *model.Room) []model.Range {
	var walls []model.Range
	plan := r.Plan()
	for i, a := range plan {
		b := plan[(i+1)%len(plan)]
		if math.Min(a.X, b.X) > r.Size.X-1e-6 {
			walls = append(walls, model.Range{Min: min(a.Y, b.Y), Max: max(a.Y, b.Y)})
		}
	}
	slices.SortFunc(walls, func(a, b model.Range) int { return cmp.Compare(a.Min, b.Min) })
	var gaps []model.Range
	at := 0.0
	for _, w := range append(walls, model.Range{Min: r.Size.Y, Max: r.Size.Y}) {
		if w.Min > at {
			gaps = append(gaps, model.Range{Min: at, Max: w.Min})
		}
		at = max(at, w.Max)
	}
	return gaps
}

// studyDepth is the space before the back wall that the deepest of the layers needs, m.
const studyDepth = 0.4

// woolOf returns wool of a thickness in m.
func (s *freeWall) woolOf(m float64) model.Layer {
	l := s.wool
	l.Thickness = m
	return l
}

var (
	studyFilm = model.Layer{Kind: model.FilmLayer, Thickness: 100e-6}
	studyGap  = model.Layer{Kind: model.GapLayer, Thickness: 0.1}
)

// option returns layers on a share of the free wall, in the middle of it.
func (s *freeWall) option(name string, share float64, layers ...model.Layer) model.Option {
	return model.Option{Name: name, Add: []model.Treatment{{
		Name: "tried " + name, Layers: layers,
		Patch: model.Patch{Face: model.Back, Along: s.from + (1-share)*s.width/2, Width: share * s.width, Height: s.height},
	}}}
}

func (s *freeWall) depth() []model.Option {
	return []model.Option{
		s.option("100 mm of wool on the back wall", 1, s.woolOf(0.1)),
		s.option("200 mm of wool on the back wall", 1, s.woolOf(0.2)),
		s.option("the wool of 100 mm as 200 mm on half the area", 0.5, s.woolOf(0.2)),
		s.option("400 mm of wool on the back wall", 1, s.woolOf(0.4)),
	}
}

func (s *freeWall) gap() []model.Option {
	return []model.Option{
		s.option("100 mm of wool on the back wall", 1, s.woolOf(0.1)),
		s.option("100 mm of wool 100 mm off the back wall", 1, s.woolOf(0.1), studyGap),
		s.option("200 mm of wool on the back wall", 1, s.woolOf(0.2)),
	}
}

func (s *freeWall) front() []model.Option {
	return []model.Option{
		s.option("200 mm of bare wool on the back wall", 1, s.woolOf(0.2)),
		s.option("the same behind a film", 1, studyFilm, s.woolOf(0.2)),
		s.option("50 mm of wool before the film, 150 mm behind it", 1, s.woolOf(0.05), studyFilm, s.woolOf(0.15)),
	}
}

// corners compares 200 mm on the wall with triangles of 42 cm legs in both corners of the
// front wall, from the same wool as far as it goes.
func (s *freeWall) corners() []model.Option {
	const leg = 0.42
	volume := leg * leg * s.height // of both
	share := min(1, volume/(0.2*s.width*s.height))
	filled := func(a, b model.Face) model.Treatment {
		return model.Treatment{
			Name: fmt.Sprintf("tried %s %s corner", a, b), Form: model.InCorner, Layers: []model.Layer{s.woolOf(0)},
			Corner: model.Corner{Walls: [2]model.Face{a, b}, Leg: leg, To: s.height},
		}
	}
	return []model.Option{
		{Name: "both front corners filled, triangles of 42 cm legs", Add: []model.Treatment{filled(model.Front, model.Left), filled(model.Front, model.Right)}},
		s.option(fmt.Sprintf("the same wool as 200 mm on %.1f m of the back wall", share*s.width), share, s.woolOf(0.2)),
	}
}
