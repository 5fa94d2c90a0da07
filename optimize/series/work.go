package series

// Work returns how many products a page computes when the seat and both speakers move at once: it sums the seat's
// series over each area at one height, where it skips the zeros that rows begin with, and then the
// series of each speaker.
func (t *Table) Work() int {
	width, first, work := 2*len(t.grid), 0, 0
	for _, p := range t.Panels {
		plane, most := p[0]*p[1], 0
		for h := range t.Domain.Heights {
			sum := 0
			for seat := range t.Seats[0] * t.Seats[1] {
				for k := range plane {
					row := (seat*t.places() + first + h*plane + k) * width
					sum += width - zeros(t.Numbers[row:row+width])
				}
			}
			most = max(most, sum)
		}
		work += most + width*plane*(3-len(t.Panels)) // one area holds both speakers
		first += len(t.Domain.Heights) * plane
	}
	return work
}

// zeros returns how many zeros a row begins with.
func zeros(row []int16) int {
	for i, v := range row {
		if v != 0 {
			return i
		}
	}
	return len(row)
}
