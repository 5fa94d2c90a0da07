package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// layers orders the packages from the bottom up: a package may import only those of a
// lower layer.
var layers = [][]string{
	{"model", "model/concurrent", "model/kaiser", "model/reference", "model/trust"},
	{"model/material", "model/response"},
	{"model/material/absorber", "model/material/fit", "model/roomfile/quantity", "model/material/materialtest", "model/response/spectraldecay"},
	{"model/material/surface", "model/roomfile/phrase"},
	{"model/material/absorption", "model/roomfile"},
	{"model/build", "model/image", "model/mode", "model/measure", "model/measure/decay", "model/measure/resonance", "model/wave/prediction", "model/wave/scene", "model/wave/vector"},
	{"model/measure/analysis", "model/measure/calibration", "model/measure/format", "model/measure/sweep", "model/mode/modetest", "model/wave/lattice", "model/wave/spectrum", "model/wave/wavetest"},
	{"model/measure/comparison", "model/measure/diagnosis"},
	{"model/wave/march"},
	{"model/wave/solver"},
	{"model/wave/tube"},
	{"model/wave/draw"},
	{"model/wave"},
	{"optimize/geometry", "optimize/testroom"},
	{"optimize/score"},
	{"optimize/table"},
	{"optimize/search"},
	{"optimize"},
	{"optimize/cause", "optimize/floormap", "optimize/series", "optimize/stage", "optimize/uncertainty", "optimize/whatif"},
	{"optimize/engines", "optimize/subwoofer"},
	{"optimize/observation", "optimize/study"},
	{"optimize/plan"},
	{"report/unit"},
	{"report/text"},
	{"report/chart", "report/data", "report/html", "report/svg", "report/reporttest"},
	{"report/card", "report/heatmap"},
	{"report/dip", "report/present", "report/recording"},
	{"report/room"},
	{"report/room/roomtest"},
	{"report/absorb", "report/build", "report/calibration", "report/prediction", "report/floormap", "report/live", "report/stage", "report/subwoofer", "report/whatif"},
	{"report/measured"},
	{"report/place"},
	{"report", "report/batch", "report/plan"},
	{"cmd/evenbass/interview", "cmd/evenbass/terminal"},
	{"cmd/evenbass/arguments"},
	{"cmd/evenbass/serve"},
	{"cmd/evenbass"},
}

// rank returns the layer of each package.
func rank() map[string]int {
	of := map[string]int{}
	for i, layer := range layers {
		for _, p := range layer {
			of["evenbass/"+p] = i
		}
	}
	return of
}

// anywhere names the outside libraries that any package may import.
var anywhere = []string{"gonum.org/v1/gonum", "golang.org/x/sync", "github.com/rivo/uniseg"}

// home names the one package that may import each other outside library, or the folder of those
// that may, with a slash at its end.
var home = map[string]string{
	"github.com/urfave/cli":          "evenbass/cmd/",
	"github.com/schollz/progressbar": "evenbass/cmd/evenbass/terminal",
	"github.com/google/renameio":     "evenbass/cmd/evenbass/terminal",
	"golang.org/x/term":              "evenbass/cmd/evenbass/terminal",
	"github.com/go-echarts":          "evenbass/report/chart",
	"github.com/chromedp":            "evenbass/report/reporttest",
	"github.com/google/go-cmp":       "evenbass/report/reporttest",
	"github.com/MaxHalford/eaopt":    "evenbass/optimize/search",
	"github.com/goccy/go-yaml":       "evenbass/model/roomfile",
	"github.com/go-audio":            "evenbass/model/measure/format",
}

// TestImportArrows holds the whole tree to the direction of its imports: cmd ->
// report -> optimize -> engines -> response, material -> model.
func TestImportArrows(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "evenbass/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	rank := rank()
	seen := 0
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; seen++ {
		var p struct {
			ImportPath string
			Imports    []string
		}
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		if _, known := rank[p.ImportPath]; !known {
			t.Errorf("%s is not part of the agreed tree", p.ImportPath)
		}
		for _, i := range p.Imports {
			checkImport(t, rank, p.ImportPath, i)
		}
	}
	if seen < 5 {
		t.Errorf("only %d packages were looked at", seen)
	}
}

func checkImport(t *testing.T, rank map[string]int, from, to string) {
	t.Helper()
	if strings.HasPrefix(to, "evenbass/") {
		if toRank, known := rank[to]; known && toRank >= rank[from] {
			t.Errorf("%s imports %s: against the arrows", from, to)
		}
		return
	}
	if !strings.Contains(strings.SplitN(to, "/", 2)[0], ".") {
		return
	}
	for library, owner := range home {
		if strings.HasPrefix(to, library) {
			if from != owner && !(strings.HasSuffix(owner, "/") && strings.HasPrefix(from, owner)) {
				t.Errorf("%s imports %s, which belongs to %s alone", from, to, owner)
			}
			return
		}
	}
	if !slices.ContainsFunc(anywhere, func(library string) bool { return strings.HasPrefix(to, library) }) {
		t.Errorf("%s imports %s, which has no home in the tree", from, to)
	}
}
