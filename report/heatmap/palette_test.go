package heatmap

import (
	"flag"
	"fmt"
	"math"
	"os"
	"strings"
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

// point is a colour in OKLab, a space in which equal distances look about equally far apart
// (B. Ottosson, "A perceptual color space for image processing", 2020; public domain).
type point struct{ l, a, b float64 }

// path returns the colour at a place from 0 to 1 on a path from faint yellow through green and
// blue to a dark violet. Lightness falls all the way, so that the order of the colours holds for
// the colour-blind and on a grey print.
func path(t float64) point {
	hue := (100 + 195*t) * math.Pi / 180
	chroma := 0.035 + 0.19*t*(1-t)*(1.15-t) + 0.055*t
	return point{l: 0.955 - 0.705*t, a: chroma * math.Cos(hue), b: chroma * math.Sin(hue)}
}

func (p point) distance(q point) float64 {
	return math.Sqrt((p.l-q.l)*(p.l-q.l) + (p.a-q.a)*(p.a-q.a) + (p.b-q.b)*(p.b-q.b))
}

// palette returns the colours from faint to dark, at even distances along the path.
func palette() []point {
	const fine = 2000
	length := make([]float64, fine+1)
	for i := 1; i <= fine; i++ {
		length[i] = length[i-1] + path(float64(i)/fine).distance(path(float64(i-1)/fine))
	}
	list := make([]point, shades)
	i := 0
	for k := range list {
		want := length[fine] * float64(k) / (shades - 1)
		for i < fine && length[i] < want {
			i++
		}
		list[k] = path(float64(i) / fine)
	}
	return list
}

// rgb returns the red, green and blue of sRGB, 0 to 1 before its curve, from OKLab.
func (p point) rgb() [3]float64 {
	l := math.Pow(p.l+0.3963377774*p.a+0.2158037573*p.b, 3)
	m := math.Pow(p.l-0.1055613458*p.a-0.0638541728*p.b, 3)
	s := math.Pow(p.l-0.0894841775*p.a-1.2914855480*p.b, 3)
	return [3]float64{
		4.0767416621*l - 3.3077115913*m + 0.2309699292*s,
		-1.2684380046*l + 2.6097574011*m - 0.3413193965*s,
		-0.0041960863*l - 0.7034186147*m + 1.7076147010*s,
	}
}

// hex returns the colour as a style sheet writes it.
func (p point) hex() string {
	var b strings.Builder
	b.WriteByte('#')
	for _, v := range p.rgb() {
		v = max(0, min(1, v))
		if v <= 0.0031308 {
			v *= 12.92
		} else {
			v = 1.055*math.Pow(v, 1/2.4) - 0.055
		}
		fmt.Fprintf(&b, "%02x", int(math.Round(255*v)))
	}
	return b.String()
}

// css returns the part of the style sheet that names the colours: loud is dark on a light page
// and on paper, bright on a dark page.
func css() string {
	colours := palette()
	names := func(of func(k int) point) string {
		var b strings.Builder
		for k := range shades {
			fmt.Fprintf(&b, " --loud-%d: %s;", k, of(k).hex())
		}
		return b.String()
	}
	light := names(func(k int) point { return colours[k] })
	dark := names(func(k int) point { return colours[shades-1-k] })
	s := ":root {" + light + " }\n@media (prefers-color-scheme: dark) { :root:not(.print) {" + dark + " } }\n@media print { :root {" + light + " } }\n"
	for k := range shades {
		s += fmt.Sprintf(".loud-%d { fill: var(--loud-%d); }\n", k, k)
	}
	return s
}
