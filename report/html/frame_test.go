package html

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// body is a page with nothing in it.
var body = fstest.MapFS{"body.gohtml": {Data: []byte(`{{define "body"}}<p>x</p>{{end}}`)}}

type plain struct{ Frame }

func TestReadLibrary(t *testing.T) {
	_, err := ReadLibrary(fstest.MapFS{"assets/README": {Data: []byte("x")}})
	if !errors.Is(err, ErrNoLibrary) || !strings.Contains(err.Error(), "make assets") {
		t.Errorf("a missing library gives %v", err)
	}
	if got, err := ReadLibrary(fstest.MapFS{"assets/echarts.min.js": {Data: []byte("x")}}); err != nil || got != "x" {
		t.Errorf("a library is read as %q, %v", got, err)
	}
}

// A library that would end its own element is refused.
func TestRenderRefusesBreakingScript(t *testing.T) {
	for _, bad := range []string{"a</SCRIPT>b", "a<!--b"} {
		if err := Render(&bytes.Buffer{}, &plain{Frame{WithCharts: true}}, bad, body); err == nil {
			t.Errorf("%q was inlined", bad)
		}
	}
}

// A page without charts has no script that draws them.
func TestRenderLeavesChartsOut(t *testing.T) {
	for _, charts := range []bool{false, true} {
		var b bytes.Buffer
		if err := Render(&b, &plain{Frame{WithCharts: charts}}, "", body); err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(b.String(), "echarts.init"); got != charts {
			t.Errorf("charts %v, their script is there: %v", charts, got)
		}
	}
}

// chartBody is a page's body with one chart.
var chartBody = fstest.MapFS{"body.gohtml": {Data: []byte(`{{define "body"}}{{template "charts" .Charts}}{{end}}`)}}

type charted struct {
	Frame
	none bool
}

func (c *charted) Charts() []Chart {
	if c.none {
		return nil
	}
	return []Chart{{ID: "one", Title: "Level", Options: []byte("{}")}}
}

// A chart on a page that does not carry the library would stay empty: it is refused. Readers without scripts
// are told what is missing.
func TestRenderRefusesChartsWithoutLibrary(t *testing.T) {
	var b bytes.Buffer
	if err := Render(&b, &charted{}, "", chartBody); err == nil || !strings.Contains(err.Error(), "WithCharts") {
		t.Errorf("a chart without its script gives %v", err)
	}
	if err := Render(&b, &charted{none: true}, "", chartBody); err != nil {
		t.Errorf("a page that leaves its chart out gives %v", err)
	}
	b.Reset()
	if err := Render(&b, &charted{Frame: Frame{WithCharts: true}}, "", chartBody); err != nil || !strings.Contains(b.String(), withoutCharts) {
		t.Errorf("%v, or no word for readers without scripts", err)
	}
}

// No text ends the string of the running head, its sheet or its element, and it stays short.
func TestRunningHead(t *testing.T) {
	for _, name := range []string{`a"; } body { display: none`, `</style><script>alert(1)</script>`, "a\\\n\"b", strings.Repeat("long ", 40)} {
		head := string((&Frame{Heading: name, About: "x"}).RunningHead())
		if inner := strings.Trim(head, `"`); strings.ContainsAny(inner, "\"<>;{}\n") || len(head) > 500 || head[0] != '"' || !strings.HasSuffix(head, `"`) {
			t.Errorf("%q becomes %s", name, head)
		}
	}
}

// luminance is the relative luminance of a colour "#rrggbb" (WCAG 2.2, definition).
func luminance(colour string) float64 {
	var sum float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		n, _ := strconv.ParseUint(colour[1+2*i:3+2*i], 16, 8)
		v := float64(n) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weight * v
	}
	return sum
}

func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

// Every colour of text holds 4.5:1 on the paper and on the tint, and lines that no text names
// 3:1, on light and dark screens and on paper (WCAG 2.2, 1.4.3 and 1.4.11).
func TestContrast(t *testing.T) {
	css, err := pageFiles.ReadFile("frame/frame.css")
	if err != nil {
		t.Fatal(err)
	}
	if got := contrast("#000000", "#ffffff"); math.Abs(got-21) > 0.01 {
		t.Fatalf("black on white has %v:1", got) // 21:1 by definition
	}
	text := regexp.MustCompile(`/\* .*? \*/`).ReplaceAllString(string(css), "")
	sets := 0
	for _, block := range regexp.MustCompile(`:root[^{]*\{([^}]*)\}`).FindAllStringSubmatch(text, -1) {
		roles := map[string]string{}
		for _, m := range regexp.MustCompile(`--([a-z0-9-]+): (#[0-9a-f]{3,6});`).FindAllStringSubmatch(block[1], -1) {
			if roles[m[1]] = m[2]; len(m[2]) == 4 {
				roles[m[1]] = fmt.Sprintf("#%c%c%c%c%c%c", m[2][1], m[2][1], m[2][2], m[2][2], m[2][3], m[2][3])
			}
		}
		if roles["paper"] == "" {
			continue // colours of the system
		}
		sets++
		for _, ground := range []string{"paper", "tint"} {
			for _, role := range []string{"ink", "faint", "now", "layout-1", "layout-2", "layout-3", "layout-4", "layout-5"} {
				if got := contrast(roles[role], roles[ground]); got < 4.5 {
					t.Errorf("set %d: %s on %s has %.2f:1", sets, role, ground, got)
				}
			}
		}
		for _, role := range []string{"axial", "tangential", "oblique"} {
			if got := contrast(roles[role], roles["paper"]); got < 3 {
				t.Errorf("set %d: %s has %.2f:1", sets, role, got)
			}
		}
	}
	if sets != 3 {
		t.Errorf("%d sets of colours, want those of light and dark screens and of paper", sets)
	}
}
