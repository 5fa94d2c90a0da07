package floormap

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// bands divides the decibels of a map into steps, each with a class of the style sheet.
type bands struct {
	Step  float64  `json:"step"`  // dB
	First int      `json:"first"` // the lowest band begins at First·Step and takes all below
	Names []string `json:"names"` // classes, the lowest band first; the last takes all above
}

// Bands of the maps: of a spread above its reference, and of a level about the mean.
var (
	spreadBands = bands{Step: 1, First: 0, Names: []string{"s0", "s1", "s2", "s3", "s4", "s5", "s6", "s7"}}
	levelBands  = bands{Step: 3, First: -6, Names: []string{"l0", "l1", "l2", "l3", "l4", "l5", "l6", "l7", "l8", "l9"}}
)

// of returns the number of a level's band.
func (b *bands) of(l model.Level) int {
	return max(0, min(len(b.Names)-1, int(math.Floor(float64(l)/b.Step+1e-9))-b.First))
}

// key explains the bands of spreads, or of levels.
func (b *bands) key(zero string) []svg.KeyEntry {
	var list []svg.KeyEntry
	for i, name := range b.Names {
		low := float64(b.First+i) * b.Step
		text := fmt.Sprintf("%s to %s dB", unit.Signed(low), unit.Signed(low+b.Step))
		switch {
		case i == 0 && b.First == 0:
			text = zero
		case i == 0:
			text = fmt.Sprintf("below %s dB", unit.Signed(low+b.Step))
		case i == len(b.Names)-1:
			text = fmt.Sprintf("%s dB and more", unit.Signed(low))
		}
		list = append(list, svg.KeyEntry{Tint: name, Text: text})
	}
	return list
}
