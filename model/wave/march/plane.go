package march

import (
	"sort"

	"evenbass/model/wave/lattice"
	"evenbass/model/wave/vector"
)

// plane is the work of one step in one plane of cells that is done plane by plane.
type plane struct {
	z       int
	uniform []span
	source  []sourceCell
}

// sourceCell is a cell in which the source works, with its pressure per volume velocity in one
// step, Pa·s/m³.
type sourceCell struct {
	cell int32
	gain float64
}

// sources returns the cells of a source.
func (s *System) sources(cells []lattice.Weight) (list []sourceCell) {
	air := s.Medium.Air
	for _, c := range cells {
		volume := s.Capacity(int(c.Cell)) * s.Cells.Volume()
		list = append(list, sourceCell{c.Cell, c.Share * s.Step * air.Density * air.Speed * air.Speed / volume})
	}
	return list
}

// plane lists the work at height z in cells.
func (s *System) plane(z int, source []sourceCell) plane {
	from, to := int32(s.At(-1, -1, z)), int32(s.At(-1, -1, z+1))
	p := plane{z: z}
	first, last := between(len(s.uniform), from, to, func(i int) int32 { return s.uniform[i].from })
	p.uniform = s.uniform[first:last]
	if s.vectors {
		p.uniform = s.air.joined(p.uniform, s.rows.number*vector.Lanes)
	}
	first, last = between(len(source), from, to, func(i int) int32 { return source[i].cell })
	p.source = source[first:last]
	return p
}

// between returns the range of things whose cells lie in from..to. The things must be in the order
// of their cells.
func between(length int, from, to int32, cell func(i int) int32) (first, last int) {
	return sort.Search(length, func(i int) bool { return cell(i) >= from }),
		sort.Search(length, func(i int) bool { return cell(i) >= to })
}

// excerpt is a run of recorded cells.
type excerpt struct {
	cells span
	to    int // place of the first one in a frame
}

// excerpts joins cells that follow one another.
func excerpts(cells []int32) (list []excerpt) {
	for i, cell := range cells {
		if n := len(list); n > 0 && list[n-1].cells.to == cell {
			list[n-1].cells.to++
		} else {
			list = append(list, excerpt{span{cell, cell + 1}, i})
		}
	}
	return list
}

// record stores the pressures.
func (r *run) record(now []float32) {
	frame := r.arena.frame(len(r.request.Cells))
	for _, e := range r.parts {
		copy(frame[e.to:], now[e.cells.from:e.cells.to])
	}
	r.Frames = append(r.Frames, frame)
}

// flows computes the flow through the drag faces in step n.
func (r *run) flows(now []float32, n int) {
	for a := range r.drag {
		r.drag[a].march(r.vectors, r.flow[a], r.slip[a][n&1], r.slip[a][n&1^1], now)
	}
}

// advance takes all cells one step, without the walls: the uniform ones plane by plane, the irregular ones
// kind by kind.
func (r *run) advance(next, now []float32) {
	for i := range r.planes {
		r.air.march(r.vectors, next, now, r.planes[i].uniform, r.scratch)
	}
	r.irregular.march(r.vectors, r.state, next, now)
}

// finish takes the walls one step, after all planes. It then adds the source and updates the
// ghosts.
func (r *run) finish(next, now []float32, n int) {
	r.moveWalls(r.state, next, now)
	for i := range r.planes {
		r.excite(&r.planes[i], next, n)
		r.mirror(r.planes[i].z, next)
	}
}

// excite adds the source's contribution to a plane in step n.
func (r *run) excite(p *plane, next []float32, n int) {
	if n <= r.pulse.len {
		rise := r.pulse.at(n) - r.pulse.at(n-1)
		for _, s := range p.source {
			next[s.cell] += float32(s.gain * rise)
		}
	}
}

// mirror fills the ghosts beside a plane with the cells that they mirror. Those that only fill up
// groups keep what a kernel left there: no cell gives them any weight.
func (s *System) mirror(z int, p []float32) {
	sy, sz := s.Stride[1], s.Stride[2]
	low, high := s.At(-1, 0, z), s.At(-1, s.N[1]-1, z)
	rows := p[low : high+sy]
	for first, last := 0, s.N[0]+1; last < len(rows); first, last = first+sy, last+sy {
		rows[first] = rows[first+1]
		rows[last] = rows[last-1]
	}
	copy(p[low-sy:low], p[low:low+sy])
	copy(p[high+sy:high+2*sy], p[high:high+sy])
	if z == 0 {
		copy(p[low-sy-sz:][:sz], p[low-sy:])
	}
	if z == s.N[2]-1 {
		copy(p[low-sy+sz:][:sz], p[low-sy:])
	}
}
