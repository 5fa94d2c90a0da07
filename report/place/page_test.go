package place

import (
	"bytes"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"errors"
	"html"
	"regexp"
	"strings"
	"testing"
	"testing/fstest"

	"evenbass/model"
	htmlpage "evenbass/report/html"
	"evenbass/report/reporttest"
)

func pageText(t *testing.T, in Report, library string) string {
	t.Helper()
	var b bytes.Buffer
	if err := render(&b, in, library); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// The page without its library, style and script is a golden: what is said, and
// in which order.
func TestPageGolden(t *testing.T) {
	in := fixtureInput(model.NewGrid(20, 315, 1, 0))
	text := pageText(t, in, "")
	for _, cut := range []string{`(?s)<style>.*?</style>`, `(?s)<script>.*?</script>`, `(?s)<svg class="drawing".*?</svg>`, `content="default-src[^"]*"`} {
		text = regexp.MustCompile(cut).ReplaceAllString(text, "[cut]")
	}
	reporttest.Golden(t, "page.html", text)
}

// hostileInput puts such text into every field that a user fills.
func hostileInput() Report {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Project.Room.Name = reporttest.Hostile
	in.Project.Room.Blocks[0].Name, in.Project.KeepClear[0].Name = reporttest.Hostile, reporttest.Hostile
	in.Project.Room.Openings[0].Name, in.Project.Seats[0].Name = reporttest.Hostile, reporttest.Hostile
	in.Project.Warnings = []model.Warning{reporttest.Hostile}
	in.Result.Warnings = []model.Warning{reporttest.Hostile + "2"}
	in.Result.Engine.Kind = reporttest.Hostile
	in.Result.Now.Breaches = []model.Breach{{What: reporttest.Hostile, Amount: 0.1}}
	in.Walls[0].Name, in.Walls[0].Taken, in.Walls[0].Source, in.Walls[0].Reach = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	in.Modes[0].Kind = reporttest.Hostile
	in.Run = htmlpage.Run{Command: reporttest.Hostile, Version: reporttest.Hostile, Source: reporttest.Hostile, File: reporttest.Hostile}
	return in
}

func TestPageIsHarmless(t *testing.T) {
	page := func() string { return pageText(t, fixtureInput(reporttest.CoarseGrid()), "") }
	reporttest.CheckHarmless(t, page(), page(), pageText(t, hostileInput(), ""))
}

// The policy names exactly the scripts that are there, by their sums, and allows
// nothing from outside.
func TestPagePolicy(t *testing.T) {
	text := pageText(t, fixtureInput(reporttest.CoarseGrid()), "var echarts;")
	policy := html.UnescapeString(regexp.MustCompile(`Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(text)[1])
	if !strings.HasPrefix(policy, "default-src 'none'; script-src 'sha256-") || strings.Contains(policy, "script-src 'unsafe") {
		t.Errorf("policy is %s", policy)
	}
	scripts := regexp.MustCompile(`(?s)<script>(.*?)</script>`).FindAllStringSubmatch(text, -1)
	if len(scripts) != 2 {
		t.Fatalf("%d scripts", len(scripts))
	}
	for _, s := range scripts {
		sum := sha256.Sum256([]byte(s[1]))
		if !strings.Contains(policy, base64.StdEncoding.EncodeToString(sum[:])) {
			t.Errorf("a script is not in the policy: %.40s", s[1])
		}
	}
}

// Every chart's options come out of the page as they went in.
func TestPageOptionsRead(t *testing.T) {
	text := pageText(t, hostileInput(), "")
	blocks := regexp.MustCompile(`(?s)<script type="application/json" id="([a-z_]+)-options">(.*?)</script>`).FindAllStringSubmatch(text, -1)
	if len(blocks) != 4 {
		t.Fatalf("%d charts, want 4", len(blocks))
	}
	for _, b := range blocks {
		var doc reporttest.ChartDoc
		if err := json.Unmarshal([]byte(b[2]), &doc); err != nil || len(doc.Series) == 0 {
			t.Errorf("%s: %v, %d series", b[1], err, len(doc.Series))
		}
		if !strings.Contains(text, `id="`+b[1]+`" role="img" aria-label="Chart of`) {
			t.Errorf("%s has no words for those who cannot see it", b[1])
		}
	}
}

func TestPageWithoutLibrary(t *testing.T) {
	_, err := htmlpage.ReadLibrary(fstest.MapFS{"assets/README": {Data: []byte("x")}})
	if !errors.Is(err, htmlpage.ErrNoLibrary) || !strings.Contains(err.Error(), "make assets") {
		t.Errorf("a missing library gives %v", err)
	}
	if got, err := htmlpage.ReadLibrary(fstest.MapFS{"assets/echarts.min.js": {Data: []byte("x")}}); err != nil || got != "x" {
		t.Errorf("a library is read as %q, %v", got, err)
	}
}

// A library that would end its own element is refused.
func TestPageRefusesBreakingScript(t *testing.T) {
	for _, bad := range []string{"a</SCRIPT>b", "a<!--b"} {
		if err := render(&bytes.Buffer{}, fixtureInput(reporttest.CoarseGrid()), bad); err == nil {
			t.Errorf("%q was inlined", bad)
		}
	}
}

// The page holds together without what is optional.
func TestPageOfLittle(t *testing.T) {
	in := fixtureInput(reporttest.CoarseGrid())
	in.Result.Now, in.Walls, in.Modes, in.Faults, in.Run = nil, nil, nil, nil, htmlpage.Run{}
	in.Result.Candidates = in.Result.Candidates[:1]
	in.Project.Room.Name, in.Project.Room.Openings, in.Project.Room.Blocks, in.Project.KeepClear = " ", nil, nil, nil
	in.Project.Speakers = model.Speakers{}
	in.Project.Seats = nil
	text := pageText(t, in, "")
	for _, want := range []string{"<h1><bdi>Unnamed room</bdi></h1>", "Causes were not examined.", "The best places found"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing", want)
		}
	}
	for _, not := range []string{">now<", "Every mode", "NaN", "1 January", "%!"} {
		if strings.Contains(text, not) {
			t.Errorf("the page says %q", not)
		}
	}
}

func TestPageIsWhole(t *testing.T) {
	reporttest.CheckWhole(t, pageText(t, fixtureInput(reporttest.CoarseGrid()), ""), 9)
}
