package readings

import (
	"errors"
	"fmt"
	"sort"
	"strings"
	"unicode"

	"github.com/pelletier/go-toml/v2"
	"github.com/pelletier/go-toml/v2/unstable"

	"neckloft/neck/spec"
)

// tomlReader reads readings in TOML: the facts on top, and a table for each
// reading or contour,
//
//	units = "mm"
//	scale = 640
//	frets = 22
//	board = 5.6
//	[[total]]
//	fret = 1
//	value = 20.6
//	[[contour]]
//	fret = 5
//	points = [[-14, 9.8], [0, 15.6], [14, 10.1]]
//
// walked by the library's own parser, since its decoder does not tell the
// lines of values.
type tomlReader struct {
	set      *Set
	problems spec.Problems
	newlines []int
	parser   unstable.Parser

	top   tomlTable
	table tomlTable
}

// tomlTable is a table being read.
type tomlTable struct {
	name   string
	line   int
	keys   map[string]int
	values map[string]string
	points [][3]float64 // y, depth and line

	lengths map[string]float64 // those given as texts, in mm
}

func readTOML(data []byte, file string) (*Set, spec.Problems) {
	t := tomlReader{set: &Set{File: file}}
	if t.units(data) {
		t.tables(data)
	}
	return t.set, t.problems
}

// units reads the unit, which comes first wherever it stands, since every length
// needs it. It reports whether there is one and the rest can be read.
func (t *tomlReader) units(data []byte) bool {
	var all map[string]any
	if err := toml.Unmarshal(data, &all); err != nil {
		line := 0
		message := "not valid TOML: " + strings.TrimPrefix(err.Error(), "toml: ")
		var derr *toml.DecodeError
		if errors.As(err, &derr) {
			line, _ = derr.Position()
		}
		if strings.Contains(message, "','") {
			message += "; is there a comma in a number? The decimal point is a dot"
		}
		t.problem(line, "%s", message)
		return false
	}
	if len(all) == 0 {
		t.problem(0, "this is empty; wanted: units, and a table such as [[total]] for each reading")
		return false
	}
	for i, c := range data {
		if c == '\n' {
			t.newlines = append(t.newlines, i)
		}
	}
	switch u, ok := all["units"]; {
	case !ok:
		t.problem(0, `the file does not say its unit; wanted at the top: units = "mm" or units = "in"`)
		return false
	case u == "in":
		t.set.Units = spec.Inch
	case u != "mm":
		t.problem(t.unitsLine(data), `the units are %s; allowed: "mm" or "in"`, quote(fmt.Sprint(u)))
		return false
	}
	return true
}

// tables reads the facts on top and the tables after them.
func (t *tomlReader) tables(data []byte) {
	t.top = newTable("", 0)
	t.table = t.top
	t.parser.Reset(data)
	for t.parser.NextExpression() && len(t.problems) < MaxProblems {
		node := t.parser.Expression()
		key, line := t.key(node)
		switch node.Kind {
		case unstable.KeyValue:
			t.value(&t.table, key, line, node)
		case unstable.ArrayTable:
			t.finish()
			t.table = newTable(key, line)
			if _, ok := kindOf(key); !ok && key != "contour" {
				t.problem(line, "the table [[%s]] is unknown; allowed: %s", key, tableNames())
			}
		case unstable.Table:
			t.finish()
			t.table = newTable(key, line)
			t.problem(line, "the table [%s] stands in single brackets; every reading is written as [[%s]]", key, key)
		}
		if len(t.set.Readings) > maxReadings {
			break
		}
	}
	if err := t.parser.Error(); err != nil && len(t.problems) == 0 {
		t.problem(0, "not valid TOML: %v", err)
	}
	t.finish()
}

// unitsLine returns the line of the key units.
func (t *tomlReader) unitsLine(data []byte) int {
	t.parser.Reset(data)
	for t.parser.NextExpression() {
		if node := t.parser.Expression(); node.Kind == unstable.KeyValue {
			if key, line := t.key(node); key == "units" {
				return line
			}
		}
	}
	return 0
}

func newTable(name string, line int) tomlTable {
	return tomlTable{name: name, line: line, keys: make(map[string]int), values: make(map[string]string), lengths: make(map[string]float64)}
}

func (t *tomlReader) problem(line int, format string, args ...any) {
	if len(t.problems) < MaxProblems {
		t.problems = append(t.problems, t.set.Problem(line, format, args...))
	}
}

func (t *tomlReader) keep(err error) {
	var p spec.Problem
	if errors.As(err, &p) && len(t.problems) < MaxProblems {
		t.problems = append(t.problems, p)
	}
}

// line returns the line of a byte.
func (t *tomlReader) line(offset uint32) int {
	return sort.SearchInts(t.newlines, int(offset)) + 1
}

// key returns the dotted key of a node and its line.
func (t *tomlReader) key(node *unstable.Node) (string, int) {
	var parts []string
	line := 0
	for it := node.Key(); it.Next(); {
		if len(parts) == 0 {
			line = t.line(it.Node().Raw.Offset)
		}
		part := string(it.Node().Data)
		if strings.ContainsFunc(part, unicode.IsControl) {
			part = quote(part)
		}
		parts = append(parts, part)
	}
	return strings.Join(parts, "."), line
}

// tomlKeys are the keys of the table of a kind.
func tomlKeys(table string) []string {
	switch table {
	case "":
		return []string{"units", "name", "scale", "frets", "end", "board", "wall"}
	case "contour":
		return []string{"fret", "x", "points", "sigma", "note"}
	case "point":
		return []string{"fret", "x", "y", "value", "sigma", "note"}
	}
	return []string{"fret", "x", "value", "sigma", "note"}
}

func tableNames() string {
	var names []string
	for _, k := range kinds {
		names = append(names, "[["+k.name+"]]")
	}
	return strings.Join(append(names, "[[contour]]"), ", ")
}

// value reads one key of a table.
func (t *tomlReader) value(table *tomlTable, key string, line int, node *unstable.Node) {
	known := false
	for _, k := range tomlKeys(table.name) {
		known = known || k == key
	}
	if _, reading := kindOf(key); !known && table.name == "" && (reading || key == "contour") {
		t.problem(line, "readings of kind %q are written as tables of their own, under [[%s]]", key, key)
		return
	}
	if !known {
		t.problem(line, "the key %s is unknown; allowed: %s", quote(key), strings.Join(tomlKeys(table.name), ", "))
		return
	}
	table.keys[key] = line
	v := node.Value()
	text := key == "units" || key == "name" || key == "note"
	switch {
	case key == "points":
		t.points(table, line, v)
	case text && v.Kind == unstable.String:
		table.values[key] = string(v.Data)
	case text:
		t.problem(line, "%s is text in double quotes", key)
	case v.Kind == unstable.Integer || v.Kind == unstable.Float:
		table.values[key] = strings.ReplaceAll(string(v.Data), "_", "")
	case v.Kind == unstable.String && key != "fret" && key != "frets":
		mm, err := t.lengthText(string(v.Data))
		if err != nil {
			t.problem(line, "%s: %v", key, err)
			return
		}
		table.lengths[key] = mm
	default:
		t.problem(line, "%s is a plain number, without quotes or a unit", key)
	}
}

// lengthText reads a length that stands in quotes, such as "1-5/8in", in mm. It
// has the unit of the file: a file of two units is more likely a slip.
func (t *tomlReader) lengthText(text string) (float64, error) {
	unit := spec.Millimetre
	switch trimmed := strings.TrimSpace(text); {
	case strings.HasSuffix(trimmed, "in"), strings.HasSuffix(trimmed, `"`), strings.HasSuffix(trimmed, "\u2033"):
		unit = spec.Inch
	case !strings.HasSuffix(trimmed, "mm"):
		unit = t.set.Units
	}
	mm, err := spec.ParseLength(text, t.set.Units)
	if err == nil && unit != t.set.Units {
		return 0, fmt.Errorf("%s is not in the unit of the file, %s; allowed: one unit in a file", quote(text), t.set.Units)
	}
	return mm, err
}

// points reads the pairs of a contour.
func (t *tomlReader) points(table *tomlTable, line int, v *unstable.Node) {
	const want = "points is a list of pairs [y, depth], such as [[-14, 9.8], [0, 15.6]]"
	if v.Kind != unstable.Array {
		t.problem(line, want)
		return
	}
	for it := v.Children(); it.Next(); {
		pair := it.Node()
		if pair.Kind != unstable.Array {
			t.problem(line, want)
			return
		}
		var p [3]float64
		n := 0
		for jt := pair.Children(); jt.Next(); n++ {
			c := jt.Node()
			if c.Kind != unstable.Integer && c.Kind != unstable.Float && c.Kind != unstable.String || n > 1 {
				n = 3
				break
			}
			if c.Raw.Offset > 0 {
				line = t.line(c.Raw.Offset)
			}
			if c.Kind == unstable.String {
				mm, err := t.lengthText(string(c.Data))
				if err != nil {
					t.problem(line, "points: %v", err)
					return
				}
				p[n] = mm
				continue
			}
			f, err := number(strings.ReplaceAll(string(c.Data), "_", ""))
			if err != nil {
				t.problem(line, "points: %v", err)
				return
			}
			p[n] = t.set.Units.Millimetres(f)
		}
		if n != 2 {
			t.problem(line, want)
			return
		}
		p[2] = float64(line)
		table.points = append(table.points, p)
	}
	if len(table.points) == 0 {
		t.problem(line, "points is empty; "+want)
	}
}

// number returns a key's value, and false where it is missing or no number.
func (t *tomlReader) number(table *tomlTable, key string) (float64, bool) {
	text, ok := table.values[key]
	if !ok {
		return 0, false
	}
	v, err := number(text)
	if err != nil {
		t.problem(table.keys[key], "%s: %v", key, err)
		return 0, false
	}
	return v, true
}

// length returns a key's length in millimetres, and false where it is missing or
// none.
func (t *tomlReader) length(table *tomlTable, key string) (float64, bool) {
	if mm, ok := table.lengths[key]; ok {
		return mm, true
	}
	v, ok := t.number(table, key)
	return t.set.Units.Millimetres(v), ok
}

// finish turns the table that has been read into readings.
func (t *tomlReader) finish() {
	if len(t.problems) >= MaxProblems {
		return
	}
	table := &t.table
	if table.name == "" {
		t.facts(table)
		return
	}
	kind, ok := kindOf(table.name)
	if table.name == "contour" {
		kind, ok = Point, true
	}
	if !ok {
		return
	}
	r := Reading{Kind: kind, Note: table.values["note"], Line: table.line}
	switch {
	case !t.place(table, &r) || !t.sigma(table, &r):
	case table.name == "contour":
		t.contour(table, r)
	case t.measured(table, &r):
		t.keep(t.set.add(r))
	}
}

// place reads the station of a reading, and reports whether it could.
func (t *tomlReader) place(table *tomlTable, r *Reading) bool {
	before := len(t.problems)
	fret, byFret := t.number(table, "fret")
	x, byX := t.length(table, "x")
	if len(t.problems) > before {
		return false
	}
	switch {
	case byFret && byX:
		t.problem(table.line, "[[%s]] has both fret and x; allowed: one of them", table.name)
		return false
	case byFret && fret < 0:
		t.problem(table.keys["fret"], "fret %s is negative; give a station before the nut as x", table.values["fret"])
		return false
	case byFret:
		r.At, r.Placed = spec.AtFret(fret), true
	case byX:
		r.At, r.Placed = spec.AtX(x), true
	}
	return true
}

// sigma reads the standard deviation of a reading, if there is one, and reports
// whether it could.
func (t *tomlReader) sigma(table *tomlTable, r *Reading) bool {
	s, ok := t.length(table, "sigma")
	if ok && s == 0 {
		t.problem(table.keys["sigma"], "the standard deviation is 0; no measurement is exact: leave it out for the usual one")
		return false
	}
	r.Sigma = s
	return true
}

// contour adds the points of a contour.
func (t *tomlReader) contour(table *tomlTable, r Reading) {
	if _, ok := table.keys["points"]; !ok {
		t.problem(table.line, "[[contour]] has no points")
	}
	for _, p := range table.points {
		if len(t.set.Readings) > maxReadings {
			break
		}
		r.Y, r.Value, r.Line = p[0], p[1], int(p[2])
		t.keep(t.set.add(r))
	}
}

// measured reads the value of a reading, of a point its place too, and reports
// whether it could.
func (t *tomlReader) measured(table *tomlTable, r *Reading) (ok bool) {
	if r.Value, ok = t.length(table, "value"); !ok {
		if _, given := table.keys["value"]; !given {
			t.problem(table.line, "[[%s]] has no value", table.name)
		}
		return false
	}
	if r.Kind != Point {
		return true
	}
	if r.Y, ok = t.length(table, "y"); !ok {
		if _, given := table.keys["y"]; !given {
			t.problem(table.line, "[[point]] has no y, its distance from the centreline, negative on the bass side (of a left-handed neck on the treble side)")
		}
	}
	return ok
}

// facts takes over the keys on top.
func (t *tomlReader) facts(table *tomlTable) {
	t.set.Name = table.values["name"]
	for _, key := range tomlKeys("") {
		line, given := table.keys[key]
		if !given {
			continue
		}
		switch key {
		case "scale", "end":
			if v, ok := t.length(table, key); ok {
				t.keep(t.set.fact(key, v, line))
			}
		case "frets":
			if v, ok := t.number(table, key); ok {
				t.keep(t.set.fact(key, v, line))
			}
		case "board", "wall":
			kind, _ := kindOf(key)
			if v, ok := t.length(table, key); ok {
				t.keep(t.set.add(Reading{Kind: kind, Value: v, Line: line}))
			}
		}
	}
}
