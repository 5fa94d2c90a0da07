// Package uncertainty says how far figures and ranks are to be trusted, given what is uncertain about a room:
// its walls, its wool, its temperature and the errors of the tape. A search's result goes in; out come the
// spread with hard and soft walls ([optimize.SetCards]) and how often each layout ranks first in many random
// trials ([Trials], [Rank]).
//
// A [Trial] is one random guess at all of it. Rooms that take long to solve are interpolated
// between a few runs ([Sensitivity]). An [Interval] holds what a figure stays below in a tenth,
// half and nine tenths of the trials.
package uncertainty
