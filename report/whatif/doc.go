// Package whatif shows a comparison of options: the room as it is and with each option, by
// spread, decay, floor area, weight and cost. A [Report] goes in, a project with the
// result of package optimize/whatif; a page, a text, JSON or comma-separated values come
// out.
//
// The state "now" is the room as it is, A, B, ... are the options. Levels are in dB
// relative to the mean of their own curve, decays in ms.
package whatif
