package unit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"evenbass/model"
)

// Round rounds to so many decimals, half away from zero, and never to -0.
func Round(v float64, places int) float64 {
	scale := math.Pow(10, float64(places))
	return math.Round(v*scale)/scale + 0
}

// Decimal writes a number with a fixed number of decimals, a true minus, and no
// negative zero.
func Decimal(v float64, places int) string {
	if math.IsNaN(v) {
		return Unknown
	}
	if math.IsInf(v, 0) {
		return map[bool]string{true: Minus + "∞", false: "∞"}[v < 0]
	}
	text := strconv.FormatFloat(math.Abs(v), 'f', places, 64)
	if v < 0 && strings.Trim(text, "0.") != "" {
		return Minus + text
	}
	return text
}

// Nominal writes a frequency that was given as such, without decimals it never had.
func Nominal(hz float64) string { return fmt.Sprintf("%g Hz", hz) }

// Percent writes a share in per cent; a small one is "less than 1 %", never 0.
func Percent(share float64) string {
	if share > 0 && share < 0.01 {
		return "less than 1 %"
	}
	return Decimal(100*share, 0) + " %"
}

// GainText writes by how much something is better.
func GainText(gain model.Level) string {
	switch text := Decimal(math.Abs(float64(gain)), 1); {
	case text == "0.0":
		return "the same"
	case gain > 0:
		return text + " dB better"
	default:
		return text + " dB worse"
	}
}

// Signed writes whole decibels with their sign.
func Signed(v float64) string {
	text := Decimal(v, 0)
	if v > 0 && text != "0" {
		text = "+" + text
	}
	return text
}

// Plural writes a count with its noun: "1 curve", "2 curves".
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return strconv.Itoa(n) + " " + noun + "s"
}
