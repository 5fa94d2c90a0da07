package format_test

import (
	"encoding/binary"
	"fmt"
	"math"
	"strings"
	"testing"
	"unicode/utf16"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/format"
)

// TestColumnsSayTheSame reads one table in the ways in which people write it.
func TestColumnsSayTheSame(t *testing.T) {
	rows := [][3]float64{{20, -12.5, 90}, {31.5, 3.25, -45.5}, {63, 0, 180}, {1000.5, -7.5, 12}}
	write := func(heading, form string, order ...int) string {
		b := strings.Builder{}
		b.WriteString(heading)
		for _, r := range rows {
			fmt.Fprintf(&b, form+"\n", r[order[0]], r[order[1]], r[order[2]])
		}
		return b.String()
	}
	comma := func(s string) string { return strings.ReplaceAll(s, ".", ",") }
	units := utf16.Encode([]rune(write("Frequency\tSPL\tPhase\n", "%g\t%g\t%g", 0, 1, 2)))
	wide := binary.LittleEndian.AppendUint16(nil, 0xFEFF)
	for _, u := range units {
		wide = binary.LittleEndian.AppendUint16(wide, u)
	}
	falling := strings.Split(strings.TrimSpace(write("", "%g %g %g", 0, 1, 2)), "\n")
	falling[0], falling[3] = falling[3], falling[0]
	for name, text := range map[string]string{
		"spaces":        write("", "%g  %g %g", 0, 1, 2),
		"tabs":          write("* remark, with commas\nFreq\tSPL\tPhase\n", "%g\t%g\t%g", 0, 1, 2),
		"commas":        write("", "%g,%g,%g", 0, 1, 2),
		"comma, space":  write("", "%g, %g, %g", 0, 1, 2),
		"semicolons":    write("# x\r\n", "%g;%g;%g\r", 0, 1, 2),
		"decimal comma": comma(write("", "%g %g %g", 0, 1, 2)),
		"both":          comma(write("Frequenz [Hz];Pegel [dB];Phase [°]\n", "%g;%g;%g", 0, 1, 2)),
		"other columns": write("Phase (deg) Frequency (Hz) Level (dB)\n", "%g %g %g", 2, 0, 1),
		"units":         write("", "%g Hz %g dB %g deg", 0, 1, 2),
		"trailing":      write("", "%g;%g;%g;", 0, 1, 2),
		"minus":         strings.ReplaceAll(write("", "%g %g %g", 0, 1, 2), "-", "−"),
		"exponent":      write("", "%e %e %e", 0, 1, 2),
		"level first":   "-12.5 20 90\n3.25 31.5 -45.5\n0 63 180\n-7.5 1000.5 12\n",
		"kHz":           "kHz dB deg\n0.02 -12.5 90\n0.0315 3.25 -45.5\n0.063 0 180\n1.0005 -7.5 12\n",
		"UTF-16":        string(wide),
		"byte order":    "\xef\xbb\xbf" + write("", "%g %g %g", 0, 1, 2),
		"any order":     strings.Join(falling, "\n"),
		"0 Hz, twice":   "0 -90 0\n20 -12.5 90\n" + write("", "%g %g %g", 0, 1, 2),
	} {
		m, err := format.Read("x.txt", strings.NewReader(text), format.Options{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		for i, r := range rows {
			f, l, p := m.Table.Frequencies[i], float64(m.Table.Levels[i]), m.Table.Phases[i]
			if math.Abs(f-r[0]) > 1e-9 || math.Abs(l-r[1]) > 1e-9 || math.Abs(math.Remainder(p-r[2]*math.Pi/180, 2*math.Pi)) > 1e-9 {
				t.Errorf("%s: row %d is %g Hz, %g dB, %g rad", name, i, f, l, p)
			}
		}
		if want := measure.SmoothingUnknown | measure.GainUnknown | measure.CorrectionUnknown | measure.TimeUnknown; m.Unsure != want {
			t.Errorf("%s: in doubt of %v", name, m.Unsure)
		}
	}
}

// TestReadSamples reads an impulse response as columns.
func TestReadSamples(t *testing.T) {
	for name, c := range map[string]struct {
		text string
		o    format.Options
	}{
		"samples":       {"0\n0.5\n-0.25\n1e-3\n", format.Options{Rate: 2000}},
		"decimal comma": {"0,000\n0,5\n-0,25\n0,001\n", format.Options{Rate: 2000}},
		"time":          {"-0.0005 0\n0 0.5\n0.0005 -0.25\n0.001 0.001\n", format.Options{}},
		"milliseconds":  {"time (ms);pressure\n-0.5;0\n0;0.5\n0.5;-0.25\n1;0.001\n", format.Options{}},
	} {
		m, err := format.Read("x.txt", strings.NewReader(c.text), c.o)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		im := m.Impulse
		wantZero := 1.0
		if c.o.Rate > 0 {
			wantZero = 0
		}
		if im.Rate != 2000 || math.Abs(im.Zero-wantZero) > 1e-9 || im.Timed || len(im.Samples) != 4 || im.Samples[2] != -0.25 {
			t.Errorf("%s: %+v", name, im)
		}
	}
}

// TestReadRefuses holds every broken file to an error that names the file, the line and what is wrong.
func TestReadRefuses(t *testing.T) {
	native := "evenbass measurement 1\n"
	for _, c := range []struct{ text, want string }{
		{"", "x.txt: is empty"},
		{" \n\n", "x.txt: is empty"},
		{"only words\n", "x.txt: holds no numbers; give a file that evenbass measure saved"},
		{"0.5\n", "say at how many Hz"},
		{"20 3\n", "holds one frequency"},
		{"20 3\n30 NaN\n", `x.txt:2: "NaN" is no number`},
		{"20 3\n30 1\nNaN 2\n", `x.txt:3: "NaN" is no number`},
		{"20 3\n30 inf\n", `x.txt:2: "inf" is no number`},
		{"20 3\n30 1e999\n", `x.txt:2: "1e999" is no number`},
		{"20 3\n30\n", "x.txt:2: 1 columns here, 2 in line 1"},
		{"20 3\n20 4\n", "x.txt:2: 20 Hz has another level in line 1"},
		{"20 3\n-30 4\n", "x.txt:2: a frequency of -30 Hz"},
		{"20 3\n30 4000\n", "x.txt:2: a level of 4000 dB"},
		{"20,5,70,1\n25,5,71,2\n", `x.txt:1: the commas of "20,5,70,1" may be decimal`},
		{"* x\n20,70,15\n25,71,16\n", "x.txt:2: the commas"},
		{"20,5, 70,1\n25,5, 71,2\n", "x.txt:1: the commas"},
		{"1.234,5 70\n1.300,5 71\n", "x.txt:1: the commas"},
		{"20.5;70,1\n25.5;71,2\n", "x.txt:1: numbers with commas and numbers with points"},
		{"20 3 1\n30 4 2\n", "degrees or in radians"},
		{"1 2 3 4 5\n2 3 4 5 6\n", "5 columns without headings"},
		{"20 3 0x10\n", `"0x10" is no number`},
		{"\x00\x01\x02\x03abc", "neither text nor WAV"},
		{"20 " + strings.Repeat("1", 9000) + "\n", "x.txt:1: is longer than"},
		{"fLaC....", "is FLAC; save it as plain WAV"},
		{native, `the line "end" is missing`},
		{native + "end\n", "measurement without data"},
		{native + "colour: red\nend\n", `x.txt:2: unknown key "colour"`},
		{native + "seat: a\nseat: b\nend\n", "x.txt:3: seat stands here again"},
		{native + "table: 5 rows\n20 3\nend\n", "x.txt:2: 5 lines are said to follow, 2 do"},
		{native + "table: 2000000000 rows\nend\n", `x.txt:2: "2000000000" is no number of lines`},
		{native + "impulse: 2 samples at 0 Hz, zero at 0\n1\n2\nend\n", "a sampling rate of 0 Hz"},
		{native + "impulse: 1 samples at 2000 Hz, zero at 0\n1\nend\n", "an impulse response of less than two samples"},
		{native + "impulse: 2 samples at 2000 Hz, zero at 0\n0\n0\nend\n", "silence"},
		{native + "impulse: 2 samples at 2000 Hz, zero at 0\n1\nnan\nend\n", `x.txt:4: "nan" is no number`},
		{native + "temperature: 20\nend\n", "x.txt:2: a temperature of 20 K"},
		{native + "speaker: top\nend\n", "x.txt:2: speaker is left, right, both or sub"},
		{native + "table: 2 rows\n20 1\n30 2\nend\nmore\n", "x.txt:6: there is more after the end"},
		{"evenbass measurement 9\n", "of another version"},
	} {
		_, err := format.Read("x.txt", strings.NewReader(c.text), format.Options{})
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.HasPrefix(err.Error(), "x.txt") {
			t.Errorf("%.40q: %v, want %q", c.text, err, c.want)
		}
	}
}

func TestReadCorrection(t *testing.T) {
	c, err := format.ReadCorrection("mic.txt", strings.NewReader("\"Sens -1.5dB, serial 7\"\n20\t-2.5\n1000\t0.0\n"))
	if err != nil || len(c.Frequencies) != 2 || c.Levels[0] != -2.5 {
		t.Errorf("%+v, %v", c, err)
	}
	if _, err := format.ReadCorrection("mic.txt", strings.NewReader("words\n")); err == nil || err.Error() != "mic.txt: holds no numbers; give columns of frequency and level" {
		t.Errorf("words: %v", err)
	}
	if _, err := format.ReadCorrection("mic.txt", strings.NewReader("20 84.1\n1000 94\n")); err == nil || !strings.Contains(err.Error(), "no microphone's response") {
		t.Errorf("levels taken for a correction: %v", err)
	}
}

// whole is a measurement with everything in it.
func whole() *measure.Measurement {
	return &measure.Measurement{
		Name: `"quoted" name`, Seat: "chair", Speaker: model.RightSpeaker, Placed: true, Date: "3 May\n", State: []string{"rear layer", "bare", ""}, StateKnown: true,
		Temperature: 294.3000000000001, Notes: []string{"a", " b\x00\xff"}, Band: model.Range{Min: 16.8, Max: 1.0 / 3 * 1000},
		Impulse: &measure.Impulse{Samples: []float64{0, 1.0 / 3, -1e-17, 5e300}, Rate: 2000.5, Zero: -1.25, Timed: true},
		Noise:   &measure.Table{Frequencies: []float64{20, 300}, Levels: []model.Level{-61.123456789, -70}, Smoothing: 3},
		Unsure:  measure.GainUnknown | measure.CorrectionUnknown,
	}
}
