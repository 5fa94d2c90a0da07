package build

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r2"
)

// Nesting is how shapes are cut from sheets of one size.
type Nesting struct {
	Sheets []Sheet
	Bound  int     // no fewer sheets could do, by area and by size
	Exact  bool    // no fewer can: the bound is met, or a full search found none
	Waste  float64 // share of the sheets that becomes no part
}

// Nest lays shapes on as few sheets as it can, by cuts that go right across what is left
// of a sheet, with a gap of kerf (m) for each. Width and height are the sheet's in m.
// Shapes may be turned, and those with an outline turned over; slanting cuts take nothing. Two of them that one
// slanting cut parts share a rectangle where that needs no more sheets. Up to seven
// rectangles are searched in full; beyond, the best of several orders of first fit is
// taken, the largest first. It returns an error that names the first shape that no sheet
// holds.
func Nest(shapes []Shape, width, height, kerf float64) (Nesting, error) {
	for _, s := range shapes {
		if !s.Fits(width, height) {
			return Nesting{}, fmt.Errorf("a part of %.4g x %.4g m does not fit on a sheet of %.4g x %.4g m", s.Width, s.Height, width, height)
		}
	}
	n := nester{shapes: shapes, width: width, height: height, kerf: kerf}
	best := Nesting{Bound: n.bound()}
	for _, blocks := range n.bundles() {
		if sheets, full := n.pack(blocks, best.Bound); sheets != nil && (best.Sheets == nil || len(sheets) < len(best.Sheets)) {
			best.Sheets, best.Exact = sheets, full && !n.slanting()
		}
		if len(best.Sheets) == best.Bound {
			break
		}
	}
	best.Exact = best.Exact || len(best.Sheets) == best.Bound
	var used float64
	for _, s := range best.Sheets {
		used += s.Used()
	}
	if len(best.Sheets) > 0 {
		best.Waste = 1 - used/(float64(len(best.Sheets))*width*height)
	}
	return best, nil
}

type nester struct {
	shapes              []Shape
	width, height, kerf float64
}

// block is the unit of the packing: a rectangle, or triangles or slants that together make one.
type block struct {
	width, height float64
	shapes        []int
	lay           func(r Rect) (corners [][]r2.Vec, cuts [][2]r2.Vec)
	wedge         func(r Rect) []r2.Vec // that a slanting cut leaves over; nil for none worth keeping
}

// bound is the least number of sheets: by area, and as many as there are rectangles of
// which no two share a sheet.
func (n *nester) bound() int {
	var area float64
	alone := 0
	for _, s := range n.shapes {
		area += s.Area()
		if !s.slanting() && n.alone(s) {
			alone++
		}
	}
	return max(alone, int(math.Ceil(area/(n.width*n.height)-1e-9)))
}

// alone reports whether two rectangles of that size or more cannot share a sheet: turned
// as they like they take more than half of it in both directions, or they cannot turn.
func (n *nester) alone(s Shape) bool {
	short, long := min(s.Width, s.Height), max(s.Width, s.Height)
	narrow, wide := min(n.width, n.height), max(n.width, n.height)
	return short > wide/2+slack || long > narrow+slack && short > narrow/2+slack && long > wide/2+slack
}

func (n *nester) slanting() bool { return slices.ContainsFunc(n.shapes, Shape.slanting) }

// pack lays blocks on sheets; full reports that every way to lay them was tried. It returns nil if a block is
// larger than a sheet.
func (n *nester) pack(blocks []block, bound int) (sheets []Sheet, full bool) {
	var best []state
	for _, o := range orders() {
		if s := n.firstFit(blocks, o); s != nil && (best == nil || len(s) < len(best)) {
			best = s
		}
		if best == nil {
			return nil, false
		}
		if len(best) == bound {
			return n.sheets(blocks, best), false
		}
	}
	if len(blocks) > exactMost {
		return n.sheets(blocks, best), false
	}
	if s := n.exact(blocks); len(s) < len(best) {
		best = s
	}
	return n.sheets(blocks, best), true
}

// state is a sheet that is being filled.
type state struct {
	free []Rect
	laid []laid
	cuts [][2]r2.Vec
}

type laid struct {
	block int
	at    Rect
}

// order is one way to fill sheets: which block first, and where a sheet is cut.
type order struct {
	key  func(b block) float64 // the largest first
	long bool                  // the first cut at a block leaves the longer strip whole
}

func orders() []order {
	var all []order
	for _, key := range []func(b block) float64{
		func(b block) float64 { return b.width * b.height },
		func(b block) float64 { return max(b.width, b.height) },
		func(b block) float64 { return min(b.width, b.height) },
	} {
		all = append(all, order{key, false}, order{key, true})
	}
	return all
}

// firstFit puts each block on the first sheet that has room for it.
func (n *nester) firstFit(blocks []block, o order) []state {
	list := make([]int, len(blocks))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(o.key(blocks[b]), o.key(blocks[a])) })
	var sheets []state
	for _, i := range list {
		placed := false
		for s := range sheets {
			if placed = n.put(&sheets[s], blocks, i, o.long); placed {
				break
			}
		}
		if placed {
			continue
		}
		fresh := state{free: []Rect{{Width: n.width, Height: n.height}}}
		if !n.put(&fresh, blocks, i, o.long) {
			return nil
		}
		sheets = append(sheets, fresh)
	}
	return sheets
}

// put lays a block into the free rectangle where it leaves the least over.
func (n *nester) put(s *state, blocks []block, i int, long bool) bool {
	best, turned, rest := -1, false, math.Inf(1)
	for f, r := range s.free {
		for _, turn := range []bool{false, true} {
			w, h := blocks[i].turned(turn)
			if w > r.Width+slack || h > r.Height+slack {
				continue
			}
			if left := r.Area() - w*h + min(r.Width-w, r.Height-h); left < rest-slack {
				best, turned, rest = f, turn, left
			}
		}
	}
	if best < 0 {
		return false
	}
	r := s.free[best]
	s.free = slices.Delete(s.free, best, best+1)
	w, h := blocks[i].turned(turned)
	s.laid = append(s.laid, laid{i, Rect{r.X, r.Y, w, h}})
	across := (r.Width-w > r.Height-h) == long
	s.split(r, w, h, across, n.kerf)
	return true
}

func (b block) turned(turn bool) (w, h float64) {
	if turn {
		return b.height, b.width
	}
	return b.width, b.height
}

// split cuts a corner of w by h off a free rectangle: the first cut across (parallel to
// x), or else upright.
func (s *state) split(r Rect, w, h float64, across bool, kerf float64) {
	right, top := r.Width-w-kerf, r.Height-h-kerf
	if across {
		if s.cut(r.X, r.Y+h, r.X+r.Width, r.Y+h, r.Height-h); top > slack {
			s.free = append(s.free, Rect{r.X, r.Y + h + kerf, r.Width, top})
		}
		if s.cut(r.X+w, r.Y, r.X+w, r.Y+h, r.Width-w); right > slack {
			s.free = append(s.free, Rect{r.X + w + kerf, r.Y, right, h})
		}
		return
	}
	if s.cut(r.X+w, r.Y, r.X+w, r.Y+r.Height, r.Width-w); right > slack {
		s.free = append(s.free, Rect{r.X + w + kerf, r.Y, right, r.Height})
	}
	if s.cut(r.X, r.Y+h, r.X+w, r.Y+h, r.Height-h); top > slack {
		s.free = append(s.free, Rect{r.X, r.Y + h + kerf, w, top})
	}
}

// cut notes a cut, unless nothing to speak of is left beyond it.
func (s *state) cut(x1, y1, x2, y2, rest float64) {
	if rest > sliver {
		s.cuts = append(s.cuts, [2]r2.Vec{{X: x1, Y: y1}, {X: x2, Y: y2}})
	}
}

// sheets turns filled sheets into what they are for.
func (n *nester) sheets(blocks []block, filled []state) []Sheet {
	out := make([]Sheet, len(filled))
	for i, s := range filled {
		sheet := &out[i]
		sheet.Cuts = s.cuts
		for _, l := range s.laid {
			b := &blocks[l.block]
			corners, cuts := b.lay(l.at)
			for j, shape := range b.shapes {
				sheet.Places = append(sheet.Places, Place{Shape: shape, Corners: corners[j]})
			}
			sheet.Cuts = append(sheet.Cuts, cuts...)
			if b.wedge != nil {
				sheet.Wedges = append(sheet.Wedges, b.wedge(l.at))
			}
		}
		for _, r := range s.free {
			if min(r.Width, r.Height) >= least {
				sheet.Offcuts = append(sheet.Offcuts, r)
			}
		}
	}
	return out
}
