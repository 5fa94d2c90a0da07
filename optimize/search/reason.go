package search

import (
	"context"
	"errors"
)

// Reason says why a search ended.
type Reason string

// The reasons.
const (
	Converged Reason = "no further gain"
	Exhausted Reason = "all generations done"
	Cancelled Reason = "stopped by hand"
	OutOfTime Reason = "time used up"

	// CutShort is for callers that compute more after Place and were stopped then.
	CutShort Reason = "stopped by hand after the search"
)

// StopReason distinguishes a deadline from a search stopped by hand.
func StopReason(err error) Reason {
	if errors.Is(err, context.DeadlineExceeded) {
		return OutOfTime
	}
	return Cancelled
}
