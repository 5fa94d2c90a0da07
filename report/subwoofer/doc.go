// Package subwoofer shows a search for subwoofers: what each further one gains, where they
// stand, and how to set them up. A [Report] goes in, a project with the result of package
// optimize/subwoofer; a page, a text, JSON or comma-separated values come out.
//
// S1, S2, ... are the subwoofers of a plan, L and R the woofers of the speakers. Gains are
// in dB relative to one speaker, delays in ms, distances to the middle of the box.
package subwoofer
