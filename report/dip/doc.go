// Package dip puts dips and peaks of a response into words: where one is, what causes it, what cures it.
//
// In goes a [cause.Dip] with the style of its units; out come sentences. Levels are in dB re the mean of the band.
package dip
