package tomledit_test

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

func parse(t require.TestingT, text string) *tomledit.Document {
	d, err := tomledit.Parse(text)
	require.NoError(t, err, text)
	return d
}

// decode reads a text with the library that edits are judged by.
func decode(t require.TestingT, text string) map[string]any {
	var m map[string]any
	require.NoError(t, toml.Unmarshal([]byte(text), &m), text)
	return m
}

func TestSetKeepsEverythingElse(t *testing.T) {
	text := "# A neck\nname  = \"Tern\"      # printed\n\n[scale]   # required\n\tlength = 636    # long\nfrets = 22\n"
	d := parse(t, text)
	require.NoError(t, d.Set("scale.length", tomledit.Number(640.25)))
	require.Equal(t, strings.Replace(text, "636    #", "640.25 #", 1), d.String())
	require.NoError(t, d.Set("name", tomledit.Text("A longer name than there is room for")))
	require.Contains(t, d.String(), `"A longer name than there is room for" # printed`)
}

// TestEditsOfEveryForm is long, since it is one table of cases.
func TestEditsOfEveryForm(t *testing.T) {
	for _, c := range []struct {
		name, before string
		edit         func(d *tomledit.Document) error
		after        string
	}{
		{"missing key goes behind the last of its table", "[a]\nx = 1 # one\n\n# about b\n[b]\ny = 2\n",
			func(d *tomledit.Document) error { return d.Set("a.z", "3") },
			"[a]\nx = 1 # one\nz = 3\n\n# about b\n[b]\ny = 2\n"},
		{"missing key of an empty table", "[a] # empty\n[b]\n",
			func(d *tomledit.Document) error { return d.Set("a.z", "3") },
			"[a] # empty\nz = 3\n[b]\n"},
		{"missing table goes to the end", "[a]\nx = 1",
			func(d *tomledit.Document) error { return d.Set("b.y", "2") },
			"[a]\nx = 1\n\n[b]\ny = 2\n"},
		{"key of the top stays before the tables", "# file\n\n# about a\n[a]\nx = 1\n",
			func(d *tomledit.Document) error { return d.Set("name", tomledit.Text("n")) },
			"# file\n\nname = \"n\"\n\n# about a\n[a]\nx = 1\n"},
		{"key of the top behind others", "a = 1\n\n[b]\n",
			func(d *tomledit.Document) error { return d.Set("c", "2") },
			"a = 1\nc = 2\n\n[b]\n"},
		{"inline table", "p = { x = 6 } # here\n",
			func(d *tomledit.Document) error { return d.Set("p.x", "12.5") },
			"p = { x = 12.5 } # here\n"},
		{"rename inside an inline table", "[rod]\nfrom = { x = 6 }\n",
			func(d *tomledit.Document) error { return d.Rename("rod.from.x", "fret", "1") },
			"[rod]\nfrom = { fret = 1 }\n"},
		{"rename keeps the comment", "[[depth]]\nfret = 1 # near the nut\n",
			func(d *tomledit.Document) error { return d.Rename("depth[1].fret", "x", "35") },
			"[[depth]]\nx = 35   # near the nut\n"},
		{"rename of a dotted key", "rod.from.x = 6\n",
			func(d *tomledit.Document) error { return d.Rename("rod.from.x", "fret", "1") },
			"rod.from.fret = 1\n"},
		{"key of an inline table", "w = { height = 1 }\n",
			func(d *tomledit.Document) error { return d.Set("w.other", "2") },
			"w = { height = 1, other = 2 }\n"},
		{"key of an empty inline table", "w = {}\n",
			func(d *tomledit.Document) error { return d.Set("w.other", "2") },
			"w = { other = 2 }\n"},
		{"key beside dotted keys", "a.x = 1\nb = 2\n",
			func(d *tomledit.Document) error { return d.Set("a.y", "3") },
			"a.x = 1\na.y = 3\nb = 2\n"},
		{"windows line ends", "[a]\r\nx = 1\r\n",
			func(d *tomledit.Document) error { return d.Set("a.y", "2") },
			"[a]\r\nx = 1\r\ny = 2\r\n"},
		{"second entry of a list", "[[d]]\nx = 1\n\n# next\n[[d]]\nx = 3\n[e]\n",
			func(d *tomledit.Document) error { return d.Insert("d", 2, tomledit.Field{Key: "x", Value: "2"}) },
			"[[d]]\nx = 1\n\n# next\n[[d]]\nx = 2\n[[d]]\nx = 3\n[e]\n"},
		{"last entry of a list", "[[d]]\nx = 1 # one\n# free\n[e]\n",
			func(d *tomledit.Document) error { return d.Insert("d", 2, tomledit.Field{Key: "x", Value: "2"}) },
			"[[d]]\nx = 1 # one\n[[d]]\nx = 2\n# free\n[e]\n"},
		{"entry of a list by lines", "set = [\n  { a = 1 }, # one\n  { a = 2 },\n  # rest\n]\n",
			func(d *tomledit.Document) error { return d.Insert("set", 3, tomledit.Field{Key: "a", Value: "3"}) },
			"set = [\n  { a = 1 }, # one\n  { a = 2 },\n  { a = 3 },\n  # rest\n]\n"},
		{"first entry of a list on one line", "set = [{ a = 1 }]\n",
			func(d *tomledit.Document) error { return d.Insert("set", 1, tomledit.Field{Key: "a", Value: "0"}) },
			"set = [{ a = 0 }, { a = 1 }]\n"},
		{"no list yet", "[a]\n",
			func(d *tomledit.Document) error { return d.Insert("p", 1, tomledit.Field{Key: "x", Value: "1"}) },
			"[a]\n\n[[p]]\nx = 1\n"},
		{"remove a key with its comment", "[a]\n# above\nx = 1 # one\ny = 2\n",
			func(d *tomledit.Document) error { return d.Remove("a.x") },
			"[a]\n# above\ny = 2\n"},
		{"remove a table", "[a]\nx = 1\n# about b\n[b] # the b\ny = 2\n# behind\n[c]\n",
			func(d *tomledit.Document) error { return d.Remove("b") },
			"[a]\nx = 1\n# about b\n# behind\n[c]\n"},
		{"remove a table with parts of its own", "[s]\nx = 1\n[a]\n[[s.set]]\ny = 2\n[[s.set]]\ny = 3\n",
			func(d *tomledit.Document) error { return d.Remove("s") },
			"[a]\n"},
		{"remove an entry of a list", "[[d]]\nx = 1\n[[d]]\nx = 2\n[[d]]\nx = 3\n",
			func(d *tomledit.Document) error { return d.Remove("d[2]") },
			"[[d]]\nx = 1\n[[d]]\nx = 3\n"},
		{"remove an entry by lines", "set = [\n  { a = 1 }, # one\n  { a = 2 }, # two\n  { a = 3 },\n]\n",
			func(d *tomledit.Document) error { return d.Remove("set[2]") },
			"set = [\n  { a = 1 }, # one\n  { a = 3 },\n]\n"},
		{"remove the last of a line", "set = [ { a = 1 }, { a = 2 } ]\n",
			func(d *tomledit.Document) error { return d.Remove("set[2]") },
			"set = [ { a = 1 } ]\n"},
		{"remove the first of a line", "p = { x = 1, y = 2 }\n",
			func(d *tomledit.Document) error { return d.Remove("p.x") },
			"p = { y = 2 }\n"},
		{"remove dotted keys", "a.x = 1\nb = 2\na.y = 3\n",
			func(d *tomledit.Document) error { return d.Remove("a") },
			"b = 2\n"},
		{"values that look like what they are not", "a = \"x # no\" # yes\nb = '''\n]''' \nc = [ \"]\", '#' ] # list\nd = 1979-05-27 07:32:00Z\n",
			func(d *tomledit.Document) error { return d.Set("c", "[]") },
			"a = \"x # no\" # yes\nb = '''\n]''' \nc = []           # list\nd = 1979-05-27 07:32:00Z\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := parse(t, c.before)
			require.NoError(t, c.edit(d))
			require.Equal(t, c.after, d.String())
			decode(t, d.String())
		})
	}
}

func TestRefusals(t *testing.T) {
	d := parse(t, "a = 1\n[t]\nx = 1\n[[l]]\n")
	before := d.String()
	for _, err := range []error{
		d.Set("a.b", "1"), d.Set("t", "1"), d.Set("l[2].x", "1"), d.Set("q.r.s", "1"), d.Set("a", "not toml ="),
		d.Set("a b", "1"), d.Set("l[0]", "1"), d.Set("l[", "1"), d.Set("", "1"),
		d.Remove("nothing"), d.Rename("t", "u", "1"), d.Rename("t.x", "bad name", "1"),
		d.Insert("l", 3), d.Insert("t", 1), d.Insert("l", 0), d.AddTable("t"), d.AddTable("l[1].u"), d.AddTable("a.b"),
	} {
		require.Error(t, err)
	}
	require.Equal(t, before, d.String())
	_, err := tomledit.Parse("a = 1\nb = = 2\n")
	require.ErrorContains(t, err, "line 2")
	_, err = tomledit.Parse("a = 1\na = 2\n")
	require.ErrorContains(t, err, "line 2")
}

func TestLiterals(t *testing.T) {
	drawn.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e18, 1e18).Draw(t, "number")
		s := rapid.String().Draw(t, "text")
		m := decode(t, "v = "+string(tomledit.Number(v))+"\ns = "+string(tomledit.Text(s))+"\n")
		switch got := m["v"].(type) {
		case float64:
			require.Equal(t, v, got)
		case int64:
			require.Equal(t, v, float64(got))
		}
		require.Equal(t, strings.ToValidUTF8(s, "\uFFFD"), m["s"])
	})
}

// specs returns the texts of every spec of the tests, and other ways to write
// the same.
func specs(t *testing.T) []string {
	texts := []string{spec.Starter(), strings.ReplaceAll(spec.Starter(), "\n", "\r\n")}
	files, err := filepath.Glob("../../../testdata/specs/*.toml")
	require.NoError(t, err)
	require.NotEmpty(t, files)
	for _, f := range files {
		data, err := os.ReadFile(f)
		require.NoError(t, err)
		texts = append(texts, string(data))
	}
	return append(texts,
		"scale = { length = 600, frets = 20 } # all in one\nwidth.nut = 42\nwidth.end = 55\nboard.thickness = 6\ndepth = [ { fret = 1, total = 20 }, { fret = 12, total = 22 } ]\n[rod.from]\nx = 5\n",
		"[[strings.set]]\npitch = \"E4\"\n[[strings.set]]\npitch = \"B3\"\n[strings]\nheight_12 = 3\n",
	)
}

var comment = regexp.MustCompile(`(?m)#.*$`)

// TestRandomEdits makes random edits and compares what the library reads with
// the same edits made on a map.
func TestRandomEdits(t *testing.T) {
	texts := specs(t)
	drawn.Check(t, func(t *rapid.T) {
		text := texts[rapid.IntRange(0, len(texts)-1).Draw(t, "text")]
		d := parse(t, text)
		want := decode(t, text)
		comments := comment.FindAllString(text, -1)
		for range rapid.IntRange(1, 6).Draw(t, "edits") {
			tables, values := paths(want, "")
			v := rapid.Float64Range(-1000, 1000).Draw(t, "value")
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0: // a value there is
				if len(values) == 0 {
					continue
				}
				p := rapid.SampledFrom(values).Draw(t, "path")
				require.NoError(t, d.Set(p, tomledit.Number(v)), p)
				put(want, p, v)
			case 1: // a new key
				p := rapid.SampledFrom(tables).Draw(t, "path") + "new"
				require.NoError(t, d.Set(p, tomledit.Number(v)), p)
				put(want, p, v)
			case 2: // a key or a list entry away
				all := append(slices.Clone(values), entries(want, "")...)
				if len(all) == 0 {
					continue
				}
				p := rapid.SampledFrom(all).Draw(t, "path")
				require.NoError(t, d.Remove(p), p)
				remove(want, p)
				comments = nil // one that belongs to it may go
			case 3: // a list entry
				lists := []string{"depth", "profile"}
				p := rapid.SampledFrom(lists).Draw(t, "list")
				old, _ := want[p].([]any)
				if want[p] != nil && old == nil {
					continue
				}
				i := rapid.IntRange(0, len(old)).Draw(t, "place")
				require.NoError(t, d.Insert(p, i+1, tomledit.Field{Key: "x", Value: tomledit.Number(v)}))
				want[p] = slices.Insert(slices.Clone(old), i, any(map[string]any{"x": v}))
			case 4: // a table
				p := fmt.Sprintf("table%d", rapid.IntRange(0, 3).Draw(t, "name"))
				err := d.AddTable(p, tomledit.Field{Key: "x", Value: tomledit.Number(v)})
				if want[p] != nil {
					require.Error(t, err)
					continue
				}
				require.NoError(t, err)
				want[p] = map[string]any{"x": v}
			}
			require.Equal(t, plain(want), plain(decode(t, d.String())), d.String())
		}
		for _, c := range comments {
			require.Contains(t, d.String(), strings.TrimSpace(c))
		}
	})
}

// plain makes every number a float64 and drops empty tables and lists, which an
// edit may leave or not.
func plain(v any) any {
	switch v := v.(type) {
	case int64:
		return float64(v)
	case map[string]any:
		out := make(map[string]any)
		for k, x := range v {
			if p := plain(x); p != nil {
				out[k] = p
			}
		}
		if len(out) == 0 {
			return nil
		}
		return out
	case []any:
		var out []any
		for _, x := range v {
			out = append(out, plain(x))
		}
		if len(out) == 0 {
			return nil
		}
		return out
	}
	return v
}

// paths returns the prefixes of the tables that a key can be added to, and the
// paths of the single values.
func paths(m map[string]any, at string) (tables, values []string) {
	tables = append(tables, at)
	for _, k := range sortedKeys(m) {
		p := at + k
		switch v := m[k].(type) {
		case map[string]any:
			t, w := paths(v, p+".")
			tables, values = append(tables, t...), append(values, w...)
		case []any:
			for i, x := range v {
				if e, ok := x.(map[string]any); ok {
					t, w := paths(e, fmt.Sprintf("%s[%d].", p, i+1))
					tables, values = append(tables, t...), append(values, w...)
				}
			}
		default:
			values = append(values, p)
		}
	}
	return tables, values
}

// entries returns the paths of the list entries.
func entries(m map[string]any, at string) (out []string) {
	for _, k := range sortedKeys(m) {
		switch v := m[k].(type) {
		case map[string]any:
			out = append(out, entries(v, at+k+".")...)
		case []any:
			for i := range v {
				out = append(out, fmt.Sprintf("%s%s[%d]", at, k, i+1))
			}
		}
	}
	return out
}

func sortedKeys(m map[string]any) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

var stepForm = regexp.MustCompile(`[^.\[\]]+|\[\d+\]`)

// walk returns the container of the last step of a path, and the step.
func walk(m map[string]any, path string) (in any, last string) {
	steps := stepForm.FindAllString(path, -1)
	in = m
	for _, s := range steps[:len(steps)-1] {
		in = step(in, s)
	}
	return in, steps[len(steps)-1]
}

func step(in any, s string) any {
	if i, ok := index(s); ok {
		return in.([]any)[i]
	}
	return in.(map[string]any)[s]
}

func index(s string) (int, bool) {
	var i int
	n, _ := fmt.Sscanf(s, "[%d]", &i)
	return i - 1, n == 1
}

func put(m map[string]any, path string, v any) {
	in, last := walk(m, path)
	in.(map[string]any)[last] = v
}

func remove(m map[string]any, path string) {
	in, last := walk(m, path)
	i, ok := index(last)
	if !ok {
		delete(in.(map[string]any), last)
		return
	}
	// Put the shortened list back where it was.
	list := slices.Delete(slices.Clone(in.([]any)), i, i+1)
	outer, name := walk(m, strings.TrimSuffix(path, last))
	if len(list) == 0 {
		delete(outer.(map[string]any), name)
		return
	}
	outer.(map[string]any)[name] = list
}
