package roomfile

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"

	"evenbass/model"
)

// Rewrite writes a room file that holds another project and keeps what the owner wrote
// wherever the project did not change: comments, units, order and layout. The text is that
// of a file that [Read] takes.
//
// It reports whether the text could be kept. If not, the whole file is written as [Write]
// does it, without comments.
func Rewrite(w io.Writer, text string, p *model.Project) (kept bool, err error) {
	out, err := edited(text, p)
	if kept = err == nil; !kept {
		return false, Write(w, p)
	}
	if _, err := io.WriteString(w, out); err != nil {
		return false, fmt.Errorf("roomfile: writing: %w", err)
	}
	return true, nil
}

// errNotKept says that an edited text does not hold the project.
var errNotKept = errors.New("the text cannot be kept")

// edited returns the text with the values of another project. The result is read again: a key
// that the owner left out may mean something else beside new values, and then nothing is kept.
func edited(text string, p *model.Project) (out string, err error) {
	defer func() {
		if recover() != nil { // the YAML library may panic on a tree that it did not make itself
			err = errNotKept
		}
	}()
	text = strings.ReplaceAll(strings.TrimPrefix(text, "\ufeff"), "\r\n", "\n")
	old, err := Read(strings.NewReader(text), "")
	if err != nil {
		return "", err
	}
	tree, err := parser.Parse(lexer.Tokenize(text), parser.ParseComments)
	if err != nil {
		return "", err
	}
	for _, d := range tree.Docs {
		if m, ok := d.Body.(*ast.MappingNode); ok {
			editMapping(m, nodes(old), nodes(p))
		}
	}
	out = strings.TrimRight(tree.String(), "\n") + "\n"
	back, err := Read(strings.NewReader(out), "")
	if err != nil || !alike(nodes(back), nodes(p)) {
		return "", errNotKept
	}
	return out, nil
}

// nodes returns the project as [Write] writes it.
func nodes(p *model.Project) *node {
	f := &form{node: &node{shape: mapping}}
	file(f, p)
	return f.node
}

// alike reports whether two nodes hold the same; where they stand does not count.
func alike(a, b *node) bool {
	switch {
	case a == nil || b == nil:
		return a == b
	case a.shape != b.shape || a.text != b.text:
		return false
	}
	return slices.EqualFunc(a.keys, b.keys, alike) && slices.EqualFunc(a.items, b.items, alike)
}

// editMapping changes the owner's mapping by what differs between the old and the new one.
func editMapping(own *ast.MappingNode, before, after *node) {
	own.Values = slices.DeleteFunc(own.Values, func(v *ast.MappingValueNode) bool {
		key := v.Key.GetToken().Value
		return before.value(key) != nil && after.value(key) == nil
	})
	for i, k := range after.keys {
		was, is := before.value(k.text), after.items[i]
		if was != nil && alike(was, is) {
			continue
		}
		at := slices.IndexFunc(own.Values, func(v *ast.MappingValueNode) bool { return v.Key.GetToken().Value == k.text })
		if at < 0 {
			insert(own, k, is)
			continue
		}
		own.Values[at].Value = editValue(own.Values[at].Value, was, is)
	}
	own.Values = slices.DeleteFunc(own.Values, func(v *ast.MappingValueNode) bool {
		m, ok := v.Value.(*ast.MappingNode)
		return ok && len(m.Values) == 0
	})
}

// editValue returns what takes the place of an owner's value: the value itself, changed within,
// or another one with its comment.
func editValue(own ast.Node, was, is *node) ast.Node {
	if was != nil && was.shape == is.shape {
		switch own := own.(type) {
		case *ast.MappingNode:
			if is.shape == mapping {
				editMapping(own, was, is)
				return own
			}
		case *ast.SequenceNode:
			if is.shape == sequence && len(own.Values) == len(was.items) && len(is.items) >= len(was.items) {
				editSequence(own, was, is)
				return own
			}
		}
	}
	value := parsed("key: " + flow(is)).Values[0].Value
	if c := own.GetComment(); c != nil {
		value.SetComment(c)
	}
	return value
}

// editSequence changes the entries of a list one by one and appends those that are new.
func editSequence(own *ast.SequenceNode, was, is *node) {
	for i, item := range was.items {
		if !alike(item, is.items[i]) {
			own.Values[i] = editValue(own.Values[i], item, is.items[i])
		}
	}
	more := &node{shape: sequence, items: is.items[len(was.items):]}
	if len(more.items) == 0 {
		return
	}
	text := "key: " + flow(more)
	if !own.IsFlowStyle {
		var b strings.Builder
		for _, item := range more.items {
			emitItem(&b, item, "  ")
		}
		text = "key:\n" + b.String()
	}
	own.Merge(parsed(text).Values[0].Value.(*ast.SequenceNode))
}

// insert adds a key at the end of the owner's mapping, in its style.
func insert(own *ast.MappingNode, key, value *node) {
	one := &node{shape: mapping, keys: []*node{key}, items: []*node{value}}
	text := flow(one)
	if !own.IsFlowStyle {
		var b strings.Builder
		emit(&b, one, "")
		text = b.String()
	}
	own.Merge(parsed(text))
}

// parsed returns a mapping that this package has written as a syntax tree.
func parsed(text string) *ast.MappingNode {
	tree, err := parser.ParseBytes([]byte(text), 0)
	if err != nil {
		panic("roomfile: " + err.Error())
	}
	return tree.Docs[0].Body.(*ast.MappingNode)
}
