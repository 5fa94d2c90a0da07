package model

import (
	"fmt"
	"math"
	"unicode/utf8"
)

// The least sizes of film and cloth, m: any narrower or shorter, and sheets would be seams only. Our own
// choice, no source.
const (
	leastRollWidth  = 0.3
	leastRollLength = 0.5
)

// stock checks the material, and the terms on which it may be built in. It relies on
// the room's size and shape.
func (v *validator) stock() {
	s := v.p.Stock
	if s == nil {
		return
	}
	if n := utf8.RuneCountInString(s.Currency); n > 12 {
		v.fail("stock.currency", "must be a word or sign of at most 12 characters, have %d", n)
	}
	for i, b := range s.Batts {
		v.batt(fmt.Sprintf("stock.batts[%d]", i), b)
	}
	for i, r := range s.Films {
		v.film(fmt.Sprintf("stock.films[%d]", i), r)
	}
	for i, r := range s.Bags {
		v.film(fmt.Sprintf("stock.bags[%d]", i), r)
	}
	for i, r := range s.Cloths {
		v.roll(fmt.Sprintf("stock.cloths[%d]", i), r)
	}
	for i, t := range s.Timber {
		path := fmt.Sprintf("stock.timber[%d]", i)
		v.inRange(path+".size", t.Length, 0.2, 15, "m long")
		v.inRange(path+".size", t.Width, 0.004, 0.4, "m wide")
		v.inRange(path+".size", t.Thickness, 0.003, 0.4, "m thick")
		v.held(path, t.Have, t.Price)
	}
	v.terms(s)
}

func (v *validator) batt(path string, b Batt) {
	v.inRange(path+".size", b.Length, 0.1, 20, "m long")
	v.inRange(path+".size", b.Width, 0.1, 3, "m wide")
	v.inRange(path+".size", b.Layer.Thickness, 0.005, 0.6, "m thick")
	if b.Layer.Kind != PorousLayer {
		v.fail(path+".material", "must be a porous material")
	}
	v.inRange(path+".per_pack", float64(b.PerPack), 0, 1000, "batts")
	v.held(path, b.Have, b.Price)
}

func (v *validator) film(path string, r Roll) {
	v.roll(path, r)
	if r.Layer.Kind != FilmLayer {
		v.fail(path+".material", "must be a film")
	}
}

func (v *validator) roll(path string, r Roll) {
	v.inRange(path+".size", r.Width, leastRollWidth, 20, "m wide")
	v.inRange(path+".size", r.Length, leastRollLength, 1000, "m long")
	v.inRange(path+".mass", r.Mass, 0, 20, "kg/m²")
	v.held(path, r.Have, r.Price)
}

// held checks how many are in hand and what they cost.
func (v *validator) held(path string, have int, price Range) {
	v.inRange(path+".have", float64(have), 0, 100000, "pieces")
	if price.Given() && !(price.Min >= 0 && price.Min <= price.Max && !math.IsInf(price.Max, 0)) {
		v.fail(path+".price", "must go from low to high and be 0 or more, have %.6g to %.6g", price.Min, price.Max)
	}
}

// terms checks where things may go and what must stay free.
func (v *validator) terms(s *Stock) {
	for i, c := range s.Cover {
		path := fmt.Sprintf("stock.may_cover[%d]", i)
		v.patch(path, c.Patch)
		if c.Patch.Face == Floor {
			v.fail(path+".wall", "must be a wall or the ceiling: people walk on the floor")
		}
		v.inRange(path+".deepest", c.Deepest, 0, LargestSide, "m")
	}
	for i, k := range s.Free {
		path := fmt.Sprintf("stock.keep_free[%d]", i)
		if k.OnWall {
			v.patch(path, k.Patch)
		} else {
			v.block(path, k.Block)
		}
	}
	for _, d := range []struct {
		key string
		m   float64
	}{{"width", s.Passage.Width}, {"height", s.Passage.Height}, {"longest", s.Passage.Longest}} {
		if d.m != 0 {
			v.inRange("stock.passage."+d.key, d.m, 0.3, 20, "m")
		}
	}
}
