package tomledit

import (
	"errors"
	"fmt"
	"sort"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"

	"neckloft/neck/spec"
)

// span is a range of bytes of the text.
type span struct{ from, to int }

type kind int

const (
	leaf kind = iota
	table
	list
)

// node is a value of the document with the places where it is written.
type node struct {
	kind   kind
	names  []string // of a table, in order
	keys   map[string]*node
	items  []*node // of a list that holds tables, or any values inline
	inline bool    // a table or list that is a value

	pair    span // of a "key = value": from the key to the end of the value
	value   span
	hasPair bool

	sections []*section // whose header names this very table
	home     span       // of a table made by dotted keys: the last of them
	prefix   string     // and what its own keys begin with there
}

// section is a header with the key-values up to the next one. The first
// section of a document has no header.
type section struct {
	header span // the brackets
	last   span // the last key-value, {0, 0} where there is none
	used   bool // it has a key-value
}

// A text comes from a page, and reading it must cost no more than in proportion
// to its length. A spec has keys of three steps and a few hundred values.
const (
	maxSize    = spec.MaxFileSize // bytes of a text
	maxKey     = maxPath          // steps of a dotted key or of a header
	maxNesting = 8                // of lists and inline tables in each other
	maxNodes   = 20_000           // values, tables and entries of a text
)

// Document is a TOML text that is being edited.
type Document struct {
	text     string
	root     *node
	sections []*section
	parser   unstable.Parser
	nodes    int // made so far
}

// Parse reads a text. It reports what is not TOML with its line; what TOML
// does not allow to be defined twice, it may take. It refuses what is larger,
// deeper or has more values than any spec.
func Parse(text string) (*Document, error) {
	d := &Document{text: text}
	if err := d.parse(); err != nil {
		return nil, err
	}
	return d, nil
}

// String returns the text.
func (d *Document) String() string { return d.text }

func newTable() *node { return &node{kind: table, keys: make(map[string]*node)} }

// count counts a node that is made for what stands at offset.
func (d *Document) count(offset int) error {
	if d.nodes++; d.nodes > maxNodes {
		return fmt.Errorf("line %d: the text has more than %d values, which no spec has", d.line(offset), maxNodes)
	}
	return nil
}

func (n *node) add(name string, child *node) {
	n.names = append(n.names, name)
	n.keys[name] = child
}

func (d *Document) parse() error {
	if len(d.text) > maxSize {
		return fmt.Errorf("the text is larger than %d bytes, which no spec is", maxSize)
	}
	d.root, d.nodes = newTable(), 0
	head := &section{}
	d.sections = []*section{head}
	d.root.sections = d.sections
	data := []byte(d.text)
	current, at := d.root, head
	d.parser.Reset(data)
	for d.parser.NextExpression() {
		x := d.parser.Expression()
		var err error
		switch x.Kind {
		case unstable.Table, unstable.ArrayTable:
			current, at, err = d.header(x)
		case unstable.KeyValue:
			at.used, at.last = true, spanOf(x.Raw)
			err = d.keyValue(current, at, x, 0)
		}
		if err != nil {
			return err
		}
	}
	if err := d.parser.Error(); err != nil {
		var perr *unstable.ParserError
		if errors.As(err, &perr) {
			offset := min(int(d.parser.Range(perr.Highlight).Offset), len(data))
			return fmt.Errorf("line %d is not valid TOML: %s", d.line(offset), perr.Message)
		}
		return fmt.Errorf("not valid TOML: %w", err)
	}
	return nil
}

// line returns the line of the byte at offset, counted from 1.
func (d *Document) line(offset int) int { return strings.Count(d.text[:offset], "\n") + 1 }

func spanOf(r unstable.Range) span { return span{int(r.Offset), int(r.Offset + r.Length)} }

// keyNames returns the steps of a node's key and the range that they take.
func (d *Document) keyNames(x *unstable.Node) (names []string, where span, err error) {
	for it := x.Key(); it.Next(); {
		s := spanOf(it.Node().Raw)
		if len(names) == maxKey {
			return nil, where, fmt.Errorf("line %d: a key has more than %d steps, which none of a spec has", d.line(s.from), maxKey)
		}
		if names == nil {
			where.from = s.from
		}
		where.to = s.to
		names = append(names, string(it.Node().Data))
	}
	return names, where, nil
}

func (d *Document) clash(offset int, name string) error {
	return fmt.Errorf("line %d: %s is given twice", d.line(offset), name)
}

// header enters the table of a header.
func (d *Document) header(x *unstable.Node) (*node, *section, error) {
	names, where, err := d.keyNames(x)
	if err != nil {
		return nil, nil, err
	}
	n := d.root
	for _, name := range names[:len(names)-1] {
		child := n.keys[name]
		switch {
		case child == nil:
			if err := d.count(where.from); err != nil {
				return nil, nil, err
			}
			child = newTable()
			n.add(name, child)
		case child.kind == list && !child.inline && len(child.items) > 0:
			child = child.items[len(child.items)-1]
		case child.kind != table || child.inline:
			return nil, nil, d.clash(where.from, name)
		}
		n = child
	}
	if err := d.count(where.from); err != nil {
		return nil, nil, err
	}
	s := &section{header: d.brackets(where)}
	d.sections = append(d.sections, s)
	name := names[len(names)-1]
	child := n.keys[name]
	if x.Kind == unstable.ArrayTable {
		switch {
		case child == nil:
			child = &node{kind: list}
			n.add(name, child)
		case child.kind != list || child.inline:
			return nil, nil, d.clash(where.from, name)
		}
		item := newTable()
		item.sections = []*section{s}
		child.items = append(child.items, item)
		return item, s, nil
	}
	switch {
	case child == nil:
		child = newTable()
		n.add(name, child)
	case child.kind != table || child.inline || len(child.sections) > 0:
		return nil, nil, d.clash(where.from, name)
	}
	child.sections = []*section{s}
	return child, s, nil
}

// brackets widens the range of a header's key to its brackets. Between them
// and the key there is only white space.
func (d *Document) brackets(key span) span {
	for key.from > 0 && strings.IndexByte("[ \t", d.text[key.from-1]) >= 0 {
		key.from--
	}
	for key.to < len(d.text) && strings.IndexByte(" \t", d.text[key.to]) >= 0 {
		key.to++
	}
	for key.to < len(d.text) && d.text[key.to] == ']' {
		key.to++
	}
	return key
}

// keyValue adds a key-value that stands in section s, or in an inline table
// for nil, to table n. It stands in so many lists and inline tables.
func (d *Document) keyValue(n *node, s *section, x *unstable.Node, nesting int) error {
	names, where, err := d.keyNames(x)
	if err != nil {
		return err
	}
	prefix := n.prefix
	if len(n.sections) > 0 || n.inline {
		prefix = ""
	}
	for _, name := range names[:len(names)-1] {
		prefix += bareOrQuoted(name) + "."
		child := n.keys[name]
		switch {
		case child == nil:
			if err := d.count(where.from); err != nil {
				return err
			}
			child = newTable()
			child.inline = n.inline
			n.add(name, child)
		case child.kind != table || child.hasPair:
			return d.clash(where.from, name)
		}
		if s != nil {
			child.home, child.prefix = spanOf(x.Raw), prefix
		}
		n = child
	}
	name := names[len(names)-1]
	if n.keys[name] != nil {
		return d.clash(where.from, name)
	}
	pair := spanOf(x.Raw)
	from := where.to
	for from < pair.to && strings.IndexByte(" \t=", d.text[from]) >= 0 {
		from++
	}
	to := valueEnd(d.text, from)
	child, err := d.valueNode(x.Value(), span{from, to}, nesting)
	if err != nil {
		return err
	}
	child.pair, child.hasPair = span{where.from, to}, true
	if s != nil {
		s.last = child.pair
	}
	n.add(name, child)
	return nil
}

// valueNode returns the node of a value that stands in so many others.
func (d *Document) valueNode(x *unstable.Node, where span, nesting int) (*node, error) {
	if err := d.count(where.from); err != nil {
		return nil, err
	}
	// Each level is gone through once more to find where its values end.
	if nesting > maxNesting {
		return nil, fmt.Errorf("line %d: lists and tables stand in each other more than %d deep, which none of a spec do", d.line(where.from), maxNesting)
	}
	n := &node{value: where}
	switch x.Kind {
	case unstable.InlineTable:
		*n = *newTable()
		n.value, n.inline = where, true
		for it := x.Children(); it.Next(); {
			if it.Node().Kind == unstable.KeyValue {
				if err := d.keyValue(n, nil, it.Node(), nesting+1); err != nil {
					return nil, err
				}
			}
		}
	case unstable.Array:
		n.kind, n.inline = list, true
		at := where.from + 1
		for it := x.Children(); it.Next(); {
			if it.Node().Kind == unstable.Comment {
				continue
			}
			from := skipBlank(d.text, at, ",")
			to := valueEnd(d.text, from)
			item, err := d.valueNode(it.Node(), span{from, to}, nesting+1)
			if err != nil {
				return nil, err
			}
			n.items = append(n.items, item)
			at = to
		}
	}
	return n, nil
}

func bareOrQuoted(name string) string {
	if name == "" || strings.IndexFunc(name, notBare) >= 0 {
		return string(Text(name))
	}
	return name
}

// find returns the node at a path, or nil.
func (d *Document) find(steps []step) *node {
	n := d.root
	for _, s := range steps {
		switch {
		case s.index > 0 && n.kind == list && s.index <= len(n.items):
			n = n.items[s.index-1]
		case s.index == 0 && n.kind == table && n.keys[s.name] != nil:
			n = n.keys[s.name]
		default:
			return nil
		}
	}
	return n
}

// Has reports whether the document has a value or table at path.
func (d *Document) Has(path string) bool {
	steps, err := parsePath(path)
	return err == nil && d.find(steps) != nil
}

// Len returns the number of entries of the list at path.
func (d *Document) Len(path string) int {
	steps, err := parsePath(path)
	if err != nil {
		return 0
	}
	if n := d.find(steps); n != nil {
		return len(n.items)
	}
	return 0
}

// Raw returns the text of the value at path, and false where there is none.
func (d *Document) Raw(path string) (string, bool) {
	steps, err := parsePath(path)
	if err != nil {
		return "", false
	}
	n := d.find(steps)
	if n == nil || n.value == (span{}) {
		return "", false
	}
	return d.text[n.value.from:n.value.to], true
}

// parts returns every section that belongs to n and what it holds, in order.
func (n *node) parts() []*section {
	out := append([]*section(nil), n.sections...)
	for _, name := range n.names {
		out = append(out, n.keys[name].parts()...)
	}
	for _, item := range n.items {
		out = append(out, item.parts()...)
	}
	sort.Slice(out, func(i, j int) bool { return out[i].header.from < out[j].header.from })
	return out
}
