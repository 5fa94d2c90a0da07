package lattice

import (
	"math"
	"sort"

	"evenbass/model"
	"evenbass/model/material/fit"
	"evenbass/model/wave/scene"
)

// Medium is a scene cut into cells: what each cell holds and what each face between cells lets
// through. Face (a, i) joins cell i with cell i+Stride[a].
type Medium struct {
	Cells
	Air model.Air

	volume    []float64        // share of the cell that is not solid, 0..1
	fill      []float64        // share of the cell filled with porous material; nil means 0 everywhere
	kind      []int            // by cell: index of the porous volume that fills it
	open      [3][]float64     // share of the face that is open, 0..1
	loads     [3][]load        // by face; nil means none
	couplings [3][]float64     // by cell: drag shared by its two faces on an axis, Pa·s/m
	moved     map[face]float64 // coordinate of a face that a film has moved, m
	Walls     []WallFace

	sides []side       // by cell, at slanted films; nil means none
	outer [][6]float64 // by cell: open share of its own sides; nil means 1

	porous   []scene.Porous
	Surfaces []fit.Branches // wall faces refer to them by index

	omitted []string // names of films left out
	resists bool     // any face may have flow resistance
}

// Forget drops what only assembling a system needs: nine tenths of a medium with material. What is left finds places
// and says what the cells cannot do.
func (m *Medium) Forget() {
	m.fill, m.kind, m.open, m.loads, m.couplings, m.moved, m.outer, m.sides = nil, nil, [3][]float64{}, [3][]load{}, [3][]float64{}, nil, nil, nil
}

// face names a face between two cells by its axis and lower cell.
type face struct {
	axis, cell int
}

// load is what a face carries beyond the mass of its air. Porous material may cover only a part of
// the face's cross-section; air flows freely through the rest.
type load struct {
	film         float64 // mass that moves with everything that passes, kg/m²
	mass         float64 // of porous material, averaged over the face, kg/m²
	drag         float64 // likewise, Pa·s/m
	skeleton     float64 // mass moved by the drag, likewise, kg/m²; 0 means that it stands still
	below, above float64 // covered share of the cross-section, on either side
}

// cross returns the share of the cross-section that has drag, 0..1.
func (l *load) cross() float64 { return min(1, max(l.below, l.above)) }

// WallFace is a piece of surface that bounds one cell.
type WallFace struct {
	Cell    int
	Surface int     // index into Medium.Surfaces
	Area    float64 // m²
	Depth   float64 // of the air between the surface and the cell's centre, m
}

// New cuts a scene into cells of about the given size in m. The scene must be valid.
func New(s *scene.Scene, cell float64) *Medium {
	m := &Medium{Cells: NewCells(s.Size, cell), Air: s.Air, porous: s.Porous, moved: map[face]float64{}}
	m.volume = make([]float64, m.Size)
	for a := range m.open {
		m.open[a] = make([]float64, m.Size)
	}
	m.Each(func(i int, c [3]int) {
		m.volume[i] = 1
		for a := range 3 {
			if c[a]+1 < m.N[a] {
				m.open[a][i] = 1
			}
		}
	})
	h := scene.NewShape(s)
	if !s.FillsBox() {
		m.cut(h)
	}
	m.drawWalls(s)
	m.drawSurfaces(s, h)
	if m.resists = len(s.Porous)+len(s.Films) > 0; m.resists {
		for a := range m.loads {
			m.loads[a] = make([]load, m.Size)
			m.couplings[a] = make([]float64, m.Size)
		}
		if len(s.Slants) > 0 {
			m.sides = make([]side, m.Size)
		}
		for _, p := range s.Slants {
			m.cutSlant(p)
		}
		m.moveFaces(s)
		m.drawPorous(s.Slants)
		m.addFilms(s)
	}
	m.turnAll(s, h)
	m.setWallsBack()
	sort.SliceStable(m.Walls, func(i, j int) bool { return m.Walls[i].Cell < m.Walls[j].Cell })
	return m
}

// surface stores a surface and returns its index, or -1 if it is rigid.
func (m *Medium) surface(b fit.Branches) int {
	if len(b.List) == 0 {
		return -1
	}
	m.Surfaces = append(m.Surfaces, b)
	return len(m.Surfaces) - 1
}

// drawWalls covers the bounding box with its walls and their patches.
func (m *Medium) drawWalls(s *scene.Scene) {
	for _, f := range model.Faces {
		whole := m.surface(s.Walls[f])
		var patches []scene.Patch
		var index []int
		for _, p := range s.Patches {
			if p.Face == f {
				patches = append(patches, p)
				index = append(index, m.surface(p.Surface))
			}
		}
		if whole < 0 && len(patches) == 0 {
			continue
		}
		m.drawWall(f, whole, patches, index)
	}
}

// drawWall covers one wall. whole and index are the surfaces of the wall and of its patches.
func (m *Medium) drawWall(f model.Face, whole int, patches []scene.Patch, index []int) {
	a := f.Axis()
	m.Each(func(i int, c [3]int) {
		if f.Far() && c[a] != m.N[a]-1 || !f.Far() && c[a] != 0 {
			return
		}
		tile := m.tile(f, c)
		left := 1.0 // share without a surface so far
		if m.outer != nil {
			left = m.outer[i][f]
		}
		if left == 0 || m.volume[i] == 0 {
			return
		}
		for k := len(patches) - 1; k >= 0 && left > 0; k-- {
			share := min(left, patches[k].Overlap(tile)/tile.Area())
			m.addWall(i, index[k], share*tile.Area(), m.H[a]/2)
			left -= share
		}
		m.addWall(i, whole, left*tile.Area(), m.H[a]/2)
	})
}

// tile returns the outer side of a cell at a wall as a patch.
func (m *Medium) tile(f model.Face, c [3]int) model.Patch {
	u, v := 0, 1 // floor and ceiling: along is x, up is y
	switch f.Axis() {
	case 0:
		u, v = 1, 2
	case 1:
		u, v = 0, 2
	}
	return model.Patch{
		Face: f, Along: float64(c[u]) * m.H[u], Up: float64(c[v]) * m.H[v],
		Width: m.H[u], Height: m.H[v],
	}
}

// addWall adds a wall face. It ignores rigid and tiny ones.
func (m *Medium) addWall(cell, surface int, area, depth float64) {
	if surface >= 0 && area > 1e-9 {
		m.Walls = append(m.Walls, WallFace{Cell: cell, Surface: surface, Area: area, Depth: depth})
	}
}

// Solid reports whether a cell holds no air.
func (m *Medium) Solid(i int) bool { return m.volume[i] == 0 }

// Capacity returns a cell's compliance at high frequencies, relative to a whole cell of air.
func (m *Medium) Capacity(i int) float64 {
	if m.fill == nil || m.fill[i] == 0 {
		return m.volume[i]
	}
	fast, slow := m.compliance(i)
	if m.porous[m.kind[i]].HeatTime == 0 {
		fast += slow
	}
	return m.volume[i] + m.fill[i]*(fast-1)
}

// compliance returns the compliance per volume of a cell's material, relative to air: the part that
// acts at once, and the part that follows within its heat time.
func (m *Medium) compliance(i int) (fast, slow float64) {
	p := m.porous[m.kind[i]]
	whole := m.Air.Density * m.Air.Speed * m.Air.Speed / p.Modulus
	if p.HeatTime == 0 {
		return whole, 0
	}
	return whole / p.HeatRatio, whole * (1 - 1/p.HeatRatio)
}

// conductance returns the weight of a face in the Laplacian, 1/m²: its open share, divided by its
// relative mass and by h². Faces with drag are left out: they are marched separately.
func (m *Medium) conductance(a, i int) float64 {
	open := m.open[a][i]
	if open == 0 {
		return 0
	}
	if m.loads[a] != nil {
		l := &m.loads[a][i]
		open *= (1 - l.cross()) / (1 + l.film/(m.Air.Density*m.H[a]))
	}
	return open / (m.H[a] * m.H[a])
}

// diagonal returns the weight of the square of four cells i, i+a, i+b and i+a+b, 1/m². In air that
// is
//
//	(ha² + hb²)/12 / (ha² hb²)
//
// and less where a face is partly closed or loaded, so that the squares never take more energy than
// the faces give.
func (m *Medium) diagonal(a, b, i int) float64 {
	return m.square(a, b, m.conductance(a, i), m.conductance(a, i+m.Stride[b]), m.conductance(b, i), m.conductance(b, i+m.Stride[a]))
}

// square is diagonal for the conductances of the two faces on a and of the two on b.
func (m *Medium) square(a, b int, a1, a2, b1, b2 float64) float64 {
	ha2, hb2 := m.H[a]*m.H[a], m.H[b]*m.H[b]
	share := min(1, a1*ha2, a2*ha2, b1*hb2, b2*hb2)
	return share * (ha2 + hb2) / (12 * ha2 * hb2)
}

// Cutoff returns the highest frequency of a wave along an axis of the grid, Hz: Ω = 2c/h, whatever
// its wavelength.
func (m *Medium) Cutoff() float64 {
	coarse := 0.0
	for a, h := range m.H {
		if m.N[a] > 1 {
			coarse = max(coarse, h)
		}
	}
	return m.Air.Speed / (math.Pi * coarse)
}
