package tomledit

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// replace puts text in the place of a range and reads the document anew. A
// change that would leave it unreadable is undone and is an error.
func (d *Document) replace(s span, text string) error {
	before := d.text
	d.text = before[:s.from] + text + before[s.to:]
	if err := d.parse(); err != nil {
		d.text = before
		if again := d.parse(); again != nil {
			return again
		}
		return fmt.Errorf("the change does not fit the text: %w", err)
	}
	return nil
}

// newline returns the end of a line as the text has it.
func (d *Document) newline() string {
	if i := strings.IndexByte(d.text, '\n'); i > 0 && d.text[i-1] == '\r' {
		return "\r\n"
	}
	return "\n"
}

// Set gives the key at path a value. A key that is not there is added at the
// end of its table, and a table that is not there at the end of the text.
func (d *Document) Set(path string, value Literal) error {
	steps, err := parsePath(path)
	if err != nil {
		return err
	}
	n := d.find(steps)
	last := steps[len(steps)-1]
	switch {
	case n == nil && last.index == 0:
		return d.insertKey(steps[:len(steps)-1], Field{last.name, value})
	case n == nil:
		return fmt.Errorf("%s: there is no such entry", path)
	case n.value == (span{}):
		return fmt.Errorf("%s is a table with a header of its own and cannot take a single value", path)
	}
	return d.replaceValue(n.value, string(value))
}

// SetAll gives many keys, which must be there, their values. The text is read
// anew once, however many they are. On an error nothing has changed.
func (d *Document) SetAll(values map[string]Literal) error {
	type change struct {
		where span
		text  string
	}
	changes := make([]change, 0, len(values))
	for path, value := range values {
		steps, err := parsePath(path)
		if err != nil {
			return err
		}
		n := d.find(steps)
		if n == nil || n.value == (span{}) {
			return fmt.Errorf("%s: there is no such value", path)
		}
		where, text := d.newValue(n.value, string(value))
		changes = append(changes, change{where, text})
	}
	slices.SortFunc(changes, func(a, b change) int { return a.where.from - b.where.from })
	var b strings.Builder
	at := 0
	for _, c := range changes {
		if c.where.from < at {
			return errors.New("of two values that are set one is inside the other")
		}
		b.WriteString(d.text[at:c.where.from])
		b.WriteString(c.text)
		at = c.where.to
	}
	b.WriteString(d.text[at:])
	return d.replace(span{0, len(d.text)}, b.String())
}

// replaceValue replaces a value and keeps a comment behind it in its column.
func (d *Document) replaceValue(s span, value string) error {
	return d.replace(d.newValue(s, value))
}

// newValue returns what to put where in place of a value, so that a comment
// behind it stays in its column.
func (d *Document) newValue(s span, value string) (span, string) {
	rest := d.text[s.to:lineEnd(d.text, s.to)]
	blank := len(rest) - len(strings.TrimLeft(rest, " "))
	if blank > 0 && blank < len(rest) && rest[blank] == '#' && !strings.Contains(d.text[s.from:s.to], "\n") {
		spaces := max(1, blank-(len(value)-(s.to-s.from)))
		return span{s.from, s.to + blank}, value + strings.Repeat(" ", spaces)
	}
	return s, value
}

// Rename gives the key at path another name and value, in its place.
func (d *Document) Rename(path, name string, value Literal) error {
	steps, err := parsePath(path)
	if err != nil {
		return err
	}
	n := d.find(steps)
	if n == nil || !n.hasPair {
		return fmt.Errorf("%s: there is no such key", path)
	}
	parent := d.find(steps[:len(steps)-1])
	if parent.keys[name] != nil && name != steps[len(steps)-1].name {
		return fmt.Errorf("%s: %s is there already", path, name)
	}
	// What stands before the last step of a dotted key stays.
	key := d.text[n.pair.from:n.value.from]
	key = strings.TrimRight(key, " \t=")
	old := steps[len(steps)-1].name
	head, ok := strings.CutSuffix(key, old)
	if !ok {
		head, ok = strings.CutSuffix(key, string(Text(old)))
	}
	if !ok {
		head = ""
	}
	return d.replaceValue(n.pair, head+name+" = "+string(value))
}

// insertKey adds a key to the table at steps.
func (d *Document) insertKey(steps []step, f Field) error {
	n := d.find(steps)
	line := f.Key + " = " + string(f.Value)
	switch {
	case n == nil:
		if len(steps) != 1 || steps[0].index > 0 {
			return fmt.Errorf("%s: there is no such table", pathText(steps))
		}
		return d.append("[" + steps[0].name + "]" + d.newline() + line)
	case n.kind != table:
		return fmt.Errorf("%s is not a table", pathText(steps))
	case n.hasPair || n.inline && n.value != (span{}):
		return d.insertInline(n, line)
	case n == d.root:
		return d.insertTop(line)
	case len(n.sections) > 0:
		return d.insertLine(n.sections[0], line)
	case n.home != (span{}):
		return d.replace(afterLine(d.text, n.home), d.behind(n.prefix+line, n.home))
	case n.inline:
		return fmt.Errorf("%s: dotted keys inside an inline table are too much to add to; write it out as a table", pathText(steps))
	}
	var names []string
	for _, s := range steps {
		if s.index > 0 {
			return fmt.Errorf("%s: there is no header to add to", pathText(steps))
		}
		names = append(names, s.name)
	}
	return d.append("[" + strings.Join(names, ".") + "]" + d.newline() + line)
}

// afterLine returns the empty range behind the line in which s ends, its
// newline included.
func afterLine(text string, s span) span {
	i := lineEnd(text, s.to)
	if i < len(text) {
		i++
	}
	return span{i, i}
}

// behind returns a line to insert behind that of s, indented as that is.
func (d *Document) behind(line string, s span) string {
	start := lineStart(d.text, s.from)
	indent := d.text[start:s.from]
	if strings.Trim(indent, " \t") != "" {
		indent = ""
	}
	out := indent + line + d.newline()
	if end := lineEnd(d.text, s.to); end == len(d.text) {
		out = d.newline() + strings.TrimSuffix(out, d.newline()) + d.newline()
	}
	return out
}

// insertLine adds a line behind the last key-value of a section.
func (d *Document) insertLine(s *section, line string) error {
	at := s.header
	if s.used {
		at = s.last
	}
	return d.replace(afterLine(d.text, at), d.behind(line, at))
}

// insertTop adds a key-value before the first header.
func (d *Document) insertTop(line string) error {
	head := d.sections[0]
	if head.used {
		return d.insertLine(head, line)
	}
	if len(d.sections) == 1 {
		return d.append(line)
	}
	// Above the comment that belongs to the first header.
	at := lineStart(d.text, d.sections[1].header.from)
	for at > 0 {
		before := lineStart(d.text, at-1)
		if !strings.HasPrefix(strings.TrimLeft(d.text[before:at], " \t"), "#") {
			break
		}
		at = before
	}
	nl := d.newline()
	return d.replace(span{at, at}, line+nl+nl)
}

// append adds text at the end, behind an empty line.
func (d *Document) append(text string) error {
	nl := d.newline()
	gap := ""
	switch {
	case strings.TrimSpace(d.text) == "":
	case !strings.HasSuffix(d.text, "\n"):
		gap = nl + nl
	case !strings.HasSuffix(strings.ReplaceAll(d.text, "\r", ""), "\n\n"):
		gap = nl
	}
	return d.replace(span{len(d.text), len(d.text)}, gap+text+nl)
}

// insertInline adds a key-value at the end of an inline table.
func (d *Document) insertInline(n *node, pair string) error {
	end := 0
	for _, name := range n.names {
		end = max(end, n.keys[name].furthest())
	}
	if end == 0 {
		return d.replace(n.value, "{ "+pair+" }")
	}
	return d.replace(span{end, end}, ", "+pair)
}

// furthest returns the end of the last byte of a value.
func (n *node) furthest() int {
	end := n.value.to
	for _, child := range n.keys {
		end = max(end, child.furthest())
	}
	return end
}

// AddTable adds a table with the given keys at the end of the text. It is an
// error if path is there already, or goes through a list.
func (d *Document) AddTable(path string, fields ...Field) error {
	steps, err := parsePath(path)
	if err != nil {
		return err
	}
	for _, s := range steps {
		if s.index > 0 {
			return fmt.Errorf("%s: a table in an entry of a list cannot be added", path)
		}
	}
	if d.find(steps) != nil {
		return fmt.Errorf("%s is there already", path)
	}
	return d.append(d.block("["+path+"]", fields))
}

// block returns a header with its keys, without a newline at the end.
func (d *Document) block(header string, fields []Field) string {
	lines := []string{header}
	for _, f := range fields {
		lines = append(lines, f.Key+" = "+string(f.Value))
	}
	return strings.Join(lines, d.newline())
}

// Insert adds an entry to the list of tables at path, so that it becomes entry
// number i, counted from 1. A list that is not there is made with a header.
func (d *Document) Insert(path string, i int, fields ...Field) error {
	steps, err := parsePath(path)
	if err != nil {
		return err
	}
	n := d.find(steps)
	for _, s := range steps {
		if s.index > 0 {
			return fmt.Errorf("%s: only a list by itself can be added to", path)
		}
	}
	switch {
	case n == nil && i == 1:
		return d.append(d.block("[["+path+"]]", fields))
	case n == nil || n.kind != list || i < 1 || i > len(n.items)+1:
		return fmt.Errorf("%s: there is no place number %d", path, i)
	case n.inline:
		return d.insertItem(n, i, Inline(fields...))
	}
	block := d.block("[["+path+"]]", fields)
	if i <= len(n.items) {
		at := lineStart(d.text, n.items[i-1].sections[0].header.from)
		return d.replace(span{at, at}, block+d.newline())
	}
	parts := n.items[i-2].parts()
	s := parts[len(parts)-1]
	end := s.header
	if s.used {
		end = s.last
	}
	return d.replace(afterLine(d.text, end), d.behind(block, span{lineStart(d.text, end.from), end.to}))
}

// insertItem adds an entry to a list that is a value.
func (d *Document) insertItem(n *node, i int, value Literal) error {
	switch {
	case len(n.items) == 0:
		return d.replace(n.value, "[ "+string(value)+" ]")
	case i <= len(n.items):
		at := n.items[i-1].value.from
		return d.replace(span{at, at}, string(value)+","+d.gap(at))
	}
	last := n.items[len(n.items)-1].value
	return d.replace(span{last.to, last.to}, ","+d.gap(last.from)+string(value))
}

// gap returns what stands between two entries of a list, one of which begins
// at the offset: a newline with its indent, or a space.
func (d *Document) gap(at int) string {
	start := lineStart(d.text, at)
	if indent := d.text[start:at]; start > 0 && strings.Trim(indent, " \t") == "" {
		return d.newline() + indent
	}
	return " "
}

// Remove takes away the key, table or list entry at path. Comments above it
// stay; a comment behind a value goes with it.
func (d *Document) Remove(path string) error {
	steps, err := parsePath(path)
	if err != nil {
		return err
	}
	n := d.find(steps)
	if n == nil {
		return fmt.Errorf("%s: there is no such key", path)
	}
	parent := d.find(steps[:len(steps)-1])
	if n.value != (span{}) && parent.inline && parent.value != (span{}) {
		where := n.value
		if n.hasPair {
			where = n.pair
		}
		return d.removeBetweenCommas(where, parent)
	}
	cuts := n.cuts(d.text)
	if len(cuts) == 0 {
		return fmt.Errorf("%s: written in a way that cannot be taken out; edit the text", path)
	}
	slices.SortFunc(cuts, func(a, b span) int { return a.from - b.from })
	var b strings.Builder
	at := 0
	for _, c := range cuts {
		b.WriteString(d.text[at:c.from])
		at = c.to
	}
	b.WriteString(d.text[at:])
	return d.replace(span{0, len(d.text)}, b.String())
}

// removeBetweenCommas cuts an entry out of an inline table or list, with the
// comma and the space that it no longer needs.
func (d *Document) removeBetweenCommas(s span, parent *node) error {
	if next := skipBlank(d.text, s.to, ""); next < len(d.text) && d.text[next] == ',' {
		s.to = next + 1
		// A comment behind the comma belongs to the entry.
		rest := d.text[s.to:lineEnd(d.text, s.to)]
		if trimmed := strings.TrimLeft(rest, " \t\r"); trimmed == "" || trimmed[0] == '#' {
			if before := d.text[lineStart(d.text, s.from):s.from]; strings.Trim(before, " \t") == "" {
				s.from, s.to = lineStart(d.text, s.from), afterLine(d.text, s).to
				return d.replace(s, "")
			}
			return d.replace(s, "")
		}
		for s.to < len(d.text) && (d.text[s.to] == ' ' || d.text[s.to] == '\t') {
			s.to++
		}
		return d.replace(s, "")
	}
	// The last one: with the comma before it, if only space lies between.
	before := strings.TrimRight(d.text[parent.value.from:s.from], " \t\r\n")
	if strings.HasSuffix(before, ",") {
		s.from = parent.value.from + len(before) - 1
	}
	return d.replace(s, "")
}

// cuts returns the ranges of whole lines that hold n.
func (n *node) cuts(text string) []span {
	var out []span
	lines := func(s span) { out = append(out, span{lineStart(text, s.from), afterLine(text, s).to}) }
	if n.hasPair {
		lines(n.pair)
		return out
	}
	for _, s := range n.parts() {
		end := s.header
		if s.used {
			end = s.last
		}
		lines(span{s.header.from, end.to})
	}
	if len(n.sections) == 0 { // dotted keys
		for _, name := range n.names {
			if child := n.keys[name]; len(child.parts()) == 0 {
				out = append(out, child.cuts(text)...)
			}
		}
	}
	return out
}
