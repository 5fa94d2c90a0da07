package solver

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/model/wave/scene"
	"evenbass/model/wave/wavetest"
)

func TestCancel(t *testing.T) {
	t.Parallel()
	e, err := New(wavetest.Den(), wavetest.Coarse, Settings{Cell: 0.1})
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithTimeout(t.Context(), 10*time.Millisecond)
	defer cancel()
	if _, err := e.Run(ctx, r3.Vec{X: 1.62, Y: 1.77, Z: 1.21}); !errors.Is(err, context.DeadlineExceeded) {
		t.Errorf("error %v, want that of the context", err)
	}
}

func TestProgress(t *testing.T) {
	t.Parallel()
	var heard []float64
	s := Settings{Cell: 0.2, Progress: func(_ string, done float64) { heard = append(heard, done) }}
	e, err := New(wavetest.Den(), wavetest.Coarse, s)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := e.Field(t.Context(), r3.Vec{X: 1.62, Y: 1.77, Z: 1.21}); err != nil {
		t.Fatal(err)
	}
	if len(heard) < 3 || heard[0] != 0 || slices.Max(heard) > 1 || heard[len(heard)-1] < 0.5 {
		t.Errorf("progress %v", heard)
	}
}

// The estimate errs on the safe side, but not by orders of magnitude.
func TestCost(t *testing.T) {
	t.Parallel()
	s := Settings{Cell: 0.13, Longest: 1, Fall: 300}
	e, err := New(wavetest.Den(), wavetest.Coarse, s)
	if err != nil {
		t.Fatal(err)
	}
	cost := e.Cost()
	if want := e.medium.Count(); cost.Cells != want {
		t.Errorf("%d cells, want %d", cost.Cells, want)
	}
	f, err := e.Run(t.Context(), r3.Vec{X: 1.62, Y: 1.77, Z: 1.21})
	if err != nil {
		t.Fatal(err)
	}
	if steps := int(f.Seconds() / e.system.Step); steps < cost.Steps*9/10 || steps > cost.Steps {
		t.Errorf("%d steps, estimated %d", steps, cost.Steps)
	}
	if held := int64(8 * len(f.values)); held > cost.Bytes || cost.Bytes > 50*held {
		t.Errorf("%d bytes estimated, %d are held in the end", cost.Bytes, held)
	}
}

// A run that is too large, and seats that are not in the air, are errors.
func TestErrors(t *testing.T) {
	t.Parallel()
	if _, err := New(wavetest.Den(), wavetest.Coarse, Settings{Cell: 0.01}); !errors.Is(err, ErrTooLarge) {
		t.Errorf("error %v, want %v", err, ErrTooLarge)
	}
	e, err := New(wavetest.Den(), wavetest.Coarse, Settings{Cell: 0.2})
	if err != nil {
		t.Fatal(err)
	}
	for _, seat := range []r3.Vec{{X: -1}, {X: 3, Y: 2.5, Z: 1}} {
		if _, err := e.Field(t.Context(), seat); err == nil {
			t.Errorf("a seat at %v is not in the room's air", seat)
		}
	}
}

// A place outside the recorded zones is the caller's mistake.
func TestCovers(t *testing.T) {
	t.Parallel()
	low, high := r3.Vec{X: 0.7, Y: 0.4, Z: 0.8}, r3.Vec{X: 1.2, Y: 1, Z: 1.1}
	e, err := New(wavetest.Den(), wavetest.Coarse, Settings{Cell: 0.13, Zones: []model.Block{{Min: low, Max: high}}})
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Run(t.Context(), r3.Vec{X: 1.62, Y: 1.77, Z: 1.21})
	if err != nil {
		t.Fatal(err)
	}
	for _, place := range []r3.Vec{low, high, r3.Scale(0.5, r3.Add(low, high))} {
		if !f.Covers(place) {
			t.Errorf("%v is in the zone and is not covered", place)
		}
	}
	far := r3.Vec{X: 2.6, Y: 1.1, Z: 1.2}
	if f.Covers(far) {
		t.Errorf("%v is far from the zone and is covered", far)
	}
	defer func() {
		if recover() == nil {
			t.Error("no panic")
		}
	}()
	f.Transfer(nil, far)
}

// A room that cannot ring out says so.
func TestCutShort(t *testing.T) {
	t.Parallel()
	s := scene.Scene{Size: r3.Vec{X: 2, Y: 1.6, Z: 1.4}, Air: model.AirAt(0)}
	e, err := New(s, model.Grid{60, 200}, Settings{Cell: 0.2, Longest: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	f, err := e.Run(t.Context(), r3.Vec{X: 1, Y: 0.5, Z: 0.5})
	if err != nil {
		t.Fatal(err)
	}
	if w := f.Warnings(); len(w) != 1 || !strings.HasPrefix(fmt.Sprintf("%T%.1f", w[0], w[0]), "model.RunStopped{0.5 ") {
		t.Errorf("warnings %q", w)
	}
}

func Example() {
	room := scene.Scene{Size: r3.Vec{X: 3, Y: 2.4, Z: 2.2}, Air: model.AirAt(0)}
	for i := range room.Walls {
		room.Walls[i] = scene.Resistive(0.1, room.Air)
	}
	engine, err := New(room, model.Grid{40, 80, 160}, Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	seat, err := engine.Field(context.Background(), r3.Vec{X: 1.9, Y: 1.2, Z: 1.2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, p := range seat.Transfer(nil, r3.Vec{X: 0.6, Y: 0.5, Z: 1}) {
		f := engine.Grid()[i]
		fmt.Printf("%3.0f Hz: %+.1f dB re the free field at 1 m\n", f, float64(model.RoomGain(p, f, room.Air)))
	}
	// Output:
	//  40 Hz: +7.1 dB re the free field at 1 m
	//  80 Hz: -12.8 dB re the free field at 1 m
	// 160 Hz: +1.4 dB re the free field at 1 m
}

// An engine claims the errors that were measured with its cells, and none with larger ones.
func TestInfo(t *testing.T) {
	for cell, claims := range map[float64]int{0: 2, 0.05: 2, 0.14: 0} {
		e, err := New(scene.Scene{Size: r3.Vec{X: 1, Y: 1, Z: 1}, Air: model.AirAt(0)}, model.Grid{40, 300}, Settings{Cell: cell})
		if err != nil {
			t.Fatal(err)
		}
		if i := e.Info(); i.Kind != model.WaveEngine || len(i.Errors) != claims || !(i.Cell > 0) || cell > 0 && i.Cell != cell {
			t.Errorf("cells of %v m: %+v", cell, i)
		}
	}
}

// A narrowed field answers where the narrower engine does, as before, and takes as much memory as that says.
func TestNarrowedField(t *testing.T) {
	t.Parallel()
	s, _ := wavetest.TreatedRoom()
	here, there := wavetest.CheckSource, r3.Add(wavetest.CheckSource, r3.Vec{X: 0.9})
	e, err := New(s, model.Grid{60, 90, 200}, Settings{Cell: 0.2, Longest: 0.3, Zones: slices.Concat(wavetest.Around(here), wavetest.Around(there))})
	if err != nil {
		t.Fatal(err)
	}
	narrow := e.Over(wavetest.Around(here))
	f, err := e.Run(t.Context(), r3.Vec{X: 2, Y: 1.2, Z: 1.1})
	if err != nil {
		t.Fatal(err)
	}
	n := f.Narrowed(narrow)
	if got, want := n.Transfer(nil, here), f.Transfer(nil, here); !slices.Equal(got, want) {
		t.Errorf("narrowed %v, was %v", got, want)
	}
	if n.Covers(there) || !f.Covers(there) {
		t.Errorf("covers the place left out: narrowed %v, whole %v", n.Covers(there), f.Covers(there))
	}
	if got := 8 * len(n.values); got != narrow.FieldBytes() || got >= e.FieldBytes() {
		t.Errorf("%d bytes, said to be %d of %d", got, narrow.FieldBytes(), e.FieldBytes())
	}
	if f.Narrowed(e) != f || n.Narrowed(e) != n {
		t.Error("a field was cut where nothing can be left out")
	}
}
