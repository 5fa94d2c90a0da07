package main

import (
	"bytes"
	"context"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"evenbass/cmd/evenbass/terminal"
	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/format"
	"evenbass/model/measure/sweep"
	"evenbass/model/roomfile"
	"evenbass/report/reporttest"
)

// measurable is a room whose page takes a moment, with comments that have to stay.
const measurable = `# the box room
room: {name: Box room, length: 4.31 m, width: 3.28 m, height: 2.45 m}
walls:
  front: brick plastered # painted twice
  back: plasterboard on studs
  left: brick plastered
  right: plasterboard on studs
  floor: timber on joists
  ceiling: plasterboard on joists
speakers:
  now: {left: [0.40 m, 0.95 m, 1.0 m], right: [0.40 m, 2.33 m, 1.0 m]}
  may_stand: [{x: 0.4 m to 0.45 m, y: 0.8 m to 2.5 m}]
seats:
  - {name: "chair / desk", at: [2.0 m, 1.64 m, 1.18 m]}
options:
  - name: a cloud # hung last
    add:
      - {name: cloud, form: cloud, from: [1.4 m, 0.9 m], to: [2.6 m, 2.4 m], gap: 15 cm, layers: [wool 100 mm 6 kPa·s/m²]}
`

// heardSweep writes a short test signal of the left speaker, and what a microphone hears of it: the sound, an
// echo, and a little noise.
func heardSweep(t *testing.T, folder string) (signal, heard string) {
	t.Helper()
	s := sweep.Default()
	s.Length, s.Pause, s.Parts = 2, 1, []model.Source{model.LeftSpeaker}
	played, err := s.Recording()
	if err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(1, 2))
	x := make([]float64, len(played.Channels[0]))
	for i := range x {
		x[i] = 1e-4 * rng.NormFloat64()
		for _, path := range []struct {
			after int // samples
			gain  float64
		}{{280, 0.5}, {800, 0.3}} {
			if i >= path.after {
				x[i] += path.gain * played.Channels[0][i-path.after]
			}
		}
	}
	write := func(name string, rec *measure.Recording) string {
		var b bytes.Buffer
		if err := format.WriteWAV(&b, rec); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(folder, name)
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
		return file
	}
	return write("sweep.wav", played), write("heard.wav", &measure.Recording{Rate: s.Rate, Bits: 16, Channels: [][]float64{x}})
}

// firstLine hands on the first line that is printed.
type firstLine struct {
	text bytes.Buffer
	line chan string
}

func (f *firstLine) Write(p []byte) (int, error) {
	if f.line != nil {
		f.text.Write(p)
		if line, _, ok := strings.Cut(f.text.String(), "\n"); ok {
			f.line <- line
			f.line = nil
		}
	}
	return len(p), nil
}

// waitFor waits until an expression of the page holds.
func waitFor(t *testing.T, b *reporttest.Tab, expression string) {
	t.Helper()
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(100 * time.Millisecond) {
		if reporttest.Value[bool](t, b, expression) {
			return
		}
	}
	t.Fatalf("never: %s; the page says %q", expression, reporttest.Value[string](t, b, `document.body.innerText.slice(-600)`))
}

// In a browser whose microphone hears a file of ours, the page checks the level, plays and records; the
// measurement goes beside the room file and into it, and the page shows it beside the prediction.
func TestRecordInBrowser(t *testing.T) {
	t.Parallel()
	folder := t.TempDir()
	signal, heard := heardSweep(t, folder)
	browser := reporttest.NewBrowser(t, chromedp.Flag("use-fake-device-for-media-stream", true),
		chromedp.Flag("use-fake-ui-for-media-stream", true), chromedp.Flag("use-file-for-fake-audio-capture", heard))
	room := filepath.Join(folder, "box room.yaml")
	if err := os.WriteFile(room, []byte(measurable), 0o644); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	printed, ended, notes := &firstLine{line: make(chan string, 1)}, make(chan int, 1), &bytes.Buffer{}
	address := printed.line
	go func() {
		ended <- run(ctx, terminal.New(printed, notes), []string{"serve", "--static", "--trials", "0", "--layouts", "1", "--sweep", signal, room})
	}()
	defer func() {
		stop()
		if code := <-ended; code != terminal.ExitOK {
			t.Errorf("serve ends with %d: %s", code, notes)
		}
	}()
	site := <-address

	b := reporttest.NewTab(t, browser)
	b.Run(t, chromedp.Navigate(site))
	waitFor(t, b, `document.body.dataset.page === "1"`)
	b.Run(t, chromedp.Navigate(site+"record"))
	waitFor(t, b, `document.getElementById("check") !== null`)
	if !reporttest.Value[bool](t, b, `document.getElementById("check").disabled && document.getElementById("measure").disabled`) {
		t.Error("sound can be played before the cautions are confirmed")
	}
	t.Run("barriers", b.CheckBarriers)
	b.Run(t, chromedp.Click("#careful"))
	b.Run(t, chromedp.Click("#check"))
	waitFor(t, b, `(document.body.dataset.said ?? "").startsWith("The level is right")`)
	waitFor(t, b, `!document.getElementById("measure").disabled`)
	b.Run(t, chromedp.Click("#measure"))
	waitFor(t, b, `/^(Measured and saved|Not measured|Stopped)/.test(document.body.dataset.said)`)
	said := reporttest.Value[string](t, b, `document.getElementById("result").textContent`)
	for _, want := range []string{"Measured at chair / desk", "box room.yaml, which names it now", "speaker: left", "state: bare"} {
		if !strings.Contains(said, want) {
			t.Errorf("the result does not say %q:\n%s\n%s", want, said, reporttest.Value[string](t, b, `document.body.dataset.said`))
		}
	}
	b.QuietAt(t, site)

	text, err := os.ReadFile(room)
	if err != nil {
		t.Fatal(err)
	}
	for _, comment := range []string{"# the box room", "# painted twice", "# hung last"} {
		if !strings.Contains(string(text), comment) {
			t.Errorf("the room file lost %q:\n%s", comment, text)
		}
	}
	p, err := roomfile.Read(bytes.NewReader(text), room)
	if err != nil || len(p.Measurements) != 1 {
		t.Fatalf("the room file: %v, %+v", err, p)
	}
	m, err := format.Load(p, &p.Measurements[0], besideRoom(room))
	if err != nil {
		t.Fatal(err)
	}
	if m.Impulse == nil || !m.Impulse.Timed || m.Speaker != model.LeftSpeaker || m.Seat != "chair / desk" {
		t.Errorf("the measurement is %+v", m)
	}
	// The microphone heard 0.5 and, 520 samples of 48 kHz later, 0.3: 0.2 where they cancel, 0.8 an octave above.
	h := m.Impulse.Response(model.Grid{48000.0 / 1040, 48000.0 / 520})
	if got, want := 20*math.Log10(cmplx.Abs(h[1])/cmplx.Abs(h[0])), 20*math.Log10(0.8/0.2); math.Abs(got-want) > 0.3 {
		t.Errorf("the octave above the dip is %.2f dB louder, want %.2f", got, want)
	}
	b.Run(t, chromedp.Navigate(site))
	waitFor(t, b, `document.body.dataset.page === "2"`)
	waitFor(t, b, `/Measured as the room stands/.test(document.getElementById("page").contentDocument?.body?.textContent ?? "")`)
}
