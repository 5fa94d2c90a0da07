package march

import "evenbass/model/wave/vector"

// arrangement is where the groups of each row begin.
type arrangement struct {
	lead   int // ghosts that the first group has before the first cell
	number int // groups in a row
}

// class is how a cell is marched.
type class uint8

const (
	ghost class = iota
	solid
	uniform
	irregular
)

// classify returns the class of each cell.
func (s *System) classify() []class {
	list := make([]class, s.Size)
	s.Each(func(i int, _ [3]int) {
		switch {
		case s.Solid(i):
			list[i] = solid
		case s.WholeAir(i):
			list[i] = uniform
		default:
			list[i] = irregular
		}
	})
	return list
}

// arrangements lists where the groups of rows may begin, so that no group reaches into the next row.
func (s *System) arrangements() (list []arrangement) {
	for lead := range vector.Lanes {
		a := arrangement{lead, (lead + s.N[0] + vector.Lanes - 1) / vector.Lanes}
		if lead == 0 || s.vectors && a.number*vector.Lanes <= s.Stride[1] {
			list = append(list, a)
		}
	}
	return list
}

// arrange returns the arrangement with which a step takes least time. A layer on the back wall may fill
// one group of each row, or straddle two. Groups begin with the first cell unless that takes a twentieth
// longer, since batches of wall faces do.
func (s *System) arrange(classes []class) (best arrangement) {
	var least int
	for i, a := range s.arrangements() {
		switch time := s.time(a, classes); {
		case i == 0:
			best, least = a, time-time/20
		case time < least:
			best, least = a, time
		}
	}
	return best
}

// time estimates how long the cells take in one step, in uniform groups.
func (s *System) time(a arrangement, classes []class) (time int) {
	const irregularGroup = 3 // see MEASURED.md of package wave
	s.eachGroup(a, func(first int) {
		switch plain, other := s.split(first, classes); {
		case other != 0:
			time += irregularGroup
		case plain != 0:
			time++
		}
	})
	return time
}

// eachGroup calls f with the first cell of every group, in the order of the arrays. That may be a ghost.
func (s *System) eachGroup(a arrangement, f func(first int)) {
	for k := range s.N[2] {
		for j := range s.N[1] {
			row := s.At(-a.lead, j, k)
			for n := range a.number {
				f(row + n*vector.Lanes)
			}
		}
	}
}

// split returns which lanes of a group are marched by the stencil of plain air, and which as irregular
// cells, as bit sets. With vectors, a group is plain only as a whole.
func (s *System) split(first int, classes []class) (plain, other uint8) {
	var lanes [irregular + 1]uint8
	for l, c := range classes[first:][:vector.Lanes] {
		lanes[c] |= 1 << l
	}
	plain, other = lanes[uniform], lanes[irregular]
	if s.vectors && (other != 0 || lanes[solid] != 0) {
		plain, other = 0, plain|other
	}
	return plain, other
}
