package tomledit_test

import (
	"fmt"
	"runtime"
	"strings"
	"testing"

	"github.com/pelletier/go-toml/v2"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render/live/tomledit"
)

// hostile are ways to write texts that cost a careless reader more than in
// proportion to their length. Each returns about so many bytes.
var hostile = map[string]func(size int) string{
	"one dotted key": func(n int) string { return strings.Repeat("a.", n/2) + "b = 1\n" },
	"dotted keys, each a step longer": func(n int) string {
		var b strings.Builder
		for i := 0; b.Len() < n; i++ {
			fmt.Fprintf(&b, "k%d.%sb = 1\n", i, strings.Repeat("a.", i))
		}
		return b.String()
	},
	"one header":    func(n int) string { return "[" + strings.Repeat("a.", n/2) + "b]\n" },
	"headers":       func(n int) string { return numbered(n, "[t%d]\n") },
	"list headers":  func(n int) string { return strings.Repeat("[[l]]\n", n/6) },
	"keys":          func(n int) string { return numbered(n, "k%d=1\n") },
	"nested lists":  func(n int) string { return "a = " + strings.Repeat("[", n/2) + strings.Repeat("]", n/2) + "\n" },
	"nested tables": func(n int) string { return "a = " + strings.Repeat("{a=", n/4) + "1" + strings.Repeat("}", n/4) + "\n" },
	"one list":      func(n int) string { return "a = [" + strings.Repeat("1,", n/2) + "]\n" },
	"dates":         func(n int) string { return "a = [" + strings.Repeat("1979-05-27 07:32:00Z,", n/21) + "]\n" },
	"one long name": func(n int) string {
		return "[" + strings.Repeat("x", n/2) + "]\n" + numbered(n/2, "k%d=1\n")
	},
	"long name with dotted keys": func(n int) string {
		return strings.Repeat("x", n/2) + ".a = 1\n" + numbered(n/2, "x.k%d=1\n")
	},
	"dotted keys of one table": func(n int) string { return numbered(n, "d.k%d=1\n") },
	"quotes":                   func(n int) string { return "a = [" + strings.Repeat(`"",`, n/3) + "]\n" },
	"comments":                 func(n int) string { return strings.Repeat("#\n", n/2) + "[a]\n" },
	"an inline table":          func(n int) string { return "a = {" + strings.TrimSuffix(numbered(n, "k%d=1,"), ",") + "}\n" },
}

func numbered(size int, format string) string {
	var b strings.Builder
	for i := 0; b.Len() < size; i++ {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// allocated returns the bytes that fn asks for.
func allocated(fn func()) float64 {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	fn()
	runtime.ReadMemStats(&after)
	return float64(after.TotalAlloc - before.TotalAlloc)
}

// TestHostileTextsCostNoMoreThanTheirLength edits each text in all ways and
// holds the memory to so much a byte, whatever the size: some 20 times the
// text for an edit of the starter.
// Without DRAWN=all it takes some of the cases.
func TestHostileTextsCostNoMoreThanTheirLength(t *testing.T) {
	const perByte = 300.0
	for name, make := range hostile {
		t.Run(name, func(t *testing.T) {
			for _, size := range drawn.Some([]int{100_000, 400_000}, 1) {
				text := make(size)
				require.Greater(t, len(text), size*9/10)
				got := allocated(func() {
					d, err := tomledit.Parse(text)
					if err != nil {
						require.Regexp(t, `^line \d+`, err.Error())
						return
					}
					d.Set("name", tomledit.Text("n"))
					d.Remove("d")
					d.AddTable("rod", tomledit.Field{Key: "width", Value: "6"})
					d.Insert("l", 1, tomledit.Field{Key: "x", Value: "1"})
				}) / float64(len(text))
				t.Logf("%d bytes: %.0f a byte", len(text), got)
				require.Less(t, got, perByte, "%d bytes", len(text))
				// The text is read by the spec's reader too.
				got = allocated(func() { spec.Read(strings.NewReader(text), "") }) / float64(len(text))
				t.Logf("read: %.0f a byte", got)
				require.Less(t, got, 2*perByte, "read, %d bytes", len(text))
			}
		})
	}
}

// TestCapsAreWideEnough takes what lies just inside each cap and refuses what
// lies just outside.
func TestCapsAreWideEnough(t *testing.T) {
	parts := func(n int) string { return strings.Repeat("a.", n-1) + "a" }
	nested := func(n int) string { return strings.Repeat("[", n) + strings.Repeat("]", n) }
	for _, c := range []struct{ in, out, says string }{
		{parts(8) + " = 1", parts(9) + " = 1", "line 1: a key has more than 8 steps"},
		{"[" + parts(8) + "]", "x = 1\n[" + parts(9) + "]", "line 2: a key has more than 8 steps"},
		{"a = " + nested(9), "a = " + nested(10), "line 1: lists and tables stand in each other more than 8 deep"},
		{"a = {a = {a = {a = {a = {a = {a = {a = {a = 1}}}}}}}}", "a = {a = {a = {a = {a = {a = {a = {a = {a = {a = 1}}}}}}}}}", "more than 8 deep"},
		{"l = [" + strings.Repeat("1,", 19_999) + "]", "l = [\n" + strings.Repeat("1,", 20_000) + "]", "line 2: the text has more than 20000 values"},
		{numberedTimes(20_000, "k%d = 1\n"), numberedTimes(20_001, "k%d = 1\n"), "line 20001: the text has more than 20000 values"},
		{numberedTimes(20_000, "[t%d]\n"), numberedTimes(20_001, "[t%d]\n"), "line 20001: the text has more than 20000 values"},
		{numberedTimes(10_000, "t%d.a = 1\n"), numberedTimes(10_001, "t%d.a = 1\n"), "line 10001: the text has more than 20000 values"},
		{numberedTimes(10_000, "[t%d.a]\n"), numberedTimes(10_001, "[t%d.a]\n"), "line 10001: the text has more than 20000 values"},
		{"#" + strings.Repeat("x", 1<<20-1), "#" + strings.Repeat("x", 1<<20), "larger than 1048576 bytes"},
	} {
		_, err := tomledit.Parse(c.in)
		require.NoError(t, err, "%.40s", c.in)
		_, err = tomledit.Parse(c.out)
		require.ErrorContains(t, err, c.says, "%.40s", c.out)
	}
	// An edit that leads out of a cap is undone.
	text := "#" + strings.Repeat("x", 1<<20-10) + "\n"
	d := parse(t, text)
	require.ErrorContains(t, d.Set("name", tomledit.Text("long enough")), "larger than")
	require.Equal(t, text, d.String())
	// Counting begins anew with each reading.
	d = parse(t, numberedTimes(19_000, "k%d = 1\n"))
	for range 3 {
		require.NoError(t, d.Set("k7", "2"))
	}
}

func numberedTimes(times int, format string) string {
	var b strings.Builder
	for i := range times {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

func TestSetAll(t *testing.T) {
	text := "a = 1     # one\nb = { x = 2, y = 3 }\n[[l]]\nx = 4 # four\n"
	d := parse(t, text)
	require.NoError(t, d.SetAll(map[string]tomledit.Literal{"l[1].x": "40", "a": "1.2345", "b.y": "30", "b.x": "20"}))
	want := "a = 1.2345 # one\nb = { x = 20, y = 30 }\n[[l]]\nx = 40 # four\n"
	require.Equal(t, want, d.String())
	for _, bad := range []map[string]tomledit.Literal{
		{"a": "5", "c": "1"}, {"a": "5", "l": "1"}, {"a": "5", "b": "{}", "b.x": "1"}, {"a": "= 5"}, {"a b": "1"},
	} {
		require.Error(t, d.SetAll(bad), "%v", bad)
		require.Equal(t, want, d.String())
	}
	require.NoError(t, d.SetAll(nil))
	require.Equal(t, want, d.String())
}

// TestRemoveOfScatteredKeys takes out a table whose dotted keys do not stand in
// the order of their tables.
func TestRemoveOfScatteredKeys(t *testing.T) {
	d := parse(t, "a.x = 1\na.b.c = 2\nk = 0\na.y = 3\na.b.d = 4\n# end\n")
	require.NoError(t, d.Remove("a"))
	require.Equal(t, "k = 0\n# end\n", d.String())
}

// FuzzEdits holds every edit to the library's reader: a text that was TOML stays
// TOML, a value that was set is there, and an error leaves the text as it was.
func FuzzEdits(f *testing.F) {
	f.Add(spec.Starter(), "width.nut", 43.5)
	f.Add("a.b = 1\na.c = {x = [1, {y = 2}]}\n", "a.c.z", 0.0)
	f.Add("[[depth]]\nfret = 1 # one\n[[depth]]\n", "depth[2].fret", 12.0)
	f.Add("a = \"\"\"\n]\"\"\"\r\nd = 1979-05-27 07:32:00Z\r\n", "d", -1.0)
	f.Add("a = [[[[[[[[[[]]]]]]]]]]", "a", 1.0)
	for _, make := range hostile {
		f.Add(make(300), "a.b", 1.0)
	}
	f.Fuzz(func(t *testing.T, text, path string, value float64) {
		if _, err := tomledit.Parse(text); err != nil {
			return
		}
		var m map[string]any
		sound := toml.Unmarshal([]byte(text), &m) == nil
		for name, edit := range map[string]func(d *tomledit.Document) error{
			"set": func(d *tomledit.Document) error { return d.Set(path, tomledit.Number(value)) },
			"set all": func(d *tomledit.Document) error {
				return d.SetAll(map[string]tomledit.Literal{path: tomledit.Number(value)})
			},
			"remove": func(d *tomledit.Document) error { return d.Remove(path) },
			"insert": func(d *tomledit.Document) error { return d.Insert(path, 1, tomledit.Field{Key: "x", Value: "1"}) },
			"rename": func(d *tomledit.Document) error { return d.Rename(path, "other", tomledit.Number(value)) },
			"add":    func(d *tomledit.Document) error { return d.AddTable(path) },
		} {
			if value != value || value-value != 0 {
				continue // no number of TOML's that a spec may have
			}
			d, err := tomledit.Parse(text)
			if err != nil {
				t.Fatal(err)
			}
			if err := edit(d); err != nil {
				if d.String() != text {
					t.Fatalf("%s failed and changed the text: %v", name, err)
				}
				continue
			}
			var after map[string]any
			if err := toml.Unmarshal([]byte(d.String()), &after); sound && err != nil {
				t.Fatalf("%s %q made %q of %q: %v", name, path, d, text, err)
			}
			if raw, ok := d.Raw(path); strings.HasPrefix(name, "set") && (!ok || raw != string(tomledit.Number(value))) {
				t.Fatalf("%s %q is %q and not %v in %q", name, path, raw, value, d)
			}
		}
	})
}
