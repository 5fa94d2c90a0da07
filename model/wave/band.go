package wave

import "sort"

// band is the work of one goroutine: planes of cells that lie side by side.
type band struct {
	planes []plane
	walls  []*wallPart
	record []excerpt
}

// excerpt is cells that follow one another, of which the record is kept.
type excerpt struct {
	cells span
	to    int // of the first in a frame
}

// plane is the work of one step in one plane of cells.
type plane struct {
	z       int
	scratch *scratch
	rows    []span
	odd     []stretch
	drag    [3][]stretch
	faces   int // of walls
	source  []sourceCell
}

// split shares the planes out among n goroutines.
func (r *run) split(n int) {
	n = max(1, min(n, r.n[2]))
	var all band
	for z := range r.n[2] {
		all.planes = append(all.planes, r.plane(z))
	}
	r.whole, r.bands, r.linked = all, make([]band, n), false
	first := shares(all.planes, n)
	for w := range r.bands {
		b := &r.bands[w]
		lowest, highest := first[w], first[w+1]
		b.planes = all.planes[lowest:highest]
		t := r.air.newScratch()
		for i := range b.planes {
			b.planes[i].scratch = t
		}
		from, to := int32(r.at(-1, -1, lowest)), int32(r.at(-1, -1, highest))
		b.record = r.excerpts(from, to)
		r.whole.record = append(r.whole.record, b.record...)
		b.walls = r.parts(from, to)
		r.whole.walls = append(r.whole.walls, b.walls...)
		r.linked = r.linked || w > 0 && len(all.planes[lowest-1].drag[2]) > 0
	}
}

// cost returns about how long a plane takes, in groups of even cells. The weights are
// those of the vector kernels, see BenchmarkMarch.
func (p *plane) cost() int {
	cells := 0
	for _, row := range p.rows {
		cells += int(row.to - row.from)
	}
	return cells/lanes + 3*count(p.odd) + p.faces/4 + count(p.drag[0]) + count(p.drag[1]) + count(p.drag[2])
}

// shares returns the first plane of each of n parts that cost about the same, and
// the number of planes at the end. Each part has one plane at least.
func shares(planes []plane, n int) []int {
	var cost []int
	all, before := 0, 0
	for i := range planes {
		cost = append(cost, planes[i].cost())
		all += cost[i]
	}
	first := []int{0}
	for i, c := range cost {
		w := len(first) // the next part
		due := (2*before+c)*n >= 2*w*all || len(cost)-i == n-w
		if i > 0 && w < n && due {
			first = append(first, i)
		}
		before += c
	}
	return append(first, len(planes))
}

// plane lists what there is to do at a height z in cells.
func (r *run) plane(z int) plane {
	from, to := int32(r.at(-1, -1, z)), int32(r.at(-1, -1, z+1))
	p := plane{z: z, odd: r.odd.within(from, to)}
	rows := cut(len(r.rows), from, to, func(i int) int32 { return r.rows[i].from })
	p.rows = r.rows[rows[0]:rows[1]]
	if r.vectors {
		p.rows = r.air.joined(p.rows)
	}
	source := cut(len(r.source), from, to, func(i int) int32 { return r.source[i].cell })
	p.source = r.source[source[0]:source[1]]
	for a := range p.drag {
		p.drag[a] = r.drag[a].within(from, to)
	}
	for _, g := range r.system.walls {
		p.faces += len(g.within(from, to))
	}
	return p
}

// excerpts returns what is recorded of cells from..to.
func (r *run) excerpts(from, to int32) (list []excerpt) {
	part := cut(len(r.record), from, to, func(i int) int32 { return r.record[i] })
	for i, cell := range r.record[part[0]:part[1]] {
		if n := len(list); n > 0 && list[n-1].cells.to == cell {
			list[n-1].cells.to++
		} else {
			list = append(list, excerpt{span{cell, cell + 1}, part[0] + i})
		}
	}
	return list
}

// parts returns what the groups of walls have before cells from..to, at rest.
func (r *run) parts(from, to int32) (list []*wallPart) {
	for _, g := range r.system.walls {
		if pieces := g.within(from, to); len(pieces) > 0 {
			list = append(list, newWallPart(g, pieces))
		}
	}
	return list
}

// cut returns which of a number of things, in the order of their cells, have cells
// from..to.
func cut(length int, from, to int32, cell func(i int) int32) [2]int {
	return [2]int{
		sort.Search(length, func(i int) bool { return cell(i) >= from }),
		sort.Search(length, func(i int) bool { return cell(i) >= to }),
	}
}

// flows finds in step n what flows through the drag faces of a plane and those above it.
func (r *run) flows(p *plane, now []float32, n int) {
	for a, part := range p.drag {
		if len(part) > 0 {
			was, is := r.slip[a][n&1], r.slip[a][n&1^1]
			r.drag[a].march(r.vectors, r.flow[a], was, is, now, part)
		}
	}
}

// advance takes one plane one step, all but its walls.
func (r *run) advance(p *plane, next, now []float32) {
	r.air.march(r.vectors, next, now, p.rows, p.scratch)
	if len(p.odd) > 0 {
		r.odd.march(r.vectors, r.state, next, now, p.odd)
	}
}

// finish takes the walls of a band one step, after all its planes, lets the source work
// and mirrors what has come of it.
func (r *run) finish(b *band, next, now []float32, n int) {
	yield(r.vectors, b.walls, next, now)
	for i := range b.planes {
		r.excite(&b.planes[i], next, n)
		r.mirror(b.planes[i].z, next)
	}
}

// excite adds what the source gives to a plane in step n.
func (r *run) excite(p *plane, next []float32, n int) {
	if n <= r.pulse.len {
		rise := r.pulse.at(n) - r.pulse.at(n-1)
		for _, s := range p.source {
			next[s.cell] += float32(s.gain * rise)
		}
	}
}

// mirror fills the ghosts beside a plane with the cells that they mirror.
func (r *run) mirror(z int, p []float32) {
	sy, sz := r.stride[1], r.stride[2]
	low, high := r.at(-1, 0, z), r.at(-1, r.n[1]-1, z)
	for at := low; at <= high; at += sy {
		row := p[at : at+sy]
		row[0] = row[1]
		last := row[r.n[0]]
		for i := r.n[0] + 1; i < len(row); i++ { // groups of the row may have marched them all
			row[i] = last
		}
	}
	copy(p[low-sy:low], p[low:low+sy])
	copy(p[high+sy:high+2*sy], p[high:high+sy])
	if z == 0 {
		copy(p[low-sy-sz:][:sz], p[low-sy:])
	}
	if z == r.n[2]-1 {
		copy(p[low-sy+sz:][:sz], p[low-sy:])
	}
}
