package text

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"evenbass/model"
	"evenbass/report/unit"
)

// Every warning with a length or an area is told in the reader's units, and in no other.
func TestWarningText(t *testing.T) {
	cases := []struct {
		w                model.Warning
		metric, imperial string
	}{
		{model.Remark("the door is guessed"), "the door is guessed", "the door is guessed"},
		{model.About{Name: "layer 2 (film)", Warning: model.FilmThick{Thickness: 0.004}}, "layer 2 (film): 4 mm is thick", "layer 2 (film): 0.16 in is thick"},
		{model.FilmThick{Thickness: 0.004}, "4 mm is thick", "0.16 in is thick"},
		{model.ZonePastWall{Path: "seats[0].may_move[0].x", Wall: "back wall", By: 1, End: 4}, "seats[0].may_move[0].x reaches 1.00 m past the back wall, and only what is inside the room counts; let it end at 4.00 m", "3 ft 3 3/8 in past the back wall"},
		{model.FurnitureInert{Names: "rug, skyline"}, "these do nothing below 300 Hz and are not computed: rug, skyline", "rug, skyline"},
		{model.FurnitureAssumed{Names: "sofa"}, "their filling is assumed", "half or twice as much: sofa"},
		{model.FurnitureStays{Name: "sofa", Path: "furniture[0]"}, "sofa (furniture[0]) stays where it is in every prediction, though the seat on it may move (seats[0].may_move)", "change both"},
		{model.FurnitureDeep{Name: "drapes", Kind: model.Curtain, Depth: 0.4, Most: 0.1}, "drapes reaches 40 cm from the wall: farther than 10 cm a curtain", "drapes reaches 1 ft 3 3/4 in from the wall"},
		{model.FurnitureDeep{Name: "skyline", Kind: model.Diffuser, Depth: 0.4, Most: 0.28}, "skyline is 40 cm deep: deeper than 28 cm a diffuser acts", "skyline is 1 ft 3 3/4 in deep"},
		{model.LayerThick{Name: "slab", Thickness: 2}, "slab has a layer 2.00 m thick", "slab has a layer 6 ft 6 3/4 in thick"},
		{model.WoolThick{Thickness: 2}, "2.00 m of wool", "6 ft 6 3/4 in of wool"},
		{model.BuildUpDeep{Depth: 1.3}, "is 1.30 m deep", "is 4 ft 3 1/8 in deep"},
		{model.OpeningCovered{Name: "slab", Opening: "door", Wall: "back wall", Area: 0.8}, "covers 0.80 m² of a door in the back wall", "covers 8.6 sq ft of a door"},
		{model.TreatmentBlocked{Treatment: "slab", Obstruction: model.Obstruction{Kind: model.TooDeep, Wall: "back wall", Depth: 0.4, Allowed: 0.3}}, `treatment "slab" cannot be built as written: it`, "1 ft"},
		{model.ImageSumEnds{Length: 40, Remaining: -26, Wanted: -60}, "a path of 40.00 m, where the energy still to come is -26 dB", "a path of 131 ft"},
		{model.CellsUsed{Fine: 0.1, Coarse: 0.14}, "cells of 10 cm. A search first tries layouts on cells of 14 cm", "cells of 4 in. A search"},
		{model.AbsorptionOff{Name: "bag", Cell: 0.1, Off: -0.05, Near: 63}, "on cells of 100 mm its absorption is up to 0.05 too low, most near 63 Hz", "on cells of 3 7/8 in its"},
		{model.ThinForCells{Name: "mat", Cell: 0.1, Near: 300}, "thinner than a cell of 100 mm", "a cell of 3 7/8 in"},
		{model.DenseForCells{Name: "mat", Cell: 0.1, Above: 90}, "too dense for cells of 100 mm above 90 Hz", "cells of 3 7/8 in above 90 Hz"},
		{model.FittedRoom{Seats: 2, From: "left, right"}, "measurements at 2 seats: left, right.", "2 seats"},
		{model.GoalBelowLimit{From: 30, Down: 5, Limit: 45}, "begins at 30 Hz, where the speakers are 5 dB down (low_limit 45 Hz, sealed)", "or add a subwoofer"},
		{model.GoalBelowLimit{Limit: 45, Helped: true}, "see what the subwoofers add", "goal.from"},
		{model.GoalFromLimit{From: 45}, "judged from 45 Hz up", "goal.from"},
		{model.AbsorbsTooMuch{Surface: "the floor", Coefficient: 0.99, Frequency: 125, Most: 0.951}, "the floor absorbs 0.99 at 125 Hz", "at most 0.95"},
		{model.ConstructionMisplaced{Surface: "the floor", Construction: "hollow door", Serves: "door"}, `the floor is given as "hollow door", a construction for a door`, "a door"},
		{model.LayerIdle{Name: "layer 2 (foil)"}, "layer 2 (foil) lies on the wall", "does nothing"},
		{model.DensityAssumed{Density: 31.2, Material: "mineral wool"}, "about 31 kg/m³ assumed as for mineral wool", "density not given"},
		{model.TableBegins{Frequency: 125}, "begins at 125 Hz", "the first value"},
		{model.TableEnds{Frequency: 100}, "ends at 100 Hz", "the last value"},
		{model.CoefficientCut{Coefficient: 1.1, Frequency: 250, Most: 0.951}, "absorption 1.1 at 250 Hz", "0.95 is used"},
		{model.BackingRange{From: 25, To: 315}, "known from 25 to 315 Hz", "its last value"},
		{model.MikiBegins{Resistivity: 6000, From: 60}, "6000 Pa·s/m² begin at 60 Hz", "extrapolated"},
		{model.DelanyBazleyRange{Resistivity: 6000, From: 50, To: 5000}, "from 50 to 5000 Hz", "outside that range"},
		{model.Simplified{How: model.WallsUnset, Names: "floor and ceiling"}, "no construction given for floor and ceiling:", "wider"},
		{model.LimpPanel{Name: "screen"}, "screen: a free-standing panel", "limp sheet"},
		{model.LayersTrimmed{Name: "gable", Clear: 0.01, Low: 1.29, High: 2.4}, "gable is trimmed along the sloped ceiling, 10 mm clear of it: 129 cm high at the lower end, 240 cm at most", "3/8 in clear of it: 4 ft 2 3/4 in high at"},
		{model.FilmAtWall{Name: "foil"}, "foil is within half a cell of a wall", "left out"},
		{model.RunStopped{Seconds: 0.5, Fallen: 31}, "after 0.5 s, when its energy had fallen by only 31 dB", "blurred"},
		{model.NotLocal{Wall: "back wall", Admittance: 0.8}, "the back wall absorbs so much (specific admittance up to 0.8)", "doubtful"},
		{model.ImagesAbsorb{Wall: "floor", Admittance: 0.3, Frequency: 50}, "the floor absorbs much for mirror images (specific admittance 0.30 at 50 Hz)", "1 to 2 dB"},
		{model.ImagesYield{Wall: "floor", Admittance: 0.05, Frequency: 50}, "(specific admittance 0.05j at 50 Hz)", "10 dB in a dip"},
		{model.MarkMissed{Speaker: model.LeftSpeaker, Zero: model.RightSpeaker}, "the mark of the left speaker was not heard; time zero is that of the right one", "not heard"},
		{model.RecordingFaint{Peak: -42}, "42 dB below full scale", "raise"},
		{model.RecordingClipped{Share: 0.0123}, "(1.23 % of a sweep)", "lower"},
		{model.NoiseNear{Speaker: model.LeftSpeaker, Above: 12}, "of left is only 12 dB above the noise", "noise"},
		{model.SweepDisturbed{Speaker: model.LeftSpeaker, Louder: 9}, "during the sweep of left it was 9 dB louder", "rattles"},
		{model.MainsHum{Frequency: 50, Above: 20}, "50 Hz stands 20 dB above", "still in the responses"},
		{model.MainsHum{Frequency: 50, Above: 20, Taken: 12}, "50 Hz stands 20 dB above", "steady tones are removed"},
		{model.ClocksDiffer{Drift: 3e-5}, "differ by 30 parts in a million", "corrected"},
		{model.SumOff{Difference: -18}, "the difference is 18 dB below it", "between the sweeps"},
		{model.RowsCoarse{Octaves: 0.5}, "up to 0.50 octaves apart", "missed"},
		{model.ResponseBrief{Long: 0.2, Below: 86.5}, "ends 0.20 s after the sound begins: dips and peaks below 86.5 Hz are blunted", "look better"},
		{model.MeasurementUnused{Name: "a", Why: "it is of nobody"}, "a is not used: it is of nobody", "nobody"},
		{model.SeatStays{Name: "sofa"}, "sofa may move", "in the middle of its first zone"},
		{model.SeatStays{Name: "sofa", Placed: true}, "it is judged where it is;", "change its"},
		{model.SearchOff{Off: 1.26}, "up to 1.3 dB off", "passed over"},
		{model.PlansCut{Tried: 1, Most: 4}, "more than 1 of up to 4 subwoofers", "by hand"},
		{model.PartMissing{Part: model.MapsPart, Why: "it is dark"}, "no maps of the floor: it is dark", "dark"},
		{model.OptionUntried{Name: "cloud"}, "cannot switch on cloud: what it needs is too large", "not exact enough"},
		{model.OptionUntried{Name: "cloud", Why: "it hangs in a beam"}, "cannot switch on cloud: it hangs in a beam", "beam"},
		{model.StepFailed{Step: "facing other walls"}, "ended facing other walls:", "missing"},
		{model.TapeOff{Sound: 0.27, Taped: 0.57}, "is 0.27 m farther than the left one, by the room file 0.57 m", "is 10 5/8 in farther"},
	}
	worded := map[string]bool{}
	for _, c := range cases {
		worded[fmt.Sprintf("%T", c.w)] = true
		metric, imperial := WarningText(c.w, unit.Metric), WarningText(c.w, unit.Imperial)
		if !strings.Contains(metric, c.metric) || !strings.Contains(imperial, c.imperial) {
			t.Errorf("%T reads %q and %q", c.w, metric, imperial)
		}
		for _, leak := range []string{" m ", " cm", " mm", " m²"} {
			if strings.Contains(imperial, leak) {
				t.Errorf("%T prints%s in imperial output: %q", c.w, leak, imperial)
			}
		}
	}
	files, err := filepath.Glob("../../model/caveat*.go")
	if err != nil || len(files) == 0 {
		t.Fatalf("files %v, error %v", files, err)
	}
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`func \((\w+)\) +warning\(\)`).FindAllSubmatch(source, -1) {
			if !worded["model."+string(m[1])] {
				t.Errorf("%s has no case here", m[1])
			}
		}
	}
}

// Each simplification and each missing part has words of its own.
func TestWordsOfEach(t *testing.T) {
	said := map[string]bool{}
	for how := model.WallsUnset; how <= model.OmittedOnGrid; how++ {
		said[WarningText(model.Simplified{How: how, Names: "it"}, unit.Metric)] = true
	}
	for part := model.CostPart; part <= model.AnswersPart; part++ {
		said[WarningText(model.PartMissing{Part: part, Why: "it"}, unit.Metric)] = true
	}
	if n := int(model.OmittedOnGrid) + 1 + int(model.AnswersPart) + 1; len(said) != n || said["it"] {
		t.Errorf("%d texts for %d things: %v", len(said), n, said)
	}
}
