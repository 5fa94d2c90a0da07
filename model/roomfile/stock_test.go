package roomfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
)

const allStock = `stock:
  currency: EUR
  dated: March
  batts:
    - {name: slab, material: wool 6 kPa·s/m² 14 kg/m³, size: 1200 x 600 x 100 mm, have: 24, per_pack: 8, price: 31 to 36.5}
    - {material: stone wool batts, size: 48 in x 24 in × 4 in}
  films: [{name: foil, material: film 100 µm, size: 4 m x 25 m, have: 1, price: 18}]
  cloths: [{name: sheet, mass: 250 g/m², size: 1.5 m x 10 m}]
  bags: [{material: film 0.18 kg/m², size: 1 m x 1.6 m, have: 4}]
  timber: [{name: batten, size: 8 ft x 1 3/4 in x 3/4 in, price: 2.4}]
  may_cover: [{wall: back, width: 2 m, deepest: 30 cm}]
  keep_free:
    - {name: socket, wall: back, from: 0.1 m, sill: 0.3 m, width: 10 cm, height: 10 cm}
    - {name: path, from: [1 m, 0 m, 0 m], to: [2 m, 0.8 m, 2 m]}
  rental: yes
  passage: {width: 72 cm, height: 2 m, longest: 2.2 m}
`

func TestStock(t *testing.T) {
	t.Parallel()
	s := readText(t, around("", allStock)).Stock
	slab, inch := s.Batts[0], s.Batts[1]
	if slab.Length != 1.2 || slab.Width != 0.6 || slab.Layer.Thickness != 0.1 || slab.Layer.Resistivity != 6000 || slab.Layer.Density != 14 {
		t.Errorf("slab %+v", slab)
	}
	if slab.Have != 24 || slab.PerPack != 8 || slab.Price != (model.Range{Min: 31, Max: 36.5}) {
		t.Errorf("slab %+v", slab)
	}
	if inch.Length != 1.2192 || inch.Width != 0.6096 || inch.Layer.Thickness != 0.1016 || inch.Layer.Material == "" {
		t.Errorf("imperial batts %+v", inch) // inch of 25.4 mm
	}
	if b := s.Timber[0]; b.Length != 2.4384 || b.Width != 0.04445 || b.Thickness != 0.01905 {
		t.Errorf("batten %+v", b)
	}
	if c := s.Cover[0]; c.Patch.Width != 2 || c.Patch.Height != 2.45 || c.Deepest != 0.3 {
		t.Errorf("may cover %+v", c)
	}
	if !s.Free[0].OnWall || s.Free[1].OnWall || s.Free[1].Block.Max.Y != 0.8 || !s.Rental || s.Passage.Longest != 2.2 {
		t.Errorf("free %+v, rental %v, passage %+v", s.Free, s.Rental, s.Passage)
	}
	if s.Films[0].Price.Max != 18 || s.Cloths[0].Mass != 0.25 || s.Bags[0].Have != 4 {
		t.Errorf("sheets %+v %+v %+v", s.Films, s.Cloths, s.Bags)
	}
}

// A stock of nothing is a stock: it asks for all that is missing.
func TestEmptyStock(t *testing.T) {
	t.Parallel()
	p := readText(t, around("", "stock: {}"))
	if p.Stock == nil || len(p.Stock.Batts) != 0 {
		t.Fatalf("stock %+v", p.Stock)
	}
	if back := readText(t, written(t, p)); !same(p, back) {
		t.Errorf("reads back as %+v", back.Stock)
	}
	if p := readText(t, around("", "")); p.Stock != nil {
		t.Errorf("a stock of %+v out of nothing", p.Stock)
	}
}

func TestStockMistakes(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ stock, want string }{
		{"batts: [{material: wool 6 kPa·s/m², size: 1200 mm x 600 mm}]", "not 3 lengths"},
		{"batts: [{material: wool 6 kPa·s/m², size: 1200 x 600 x 100}]", "no unit"},
		{"batts: [{material: wool 6 kPa·s/m², size: 1200 mm x 600 mm x 100 m}]", "m thick"},
		{"batts: [{material: wool 50 mm 6 kPa·s/m², size: 1200 mm x 600 mm x 50 mm}]", "last number of size"},
		{"batts: [{material: film 100 µm, size: 1200 mm x 600 mm x 50 mm}]", "must be a porous material"},
		{"batts: [{size: 1200 mm x 600 mm x 50 mm}]", "material"},
		{"batts: [{material: wool 6 kPa·s/m²}]", "write size:"},
		{"batts: [{material: wool 6 kPa·s/m², size: 1 m x 600 mm x 50 mm, have: -2}]", "whole number"},
		{"batts: [{material: wool 6 kPa·s/m², size: 1 m x 600 mm x 50 mm, price: 31 EUR}]", "the number alone"},
		{"batts: [{material: wool 6 kPa·s/m², size: 1 m x 600 mm x 50 mm, price: 36 to 31}]", "from low to high"},
		{"films: [{material: wool 50 mm 6 kPa·s/m², size: 4 m x 25 m}]", "must be a film"},
		{"films: [{material: wool, size: 4 m x 25 m}]", "film 0.1 kg/m²"},
		{"films: [{material: wool 6 kPa·s/m², size: 4 m x 25 m}]", `"wool 6 kPa·s/m²" must be a film; write it with its mass, film 0.1 kg/m², or its thickness, film 100 µm; wool belongs in stock.batts`},
		{"bags: [{material: stone wool batts, size: 1 m x 1.6 m}]", "must be a film"},
		{"bags: [{material: air 50 mm, size: 1 m x 1.6 m}]", "or its thickness, film 100 µm"},
		{"may_cover: [{wall: floor}]", "people walk"},
		{"may_cover: [{wall: back, width: 9 m}]", "inside the back wall"},
		{"keep_free: [{name: path, from: [1 m, 0 m, 0 m], to: [1 m, 1 m, 1 m]}]", "beyond from"},
		{"currency: units of account", "at most 12 characters"},
		{"rental: perhaps", "write yes or no"},
		{"passage: {width: 72 mm}", "0.3 to 20 m"},
		{"batt: []", `did you mean "batts"?`},
	} {
		_, err := Read(strings.NewReader(around("", "stock:\n  "+c.stock)), "test")
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "test:4:") {
			t.Errorf("%s: %v, want %q in line 4", c.stock, err, c.want)
		}
	}
}

// Whatever the stock: written and read again it is the same to the last bit.
func TestStockRoundTrip(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		p := anyStock().Draw(t, "project")
		text := written(t, p)
		back, err := Read(strings.NewReader(text), "written")
		if err != nil || !cmp.Equal(p, back, noise) {
			t.Fatalf("reads back as %+v, %v, was %+v, from\n%s", back, err, p.Stock, text)
		}
	})
}

// anyStock draws a project with a stock and materials of the owner's own.
func anyStock() *rapid.Generator[*model.Project] {
	return rapid.Custom(func(t *rapid.T) *model.Project {
		p := readProject(around("", ""))
		drawMaterials(t, p)
		s := &model.Stock{Currency: anyName().Draw(t, "currency"), Rental: rapid.Bool().Draw(t, "rental")}
		m := rapid.Float64Range(0.3, 2.9)
		price := func() (r model.Range) {
			if rapid.Bool().Draw(t, "priced") {
				r.Max = rapid.Float64Range(0.01, 99).Draw(t, "price")
				r.Min = r.Max * rapid.SampledFrom([]float64{0, 0.5, 1}).Draw(t, "from")
			}
			return r
		}
		wools := []string{"wool 6 kPa·s/m²", "stone wool batts", "wool 12 kPa·s/m² 40 kg/m³ limp"}
		for _, own := range p.Materials {
			if own.Layer.Kind == model.PorousLayer {
				wools = append(wools, own.Name)
			}
		}
		for range rapid.IntRange(0, 3).Draw(t, "batts") {
			l, err := parseWool(rapid.SampledFrom(wools).Draw(t, "wool"), p.Materials)
			if err != nil {
				t.Fatal(err)
			}
			l.Thickness = rapid.Float64Range(0.02, 0.3).Draw(t, "thick")
			s.Batts = append(s.Batts, model.Batt{
				Name: anyName().Draw(t, "batt"), Layer: l, Length: m.Draw(t, "length"), Width: m.Draw(t, "width"),
				Have: rapid.IntRange(0, 99).Draw(t, "have"), PerPack: rapid.IntRange(0, 12).Draw(t, "pack"), Price: price(),
			})
		}
		if rapid.Bool().Draw(t, "sheets") {
			l, _ := phrase.Layer("film 4 mil")
			roll := model.Roll{Name: anyName().Draw(t, "roll"), Width: m.Draw(t, "width"), Length: m.Draw(t, "length"), Price: price()}
			s.Cloths = append(s.Cloths, roll)
			roll.Layer = l
			s.Films, s.Bags = append(s.Films, roll), append(s.Bags, roll)
			s.Timber = append(s.Timber, model.Timber{Length: m.Draw(t, "batten"), Width: 0.044, Thickness: 0.019, Price: price()})
		}
		if rapid.Bool().Draw(t, "terms") {
			q := model.Patch{Face: model.Left, Along: 0.1, Width: m.Draw(t, "along"), Height: 2}
			s.Cover = append(s.Cover, model.Cover{Patch: q, Deepest: rapid.OneOf(rapid.Just(0.0), rapid.Float64Range(0.001, 1)).Draw(t, "deepest")})
			s.Free = append(s.Free, model.Keep{Name: anyName().Draw(t, "keep"), OnWall: true, Patch: q},
				model.Keep{Block: model.Block{Min: p.Seats[0].At, Max: p.Room.Size}})
			s.Passage.Width = m.Draw(t, "door")
		}
		p.Stock = s
		p.Warnings = warnings(p)
		return p
	}).Filter(func(p *model.Project) bool { return p.Validate() == nil })
}
