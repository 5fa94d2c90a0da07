package format

import (
	"bytes"
	"encoding/binary"
	"io"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// Limits of a text file.
const (
	mostBytes   = 32 << 20
	longestLine = 1 << 13
	mostRows    = 1_000_000
)

// readText returns the lines of a text file, without their ends. UTF-8 and UTF-16 with a byte
// order mark are read; bytes of any other encoding stay as they are, for they only occur in remarks.
// What is needed ends the errors of a file that is no text.
func readText(name string, r io.Reader, needed string) ([]string, error) {
	b, err := io.ReadAll(io.LimitReader(r, mostBytes+1))
	switch {
	case err != nil:
		return nil, fault(name, 0, "cannot be read: %v", err)
	case len(b) > mostBytes:
		return nil, fault(name, 0, "is larger than the %d MB of text that are read", mostBytes>>20)
	case len(bytes.TrimSpace(b)) == 0:
		return nil, fault(name, 0, "is empty; %s", needed)
	}
	text := decodeText(b)
	if strings.IndexByte(text, 0) >= 0 {
		return nil, fault(name, 0, "is neither text nor WAV; %s", needed)
	}
	text = strings.NewReplacer("\r\n", "\n", "\r", "\n").Replace(text)
	lines := strings.Split(strings.TrimSuffix(text, "\n"), "\n")
	for i, l := range lines {
		if len(l) > longestLine {
			return nil, fault(name, i+1, "is longer than %d characters", longestLine)
		}
	}
	return lines, nil
}

// decodeText takes off a byte order mark, and turns UTF-16 into UTF-8.
func decodeText(b []byte) string {
	var order binary.ByteOrder
	switch {
	case bytes.HasPrefix(b, []byte{0xEF, 0xBB, 0xBF}):
		return string(b[3:])
	case bytes.HasPrefix(b, []byte{0xFF, 0xFE}):
		order = binary.LittleEndian
	case bytes.HasPrefix(b, []byte{0xFE, 0xFF}):
		order = binary.BigEndian
	default:
		return string(b)
	}
	units := make([]uint16, 0, len(b)/2)
	for b = b[2:]; len(b) >= 2; b = b[2:] {
		units = append(units, order.Uint16(b))
	}
	return string(utf16.Decode(units))
}

// parseNumber returns the value of a number with a decimal point. Words such as "inf", and the
// forms of programming languages, are none.
func parseNumber(s string) (float64, bool) {
	s = strings.Replace(s, "−", "-", 1) // U+2212
	if s == "" || len(s) > 64 || strings.Trim(s, "0123456789+-.eE") != "" {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// begins reports whether a line may begin with a number.
func begins(line string) bool {
	r, _ := utf8.DecodeRuneInString(line)
	return r >= '0' && r <= '9' || strings.ContainsRune("+-.−", r)
}
