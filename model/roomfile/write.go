package roomfile

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"unicode/utf8"

	"evenbass/model"
)

// Write writes the project as a room file, lengths in metres whatever they were read in.
// Reading it again gives the same project to the last bit, but for lengths with the rounding
// noise of sums, see [model.CleanLength]. Warnings are not written: they come back with the
// reading.
//
// The project should be valid, see [model.Project.Validate]; one that is not is
// written as far as the file can say it, and will not read back.
func Write(w io.Writer, p *model.Project) error {
	var b strings.Builder
	emit(&b, nodes(p), "")
	if _, err := io.WriteString(w, b.String()); err != nil {
		return fmt.Errorf("roomfile: writing: %w", err)
	}
	return nil
}

// lineWidth is the length in characters up to which a value is kept on one line.
const lineWidth = 110

// emit writes a mapping, one line per key, each line begun by the indent.
func emit(b *strings.Builder, n *node, indent string) {
	for i, k := range n.keys {
		head := quote(k.text) + ":"
		emitValue(b, n.items[i], indent, head)
	}
}

// emitValue writes a value after its head: on the same line if it is short, or in
// lines of its own with a deeper indent.
func emitValue(b *strings.Builder, n *node, indent, head string) {
	line := indent + head + " " + flow(n)
	apart := indent == "" && n.shape != word && len(n.items) > 0 && n.items[0].shape != word
	switch {
	case n.shape == word || !apart && utf8.RuneCountInString(line) <= lineWidth:
		b.WriteString(line + "\n")
	case n.shape == mapping:
		b.WriteString(indent + head + "\n")
		emit(b, n, indent+strings.Repeat(" ", 2))
	default:
		b.WriteString(indent + head + "\n")
		for _, item := range n.items {
			emitItem(b, item, indent+"  ")
		}
	}
}

// emitItem writes one entry of a list.
func emitItem(b *strings.Builder, n *node, indent string) {
	line := indent + "- " + flow(n)
	if n.shape != mapping || utf8.RuneCountInString(line) <= lineWidth {
		b.WriteString(line + "\n")
		return
	}
	var inner strings.Builder
	emit(&inner, n, indent+"  ")
	b.WriteString(indent + "- " + strings.TrimPrefix(inner.String(), indent+"  "))
}

// flow writes a value within one line.
func flow(n *node) string {
	parts := make([]string, len(n.items))
	for i, item := range n.items {
		if parts[i] = flow(item); n.shape == mapping {
			parts[i] = quote(n.keys[i].text) + ": " + parts[i]
		}
	}
	switch n.shape {
	case mapping:
		return "{" + strings.Join(parts, ", ") + "}"
	case sequence:
		return "[" + strings.Join(parts, ", ") + "]"
	default:
		return quote(n.text)
	}
}

// plainText is what YAML takes for one text without quotes, in and out of braces.
var plainText = regexp.MustCompile(`^(?:[\pL\d(.]|-[\d.])(?:[\pL\d ()./°µ·²³%+±_-]*[\pL\d()./°µ·²³%+_-])?$`)

// quote writes a text so that YAML reads the same text.
func quote(s string) string {
	switch strings.ToLower(s) {
	case "null", "true", "false", "yes", "no", "on", "off", "...":
		return `"` + s + `"`
	}
	if plainText.MatchString(s) {
		return s
	}
	return `"` + strings.NewReplacer(`\`, `\\`, `"`, `\"`, "\n", `\n`, "\r", `\r`).Replace(s) + `"`
}
