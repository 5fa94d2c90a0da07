package text

import (
	"strings"
	"testing"

	"github.com/rivo/uniseg"

	"evenbass/model"
	"evenbass/report/unit"
)

func TestShortened(t *testing.T) {
	for words, want := range map[string]string{"sofa bed": "sofa bed", "sofa bed by the window": "sofa bed…", "一二三四五六七": "一二三四…", "": ""} {
		if got := Shortened(words, 10); got != want {
			t.Errorf("%q is shortened to %q, want %q", words, got, want)
		}
	}
	if w := uniseg.StringWidth(Shortened(strings.Repeat("👩‍👩‍👧x", 200), 14)); w > 14 {
		t.Errorf("%d columns", w)
	}
}

// One and many, as one reads them aloud.
func TestCount(t *testing.T) {
	t.Parallel()
	for want, got := range map[string]string{
		"1 piece": Count(1, "piece"), "3 pieces": Count(3, "piece"), "0 batts": Count(0, "batt"),
		"1 pack of 8": Count(1, "pack of 8"), "2 packs of 8": Count(2, "pack of 8"),
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

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

// Every caution that concerns absorbers is there, by what it is about.
func TestAbsorberCautions(t *testing.T) {
	said := strings.ToLower(strings.Join(CautionLines(AbsorberCautions(unit.Metric)), "\n"))
	if n := len(AbsorberCautions(unit.Metric)); n != 6 {
		t.Errorf("%d cautions, want 6", n)
	}
	for _, word := range []string{"fibre", "mineral wool", "fire class", "film", "foam", "damp", "cold wall", "ceiling", "lift", "heater", "licensed trades"} {
		if !strings.Contains(said, word) {
			t.Errorf("no caution speaks of %q", word)
		}
	}
}
