package place

import (
	"crypto/sha256"
	"encoding/base64"
	"html"
	"io"
	"regexp"
	"strings"
	"testing"

	"evenbass/model"
	htmlpage "evenbass/report/html"
	"evenbass/report/reporttest"
	"evenbass/report/unit"
)

// The page without its library, style and script is a golden: what is said, and
// in which order.
func TestPageGolden(t *testing.T) {
	in := fixtureInput(model.NewGrid(20, 315, 1, 0))
	text := reporttest.Written(t, Page, in)
	for _, cut := range []string{`(?s)<style>.*?</style>`, `(?s)<script>.*?</script>`, `(?s)<svg class="drawing.*?</svg>`, `content="default-src[^"]*"`} {
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
	in.Project.Warnings = []model.Warning{model.Remark(reporttest.Hostile)}
	in.Result.Warnings = []model.Warning{model.Remark(reporttest.Hostile + "2")}
	in.Result.Engine.Kind = reporttest.Hostile
	in.Result.Now.Breaches = []model.Breach{{Rule: model.Rule{Kind: model.SeatObstacle, Name: reporttest.Hostile}, Amount: 0.1}}
	in.Walls[0].Name, in.Walls[0].Taken, in.Walls[0].Source, in.Walls[0].Reach = reporttest.Hostile, reporttest.Hostile, reporttest.Hostile, reporttest.Hostile
	in.Modes[0].Kind = reporttest.Hostile
	in.Run = htmlpage.Run{Command: reporttest.Hostile, Version: reporttest.Hostile, Source: reporttest.Hostile, File: reporttest.Hostile}
	return in
}

// The first sheet spells out two caveats that may change the answer, and no other; it is crowded by long ones only, or
// where every length stands in both units.
func TestPageCaveats(t *testing.T) {
	omitted := func(names string) model.Warning { return model.Simplified{How: model.BlocksOmitted, Names: names} }
	for _, c := range []struct {
		name     string
		style    unit.Style
		warnings []model.Warning
		caveats  int
		class    string
	}{
		{"none", unit.Metric, []model.Warning{model.Remark("the walls are painted")}, 0, "sheet lead"},
		{"one", unit.Metric, []model.Warning{model.Remark("the walls are painted"), omitted("shelf")}, 1, "sheet lead cautioned"},
		{"three", unit.Metric, []model.Warning{omitted("shelf"), omitted("desk"), omitted("stove")}, 2, "sheet lead cautioned"},
		{"long", unit.Metric, []model.Warning{omitted(strings.Repeat("shelf, ", 60)), omitted(strings.Repeat("stove, ", 60))}, 2, "sheet lead cautioned full"},
		{"both units", unit.Both, []model.Warning{omitted("shelf")}, 1, "sheet lead cautioned full"},
	} {
		in := fixtureInput(reporttest.CoarseGrid())
		in.Warnings, in.Style = c.warnings, c.style
		page := reporttest.Written(t, Page, in)
		first, _, _ := strings.Cut(page, `<section aria-labelledby="places"`)
		if n := strings.Count(first, ">Caveat: left out, because"); n != c.caveats || !strings.Contains(first, `class="`+c.class+`"`) {
			t.Errorf("%s: %d caveats on the first sheet, want %d on one of class %q", c.name, n, c.caveats, c.class)
		}
	}
}

func TestPageIsHarmless(t *testing.T) {
	page := func() string { return reporttest.Written(t, Page, fixtureInput(reporttest.CoarseGrid())) }
	reporttest.CheckHarmless(t, page(), page(), reporttest.Written(t, Page, hostileInput()))
}

// The policy names exactly the scripts that are there, by their sums, and allows
// nothing from outside.
func TestPagePolicy(t *testing.T) {
	text := reporttest.Written(t, Page, fixtureInput(reporttest.CoarseGrid()))
	policy := html.UnescapeString(regexp.MustCompile(`Content-Security-Policy" content="([^"]*)"`).FindStringSubmatch(text)[1])
	if !strings.HasPrefix(policy, "default-src 'none'; script-src 'sha256-") || strings.Contains(policy, "script-src 'unsafe") {
		t.Errorf("policy is %s", policy)
	}
	scripts := regexp.MustCompile(`(?s)<script>(.*?)</script>`).FindAllStringSubmatch(text, -1)
	if len(scripts) != 1 {
		t.Fatalf("%d scripts", len(scripts))
	}
	for _, s := range scripts {
		sum := sha256.Sum256([]byte(s[1]))
		if !strings.Contains(policy, base64.StdEncoding.EncodeToString(sum[:])) {
			t.Errorf("a script is not in the policy: %.40s", s[1])
		}
	}
}

// Every graph names what it shows, in words too.
func TestPageGraphsNamed(t *testing.T) {
	text := reporttest.Written(t, Page, hostileInput())
	graphs := regexp.MustCompile(`(?s)<svg class="drawing graph".*?</desc>`).FindAllString(text, -1)
	if len(graphs) != 14 { // the first, three channels and the modes in two forms each, and one of each of four layouts
		t.Fatalf("%d graphs", len(graphs))
	}
	for _, g := range graphs {
		if m := regexp.MustCompile(`<title id="[a-z0-9-]+-title">[^<]+</title>\s*<desc id="[a-z0-9-]+-desc">[^<]+</desc>`).FindString(g); m == "" || !strings.Contains(g, "data-frame=") {
			t.Errorf("no words or no frame: %s", g)
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
	text := reporttest.Written(t, Page, in)
	for _, want := range []string{"<h1><bdi>Unnamed room</bdi></h1>", "Causes were not examined.", "The best places found"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is missing", want)
		}
	}
	for _, not := range []string{">now<", "Each line is a mode", "NaN", "1 January", "%!"} {
		if strings.Contains(text, not) {
			t.Errorf("the page says %q", not)
		}
	}
}

func TestPageIsWhole(t *testing.T) {
	reporttest.CheckWhole(t, reporttest.Written(t, Page, fixtureInput(reporttest.CoarseGrid())), 10)
}

// BenchmarkPage writes the page with its maps: a page is to be there a second after its results.
func BenchmarkPage(b *testing.B) {
	in := fixtureInput(model.DefaultGrid())
	in.Floor = reporttest.Survey(in.Project, in.best().Layout)
	for b.Loop() {
		if err := Page(io.Discard, in); err != nil {
			b.Fatal(err)
		}
	}
}
