package text

import (
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/report/unit"
)

// What may change the answer is spelled out, two caveats at most; the others are counted.
func TestWriteMore(t *testing.T) {
	t.Parallel()
	var b strings.Builder
	left := model.Simplified{How: model.OmittedOnGrid, Names: "rear film"}
	WriteMore(&b, model.WaveEngine, []model.Warning{
		model.CellsUsed{Fine: 0.1, Coarse: 0.14}, model.About{Name: "cloud", Warning: model.FilmThick{Thickness: 0.02}}, left, model.RunStopped{Seconds: 2, Fallen: 30},
	}, "the rest: --full", unit.Metric)
	got := strings.Join(strings.Fields(b.String()), " ")
	for _, want := range []string{"Caveat: cloud: 20 mm is thick", "Caveat: left out, because the grid cannot represent it there: rear film.", "Predicted by the wave engine. 4 caveats, the rest: --full"} {
		if !strings.Contains(got, want) {
			t.Errorf("no %q in %q", want, got)
		}
	}
	if strings.Contains(got, "cells of") || strings.Contains(got, "stopped") {
		t.Errorf("too much in %q", got)
	}
}
