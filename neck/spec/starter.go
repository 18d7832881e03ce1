package spec

import (
	_ "embed"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// starterText is the starter without what the schema knows: a key's line that
// ends in a bare # gets its comment, and keys and tables that the text lacks
// are added.
//
//go:embed starter.toml
var starterText string

// starter is made once, since much reads it.
var starter = sync.OnceValue(func() string { return program.Starter() })

// Starter returns a complete spec with a comment on every key: the file that a
// builder begins from.
func Starter() string { return starter() }

// Demo returns the neck of the starter spec, an invented 22-fret electric neck
// of 636 mm scale.
func Demo() *Spec {
	s, err := Read(strings.NewReader(starter()), "demo neck")
	if err != nil {
		panic(err) // the text is read by the tests
	}
	return s
}

// comment returns what the starter says of a key: its sentence, what is allowed
// in mm, and what it is when left out.
func (f *Field) comment() string {
	var parts []string
	add := func(format string, args ...any) { parts = append(parts, fmt.Sprintf(format, args...)) }
	if f.Help != "" {
		add("%s", f.Help)
	}
	bare := func(v float64) string { return plain(v) }
	value := func(v float64) string {
		if f.Kind == KindAngle {
			return plain(degrees(v))
		}
		return plain(v)
	}
	switch {
	case f.Kind == KindChoice:
		add("%s", orList(f.Choices))
	case f.Kind == KindShape:
		add("%s", orList(f.Words()))
	case f.Kind == KindBool:
		add("true or false")
	case f.Kind == KindAngle:
		add("%s to %s degrees", value(f.Min), value(f.Max))
	case f.limited():
		text := bare(f.Min) + " to " + bare(f.Max)
		if f.Kind == KindNumber && f.Unit != "" {
			text += " " + strings.ReplaceAll(f.Unit, "³", "3")
		}
		if f.Zero != "" {
			text += ", or 0 for " + f.Zero
		}
		add("%s", text)
	}
	switch d := f.Default.(type) {
	case float64:
		add("default %s", value(d))
	case int, bool:
		add("default %v", d)
	case string:
		add("default %s", strconv.Quote(d))
	}
	if f.Absent != "" {
		add("default %s", f.Absent)
	}
	return strings.Join(parts, "; ")
}

// example returns a value that the key may have, as TOML, for a starter that
// has none of its own.
func (f *Field) example() string {
	switch f.Kind {
	case KindText, KindSpecies:
		text, _ := f.Default.(string)
		return TOMLText(text)
	case KindChoice, KindShape:
		if text, ok := f.Default.(string); ok {
			return TOMLText(text)
		}
		return TOMLText(f.Words()[0])
	case KindBool:
		on, _ := f.Default.(bool)
		return strconv.FormatBool(on)
	case KindPlace:
		return "{ fret = 12 }"
	case KindStation:
		return "12"
	}
	if f.Kind == KindCount {
		if n, ok := f.Default.(int); ok {
			return strconv.Itoa(n)
		}
		return plain(f.Min)
	}
	v, ok := f.Default.(float64)
	if !ok {
		v = f.Min
	}
	if f.Kind == KindAngle {
		return TOMLNumber(math.Round(degrees(v)*1e9) / 1e9) // -15, not -14.999999999999998
	}
	return TOMLNumber(v)
}

// line returns a line of the starter, with # in front of a key that is only
// shown.
func (f *Field) line(shown bool) string {
	key := f.Key
	if f.Kind == KindStation {
		key = "fret"
	}
	text := key + " = " + f.example()
	if shown {
		text = "# " + text
	}
	if c := f.comment(); c != "" {
		text = fmt.Sprintf("%-28s # %s", text, c)
	}
	return text
}

var (
	starterHeader = regexp.MustCompile(`^\[+([a-z0-9_.]+)\]+`)
	shownHeader   = regexp.MustCompile(`^# \[+([a-z0-9_.]+)\]+$`)
	starterKey    = regexp.MustCompile(`^(?:# )?([a-z0-9_]+)\s*= `)
	starterInline = regexp.MustCompile(`[{,] ([a-z0-9_]+) = `)
	bareComment   = regexp.MustCompile(`\s#$`)
)

// starterFile is the text of the starter while it is filled in.
type starterFile struct {
	keys  Schema
	lines []string
	has   map[string]bool // the keys that it shows
	last  map[string]int  // the last line of each table's first row
	list  map[string]bool // the lists that are written inline
	shown map[string]bool // the tables that are a comment
}

// Starter returns the starter of a schema.
func (k Schema) Starter() string {
	f := &starterFile{
		keys: k, lines: strings.Split(strings.TrimSuffix(starterText, "\n"), "\n"),
		has: make(map[string]bool), last: make(map[string]int), list: make(map[string]bool), shown: make(map[string]bool),
	}
	f.fill()
	added := f.lacking()
	var out strings.Builder
	for i, line := range f.lines {
		out.WriteString(line + "\n")
		for _, more := range added[i] {
			out.WriteString(more + "\n")
		}
	}
	return out.String()
}

// fill gives the lines their comments, and notes what they show.
func (f *starterFile) fill() {
	path, open := "", ""
	rows := make(map[string]int)
	for i, line := range f.lines {
		header, key := starterHeader.FindStringSubmatch(line), starterKey.FindStringSubmatch(line)
		if shown := shownHeader.FindStringSubmatch(line); shown != nil {
			header = shown
			f.shown[shown[1]] = true
		}
		switch {
		case header != nil:
			path, open = header[1], ""
			if rows[path]++; rows[path] == 1 {
				f.last[path] = i
			}
		case open != "" && line == "]":
			f.last[open], open = i-1, ""
		case open != "":
			for _, m := range starterInline.FindAllStringSubmatch(line, -1) {
				f.has[joinKey(open, m[1])] = true
			}
		case key != nil:
			at := joinKey(path, key[1])
			f.has[at] = true
			list := strings.HasSuffix(line, "= [")
			if rows[path] <= 1 && !list { // before a list, not in it
				f.last[path] = i
			}
			if list {
				open = at
				f.list[at] = true
			}
			if bareComment.MatchString(line) {
				f.lines[i] = strings.TrimRight(strings.TrimSuffix(line, "#"), " ")
				if field := f.keys.Field(at); field != nil && field.comment() != "" {
					f.lines[i] = line + " " + field.comment()
				}
			}
		}
	}
}

// lacking returns what the text does not show, by the number of the line that
// it comes after.
func (f *starterFile) lacking() map[int][]string {
	added := make(map[int][]string)
	f.keys.Walk(func(path string, t *Table) {
		at, shown := f.last[path]
		if !shown {
			at = len(f.lines) - 1
			added[at] = append(added[at], t.block(path)...)
			return
		}
		for i := range t.Fields {
			switch field := &t.Fields[i]; {
			case field.Kind == KindStation || f.has[joinKey(path, field.Key)]:
			case f.list[path]:
				added[at] = append(added[at], fmt.Sprintf("  # { %s = %s },   # %s", field.Key, field.example(), field.comment()))
			default:
				added[at] = append(added[at], field.line(!field.Required || f.shown[path]))
			}
		}
	})
	return added
}

// block returns a whole table of the starter as a comment, since the neck of
// the starter does not have it.
func (t *Table) block(path string) []string {
	header := "[" + path + "]"
	if t.Rows.List {
		header = "[" + header + "]"
	}
	out := []string{""}
	if t.Help != "" {
		out = append(out, "# "+t.Help)
	}
	out = append(out, "# "+header)
	for i := range t.Fields {
		out = append(out, t.Fields[i].line(true))
	}
	return out
}
