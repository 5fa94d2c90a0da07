package format_test

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"github.com/go-audio/wav"

	"evenbass/model"
	"evenbass/model/measure"
	"evenbass/model/measure/format"
)

func TestNativeRoundTrip(t *testing.T) {
	table := whole()
	table.Impulse, table.StateKnown, table.State = nil, true, nil
	table.Table = &measure.Table{Frequencies: []float64{20, 30.1}, Levels: []model.Level{1.0 / 3, -2}, Phases: []float64{math.Pi, -0.1}, Smoothing: 12}
	for _, m := range []*measure.Measurement{whole(), table} {
		var b bytes.Buffer
		if err := format.Write(&b, m); err != nil {
			t.Fatal(err)
		}
		back, err := format.Read("x", bytes.NewReader(b.Bytes()), format.Options{})
		if err != nil {
			t.Fatalf("%v\n%s", err, b.String())
		}
		if !reflect.DeepEqual(m, back) {
			t.Errorf("wrote %+v, read %+v\n%s", m, back, b.String())
		}
	}
	if err := format.Write(&bytes.Buffer{}, &measure.Measurement{}); err == nil {
		t.Error("a measurement without data was written")
	}
}

// stereo is a recording of two channels whose samples any depth holds.
func stereo(bits int) *measure.Recording {
	return &measure.Recording{
		Rate: 44100, Bits: bits, Comment: "two channels",
		Channels: [][]float64{{0, 0.5, -1, 0.25, 1 - 1.0/32768}, {-0.125, 0, 1.0 / 32768, -0.5, 0.75}},
	}
}

func TestWAVRoundTrip(t *testing.T) {
	for _, bits := range []int{0, 16, 24} {
		rec := stereo(bits)
		var b bytes.Buffer
		if err := format.WriteWAV(&b, rec); err != nil {
			t.Fatal(err)
		}
		back, err := format.ReadWAV("x.wav", bytes.NewReader(b.Bytes()))
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(rec, back) {
			t.Errorf("%d bits: wrote %+v, read %+v", bits, rec, back)
		}
	}
}

// TestWAVByTheLibrary reads our files with another's reader.
func TestWAVByTheLibrary(t *testing.T) {
	for _, bits := range []int{16, 24} {
		name := filepath.Join(t.TempDir(), "x.wav")
		f, err := os.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := format.WriteWAV(f, stereo(bits)); err != nil {
			t.Fatal(err)
		}
		f.Seek(0, 0)
		buffer, err := wav.NewDecoder(f).FullPCMBuffer()
		f.Close()
		if err != nil || buffer.Format.SampleRate != 44100 || buffer.Format.NumChannels != 2 || len(buffer.Data) != 10 {
			t.Fatalf("%d bits: %v, %v", bits, err, buffer)
		}
		for i, v := range buffer.Data {
			if want := stereo(bits).Channels[i%2][i/2] * float64(int(1)<<(bits-1)); float64(v) != want {
				t.Errorf("%d bits: value %d is %d, want %g", bits, i, v, want)
			}
		}
	}
}

// wave returns a mono WAV file with its bytes as given.
func wave(code, bits, rate, claim int, data []byte) []byte {
	b := []byte("RIFF\xff\xff\xff\xffWAVEfmt \x10\x00\x00\x00")
	for _, v := range []int{code, 1} {
		b = binary.LittleEndian.AppendUint16(b, uint16(v))
	}
	b = binary.LittleEndian.AppendUint32(b, uint32(rate))
	b = binary.LittleEndian.AppendUint32(b, uint32(rate*bits/8))
	b = binary.LittleEndian.AppendUint16(b, uint16(bits/8))
	b = binary.LittleEndian.AppendUint16(b, uint16(bits))
	b = append(b, "data"...)
	b = binary.LittleEndian.AppendUint32(b, uint32(claim))
	return append(b, data...)
}

func TestWAVForms(t *testing.T) {
	le := binary.LittleEndian
	float := le.AppendUint32(le.AppendUint32(nil, math.Float32bits(0.5)), math.Float32bits(-2))
	double := le.AppendUint64(le.AppendUint64(nil, math.Float64bits(0.5)), math.Float64bits(-2))
	deep := le.AppendUint32(le.AppendUint32(nil, 1<<30), 0x80000000)
	for name, c := range map[string]struct {
		file   []byte
		second float64
		cut    bool
	}{
		"float32":  {wave(3, 32, 96000, 8, float), -2, false},
		"float64":  {wave(3, 64, 8000, 16, double), -2, false},
		"32 bits":  {wave(1, 32, 192000, 8, deep), -1, false},
		"cut":      {wave(3, 32, 48000, 2_000_000_000, float), -2, true},
		"streamed": {wave(3, 32, 48000, 0xFFFFFFFF, float), -2, false},
	} {
		rec, err := format.ReadWAV("x.wav", bytes.NewReader(c.file))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if got := rec.Channels[0]; len(got) != 2 || got[0] != 0.5 || got[1] != c.second || rec.Cut != c.cut {
			t.Errorf("%s: %+v", name, rec)
		}
	}
}

func TestWAVRefuses(t *testing.T) {
	le := binary.LittleEndian
	nan := le.AppendUint32(nil, math.Float32bits(float32(math.NaN())))
	good := wave(1, 16, 48000, 4, []byte{1, 0, 2, 0})
	for _, c := range []struct {
		file []byte
		want string
	}{
		{nil, "is empty"},
		{[]byte("RIFF"), "is no WAV file"},
		{good[:20], "ends within its description"},
		{good[:40], "ends within a header"},
		{good[:44], "holds no samples"},
		{good[:36], "holds no samples"},
		{wave(1, 8, 48000, 2, []byte{1, 2}), "8 bits, which are too coarse"},
		{wave(1, 20, 48000, 2, []byte{1, 2}), "samples of 20 bits"},
		{wave(85, 16, 48000, 2, []byte{1, 2}), "is compressed (code 85)"},
		{wave(1, 16, 48, 2, []byte{1, 2}), "was sampled at 48 Hz"},
		{wave(3, 32, 48000, 4, nan), "a sample that is no number"},
		{[]byte("RF64....WAVE"), "a 64-bit WAV"},
	} {
		_, err := format.ReadWAV("x.wav", bytes.NewReader(c.file))
		if err == nil || !strings.HasPrefix(err.Error(), "x.wav: ") || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%q: %v, want %q", c.file, err, c.want)
		}
	}
}

// TestWAVChannel holds the choice of a channel to its rules.
func TestWAVChannel(t *testing.T) {
	var b bytes.Buffer
	if err := format.WriteWAV(&b, stereo(24)); err != nil {
		t.Fatal(err)
	}
	if _, err := format.Read("x.wav", bytes.NewReader(b.Bytes()), format.Options{}); err == nil || !strings.Contains(err.Error(), "say which one") {
		t.Errorf("two channels: %v", err)
	}
	if _, err := format.Read("x.wav", bytes.NewReader(b.Bytes()), format.Options{Channel: 3}); err == nil {
		t.Error("there is no channel 3")
	}
	m, err := format.Read("x.wav", bytes.NewReader(b.Bytes()), format.Options{Channel: 2, Timed: true})
	if err != nil || m.Impulse.Samples[0] != -0.125 || !m.HasTime() {
		t.Errorf("%+v, %v", m, err)
	}
}

// TestBoundedMemory reads files that claim much and hold little.
func TestBoundedMemory(t *testing.T) {
	big := wave(1, 16, 48000, 0x7FFFFFFF, make([]byte, 1000))
	native := []byte("evenbass measurement 1\nimpulse: 999999 samples at 2000 Hz, zero at 0\n1\nend\n")
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	for range 10 {
		format.Read("x", bytes.NewReader(big), format.Options{})
		format.Read("x", bytes.NewReader(native), format.Options{})
	}
	runtime.ReadMemStats(&after)
	if used := (after.TotalAlloc - before.TotalAlloc) / 10; used > 1<<20 {
		t.Errorf("%d bytes for small files that claim to be large", used)
	}
}
