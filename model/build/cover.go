package build

import (
	"math"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/absorber"
)

// What sheets need beyond the face that they cover, m. Common practice, no source.
const (
	filmWrap  = 0.05 // film round each edge of the wool
	filmSeam  = 0.10 // film over film where two lengths are joined, or a bag is closed
	clothWrap = 0.06 // cloth round the back of a frame, to be stapled
)

// The mass of cloth where it is not given, kg/m², and the density of softwood, kg/m³.
// Common practice, no source.
var (
	clothMass = material.Span{Low: 0.15, Typical: 0.25, High: 0.35}
	softwood  = material.Span{Low: 430, Typical: 480, High: 560}
)

// sheet adds a rectangle of film or cloth, in lengths to be joined if the roll is too
// narrow. It returns the length of the seams in m.
func (m *maker) sheet(use *RollUse, piece int, width, height float64) (seams float64) {
	roll, length := use.Roll.Width, endless(use.Roll.Length)
	if (Shape{Width: width, Height: height}).Fits(roll, length) {
		use.Shapes = append(use.Shapes, Shape{Width: width, Height: height, Piece: piece})
		return 0
	}
	across, long := min(width, height), max(width, height)
	if long > length { // strips run the other way
		across, long = long, across
	}
	if long > length { // larger than the roll both ways: half of it, twice
		m.sheet(use, piece, width/2+filmSeam, height)
		m.sheet(use, piece, width/2+filmSeam, height)
		return height
	}
	n := max(1, int(math.Ceil((across-filmSeam)/(roll-filmSeam)-1e-9)))
	each := (across + float64(n-1)*filmSeam) / float64(n)
	for range n {
		use.Shapes = append(use.Shapes, Shape{Width: min(each, roll), Height: long, Piece: piece})
	}
	return float64(n-1) * long
}

func (m *maker) filmWeight(f int) material.Span {
	kg, err := filmMass(m.plan.Films[f].Roll.Layer)
	if err != nil {
		panic("build: a film that was weighed before: " + err.Error())
	}
	return about(kg, densityGiven)
}

// boardWeight is that of a board, kg/m²; zero for one that package material refuses
// alone.
func boardWeight(l model.Layer) material.Span {
	s, _, err := absorber.NewStack([]model.Layer{l}, nil)
	if err != nil {
		return material.Span{}
	}
	kg, _ := s.Weights()
	return about(kg[0], densityGiven)
}

// cover adds the cloth over a face with its sides, if the stock has cloth: cut as a rectangle, of which an area
// in m² stays on the piece.
func (m *maker) cover(sum material.Span, piece int, width, height, area float64) material.Span {
	if len(m.plan.Cloths) == 0 {
		return sum
	}
	c := &m.plan.Cloths[0]
	width, height = width+2*clothWrap, height+2*clothWrap
	m.sheet(c, piece, width, height)
	mass := clothMass
	if c.Roll.Mass > 0 {
		mass = about(c.Roll.Mass, densityGiven)
	}
	return plus(sum, mass, area)
}

// frame adds the members of a frame, if the stock has timber.
func (m *maker) frame(sum material.Span, piece int, members []Member) material.Span {
	t := m.plan.Timber
	if t == nil {
		return sum
	}
	for _, member := range members {
		member.Piece = piece
		t.Members = append(t.Members, member)
		sum = plus(sum, softwood, member.Length*t.Timber.Width*t.Timber.Thickness)
	}
	return sum
}

// frameMembers returns the parts of a frame, butt-jointed, battens on edge: the uprights
// run through; round an outline see mitred. A deep piece has a ring in front and one behind, and posts between
// their corners.
func frameMembers(p *Piece, t *TimberUse) []Member {
	if t == nil || p.Kind == Bag {
		return nil
	}
	thickness := t.Timber.Thickness
	rail := max(0.02, p.Width-2*thickness)
	ring := []Member{{Name: upright, Length: p.Height}, {Name: "rail", Length: rail}, {Name: upright, Length: p.Height}, {Name: "rail", Length: rail}}
	if p.Outline != nil {
		ring = mitred(p.Outline, thickness)
	}
	list := ring
	if p.Depth > 2.5*t.Timber.Width {
		list = append(list, ring...)
		for range ring {
			list = append(list, Member{Name: "post", Length: p.Depth})
		}
	}
	if p.Kind == FreePanel && p.Height > tippingFrom && p.Depth < p.Height/tippingBase {
		list = append(list, Member{Name: "foot", Length: p.Height / tippingBase}, Member{Name: "foot", Length: p.Height / tippingBase})
	}
	return list
}
