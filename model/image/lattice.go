package image

import (
	"cmp"
	"math"
	"slices"

	"evenbass/model"

	"gonum.org/v1/gonum/spatial/r3"
)

// hits returns how often the path from cell n of an axis meets the near wall (at
// 0) and the far one. Going from the room to cell n > 0 the planes at L, 2L ...
// nL are crossed, which are the far wall and the near wall by turns; going to
// n < 0 it is those at 0, -L ... and the near wall is first.
func hits(n int) (near, far int) {
	if n >= 0 {
		return n / 2, (n + 1) / 2
	}
	return (1 - n) / 2, -n / 2
}

// mirrored returns where cell n holds the image of a source at s in a room of
// extent l on the axis. Odd cells are mirrored.
func mirrored(n int, s, l float64) float64 {
	if n%2 != 0 {
		s = l - s
	}
	return float64(n)*l + s
}

// axisImage is the part of an image that belongs to one axis.
type axisImage struct {
	dist float64 // |X|, m
	sq   float64 // X², m²

	near, far int // hits of the two walls

	row   []float64 // R_near^near R_far^far over cosθ, from the tables; else nil
	scale float64   // |X| times the nodes of the row per unit of cosθ, m
}

// axisImages lists the images of one axis within the given length, the nearest
// first.
func axisImages(source, seat, extent, length float64) []axisImage {
	most := int(max(length, 0)/extent) + 1
	list := make([]axisImage, 0, 2*most+1)
	for n := -most; n <= most; n++ {
		x := mirrored(n, source, extent) - seat
		if d := math.Abs(x); d <= length {
			near, far := hits(n)
			list = append(list, axisImage{dist: d, sq: x * x, near: near, far: far})
		}
	}
	slices.SortStableFunc(list, func(a, b axisImage) int { return cmp.Compare(a.dist, b.dist) })
	return list
}

// lattice is the three lists whose triples are the images of one source.
type lattice struct {
	axes   [3][]axisImage
	length float64 // m
}

// closest is the least length of a path: a source put at the seat itself is
// taken to be this far away.
const closest = 1e-3

func newLattice(size, source, seat r3.Vec, length float64) lattice {
	l := lattice{length: length}
	s, p, ext := components(source), components(seat), components(size)
	for i := range l.axes {
		l.axes[i] = axisImages(s[i], p[i], ext[i], length)
	}
	l.keepAway()
	return l
}

// keepAway moves images that fall on the seat to the least distance.
func (l *lattice) keepAway() {
	for _, axis := range l.axes {
		if len(axis) == 0 || axis[0].dist >= closest {
			return
		}
	}
	z := l.axes[2]
	for i := 0; i < len(z) && z[i].dist < closest; i++ {
		z[i].sq = closest * closest
	}
}

// without drops every image that has met the face.
func (l *lattice) without(face model.Face) {
	axis := &l.axes[face.Axis()]
	*axis = slices.DeleteFunc(*axis, func(a axisImage) bool {
		if face.Far() {
			return a.far > 0
		}
		return a.near > 0
	})
}

// columns calls visit for every pair of images on x and y with the images on z
// that lie within the length, and returns the number of images in all.
func (l *lattice) columns(visit func(x, y *axisImage, z []axisImage)) int {
	xs, ys, zs := l.axes[0], l.axes[1], l.axes[2]
	limit := l.length * l.length
	images := 0
	for i := range xs {
		last := len(zs)
		for j := range ys {
			rest := limit - xs[i].sq - ys[j].sq
			for last > 0 && zs[last-1].sq > rest {
				last--
			}
			if last == 0 {
				break
			}
			visit(&xs[i], &ys[j], zs[:last])
			images += last
		}
	}
	return images
}

func components(v r3.Vec) [3]float64 { return [3]float64{v.X, v.Y, v.Z} }
