package format

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"evenbass/model/measure"
)

// WriteWAV writes a recording as a WAV file: PCM of 16 or 24 bits, or floating point of 32 bits
// if its Bits are 0. Samples beyond full scale are an error, but not in floating point.
func WriteWAV(w io.Writer, rec *measure.Recording) error {
	code, bits := uint16(codePCM), rec.Bits
	if bits == 0 {
		code, bits = codeFloat, 32
	}
	n := 0
	if len(rec.Channels) > 0 {
		n = len(rec.Channels[0])
	}
	if n == 0 || bits != 16 && bits != 24 && bits != 32 || code == codePCM && bits == 32 {
		return fmt.Errorf("no WAV file of %d channels, %d samples, %d bits", len(rec.Channels), n, bits)
	}
	text := info(rec.Comment)
	frame := len(rec.Channels) * bits / 8
	var head bytes.Buffer
	put := func(v any) { binary.Write(&head, binary.LittleEndian, v) } // to memory: cannot fail
	put([]byte("RIFF"))
	put(uint32(4 + 24 + len(text) + 8 + n*frame + n*frame%2))
	put([]byte("WAVEfmt "))
	put(uint32(16))
	put([]uint16{code, uint16(len(rec.Channels))})
	put([]uint32{uint32(math.Round(rec.Rate)), uint32(math.Round(rec.Rate)) * uint32(frame)})
	put([]uint16{uint16(frame), uint16(bits)})
	head.Write(text)
	put([]byte("data"))
	put(uint32(n * frame))
	if _, err := w.Write(head.Bytes()); err != nil {
		return err
	}
	return writeFrames(w, rec, n, bits)
}

// writeFrames writes the samples, and the byte that makes their number even.
func writeFrames(w io.Writer, rec *measure.Recording, n, bits int) error {
	out := bufio.NewWriterSize(w, 1<<16)
	full := float64(int64(1) << (bits - 1))
	var b [4]byte
	for i := range n {
		for _, c := range rec.Channels {
			if rec.Bits == 0 {
				binary.LittleEndian.PutUint32(b[:], math.Float32bits(float32(c[i])))
			} else {
				v := math.Round(c[i] * full)
				if !(v >= -full && v < full) {
					return fmt.Errorf("sample %d is beyond full scale: %g", i+1, c[i])
				}
				binary.LittleEndian.PutUint32(b[:], uint32(int32(v)))
			}
			out.Write(b[:bits/8]) // an error stays until Flush
		}
	}
	if n*len(rec.Channels)*bits/8%2 == 1 {
		out.WriteByte(0)
	}
	return out.Flush()
}

// info returns a LIST INFO chunk with a comment, or nothing without one.
func info(text string) []byte {
	if text == "" {
		return nil
	}
	body := append([]byte(text), 0)
	if len(body)%2 == 1 {
		body = append(body, 0)
	}
	var b bytes.Buffer
	b.WriteString("LIST")
	binary.Write(&b, binary.LittleEndian, uint32(4+8+len(body)))
	b.WriteString("INFOICMT")
	binary.Write(&b, binary.LittleEndian, uint32(len(body)))
	b.Write(body)
	return b.Bytes()
}
