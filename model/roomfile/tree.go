package roomfile

import (
	"errors"
	"regexp"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// position is a place in the file; both count from 1, columns in characters.
type position struct{ line, column int }

// shape is what a node is.
type shape int

const (
	word shape = iota + 1
	mapping
	sequence
	nothing // a key without a value
)

// String names the shape as a message says it.
func (s shape) String() string {
	return [...]string{"?", "one value", "a map of keys and values", "a list", "nothing"}[s]
}

// node is a piece of the file, freed of YAML's many ways to write it.
type node struct {
	shape shape
	at    position
	text  string  // of a word
	keys  []*node // of a mapping, all words
	items []*node // of a mapping, one per key, or of a sequence
}

// value returns the item under a key, or nil.
func (n *node) value(key string) *node {
	for i, k := range n.keys {
		if k.text == key {
			return n.items[i]
		}
	}
	return nil
}

const (
	maxTokens = 20_000
	maxDepth  = 12
)

// tree parses the text into nodes. It returns nil after a fault that leaves
// nothing to work on.
func tree(text string, c *collector) *node {
	tokens := lexer.Tokenize(text)
	if !plainTokens(tokens, c) {
		return nil
	}
	file, err := parse(tokens)
	if err != nil {
		c.syntax(err)
		return nil
	}
	var root *node
	for _, d := range file.Docs {
		if d.Body != nil && d.Body.Type() != ast.CommentGroupType {
			root = c.node(d.Body, position{1, 1})
		}
	}
	if root == nil {
		c.add(position{}, "", quantity.Mistake{What: "the file holds only comments", Right: "it needs at least room, walls, speakers and seats"})
		return nil
	}
	if root.shape != mapping {
		c.add(root.at, "", quantity.Mistake{What: model.Sprintf("the file holds %s", root.shape), Right: "a room file is a map that begins with room:"})
		return nil
	}
	return root
}

// parse runs the YAML parser, which may panic on odd input.
func parse(tokens token.Tokens) (file *ast.File, err error) {
	defer func() {
		if r := recover(); r != nil {
			err = errors.New("this is not YAML that can be read")
		}
	}()
	return parser.Parse(tokens, 0, parser.AllowDuplicateMapKey())
}

// forbidden are the features of YAML that a room file does without.
var forbidden = map[token.Type]quantity.Mistake{
	token.AnchorType:     {What: "& begins an anchor, which a room file does not use", Right: "write the value out, or put quotes around a text that begins with &"},
	token.AliasType:      {What: "* begins an alias, which a room file does not use", Right: "write the value out, or put quotes around a text that begins with *"},
	token.MergeKeyType:   {What: "<< merges maps, which a room file does not use", Right: "write the keys out"},
	token.TagType:        {What: "! begins a tag, which a room file does not use", Right: "put quotes around a text that begins with !"},
	token.DirectiveType:  {What: "% begins a directive, which a room file does not use", Right: "leave the line out"},
	token.MappingKeyType: {What: "? begins a compound key, which a room file does not use", Right: "write key: value, or put quotes around a text that begins with ?"},
}

// plainTokens reports whether the tokens keep to the plain part of YAML and nest
// no deeper than a room file can.
func plainTokens(tokens token.Tokens, c *collector) bool {
	if len(tokens) > maxTokens {
		c.add(position{}, "", quantity.Mistake{What: "the file has too many words for a room file", Right: "a room file has a few hundred lines at most"})
		return false
	}
	depth, dashes := 0, 0
	begun, ended := false, false // what stands before, by a mark of the document's end
	for _, t := range tokens {
		m, bad := forbidden[t.Type]
		switch t.Type {
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		case token.DocumentHeaderType, token.DocumentEndType:
			ended = begun
		}
		switch t.Type {
		case token.CommentType, token.DocumentEndType:
		default:
			if ended {
				m, bad = quantity.Mistake{What: "a second document begins here", Right: "one file holds one room"}, true
			}
			begun = true
		}
		if dashes++; t.Type != token.SequenceEntryType {
			dashes = 0
		}
		if depth > maxDepth || dashes > maxDepth {
			m, bad = quantity.Mistake{What: "the file is nested too deep", Right: "a room file needs no more than five levels"}, true
		}
		if bad {
			c.add(tokenPosition(t), "", m)
			return false
		}
	}
	return true
}

func tokenPosition(t *token.Token) position {
	if t == nil || t.Position == nil {
		return position{1, 1}
	}
	return position{t.Position.Line, t.Position.Column}
}

// syntax notes an error of the YAML parser.
func (c *collector) syntax(err error) {
	at, m := position{1, 1}, quantity.Mistake{What: "this is not YAML: " + err.Error(), Right: "write key: value, with spaces before the keys of a group"}
	var y yaml.Error
	if errors.As(err, &y) {
		at, m.What = tokenPosition(y.GetToken()), "this is not YAML: "+y.GetMessage()
	}
	if key := c.bareKey(at.line); key != "" {
		m.Right = model.Sprintf("put a colon after %q", key)
	}
	c.add(at, "", m)
}

// keyFirst matches a line that begins with what looks like a key.
var keyFirst = regexp.MustCompile(`^[ -]*([a-z_]+)(?: |$)`)

// bareKey returns the first word of a line that looks like a key without its colon, or "".
func (c *collector) bareKey(line int) string {
	if line < 1 || line > len(c.lines) || strings.Contains(c.lines[line-1], ":") {
		return ""
	}
	if m := keyFirst.FindStringSubmatch(strings.TrimRight(c.lines[line-1], "\r")); m != nil {
		return m[1]
	}
	return ""
}

// node turns a syntax node into ours. A block mapping has no position of its own: it
// gets that of its key.
func (c *collector) node(n ast.Node, at position) *node {
	switch n := n.(type) {
	case *ast.MappingNode:
		out, seen := &node{shape: mapping, at: at}, map[string]bool{}
		for _, v := range n.Values {
			key := &node{shape: word, at: tokenPosition(v.Key.GetToken()), text: v.Key.GetToken().Value}
			if seen[key.text] {
				c.add(key.at, "", quantity.Mistake{What: model.Sprintf("%q is given twice", key.text), Right: "leave one out"})
				continue
			}
			seen[key.text] = true
			out.keys = append(out.keys, key)
			out.items = append(out.items, c.node(v.Value, key.at))
		}
		return out
	case *ast.SequenceNode:
		out := &node{shape: sequence, at: tokenPosition(n.Start)}
		for _, v := range n.Values {
			out.items = append(out.items, c.node(v, tokenPosition(v.GetToken())))
		}
		return out
	case *ast.NullNode:
		return &node{shape: nothing, at: at}
	case *ast.LiteralNode:
		return &node{shape: word, at: tokenPosition(n.GetToken()), text: n.Value.Value}
	default:
		return &node{shape: word, at: tokenPosition(n.GetToken()), text: n.GetToken().Value}
	}
}
