package roomfile

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// form is one mapping of the file on its way in or out. The schema (schema.go)
// describes each mapping once, as calls that name the keys; reading, they fill the
// model, writing, they fill the node. So the two cannot drift apart.
type form struct {
	in   *document // nil when writing
	node *node
	path string   // "" for the whole file
	keys []string // those that the schema has named
}

// document is what reading a file gathers beside the model.
type document struct {
	collector
	places map[string]position // of what stands at a path
	meant  []string            // paths of missing keys for which an unknown one is likely meant
}

// codec turns the text of a value into the value and back.
type codec[T any] struct {
	parse  func(string) (T, error)
	format func(T) string
}

// reading reports the direction.
func (f *form) reading() bool { return f.in != nil }

// at returns the path of a key.
func (f *form) at(key string) string {
	if f.path == "" {
		return key
	}
	return f.path + "." + key
}

// know notes keys that may stand here, each once, for the message about one that may not.
func (f *form) know(keys ...string) {
	for _, key := range keys {
		if !slices.Contains(f.keys, key) {
			f.keys = append(f.keys, key)
		}
	}
}

// take returns the value of a key when reading, or nil if there is none.
func (f *form) take(key string) *node {
	f.know(key)
	n := f.node.value(key)
	if n == nil {
		return nil
	}
	f.in.places[f.at(key)] = n.at
	if n.shape == nothing {
		f.in.add(n.at, f.at(key), quantity.Mistake{What: "the key has no value", Right: "write one, or leave the key out"})
	}
	return n
}

// put adds a key with its value when writing.
func (f *form) put(key string, value *node) {
	f.node.keys = append(f.node.keys, &node{shape: word, text: key})
	f.node.items = append(f.node.items, value)
}

// has reports whether there is something under the key: in the file when reading,
// in the model when writing.
func (f *form) has(key string, set bool) bool {
	if f.reading() {
		f.know(key)
		return f.node.value(key) != nil
	}
	return set
}

// lack notes that a key is missing.
func (f *form) lack(key, example string) {
	f.know(key)
	f.in.add(f.node.at, f.at(key), quantity.Mistake{What: missing, Right: "write " + key + ": " + example})
}

// preset reads a value that keeps what it has if the key is absent. It is always
// written.
func preset[T any](f *form, key string, v *T, c codec[T]) {
	if !f.reading() {
		f.put(key, &node{shape: word, text: c.format(*v)})
		return
	}
	if n := f.take(key); n != nil {
		decode(f.in, n, f.at(key), v, c)
	}
}

// byDefault is preset for a rule that is not written as long as the default of it holds.
func byDefault[T any](f *form, key string, v *T, c codec[T], unwritten bool) {
	if f.reading() || !unwritten {
		preset(f, key, v, c)
	}
}

// must is preset for a key that may not be absent.
func must[T any](f *form, key, example string, v *T, c codec[T]) {
	if f.reading() && f.node.value(key) == nil {
		f.lack(key, example)
		return
	}
	preset(f, key, v, c)
}

// may is preset for a value whose zero means absent, and is then not written.
func may[T comparable](f *form, key string, v *T, c codec[T]) {
	var zero T
	if f.reading() || *v != zero {
		preset(f, key, v, c)
	}
}

// amount is may for a quantity that must be above zero, so that an explicit zero is not
// taken for an absent key.
func amount(f *form, key string, v *float64, c codec[float64]) {
	may(f, key, v, codec[float64]{func(text string) (float64, error) {
		x, err := c.parse(text)
		if err == nil && x <= 0 {
			return 0, &quantity.Mistake{What: model.Sprintf("%q is not above zero", text), Right: "write a greater value, or leave the key out"}
		}
		return x, err
	}, c.format})
}

// decode reads one word into v.
func decode[T any](d *document, n *node, path string, v *T, c codec[T]) {
	d.places[path] = n.at
	switch n.shape {
	case nothing:
	case word:
		got, err := c.parse(n.text)
		if err != nil {
			d.add(n.at, path, mistake(err))
			return
		}
		*v = got
	default:
		d.add(n.at, path, quantity.Mistake{What: model.Sprintf("found %s, expected one value", n.shape)})
	}
}

// mistake returns the two halves of an error.
func mistake(err error) quantity.Mistake {
	var m *quantity.Mistake
	if errors.As(err, &m) {
		return *m
	}
	return quantity.Mistake{What: err.Error()}
}

// section goes into the mapping under a key. When writing, an empty one is left out.
func (f *form) section(key string, body func(*form)) {
	if !f.reading() {
		g := &form{node: &node{shape: mapping}}
		if body(g); len(g.node.keys) > 0 {
			f.put(key, g.node)
		}
		return
	}
	if n := f.take(key); n != nil {
		f.in.mapping(n, f.at(key), body)
	}
}

// mapping reads a mapping and reports the keys that the schema did not name.
func (d *document) mapping(n *node, path string, body func(*form)) {
	d.places[path] = n.at
	switch n.shape {
	case nothing:
		return
	case mapping:
	default:
		d.add(n.at, path, quantity.Mistake{What: model.Sprintf("found %s, expected a map of keys and values", n.shape)})
		return
	}
	g := &form{in: d, node: n, path: path}
	body(g)
	for i, k := range n.keys {
		if !slices.Contains(g.keys, k.text) {
			if i > 0 && d.decimalComma(n.items[i-1], g.at(n.keys[i-1].text), k, n.items[i]) {
				continue
			}
			m := unknownKey(k.text, n.items[i], g.keys)
			if right, ok := belongs[g.at(k.text)]; ok {
				m.Right = right
			}
			d.add(k.at, path, m)
			d.excuse(g.at(quantity.Nearest(k.text, g.keys)))
		}
	}
}

// missing is the mistake of a key that is not there.
const missing = "is missing"

// excuse withdraws the fault that the key at a path is missing: it is there, misspelled.
func (d *document) excuse(path string) {
	lacks := func(f Fault) bool { return f.Path == path && f.What == missing }
	if slices.ContainsFunc(d.faults, lacks) {
		d.faults = slices.DeleteFunc(d.faults, lacks)
		d.meant = append(d.meant, path)
	}
}

// decimalComma reports a number that its comma cut in two, as braces do: {length: 4,62 m} has a
// length of 4 and a key "62 m". What was said of the first half is withdrawn.
func (d *document) decimalComma(half *node, path string, key, value *node) bool {
	whole := half.text + "," + key.text
	if half.shape != word || value.shape != nothing || !quantity.BareNumber.MatchString(half.text) || quantity.CommaNumber.FindString(whole) == "" {
		return false
	}
	d.faults = slices.DeleteFunc(d.faults, func(f Fault) bool { return f.Path == path })
	if m, ok := quantity.CommaMistake(whole, whole, quantity.CommaNumber.FindString(whole)).(*quantity.Mistake); ok {
		d.add(half.at, path, *m)
	}
	return true
}

// belongs says where keys belong that stand one level too high, by their path.
var belongs = map[string]string{
	"speakers.left":     "write now: {left: [...], right: [...]} for where the speakers stand today",
	"speakers.right":    "write now: {left: [...], right: [...]} for where the speakers stand today",
	"speakers.distance": "the distance to the seat belongs under listening",
	"speakers.angle":    "the angle between the speakers belongs under listening",
}

// unknownKey says what is wrong with a key that is not in the schema.
func unknownKey(key string, value *node, known []string) quantity.Mistake {
	if value.shape == nothing && key != "" && strings.ContainsRune("0123456789", rune(key[0])) {
		return quantity.Mistake{What: model.Sprintf("%q stands alone after a comma", key), Right: "inside braces write a decimal point, such as 4.7 m"}
	}
	return quantity.Mistake{What: model.Sprintf("unknown key %q", key), Right: quantity.DidYouMean(key, known)}
}

// maxItems is the longest list that a room file may hold.
const maxItems = 24

// sequence returns the items under a key when reading. One item need not be in a
// list if single is true.
func (f *form) sequence(key string, single bool) []*node {
	n := f.take(key)
	switch {
	case n == nil || n.shape == nothing:
		return nil
	case n.shape == sequence && len(n.items) > maxItems:
		f.in.add(n.at, f.at(key), quantity.Mistake{What: model.Sprintf("the list has %d entries", len(n.items)), Right: model.Sprintf("a room file takes %d", maxItems)})
		return nil
	case n.shape == sequence:
		return n.items
	case single:
		return []*node{n}
	}
	f.in.add(n.at, f.at(key), quantity.Mistake{What: model.Sprintf("found %s, expected a list", n.shape), Right: "put it in [ ], or begin each entry with a dash"})
	return nil
}

// list reads or writes a list of mappings. Each entry begins as a copy of first.
func list[T any](f *form, key string, entries *[]T, first T, body func(*form, *T)) {
	if f.reading() {
		for i, n := range f.sequence(key, false) {
			v := first
			f.in.mapping(n, fmt.Sprintf("%s[%d]", f.at(key), i), func(g *form) { body(g, &v) })
			*entries = append(*entries, v)
		}
		return
	}
	out := &node{shape: sequence}
	for i := range *entries {
		g := &form{node: &node{shape: mapping}}
		body(g, &(*entries)[i])
		out.items = append(out.items, g.node)
	}
	if len(out.items) > 0 {
		f.put(key, out)
	}
}

// words reads or writes a list of single values; one value need not be in a list.
// Reading, an absent key leaves the list as it is.
func words[T any](f *form, key string, values *[]T, c codec[T]) {
	if f.reading() {
		if items := f.sequence(key, true); items != nil {
			*values = nil
			for i, n := range items {
				var v T
				decode(f.in, n, fmt.Sprintf("%s[%d]", f.at(key), i), &v, c)
				*values = append(*values, v)
			}
		}
		return
	}
	out := &node{shape: sequence}
	for _, v := range *values {
		out.items = append(out.items, &node{shape: word, text: c.format(v)})
	}
	f.put(key, out)
}
