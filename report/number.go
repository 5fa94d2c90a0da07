package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"evenbass/model"
)

// round rounds to so many decimals, half away from zero, and never to -0.
func round(v float64, places int) float64 {
	scale := math.Pow(10, float64(places))
	return math.Round(v*scale)/scale + 0
}

// decimal writes a number with a fixed number of decimals, a true minus, and no
// negative zero.
func decimal(v float64, places int) string {
	if math.IsNaN(v) {
		return unknown
	}
	if math.IsInf(v, 0) {
		return map[bool]string{true: minus + "∞", false: "∞"}[v < 0]
	}
	text := strconv.FormatFloat(math.Abs(v), 'f', places, 64)
	if v < 0 && strings.Trim(text, "0.") != "" {
		return minus + text
	}
	return text
}

// nominal writes a frequency that was given as such, without decimals it never had.
func nominal(hz float64) string { return fmt.Sprintf("%g Hz", hz) }

// percent writes a share; one that is there at all is never nought.
func percent(share float64) string {
	if share > 0 && share < 0.01 {
		return "less than 1 %"
	}
	return decimal(100*share, 0) + " %"
}

// gainText writes by how much something is better.
func gainText(gain model.Level) string {
	switch text := decimal(math.Abs(float64(gain)), 1); {
	case text == "0.0":
		return "the same"
	case gain > 0:
		return text + " dB better"
	default:
		return text + " dB worse"
	}
}

// signed writes whole decibels with their sign.
func signed(v float64) string {
	text := decimal(v, 0)
	if v > 0 && text != "0" {
		text = "+" + text
	}
	return text
}

// plural writes a count with its noun: "1 curve", "2 curves".
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
