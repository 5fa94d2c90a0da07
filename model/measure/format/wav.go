package format

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"io"
	"math"

	"evenbass/model/measure"
)

// Limits of a WAV file. MostSamples counts those of all channels: five minutes of stereo at 48 kHz.
const (
	MostSamples  = 30_000_000
	mostChannels = 32
	lowestRate   = 500.0
	highestRate  = 1_000_000.0
	longestText  = 1 << 16 // bytes of a comment
)

// Codes of the WAVE format (Multimedia Programming Interface and Data Specifications 1.0, 1991;
// the extensible header of 1999).
const (
	codePCM        = 1
	codeFloat      = 3
	codeExtensible = 0xFFFE
)

// header is what the fmt chunk says.
type header struct {
	code, channels uint16
	rate           uint32
	bits           uint16
}

// ReadWAV reads a WAV file with all its channels. The name is what errors call the file. It
// reads no more than [MostSamples], whatever the header claims, and marks a file that ends early.
func ReadWAV(name string, r io.Reader) (*measure.Recording, error) {
	in := bufio.NewReaderSize(r, 1<<16)
	if err := riff(name, in); err != nil {
		return nil, err
	}
	out := &measure.Recording{}
	var head *header
	for {
		id, size, err := chunk(in)
		if errors.Is(err, io.EOF) {
			return finish(name, out, head)
		}
		if err != nil {
			return nil, fault(name, 0, "ends within a header; the file was cut off")
		}
		switch {
		case id == "fmt " && head == nil:
			if head, err = format(name, in, size); err != nil {
				return nil, err
			}
		case id == "data" && head == nil:
			return nil, fault(name, 0, "has samples before it says what they are; the file is broken")
		case id == "data" && out.Channels == nil:
			if err := samples(name, in, size, head, out); err != nil || out.Cut {
				return out, err
			}
		case id == "LIST" && size <= longestText:
			out.Comment = comment(in, size, out.Comment)
		default:
			skip(in, int64(size))
		}
		if size%2 == 1 {
			skip(in, 1)
		}
	}
}

// finish checks what was found when the file ends.
func finish(name string, out *measure.Recording, head *header) (*measure.Recording, error) {
	switch {
	case head == nil:
		return nil, fault(name, 0, "holds no sound: the part that describes it is missing")
	case out.Channels == nil:
		return nil, fault(name, 0, "holds no samples")
	}
	return out, nil
}

// riff reads the first twelve bytes.
func riff(name string, in io.Reader) error {
	var magic [12]byte
	n, err := io.ReadFull(in, magic[:])
	if n == 0 {
		return fault(name, 0, "is empty")
	}
	if known := otherForm(magic[:n]); known != "" {
		return fault(name, 0, "is %s; save it as plain WAV, 24 bits", known)
	}
	if err != nil || string(magic[:4]) != "RIFF" || string(magic[8:]) != "WAVE" {
		return fault(name, 0, "is no WAV file")
	}
	return nil
}

// otherForm names a form of sound that is not read.
func otherForm(start []byte) string {
	for _, f := range []struct{ magic, name string }{
		{"fLaC", "FLAC"}, {"OggS", "Ogg"}, {"ID3", "MP3"}, {"FORM", "AIFF"}, {"RF64", "a 64-bit WAV"}, {"BW64", "a 64-bit WAV"}, {"RIFX", "a big-endian WAV"},
	} {
		if bytes.HasPrefix(start, []byte(f.magic)) {
			return f.name
		}
	}
	return ""
}

// chunk reads the head of a chunk: io.EOF if none follows.
func chunk(in io.Reader) (id string, size uint32, err error) {
	var head [8]byte
	if n, err := io.ReadFull(in, head[:]); err != nil {
		if n <= 1 { // the end, or its padding
			return "", 0, io.EOF
		}
		return "", 0, err
	}
	return string(head[:4]), binary.LittleEndian.Uint32(head[4:]), nil
}

func skip(in *bufio.Reader, n int64) { io.CopyN(io.Discard, in, n) } // what is missing shows at the next head

// format reads the fmt chunk.
func format(name string, in *bufio.Reader, size uint32) (*header, error) {
	const least, extensible, most = 16, 40, 1 << 12
	if size < least || size > most {
		return nil, fault(name, 0, "has a description of %d bytes; the file is broken", size)
	}
	b := make([]byte, size)
	if _, err := io.ReadFull(in, b); err != nil {
		return nil, fault(name, 0, "ends within its description; the file was cut off")
	}
	h := &header{
		code: binary.LittleEndian.Uint16(b), channels: binary.LittleEndian.Uint16(b[2:]),
		rate: binary.LittleEndian.Uint32(b[4:]), bits: binary.LittleEndian.Uint16(b[14:]),
	}
	if h.code == codeExtensible && size >= extensible {
		h.code = binary.LittleEndian.Uint16(b[24:])
	}
	align := binary.LittleEndian.Uint16(b[12:])
	return h, h.check(name, align)
}

// check refuses what is not read.
func (h *header) check(name string, align uint16) error {
	switch {
	case h.channels == 0 || h.channels > mostChannels:
		return fault(name, 0, "has %d channels; 1 to %d are read", h.channels, mostChannels)
	case float64(h.rate) < lowestRate || float64(h.rate) > highestRate:
		return fault(name, 0, "says it was sampled at %d Hz; %g to %g Hz are read", h.rate, lowestRate, highestRate)
	case h.code == codePCM && h.bits == 8:
		return fault(name, 0, "has samples of 8 bits, which are too coarse to measure with; record with 24, or 16")
	case h.code == codePCM && (h.bits == 16 || h.bits == 24 || h.bits == 32), h.code == codeFloat && (h.bits == 32 || h.bits == 64):
	case h.code == codePCM || h.code == codeFloat:
		return fault(name, 0, "has samples of %d bits; 16, 24 and 32 are read", h.bits)
	default:
		return fault(name, 0, "is compressed (code %d); save it as plain WAV, 24 bits", h.code)
	}
	if want := h.channels * h.bits / 8; align != want {
		return fault(name, 0, "says %d bytes a frame where %d channels of %d bits take %d; the file is broken", align, h.channels, h.bits, want)
	}
	return nil
}

// samples reads the data chunk. A size of zero or of all ones, as programs write that stream,
// means to the end.
func samples(name string, in io.Reader, size uint32, h *header, out *measure.Recording) error {
	out.Rate, out.Channels = float64(h.rate), make([][]float64, h.channels)
	if h.code == codePCM {
		out.Bits = int(h.bits)
	}
	frame := int(h.channels) * int(h.bits) / 8
	streamed := size == 0 || size == math.MaxUint32
	left := int64(size)
	if streamed {
		left = math.MaxInt64
	}
	buffer := make([]byte, frame*(1<<14/frame+1))
	decode := h.decoder()
	for left > 0 {
		n, err := io.ReadFull(in, buffer[:min(int64(len(buffer)), left)])
		left -= int64(n)
		n -= n % frame
		if (len(out.Channels[0])+n/frame)*int(h.channels) > MostSamples {
			return fault(name, 0, "is longer than the %d million samples that are read; cut it to the measurement", MostSamples/1_000_000)
		}
		if bad := spread(buffer[:n], int(h.bits)/8, decode, out.Channels); bad {
			return fault(name, 0, "holds a sample that is no number (at %.3f s)", out.Duration())
		}
		if err != nil {
			out.Cut = !streamed
			break
		}
	}
	if len(out.Channels[0]) == 0 {
		return fault(name, 0, "holds no samples")
	}
	return nil
}

// spread appends the samples of whole frames to their channels. It reports a sample that is no number.
func spread(frames []byte, width int, decode func([]byte) float64, channels [][]float64) (bad bool) {
	for i := 0; i < len(frames); i += width * len(channels) {
		for c := range channels {
			v := decode(frames[i+c*width:])
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return true
			}
			channels[c] = append(channels[c], v)
		}
	}
	return false
}

// decoder returns the function that turns the first bytes into a sample.
func (h *header) decoder() func([]byte) float64 {
	le := binary.LittleEndian
	switch {
	case h.code == codeFloat && h.bits == 32:
		return func(b []byte) float64 { return float64(math.Float32frombits(le.Uint32(b))) }
	case h.code == codeFloat:
		return func(b []byte) float64 { return math.Float64frombits(le.Uint64(b)) }
	case h.bits == 16:
		return func(b []byte) float64 { return float64(int16(le.Uint16(b))) / (1 << 15) }
	case h.bits == 24:
		return func(b []byte) float64 {
			return float64(int32(uint32(b[0])<<8|uint32(b[1])<<16|uint32(b[2])<<24)>>8) / (1 << 23)
		}
	}
	return func(b []byte) float64 { return float64(int32(le.Uint32(b))) / (1 << 31) }
}

// comment returns the text of a LIST INFO chunk's ICMT, or what there was before.
func comment(in io.Reader, size uint32, before string) string {
	b := make([]byte, size)
	if _, err := io.ReadFull(in, b); err != nil || len(b) < 4 || string(b[:4]) != "INFO" {
		return before
	}
	for b = b[4:]; len(b) >= 8; {
		n := int64(binary.LittleEndian.Uint32(b[4:]))
		if n > int64(len(b))-8 {
			break
		}
		if string(b[:4]) == "ICMT" {
			return string(bytes.TrimRight(b[8:8+n], "\x00"))
		}
		b = b[min(int64(len(b)), 8+n+n%2):]
	}
	return before
}
