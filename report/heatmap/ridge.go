package heatmap

import (
	"fmt"

	"evenbass/model"
	"evenbass/report/svg"
	"evenbass/report/unit"
)

// Heights of a drawing of ridge lines.
const (
	ridgeHeight = 340.0
	ridgeFoot   = 304.0
	ridgeTop    = 92.0 // the floor of the first moment
	ridgeTall   = 64.0 // of the range shown
	ridgeRange  = 45.0 // dB
)

// Ridges draws level over frequency at several moments after the tone stops, one below the
// other, so that what stays is seen to stay. A second panel is drawn over the first: before as an
// area, after as a line. Each ridge ends 45 dB below the loudest level of the scale.
func Ridges(id, title string, s Scale, panels ...Panel) *svg.Drawing {
	a := newArea(panels[0].Map, s)
	d := &svg.Drawing{ID: id, Title: title, Width: width, Height: ridgeHeight, Desc: "Level over frequency at several moments after the tone stops. " + describe(panels[len(panels)-1])}
	moments := moments(a.long)
	for r, t := range moments {
		floor := ridgeTop + (ridgeFoot-ridgeTop)*float64(r)/float64(len(moments)-1)
		for i, p := range panels {
			line := ridge(p, s, a, t, floor)
			class := fmt.Sprintf("ridge state-%d", i+1)
			if i == 0 {
				closed := append(append([]svg.Point{svg.XY(left, floor)}, line...), svg.XY(right, floor))
				for _, class := range []string{"ridgeblank", "ridgearea"} {
					d.Shapes = append(d.Shapes, svg.Shape{Kind: "path", Class: class, D: outline([][]svg.Point{closed}, true)})
				}
			}
			d.Shapes = append(d.Shapes, svg.Shape{Kind: "path", Class: class, D: outline([][]svg.Point{line}, false)})
		}
		d.Line("ridgefloor", svg.XY(left, floor), svg.XY(right, floor))
		d.Shapes = append(d.Shapes, svg.Shape{Kind: "text", Class: "dimtext", X: left - 5, Y: svg.Px(floor - 5), Text: unit.Decimal(1000*t, 0), Right: true})
	}
	for _, f := range frequencies {
		if f >= a.from*(1-1e-9) && f <= a.to*(1+1e-9) {
			d.Line("tick", svg.XY(a.x(f), ridgeFoot), svg.XY(a.x(f), ridgeFoot+4))
			d.Text("dimtext", svg.XY(a.x(f), ridgeFoot+12), fmt.Sprintf("%g", f))
		}
	}
	d.Shapes = append(d.Shapes,
		svg.Shape{Kind: "text", Class: "paneltitle", X: left, Y: 10, Text: title, Left: true},
		svg.Shape{Kind: "text", Class: "axistext", X: (left + right) / 2, Y: ridgeHeight - 8, Text: "frequency, Hz"},
		svg.Shape{Kind: "text", Class: "axistext", X: 7, Y: (top + ridgeFoot) / 2, Text: "ms after the tone stops", Upright: true})
	// The bar of 20 dB.
	x, y := right-3.0, ridgeTop
	d.Line("fall", svg.XY(x, y), svg.XY(x, y-gone*ridgeTall/ridgeRange))
	d.Shapes = append(d.Shapes, svg.Shape{Kind: "text", Class: "dimtext", X: svg.Px(x - 4), Y: svg.Px(y - gone*ridgeTall/ridgeRange/2), Text: "20 dB", Right: true})
	return d
}

// moments returns the times of the ridges in s: whole steps up to the end, eight at most.
func moments(long float64) []float64 {
	step := 0.05
	for long/step > 7+1e-9 {
		step *= 2
	}
	var list []float64
	for i := 0; float64(i)*step <= long+1e-9; i++ {
		list = append(list, float64(i)*step)
	}
	return list
}

// ridge returns the line of a panel at a moment.
func ridge(p Panel, s Scale, a area, t, floor float64) []svg.Point {
	row := 0
	for i, at := range p.Map.Times {
		if at <= t+1e-9 {
			row = i
		}
	}
	bottom := s.Top + Step - ridgeRange
	var line []svg.Point
	for i := 0; i < len(p.Map.Grid); i += 2 {
		l := max(0, min(ridgeRange+Step, p.Map.Levels[row][i]-p.Reference-bottom))
		if p.Map.Noise != nil && p.Map.Levels[row][i] < p.Map.Noise[i]+hidden {
			l = 0
		}
		line = append(line, svg.XY(a.x(p.Map.Grid[i]), floor-float64(l)*ridgeTall/ridgeRange))
	}
	return thin(line, 0.25)
}

// Key draws the colours with their levels.
func Key(id string, s Scale) *svg.Drawing {
	d := &svg.Drawing{ID: id, Title: "Colours", Desc: "Each colour stands for 5 dB; the stronger, the louder.", Width: width, Height: 34}
	w := (right - left) / shades
	for k := range shades {
		x := left + w*float64(k)
		d.Rect(fmt.Sprintf("swatchbox loud-%d", k), svg.RectAt(x, 2, w, 12))
		if k > 0 && k%2 == 0 {
			d.Text("dimtext", svg.XY(x, 23), levelText(s.bottom()+Step*model.Level(k)))
		}
	}
	d.Shapes = append(d.Shapes, svg.Shape{Kind: "text", Class: "dimtext", X: right, Y: 23, Text: "dB", Right: true})
	return d
}

// levelText writes whole dB with a sign.
func levelText(l model.Level) string { return unit.Signed(float64(l)) }
