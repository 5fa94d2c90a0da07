package format_test

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"evenbass/model/measure/format"
)

// FuzzRead reads anything. What is accepted is written in our own form and reads back the same.
func FuzzRead(f *testing.F) {
	var native bytes.Buffer
	if err := format.Write(&native, whole()); err != nil {
		f.Fatal(err)
	}
	f.Add(native.Bytes())
	f.Add([]byte("Freq;SPL;Phase\n20,5;-3,2;90\n30;1;-170\n"))
	f.Add([]byte("time s, x\n0, 1\n0.001, 2\n0.002, -1\n"))
	f.Add([]byte("0,01\n-0,02\n0,5\n"))
	f.Add(wave(3, 32, 48000, 8, []byte{0, 0, 0, 63, 0, 0, 0, 0}))
	f.Fuzz(func(t *testing.T, b []byte) {
		m, err := format.Read("x", bytes.NewReader(b), format.Options{Rate: 2000, Phase: format.Degrees})
		if err != nil {
			if !strings.HasPrefix(err.Error(), "x:") {
				t.Errorf("an error without the file's name: %v", err)
			}
			return
		}
		var out bytes.Buffer
		if err := format.Write(&out, m); err != nil {
			t.Fatal(err)
		}
		back, err := format.Read("x", bytes.NewReader(out.Bytes()), format.Options{})
		if err != nil {
			t.Fatalf("%v\n%s", err, out.String())
		}
		if !reflect.DeepEqual(m, back) {
			t.Errorf("wrote %+v, read %+v\n%s", m, back, out.String())
		}
	})
}

// FuzzWAV reads anything as WAV. What is accepted is written, as floating point, and reads back
// the same but for rounding.
func FuzzWAV(f *testing.F) {
	for _, bits := range []int{0, 16, 24} {
		var b bytes.Buffer
		if err := format.WriteWAV(&b, stereo(bits)); err != nil {
			f.Fatal(err)
		}
		f.Add(b.Bytes())
	}
	f.Add(wave(1, 16, 48000, -1, []byte{1, 2, 3}))
	f.Fuzz(func(t *testing.T, b []byte) {
		rec, err := format.ReadWAV("x", bytes.NewReader(b))
		if err != nil {
			return
		}
		rec.Bits, rec.Cut = 0, false
		rec.Comment = strings.TrimRight(rec.Comment, "\x00")
		for _, c := range rec.Channels {
			for i := range c {
				if c[i] = float64(float32(c[i])); c[i]-c[i] != 0 {
					return // beyond what 32 bits hold
				}
			}
		}
		var out bytes.Buffer
		if err := format.WriteWAV(&out, rec); err != nil {
			t.Fatal(err)
		}
		back, err := format.ReadWAV("x", &out)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(rec, back) {
			t.Errorf("wrote %+v, read %+v", rec, back)
		}
	})
}

// FuzzCorrection reads anything as the response of a microphone.
func FuzzCorrection(f *testing.F) {
	f.Add([]byte("\"Sens\"\n20 -1\n1000 0\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		table, err := format.ReadCorrection("x", bytes.NewReader(b))
		if err != nil {
			return
		}
		for i, l := range table.Levels {
			if l < -40 || l > 40 || table.Frequencies[i] <= 0 {
				t.Errorf("%g dB at %g Hz", l, table.Frequencies[i])
			}
		}
	})
}
