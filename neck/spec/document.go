package spec

import (
	"errors"
	"fmt"
	"sort"
	"strconv"
	"strings"

	"github.com/pelletier/go-toml/v2/unstable"
)

// maxKeyDepth is the number of steps of a key path that are looked at. A spec
// has at most three, such as depth, 2 and total.
const maxKeyDepth = 4

// maxProblems is the number of problems of one file that are reported.
const maxProblems = 50

// tomlTable is a TOML table with its keys in file order.
type tomlTable struct {
	line    int
	headed  bool // it has a [header] of its own
	names   []string
	entries map[string]*tomlValue
}

func newTOMLTable(line int) *tomlTable {
	return &tomlTable{line: line, entries: make(map[string]*tomlValue)}
}

func (t *tomlTable) add(name string, v *tomlValue) {
	t.names = append(t.names, name)
	t.entries[name] = v
}

// tomlValue is a TOML value: a scalar with its text, a table, or an array of
// tables. An array of anything else keeps only its kind.
type tomlValue struct {
	line   int
	kind   unstable.Kind
	text   string
	table  *tomlTable
	tables []*tomlTable // of an Array or ArrayTable
	mixed  bool         // an Array with elements that are not tables
}

// describe says in plain words what the value is, for "... is wanted" errors.
func (v *tomlValue) describe() string {
	switch v.kind {
	case unstable.String:
		return "the text " + quote(v.text)
	case unstable.Bool:
		return v.text
	case unstable.Integer, unstable.Float:
		return "the number " + shorten(v.text)
	case unstable.Table, unstable.InlineTable:
		return "a table"
	case unstable.ArrayTable:
		return "a list of tables"
	case unstable.Array:
		return "a list"
	default:
		return "the date or time " + shorten(v.text)
	}
}

// tomlDocument is a parsed TOML file, with the lines of its keys.
type tomlDocument struct {
	root     *tomlTable
	source   *Source
	problems Problems

	parser   unstable.Parser
	newlines []int // offset of each newline of the file
}

// parseTOML parses data. The root is nil if it is not TOML at all; a
// duplicate key leaves the root whole and is among the problems.
func parseTOML(data []byte, file string) *tomlDocument {
	d := &tomlDocument{root: newTOMLTable(0), source: NewSource(file)}
	for i, c := range data {
		if c == '\n' {
			d.newlines = append(d.newlines, i)
		}
	}
	current, at := d.root, ""
	d.parser.Reset(data)
	for d.parser.NextExpression() {
		node := d.parser.Expression()
		switch node.Kind {
		case unstable.Table:
			current, at = d.header(node)
		case unstable.ArrayTable:
			current, at = d.arrayHeader(node)
		case unstable.KeyValue:
			d.keyValue(current, at, node)
		}
	}
	if err := d.parser.Error(); err != nil {
		d.root = nil
		d.problems = Problems{d.syntaxProblem(err, data, at)}
	}
	return d
}

// lineOf returns the line of the byte at offset, counted from 1.
func (d *tomlDocument) lineOf(offset int) int {
	return sort.SearchInts(d.newlines, offset) + 1
}

// keyParts returns the steps of a node's key and the line of the first. It
// leaves out steps beyond maxKeyDepth and says so with cut.
func (d *tomlDocument) keyParts(node *unstable.Node) (parts []string, line int, cut bool) {
	for it := node.Key(); it.Next(); {
		if len(parts) == maxKeyDepth {
			return parts, line, true
		}
		key := it.Node()
		if len(parts) == 0 {
			line = d.lineOf(int(key.Raw.Offset))
		}
		parts = append(parts, string(key.Data))
	}
	return parts, line, false
}

// header enters the table of a [header], and returns it with its path.
func (d *tomlDocument) header(node *unstable.Node) (*tomlTable, string) {
	parts, line, cut := d.keyParts(node)
	last := len(parts) - 1
	parent, at := d.descend(d.root, "", parts[:last], line)
	at = joinKey(at, parts[last])
	d.source.set(at, line)
	switch old := parent.entries[parts[last]]; {
	case old == nil:
		t := newTOMLTable(line)
		t.headed = true
		parent.add(parts[last], &tomlValue{line: line, kind: unstable.Table, table: t})
		return t, at
	case cut: // an unknown key whatever it is
	case old.kind == unstable.ArrayTable:
		d.addf(line, at, "single brackets; every [[%s]] is written in double square brackets", keyText(parts[last]))
	case old.table == nil || old.table.headed || old.kind == unstable.InlineTable:
		d.duplicate(line, at, old.line)
	default: // made by a longer header before, such as [rod.from]
		old.table.headed = true
		return old.table, at
	}
	return newTOMLTable(line), at
}

// arrayHeader adds a table for a [[header]], and returns it with its path.
func (d *tomlDocument) arrayHeader(node *unstable.Node) (*tomlTable, string) {
	parts, line, cut := d.keyParts(node)
	last := len(parts) - 1
	parent, at := d.descend(d.root, "", parts[:last], line)
	at = joinKey(at, parts[last])
	d.source.set(at, line)
	list := parent.entries[parts[last]]
	t := newTOMLTable(line)
	t.headed = true
	switch {
	case list == nil:
		list = &tomlValue{line: line, kind: unstable.ArrayTable}
		parent.add(parts[last], list)
	case list.kind != unstable.ArrayTable:
		if !cut {
			d.duplicate(line, at, list.line)
		}
		return t, at
	}
	list.tables = append(list.tables, t)
	at = indexKey(at, len(list.tables))
	d.source.set(at, line)
	return t, at
}

// descend follows parts from t, making tables where there are none.
func (d *tomlDocument) descend(t *tomlTable, at string, parts []string, line int) (*tomlTable, string) {
	for _, name := range parts {
		at = joinKey(at, name)
		v := t.entries[name]
		switch {
		case v == nil:
			v = &tomlValue{line: line, kind: unstable.Table, table: newTOMLTable(line)}
			t.add(name, v)
			t = v.table
		case v.kind == unstable.ArrayTable:
			t = v.tables[len(v.tables)-1]
			at = indexKey(at, len(v.tables))
		case v.kind == unstable.Table:
			t = v.table
		default: // a scalar, a list or a closed inline table
			d.duplicate(line, at, v.line)
			t = newTOMLTable(line)
		}
		d.source.set(at, line)
	}
	return t, at
}

// keyValue adds a key and its value to t.
func (d *tomlDocument) keyValue(t *tomlTable, at string, node *unstable.Node) {
	parts, line, cut := d.keyParts(node)
	last := len(parts) - 1
	t, at = d.descend(t, at, parts[:last], line)
	at = joinKey(at, parts[last])
	if old := t.entries[parts[last]]; old != nil {
		if !cut { // else an unknown key whatever it is
			d.duplicate(line, at, old.line)
		}
		return
	}
	d.source.set(at, line)
	t.add(parts[last], d.value(at, line, node.Value()))
}

// value converts the value of the key at.
func (d *tomlDocument) value(at string, line int, node *unstable.Node) *tomlValue {
	v := &tomlValue{line: line, kind: node.Kind, text: string(node.Data)}
	deep := strings.Count(at, ".") >= maxKeyDepth
	switch {
	case deep:
	case node.Kind == unstable.InlineTable:
		v.table = d.inlineTable(at, line, node)
	case node.Kind == unstable.Array:
		for it := node.Children(); it.Next(); {
			element := it.Node()
			if element.Kind != unstable.InlineTable {
				v.mixed = true
				continue
			}
			inner := indexKey(at, len(v.tables)+1)
			v.tables = append(v.tables, d.inlineTable(inner, line, element))
		}
	}
	return v
}

func (d *tomlDocument) inlineTable(at string, line int, node *unstable.Node) *tomlTable {
	t := newTOMLTable(line)
	for it := node.Children(); it.Next(); {
		if child := it.Node(); child.Kind == unstable.KeyValue {
			if _, first, _ := d.keyParts(child); len(t.names) == 0 {
				// An inline table has no line but its first key's.
				t.line = first
				d.source.set(at, first)
			}
			d.keyValue(t, at, child)
		}
	}
	return t
}

func (d *tomlDocument) duplicate(line int, key string, before int) {
	d.addf(line, key, "given twice; it is already on line %d, and a key may stand only once", before)
}

func (d *tomlDocument) addf(line int, key, format string, args ...any) {
	d.problems = append(d.problems, Problem{
		File: d.source.File, Line: line, Key: key, Message: fmt.Sprintf(format, args...),
	})
}

// syntaxProblem words a parser error. at is the table that it happened in.
func (d *tomlDocument) syntaxProblem(err error, data []byte, at string) Problem {
	p := Problem{File: d.source.File}
	var perr *unstable.ParserError
	if !errors.As(err, &perr) {
		p.Message = "not valid TOML: " + err.Error()
		return p
	}
	offset := min(int(d.parser.Range(perr.Highlight).Offset), len(data))
	p.Line = d.lineOf(offset)
	text := d.lineText(data, p.Line)
	name, hint := syntaxHint(text)
	if name != "" {
		p.Key = joinKey(at, name)
	}
	if hint != "" {
		p.Message = fmt.Sprintf("%s is not valid TOML; %s", quote(text), hint)
	} else {
		p.Message = fmt.Sprintf("%s is not valid TOML: %s", quote(text), perr.Message)
	}
	return p
}

// lineText returns the text of a line without the white space around it.
func (d *tomlDocument) lineText(data []byte, line int) string {
	start, end := 0, len(data)
	if line > 1 {
		start = d.newlines[line-2] + 1
	}
	if line <= len(d.newlines) {
		end = d.newlines[line-1]
	}
	return strings.TrimSpace(string(data[start:end]))
}

// joinKey adds a step to a key path.
func joinKey(at, name string) string {
	name = keyText(name)
	if at == "" {
		return name
	}
	return at + "." + name
}

// indexKey is the path of table number n, counted from 1, of a list.
func indexKey(at string, n int) string { return at + "[" + strconv.Itoa(n) + "]" }

// keyText prints a key as TOML would: bare where it can be, else in quotes, so
// that a message stays on one line whatever the key holds.
func keyText(name string) string {
	bare := func(r rune) bool {
		return r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r == '-' || r == '_'
	}
	if name == "" || strings.IndexFunc(name, func(r rune) bool { return !bare(r) }) >= 0 {
		return quote(name)
	}
	return shorten(name)
}
