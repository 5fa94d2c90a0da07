package heatmap

import (
	"math"
	"strings"

	"evenbass/report/svg"
)

// distance returns how far a point is from the line between two others.
func distance(p, a, b svg.Point) float64 {
	x, y := b.X-a.X, b.Y-a.Y
	length := math.Hypot(x, y)
	if length == 0 {
		return math.Hypot(p.X-a.X, p.Y-a.Y)
	}
	return math.Abs(x*(a.Y-p.Y)-y*(a.X-p.X)) / length
}

// outline writes lines as one path, closed or open.
func outline(lines [][]svg.Point, closed bool) string {
	var b strings.Builder
	for _, line := range lines {
		for i, p := range line {
			b.WriteByte("ML"[min(i, 1)])
			b.WriteString(svg.Px(p.X).String())
			b.WriteByte(' ')
			b.WriteString(svg.Px(p.Y).String())
		}
		if closed {
			b.WriteByte('Z')
		}
	}
	return b.String()
}
