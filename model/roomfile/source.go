package roomfile

import (
	"bytes"
	"io"
	"strings"
	"unicode/utf8"

	"evenbass/model"
	"evenbass/model/roomfile/phrase"
	"evenbass/model/roomfile/quantity"
)

// maxBytes is the size above which a file is refused. The longest room file has a
// few hundred lines.
const maxBytes = 1 << 20

// source reads the text of a room file: UTF-8 with any line ends, a byte order mark
// allowed. Anything else is a fault. The error is that of the reader.
func source(r io.Reader, c *collector) (string, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxBytes+1))
	if err != nil {
		return "", err
	}
	if bytes.HasPrefix(data, []byte("RIFF")) {
		c.add(position{}, "", quantity.Mistake{What: "this is a recording, not a room file", Right: "evenbass measure reads recordings, after the room file"})
		return "", nil
	}
	if bytes.HasPrefix(data, []byte("evenbass measurement")) {
		c.add(position{}, "", quantity.Mistake{What: "this is a measurement, not a room file", Right: "name the room file first, then measurements"})
		return "", nil
	}
	if len(data) > maxBytes {
		c.add(position{}, "", quantity.Mistake{What: "the file is larger than 1 MB", Right: "a room file has a few hundred lines at most"})
		return "", nil
	}
	text := strings.TrimPrefix(string(data), "\ufeff")
	text = strings.ReplaceAll(text, "\r\n", "\n")
	if strings.TrimSpace(text) == "" {
		c.add(position{}, "", quantity.Mistake{What: "the file is empty", Right: "it needs at least room, walls, speakers and seats"})
		return "", nil
	}
	c.lines = strings.Split(text, "\n")
	if at, m, ok := notText(c.lines); ok {
		c.add(at, "", m)
	}
	return text, nil
}

// notText finds the first character that has no place in a text file.
func notText(lines []string) (position, quantity.Mistake, bool) {
	for i, line := range lines {
		column := 0
		for j, r := range line {
			column++
			at := position{i + 1, column}
			switch {
			case r == utf8.RuneError && !strings.HasPrefix(line[j:], "\ufffd"):
				return at, quantity.Mistake{What: model.Sprintf("byte %#02x is not UTF-8 text", line[j]), Right: "save the file as UTF-8"}, true
			case r == '\t':
				return at, quantity.Mistake{What: "there is a tab here", Right: "use spaces"}, true
			case phrase.Hidden(r):
				return at, quantity.Mistake{What: model.Sprintf("there is a control character here (%U)", r), Right: "is this a text file?"}, true
			}
		}
	}
	return position{}, quantity.Mistake{}, false
}
