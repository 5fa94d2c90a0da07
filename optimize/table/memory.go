package table

import (
	"fmt"

	"evenbass/model/concurrent"
)

// memory limits what a table may take. What is read from it for seats may take kept, mostKept where
// [Engine.Keep] asks for more, and spare after [Engine.Spare]; what seats share as columns keptColumns, and
// spareColumns after that. All in bytes.
const (
	memory       = 100 << 20
	kept         = 40 << 20
	mostKept     = 192 << 20
	spare        = 20 << 20
	keptColumns  = 32 << 20
	spareColumns = 16 << 20
)

// ErrTooLarge means that a domain needs more memory than a table may have.
var ErrTooLarge = fmt.Errorf("table larger than %d MiB", memory>>20)

// bytes returns how much memory the rows take.
func (t *Engine) bytes() int {
	return 4 * t.stride * len(t.Seats.Places())
}

// Need returns how many bytes the table, filled, takes at most where a search reads n seats from it and asks to
// keep them.
func (t *Engine) Need(n int) int {
	bytes := t.bytes() + 4*t.stride*min(n, t.keeps(n)) + directBytes(len(t.Grid()), t.reach())
	if len(t.Seats.y.nodes) > 1 {
		bytes += keptColumns
	}
	return bytes
}

// SeatsKept returns how many seats read from the table are kept at a time at least.
func (t *Engine) SeatsKept() int { return kept / (4 * t.stride) }

// Keep forgets the seats read from the table and from now on keeps n of them if memory allows that,
// or else [Engine.SeatsKept]. A search that goes back and forth between n seats has each computed once.
// Of seats of which not all panels and heights are read, it keeps more.
func (t *Engine) Keep(n int) { t.keepBytes(4*t.stride*t.keeps(n), keptColumns) }

// Spare forgets what has been read from the table and from now on keeps little: what a polish or two go
// back and forth between.
func (t *Engine) Spare() { t.keepBytes(spare, spareColumns) }

func (t *Engine) keepBytes(parts, columns int) {
	t.parts = concurrent.NewSizedCache[seatPart, []float32](parts, func(s seatPart) int { return t.seatBytes(s.panel) })
	t.columns = concurrent.NewSizedCache[columnPart, []float32](columns, t.columnBytes)
}

// keeps returns how many seats are kept where a search goes between n.
func (t *Engine) keeps(n int) int {
	if n*4*t.stride > mostKept {
		n = 0
	}
	return max(1, n, t.SeatsKept())
}
