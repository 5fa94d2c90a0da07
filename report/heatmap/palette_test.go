package heatmap

import (
	"flag"
	"math"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write the style sheet of the colours anew")

// The style sheet holds the colours that are computed.
func TestStyleSheet(t *testing.T) {
	t.Parallel()
	const file = "page/palette.css"
	if *update {
		if err := os.WriteFile(file, []byte(css()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil || string(got) != css() {
		t.Errorf("%s is not what the palette gives (%v): run go test ./report/heatmap -update", file, err)
	}
}

// Steps look alike, lightness falls all the way, and every colour is one that screens have.
func TestPaletteIsEven(t *testing.T) {
	t.Parallel()
	colours := palette()
	least, most := math.Inf(1), 0.0
	for i, c := range colours {
		for _, v := range c.rgb() {
			if v < -1e-3 || v > 1+1e-3 {
				t.Errorf("colour %d is outside sRGB: %.4f", i, c.rgb())
			}
		}
		if i == 0 {
			continue
		}
		if c.l >= colours[i-1].l {
			t.Errorf("colour %d is not darker than the one before", i)
		}
		d := c.distance(colours[i-1])
		least, most = min(least, d), max(most, d)
	}
	if most/least > 1.05 {
		t.Errorf("steps from %.4f to %.4f in OKLab", least, most)
	}
}

// seen returns a colour as it is seen without red or green receptors, by the matrices for the
// whole loss of Machado, Oliveira & Fernandes, IEEE Trans. Vis. Comput. Graph. 15 (2009) 1291.
func seen(c [3]float64, m [9]float64) [3]float64 {
	var out [3]float64
	for i := range out {
		for j, v := range c {
			out[i] += m[3*i+j] * v
		}
	}
	return out
}

// Without red or green receptors neighbours still differ in luminance (Rec. 709 weights), by a
// tenth at least, and always the same way.
func TestPaletteForTheColourBlind(t *testing.T) {
	t.Parallel()
	for name, m := range map[string][9]float64{
		"no red":   {0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998},
		"no green": {0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881},
	} {
		before := math.Inf(1)
		for i, c := range palette() {
			v := seen(c.rgb(), m)
			luminance := 0.2126*v[0] + 0.7152*v[1] + 0.0722*v[2]
			if luminance > 0.9*before {
				t.Errorf("%s: colour %d has luminance %.4f, the one before %.4f", name, i, luminance, before)
			}
			before = luminance
		}
	}
}
