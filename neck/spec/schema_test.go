package spec

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// extra is what the test's own keys hold: a spec has no room for them.
type extra struct {
	bore   float64
	tilt   float64
	pegs   int
	lined  bool
	finish finish
	mark   *Place
	inlay  *inlay
}

type finish int

type inlay struct {
	width float64
	dots  []dot
}

type dot struct {
	at  Place
	dia float64
}

// grown is the schema with keys of every kind added, in a table that stands
// already and in new ones, and a list in one of those.
func grown(e *extra) Schema {
	k := Keys()
	add := func(table string, f Field) { k = k.With(table, f) }
	add("rod", Field{Key: "bore", Kind: KindLength, Help: "of the hole for the nut of the rod", What: "the bore", Default: 4.0, Min: 2, Max: 20,
		At: func(any) any { return &e.bore }})
	add("rod", Field{Key: "mark", Kind: KindPlace, Help: "where the rod is marked", Blank: true, At: func(any) any { return &e.mark }})
	add("headstock", Field{Key: "tilt", Kind: KindAngle, Help: "sideways", Default: 0.0, Min: radians(-5), Max: radians(5), At: func(any) any { return &e.tilt }})
	add("headstock", Field{Key: "pegs", Kind: KindCount, Help: "how many", Default: 6, Min: 1, Max: 12, Unit: "pegs", At: func(any) any { return &e.pegs }})
	add("headstock", Field{Key: "lined", Kind: KindBool, Help: "whether it has a veneer", At: func(any) any { return &e.lined }})
	add("", Field{Key: "finish", Kind: KindChoice, What: "a finish", Default: "oil", Choices: []string{"oil", "wax", "none"}, At: func(any) any { return OneOf(&e.finish) }})
	add("strings.set", Field{Key: "winding", Kind: KindLength, Blank: true, Min: 0.1, Max: 2, At: func(any) any { return new(float64) }})
	return k.WithTable(&Table{
		Name: "inlay", Help: "What is let into the board.",
		Rows:   Maybe(func(*Spec) **inlay { return &e.inlay }),
		Fields: []Field{{Key: "width", Kind: KindLength, What: "its width", Required: true, Min: 1, Max: 50, At: in(func(i *inlay) *float64 { return &i.width })}},
		Tables: []*Table{{
			Name: "dot", Rows: Several(func(i *inlay) *[]dot { return &i.dots }),
			Fields: []Field{
				{Kind: KindStation, At: in(func(d *dot) *Place { return &d.at })},
				{Key: "diameter", Kind: KindLength, What: "the dot's diameter", Required: true, Min: 1, Max: 15, At: in(func(d *dot) *float64 { return &d.dia })},
			},
		}},
	})
}

// A key that is added to the table of keys is read, checked, hinted at,
// written, and in the starter. (The live page and the fit have tests of their
// own for it.)
//
// Long, since its cases share what is set up first.
func TestAddedKey(t *testing.T) {
	const head = "[headstock]\nthickness = 14\nlength = 180\nwidth = 70\nstep = 8\n"
	const inlays = "[inlay]\nwidth = 12\n[[inlay.dot]]\nfret = 5\ndiameter = \"1/4in\"\n[[inlay.dot]]\nx = 300\ndiameter = 6\n"
	rod := plainSpec // ends in [rod]
	var e extra
	k := grown(&e)
	read := func(text string) (*Spec, error) { return k.Read(strings.NewReader(text), "f") }

	// Read, with its default.
	_, err := read(rod)
	require.NoError(t, err)
	_, err = read("finish = \"wax\"\n" + rod + "bore = \"1/4in\"\nmark = { fret = 7 }\n" + head + "tilt = -2\npegs = 8\nlined = true\n" + inlays)
	require.NoError(t, err)
	at := AtFret(7)
	assert.Equal(t, extra{bore: 6.35, tilt: radians(-2), pegs: 8, lined: true, finish: 1, mark: &at,
		inlay: &inlay{12, []dot{{AtFret(5), 6.35}, {AtX(300), 6}}}}, e)

	// Written, and read back the same.
	var b strings.Builder
	s, err := read("finish = \"wax\"\n" + rod + "bore = 5\nmark = { fret = 7 }\n" + head + "tilt = -2\npegs = 8\nlined = true\n" + inlays)
	require.NoError(t, err)
	require.NoError(t, k.WriteTOML(s, &b))
	for _, want := range []string{
		"\nunits = \"mm\"\nfinish = \"wax\"\n", "\nfloor = \"flat\"\nbore = 5\nmark = { fret = 7 }\n", "\ntilt = -2\npegs = 8\nlined = true\n",
		"\n[inlay]\nwidth = 12\n\n[[inlay.dot]]\nfret = 5\ndiameter = 6.35\n\n[[inlay.dot]]\nx = 300\ndiameter = 6\n",
	} {
		assert.Contains(t, b.String(), want)
	}
	was := e
	e = extra{}
	_, err = read(b.String())
	require.NoError(t, err)
	assert.Equal(t, was, e)

	// Checked.
	e.bore, e.tilt, e.pegs, e.finish, e.inlay.dots[1].dia, e.inlay.dots[0].at.Fret = 1, radians(9), 20, 7, 16, -1
	var got []string
	s.Source = nil
	for _, p := range k.Validate(s) {
		got = append(got, p.Error())
	}
	assert.Equal(t, []string{
		`finish: this is not a finish; allowed: "oil", "wax" or "none"`,
		"rod.bore: 1 mm is not sensible here; allowed: 2 mm to 20 mm",
		"headstock.tilt: 9° is not sensible here; allowed: -5° to 5°",
		"headstock.pegs: 20 pegs is not sensible; allowed: 1 to 12",
		"inlay.dot[1].fret: fret -1 is not sensible here; allowed: fret 0 to fret 100",
		"inlay.dot[2].diameter: 16 mm is not sensible here; allowed: 1 mm to 15 mm",
	}, got)

	// Refused in its form, and hinted at.
	for text, want := range map[string]string{
		rod + "bor = 5\n":              "f:21: rod.bor: unknown key (is bore meant?); allowed: width, depth, from, to, floor, bore, mark",
		"bore = 5\n" + rod:             "f:1: bore: unknown key (bore belongs in the table [rod]); allowed: " + strings.Replace(topKeys(), ", scale,", ", finish, scale,", 1) + ", inlay",
		rod + "bore = true\n":          "f:21: rod.bore: true stands here; a number (a length in mm) is wanted",
		rod + head + "lined = 1\n":     "f:26: headstock.lined: the number 1 stands here; true or false, without quotes, is wanted",
		"finish = \"lacquer\"\n" + rod: `f:1: finish: "lacquer" is not a finish; allowed: "oil", "wax" or "none"`,
		rod + "[inlay]\n":              "f:21: inlay.width: missing; its width is required",
		rod + "[[inlay]]\nwidth = 4\n": "f:21: inlay: double square brackets; this table stands once and is written [inlay]",
		rod + "[inlay]\nwidth = 4\n[[inlay.dot]]\nx = 3\ndiametr=4\n": "f:23: inlay.dot[1].diameter: missing; the dot's diameter is required\nf:25: inlay.dot[1].diametr: unknown key (is diameter meant?); allowed: fret, x, diameter",
		rod + "[inlay]\nwidth = 4\n[inlay.dot]\nx = 3\n":              "f:23: inlay.dot: single square brackets; each is written [[inlay.dot]], in double square brackets, since there can be several",
	} {
		_, err := read(text)
		assert.EqualError(t, err, want, text)
	}

	// In the starter, which is a spec of the schema, and says what it said.
	starter := k.Starter()
	for _, want := range []string{
		"\n# bore = 4                   # of the hole for the nut of the rod; 2 to 20; default 4\n",
		"\n# mark = { fret = 12 }       # where the rod is marked\n",
		"\n# tilt = 0                   # sideways; -5 to 5 degrees; default 0\n",
		"\n# pegs = 6                   # how many; 1 to 12; default 6\n",
		"\n# lined = false              # whether it has a veneer; true or false\n",
		"\n# finish = \"oil\"             # \"oil\", \"wax\" or \"none\"; default \"oil\"\n",
		"\n  # { winding = 0.1 },   # 0.1 to 2\n]\n",
		"\n# What is let into the board.\n# [inlay]\n# width = 1                  # 1 to 50\n",
		"\n# [[inlay.dot]]\n# fret = 12\n# diameter = 1               # 1 to 15\n",
	} {
		assert.True(t, strings.Contains(starter, want), want)
	}
	assert.True(t, strings.Contains(starter, "default \"flat\"\n# bore = 4 "), "after the last key of its table")
	assert.True(t, strings.Contains(starter, "default 0\n# tilt = 0 "), "even after one that is only shown")
	e = extra{}
	s, err = read(starter)
	require.NoError(t, err)
	assert.Equal(t, without(Demo()), without(s))
	assert.Equal(t, extra{bore: 4, pegs: 6}, e)
	kept := starter
	for _, line := range strings.Split(starter, "\n") {
		if !strings.Contains(Starter(), line+"\n") {
			kept = strings.Replace(kept, line+"\n", "", 1)
		}
	}
	assert.Equal(t, strings.TrimSpace(Starter()), strings.TrimSpace(kept), "no line of the starter is lost or changed")

	// The program's own schema has not grown.
	assert.Nil(t, Keys().Field("rod.bore"))
	assert.NotNil(t, k.Field("inlay.dot[3].diameter"))
	assert.Equal(t, 50.0, Keys().Field("scale.length").Min)
	assert.Nil(t, Keys().Field("nothing.at.all"))
}

// Every key has what the page, the starter and messages say of it, and limits
// that its default and its slider keep.
func TestEveryKeyIsTold(t *testing.T) {
	Keys().Walk(func(path string, table *Table) {
		assert.NotEmpty(t, table.Title, path)
		assert.NotEmpty(t, table.Help, path)
		for i := range table.Fields {
			f := &table.Fields[i]
			at := path + "." + f.Key
			assert.NotEmpty(t, f.Label, at)
			assert.True(t, f.Help != "" || f.Kind == KindChoice, at)
			assert.False(t, f.Required && f.What == "", at)
			switch f.Kind {
			case KindLength, KindAngle, KindNumber, KindCount:
				require.Less(t, f.Min, f.Max, at)
				assert.True(t, f.Min <= f.From && f.From < f.To && f.To <= f.Max, at)
				if d, ok := f.Default.(float64); ok && !(d == 0 && f.Zero != "") {
					assert.True(t, f.Min <= d && d <= f.Max, at)
				}
			}
		}
	})
}
