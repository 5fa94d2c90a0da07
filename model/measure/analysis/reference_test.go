package analysis

import (
	"math"
	"os"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/floats"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/decay"
	"evenbass/model/measure/format"
	"evenbass/model/reference"
	"evenbass/model/trust"
)

// A treated listening room that meets the broadcasters' recommendation (BBC R&D, CC BY-SA 4.0):
// loudspeakers at 30 degrees and ahead. The spreads and deviations of the power mean of both
// ears, 40 to 300 Hz, 1/12 octave, were computed independently of this code; its smoothing is
// over lg f.
func TestReferenceListeningRoom(t *testing.T) {
	t.Parallel()
	spreads := map[string]float64{}
	for _, c := range []struct {
		file              string
		spread, deviation float64
	}{{"M+030", 9.5, 4.2}, {"M+000", 12.7, 5.2}} {
		file, err := os.Open(reference.File(t, "bbc_listening_room/wav/BBCRD_LR_"+c.file+".wav"))
		if err != nil {
			t.Fatal(err)
		}
		rec, err := format.ReadWAV(c.file, file)
		file.Close()
		if err != nil {
			t.Fatal(err)
		}
		var ears []*Analysis
		power := []float64(nil)
		for _, x := range rec.Channels {
			a, err := New(&measure.Measurement{Impulse: &measure.Impulse{Samples: x, Rate: rec.Rate}}, model.Goal{From: 40, To: 300, Smoothing: 12})
			if err != nil {
				t.Fatal(err)
			}
			ears = append(ears, a)
			if power == nil {
				power = make([]float64, len(a.Grid))
			}
			for i, l := range a.Curve {
				power[i] += l.Power() / 2
			}
		}
		var levels, weights []float64
		grid := ears[0].Grid
		for i, f := range grid {
			if f >= 40 && f <= 300 {
				levels = append(levels, 10*math.Log10(power[i]))
				weights = append(weights, math.Log(grid[min(i+1, len(grid)-1)]/grid[i-1]))
			}
		}
		spread := (floats.Max(levels) - floats.Min(levels)) / 2
		mean := floats.Dot(levels, weights) / floats.Sum(weights)
		var square float64
		for i, l := range levels {
			square += (l - mean) * (l - mean) * weights[i] / floats.Sum(weights)
		}
		t.Logf("%s: ±%.1f dB, deviation %.1f dB; each ear ±%.1f and ±%.1f dB", c.file, spread, math.Sqrt(square), float64(ears[0].Card.Spread), float64(ears[1].Card.Spread))
		spreads[c.file] = spread
		if math.Abs(spread-c.spread) > 1 || math.Abs(math.Sqrt(square)-c.deviation) > 0.5 {
			t.Errorf("%s: ±%.1f dB, deviation %.1f dB; want ±%.1f and %.1f", c.file, spread, math.Sqrt(square), c.spread, c.deviation)
		}
	}
	trust.Seen(t, "spread of a measurement", "±%.1f / %.1f dB for ±12.7 / 9.5 dB", spreads["M+000"], spreads["M+030"])
}

// Twelve responses in a real cuboid room (Di Carlo et al. 2021, MIT), sampled at 2 kHz: the sound
// begins when it was marked to arrive, within two samples.
func TestReferenceArrivals(t *testing.T) {
	t.Parallel()
	rows := func(name string) [][]float64 {
		records := reference.Rows(t, "dechorate_rooge/"+name)
		var list [][]float64
		for _, record := range records {
			var row []float64
			for _, s := range record {
				v, err := strconv.ParseFloat(s, 64)
				if err != nil {
					break // a heading
				}
				row = append(row, v)
			}
			if len(row) > 0 {
				list = append(list, row)
			}
		}
		return list
	}
	responses, times := rows("rir_fs2000.csv"), rows("echo_times_s.csv")
	if len(responses) != 12 || len(times) != 12 {
		t.Fatalf("%d responses, %d times", len(responses), len(times))
	}
	for i, x := range responses {
		if got := float64(decay.Onset(x)) / 2000; math.Abs(got-times[i][1]) > 1e-3 {
			t.Errorf("response %d begins after %.2f ms, marked at %.2f ms", i, 1e3*got, 1e3*times[i][1])
		}
	}
}
