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

// rank orders the packages: a package may import only those of a lower rank.
var rank = map[string]int{
	"evenbass/model": 0, "evenbass/model/concurrent": 0,
	"evenbass/model/reference": 0, "evenbass/model/response": 1,
	"evenbass/model/material": 1, "evenbass/model/material/materialtest": 1,
	"evenbass/model/image": 2, "evenbass/model/mode": 2, "evenbass/model/wave": 2,
	"evenbass/model/measure": 2, "evenbass/model/roomfile": 2, "evenbass/model/build": 2,
	"evenbass/optimize": 3, "evenbass/optimize/testroom": 3, "evenbass/optimize/study": 4,
	"evenbass/report": 5, "evenbass/report/reporttest": 5,
	"evenbass/cmd/evenbass": 6,
}

// anywhere names the outside libraries that any package may import.
var anywhere = []string{"gonum.org/v1/gonum", "golang.org/x/sync", "github.com/rivo/uniseg"}

// home names the one package that may import each other outside library.
var home = map[string]string{
	"github.com/urfave/cli":          "evenbass/cmd/evenbass",
	"github.com/schollz/progressbar": "evenbass/cmd/evenbass",
	"golang.org/x/term":              "evenbass/cmd/evenbass",
	"github.com/go-echarts":          "evenbass/report",
	"github.com/chromedp":            "evenbass/report/reporttest",
	"github.com/google/go-cmp":       "evenbass/report/reporttest",
	"github.com/MaxHalford/eaopt":    "evenbass/optimize",
	"github.com/goccy/go-yaml":       "evenbass/model/roomfile",
	"github.com/go-audio":            "evenbass/model/measure",
}

// TestImportArrows holds the whole tree to the direction of its imports: cmd ->
// report -> optimize -> engines -> response, material -> model.
func TestImportArrows(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "evenbass/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
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
		from, known := rank[p.ImportPath]
		if !known {
			t.Errorf("%s is not part of the agreed tree", p.ImportPath)
		}
		for _, i := range p.Imports {
			checkImport(t, p.ImportPath, from, i)
		}
	}
	if seen < 5 {
		t.Errorf("only %d packages were looked at", seen)
	}
}

func checkImport(t *testing.T, from string, fromRank int, to string) {
	t.Helper()
	if strings.HasPrefix(to, "evenbass/") {
		if toRank, known := rank[to]; known && toRank >= fromRank {
			t.Errorf("%s imports %s: against the arrows", from, to)
		}
		return
	}
	if !strings.Contains(strings.SplitN(to, "/", 2)[0], ".") {
		return
	}
	for library, owner := range home {
		if strings.HasPrefix(to, library) {
			if from != owner {
				t.Errorf("%s imports %s, which belongs to %s alone", from, to, owner)
			}
			return
		}
	}
	if !slices.ContainsFunc(anywhere, func(library string) bool { return strings.HasPrefix(to, library) }) {
		t.Errorf("%s imports %s, which has no home in the tree", from, to)
	}
}
