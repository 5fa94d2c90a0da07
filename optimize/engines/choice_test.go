package engines

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
	"evenbass/optimize/testroom"
)

// A plain box is for the modes, which are exact there; whatever makes a room otherwise
// is for the wave solver, and is said.
func TestChoose(t *testing.T) {
	t.Parallel()
	door := model.Patch{Face: model.Back, Width: 0.8, Height: 2}
	for _, c := range []struct {
		name   string
		want   model.EngineKind
		why    string
		change func(*model.Room)
	}{
		{"bare", "mode", "plain box", func(*model.Room) {}},
		{"outline", "wave", "an outline", func(r *model.Room) { r.Outline = r.Plan() }},
		{"slope", "wave", "a sloped ceiling", func(r *model.Room) { r.Slopes = []model.Slope{{}} }},
		{"treated", "wave", "treatments", func(r *model.Room) { r.Treatments = []model.Treatment{{}} }},
		{"cupboard", "wave", "solid blocks", func(r *model.Room) { r.Blocks = []model.Block{{}} }},
		{"door", "mode", "", func(r *model.Room) {
			r.Openings = []model.Opening{{Kind: "door", Patch: door, Surface: model.Surface{Construction: "hollow door"}}}
		}},
		{"open door", "wave", "hole in the back wall absorbs", func(r *model.Room) {
			r.Openings = []model.Opening{{Kind: "hole", Patch: door}}
		}},
		{"hatch", "mode", "", func(r *model.Room) {
			r.Openings = []model.Opening{{Kind: "hole", Patch: model.Patch{Face: model.Back, Width: 0.4, Height: 0.4}}}
		}},
	} {
		r := testroom.Concrete()
		c.change(r)
		got, err := Choose("auto", r)
		if err != nil || got.Kind != c.want || !strings.Contains(got.Why, c.why) {
			t.Errorf("%s: chosen %+v, %v; want %s because of %q", c.name, got, err, c.want, c.why)
		}
	}
}

// A named engine is taken without a reason; one that cannot do the room is refused.
func TestChooseByName(t *testing.T) {
	t.Parallel()
	odd := testroom.Concrete()
	odd.Outline = odd.Plan()
	for _, c := range []struct {
		engine model.EngineKind
		room   *model.Room
		fails  string
	}{
		{"mode", testroom.Concrete(), ""},
		{"image", testroom.Concrete(), ""},
		{"wave", testroom.Concrete(), ""},
		{"wave", odd, ""},
		{"mode", odd, "needs a plain box"},
		{"image", odd, "needs a plain box"},
		{"rays", testroom.Concrete(), "no engine"},
	} {
		got, err := Choose(c.engine, c.room)
		var fault *Error
		switch {
		case c.fails == "" && (err != nil || got != Choice{Kind: c.engine}):
			t.Errorf("%s: %+v, %v", c.engine, got, err)
		case c.fails != "" && (!errors.As(err, &fault) || !strings.Contains(err.Error(), c.fails)):
			t.Errorf("%s: error %v, want %q", c.engine, err, c.fails)
		}
	}
}

// Each engine that is listed answers under its own name, never another in its place. The wave solver takes no box.
func TestOverBox(t *testing.T) {
	t.Parallel()
	box, _, err := surface.Box(testroom.Concrete(), material.Typical)
	if err != nil {
		t.Fatal(err)
	}
	for _, kind := range append(Engines(), "rays") {
		engine, err := OverBox(kind, box, model.Grid{40, 50})
		if kind == Auto || kind == model.WaveEngine || kind == "rays" {
			if err == nil {
				t.Errorf("%s: the %s engine answers for the box", kind, engine.Info().Kind)
			}
			continue
		}
		if err != nil || engine.Info().Kind != kind {
			t.Errorf("%s: %v, %v", kind, engine, err)
		}
	}
}

// The wave solver keeps its answers wherever a woofer may be asked for: in the zones as far
// as the rules let it stand there, and where it stands now.
func TestSourceZones(t *testing.T) {
	t.Parallel()
	p := &model.Project{Room: *testroom.Concrete()}
	p.Speakers = model.Speakers{
		Placed: true, Left: r3.Vec{X: 3, Y: 0.5, Z: 0.7}, Right: r3.Vec{X: 3, Y: 2.5, Z: 0.7},
		WooferBelow: 0.1, AxisHeights: []float64{1.2, 1.1}, Zones: []model.Zone{
			{X: model.Range{Min: 0.5, Max: 1}, Y: model.Range{Min: 0.4, Max: 0.8}}, {X: model.Range{Min: 0.5, Max: 1}, Y: model.Range{Min: 2.2, Max: 2.6}},
		},
	}
	covered := func(v r3.Vec) bool {
		return slices.ContainsFunc(SearchZones(p), func(z model.Block) bool { return z.Contains(v) })
	}
	if v := (r3.Vec{X: 3.9, Y: 1.5, Z: 1}); SearchZones(p) != nil {
		t.Errorf("without a seat there is nothing to search, and %v is not covered", v)
	}
	p.Seats = []model.Seat{{Height: 1.2, Zones: []model.Zone{{X: model.Range{Min: 2, Max: 3}}}}}
	for _, v := range []r3.Vec{
		{X: 0.5, Y: 0.4, Z: 1}, {X: 1.05, Y: 0.85, Z: 1.09}, {X: 0.7, Y: 2.6, Z: 1.05}, p.Speakers.Left, p.Speakers.Right,
	} {
		if !covered(v) {
			t.Errorf("%v is not covered by %v", v, SearchZones(p))
		}
	}
	if covered(r3.Vec{X: 0.7, Y: 1.5, Z: 1}) {
		t.Errorf("the middle of the room is kept too: %v", SearchZones(p))
	}
	p.Speakers.Zones = append(p.Speakers.Zones, model.Zone{Y: model.Range{Min: 0.2, Max: 0.3}}, model.Zone{Y: model.Range{Min: 2.7, Max: 2.8}})
	if v := (r3.Vec{X: 1.5, Y: 0.25, Z: 1}); !covered(v) {
		t.Errorf("%v is not covered by a zone without x", v)
	}
	p.Speakers.Zones = nil
	if v := (r3.Vec{X: 2.3, Y: 1.1, Z: 1}); !covered(v) {
		t.Errorf("without zones %v is not covered", v)
	}
}
