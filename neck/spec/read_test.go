package spec

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// specPaths returns the specs that the tests share.
func specPaths(t testing.TB) []string {
	files, err := filepath.Glob("../../testdata/specs/*.toml")
	require.NoError(t, err)
	require.GreaterOrEqual(t, len(files), 6)
	return files
}

// readText reads a spec in a file called f.
func readText(text string) (*Spec, error) { return Read(strings.NewReader(text), "f") }

// without returns a spec without its Source, to compare.
func without(s *Spec) *Spec {
	c := *s
	c.Source = nil
	return &c
}

func TestSpecFilesValidate(t *testing.T) {
	for _, path := range specPaths(t) {
		s, err := ReadFile(path)
		require.NoError(t, err)
		assert.Empty(t, s.Validate().Errors(), path)
	}
}

func TestReadDefaults(t *testing.T) {
	s, err := readText("[scale]\nlength = 600\nfrets = 20\n[width]\nnut = 40\nend = 50\n[board]\nthickness = 5\n[[depth]]\nx = 100\ntotal = 20\n")
	require.NoError(t, err)
	assert.Equal(t, &Spec{
		Name:    "neck",
		Scale:   Scale{Length: 600, Frets: 20},
		Width:   Width{40, 50, 8},
		Board:   Board{Thickness: 5},
		Depth:   []DepthTarget{{AtX(100), 20}},
		Profile: []ProfileStation{{At: AtFret(1), Shape: "C", Bass: 2, Treble: 2}},
		Wall:    1,
		Limits:  Limits{Cover: 3},
		Wood:    Wood{Species: "sugar maple"},
	}, without(s))

	s, err = readText(plainSpec + "[headstock]\nthickness = 14\nlength = 180\nwidth = 70\nstep = 8\n" +
		"[heel]\nstart = {fret=16}\nfull = {fret=18}\nend = {x=440}\ntotal = 26\nwidth = 50\n[blank]\nwidth=80\nlength=700\nthickness=30\n" +
		"[volute]\nrise=3\ncentre={x=-12}\nlength=40\n")
	require.NoError(t, err)
	assert.Equal(t, FloorFlat, s.Rod.Floor)
	assert.Equal(t, &Headstock{Thickness: 14, Length: 180, Width: 70, Shelf: 5, Step: 8, Cove: 15, Corner: 2}, s.Headstock)
	assert.Equal(t, &Heel{Start: AtFret(16), Full: AtFret(18), End: AtX(440), Total: 26, Width: 50, Corner: 3}, s.Heel)
	assert.Equal(t, &Blank{Thickness: 30, Width: 80, Length: 700}, s.Blank)
	assert.Equal(t, &Volute{Rise: 3, Centre: AtX(-12), Length: 40}, s.Volute)
	assert.Equal(t, "Knot", s.Name)
}

// Every default that the starter's comments state is the one that a spec has
// without the key.
func TestStarterStatesDefaults(t *testing.T) {
	for line, def := range map[string]float64{
		"past_last_fret": 8, "height": 1, "shelf": 5, "# cove": 15, "# corner": 2, "corner": 3, "cover": 3,
		"height_nut": 1.6, "height_12": 3, "radius_nut": 0, "apex": 0, "angle": 0,
	} {
		found := false
		for _, text := range strings.Split(Starter(), "\n") {
			if strings.HasPrefix(text, line+" =") {
				found = true
				_, stated, _ := strings.Cut(text, "default ")
				v, err := parseNumber(stated)
				require.NoError(t, err, text)
				assert.Equal(t, def, v, text)
			}
		}
		assert.True(t, found, line)
	}
	for _, words := range []string{`default "neck"`, `default "mm"`, `default "flat"`, `default "sugar maple"`,
		"default as at the nut", "default the neck's wood", "default the heel's full block", `With no [[profile]] the neck is a "` + defaultShape + `"`} {
		assert.Contains(t, Starter(), words)
	}
}

func TestReadShapes(t *testing.T) {
	for text, want := range map[string]ProfileStation{
		"shape = 'U'":                            {Shape: "U", Bass: 3, Treble: 3},
		"shape = 'Soft-v'\napex = -1":            {Shape: "soft-V", Bass: 1.7, Treble: 1.7, Apex: -1},
		"bass = 2.5\ntreble = 2":                 {Bass: 2.5, Treble: 2},
		"shape = 'C'\ntreble = 2.2":              {Shape: "C", Bass: 2, Treble: 2.2},
		"shape = 'C'\nbass = 4\napex = 0.5 # mm": {Shape: "C", Bass: 4, Treble: 2, Apex: 0.5},
	} {
		s, err := readText(plainSpec + "[[profile]]\nx = 50\n" + text)
		require.NoError(t, err, text)
		want.At = AtX(50)
		assert.Equal(t, []ProfileStation{want}, s.Profile, text)
	}
}

// The same neck in inches and in millimetres is the same spec.
func TestReadInches(t *testing.T) {
	in, err := readText(`units = "in"
scale = { length = 25, frets = 20 }
width = { nut = 1.75, end = 2.25, past_last_fret = 0.5 }
board = { thickness = 0.25, radius_nut = 12, radius_end = 16 }
depth = [ { fret = 1, total = 0.875 }, { x = 10, total = 1 } ]
profile = [ { x = 2, shape = "D", apex = -0.125 } ]
wall = { height = 0.0625 }
rod = { width = 0.25, depth = 0.375, from = { x = 0.5 }, to = { fret = 14 }, floor = "round" }
volute = { rise = 0.125, centre = { x = -0.5 }, length = 1.5 }
headstock = { angle = 12, thickness = 0.5625, length = 7, width = 3, shelf = 0.1875, cove = 0.75, corner = 0.0625 }
heel = { start = { fret = 15 }, full = { x = 16 }, total = 1, width = 2, end = { x = 18 }, corner = 0.125 }
blank = { thickness = 1.25, width = 4, length = 30 }
limits = { cover = 0.15625 }
wood = { density = 600, modulus = 11000 }
`)
	require.NoError(t, err)
	mm, err := readText(`units = "mm"
scale = { length = 635, frets = 20 }
width = { nut = 44.45, end = 57.15, past_last_fret = 12.7 }
board = { thickness = 6.35, radius_nut = 304.8, radius_end = 406.4 }
depth = [ { fret = 1, total = 22.225 }, { x = 254, total = 25.4 } ]
profile = [ { x = 50.8, shape = "D", apex = -3.175 } ]
wall = { height = 1.5875 }
rod = { width = 6.35, depth = 9.525, from = { x = 12.7 }, to = { fret = 14 }, floor = "round" }
volute = { rise = 3.175, centre = { x = -12.7 }, length = 38.1 }
headstock = { angle = 12, thickness = 14.2875, length = 177.8, width = 76.2, shelf = 4.7625, cove = 19.05, corner = 1.5875 }
heel = { start = { fret = 15 }, full = { x = 406.4 }, total = 25.4, width = 50.8, end = { x = 457.2 }, corner = 3.175 }
blank = { thickness = 31.75, width = 101.6, length = 762 }
limits = { cover = 3.96875 }
wood = { density = 600, modulus = 11000 }
`)
	require.NoError(t, err)
	assert.Equal(t, Inch, in.Units)
	in.Units = Millimetre
	assertSameSpec(t, mm, in, 1e-12)
	assert.Equal(t, 25.4, Inch.Millimetres(1))                        // NIST: exact
	assert.InDelta(t, 0.20943951023931953, in.Headstock.Angle, 1e-15) // 12 pi / 180
}

// Each text is a spec with one kind of mistake; the answer is all its problems.
//
// Long, since it is one table of cases.
func TestReadErrors(t *testing.T) {
	edit := func(old, new string) string {
		text := strings.Replace(plainSpec, old, new, 1)
		require.NotEqual(t, plainSpec, text, old)
		return text
	}
	for _, c := range []struct{ name, text, want string }{
		{"near miss", edit("nut = 40", "nutt = 40"),
			"f:5: width.nut: missing; the width at the nut is required\n" +
				"f:6: width.nutt: unknown key (is nut meant?); allowed: nut, end, past_last_fret"},
		{"unknown table", plainSpec + "[pickguard]\nx = 1\n",
			"f:21: pickguard: unknown key; allowed: " + topKeys()},
		{"unknown key of an inline table", edit("{ x = 5 }", "{ x = 5, y = 6 }"),
			"f:19: rod.from.y: unknown key; allowed: fret, x"},
		{"key of the top in a table", plainSpec + `units = "mm"`,
			"f:21: rod.units: unknown key (units belongs at the top of the file, before the first table); allowed: width, depth, from, to, floor"},
		{"key of a table at the top", "cover = 4\n" + plainSpec,
			"f:1: cover: unknown key (cover belongs in the table [limits]); allowed: " + topKeys()},
		{"quoted key", plainSpec + "\"a b\\n\" = 4",
			`f:21: rod."a b\n": unknown key; allowed: width, depth, from, to, floor`},
		{"deep key", plainSpec + "a.b.c.d.e.f = 4\na.b.c.d.e.g = 4",
			"f:21: rod.a: unknown key; allowed: width, depth, from, to, floor"},
		{"text for a length", edit("nut = 40", `nut = "wide"`),
			`f:6: width.nut: the text "wide" stands here; a number (a length in mm), or one with its unit in double quotes, such as "25.4mm" or "1-5/8in", is wanted`},
		{"fraction without a unit", edit("nut = 40", `nut = "1-5/8"`),
			`f:6: width.nut: length "1-5/8" has no unit, and bare numbers are millimetres here; a fraction of an inch is written 1-5/8in`},
		{"text for a number", edit("frets = 20", `frets = "20"`),
			`f:4: scale.frets: the text "20" stands here; a whole number without quotes is wanted`},
		{"boolean for a number", edit("nut = 40", "nut = true"),
			"f:6: width.nut: true stands here; a number (a length in mm) is wanted"},
		{"date for a number", edit("nut = 40", "nut = 2020-01-01"),
			"f:6: width.nut: the date or time 2020-01-01 stands here; a number (a length in mm) is wanted"},
		{"list for a number", edit("nut = 40", "nut = [40]"),
			"f:6: width.nut: a list stands here; a number (a length in mm) is wanted"},
		{"number for text", edit(`name = "Knot"`, "name = 5"),
			"f:1: name: the number 5 stands here; text in double quotes is wanted"},
		{"number for a table", edit("[rod]", "[rod.x]\n[wood]") + "[[limits]]\n",
			"f:16: rod.x: unknown key; allowed: width, depth, from, to, floor\n" +
				"f:16: rod.width: missing; the width of the channel is required\n" +
				"f:16: rod.depth: missing; the depth of the channel below the glue plane is required\n" +
				"f:16: rod.from: missing; the place where the channel begins is required\n" +
				"f:16: rod.to: missing; the place where the channel ends is required\n" +
				"f:18: wood.width: unknown key; allowed: species, density, modulus\n" +
				"f:19: wood.depth: unknown key; allowed: species, density, modulus\n" +
				"f:20: wood.from: unknown key; allowed: species, density, modulus\n" +
				"f:21: wood.to: unknown key; allowed: species, density, modulus\n" +
				"f:22: limits: double square brackets; this table stands once and is written [limits]"},
		{"scalar for a table", "wall = 5\n" + plainSpec,
			"f:1: wall: the number 5 stands here; the table [wall] is wanted"},
		{"single brackets", strings.Replace(edit("[[depth]]\nfret = 12\ntotal = 22\n", ""), "[[depth]]", "[depth]", 1),
			"f:10: depth: single square brackets; each is written [[depth]], in double square brackets, since there can be several"},
		{"mixed brackets", plainSpec + "[depth]\n",
			"f:21: depth: single brackets; every [[depth]] is written in double square brackets"},
		{"not tables", "profile = [1, 2]\n" + plainSpec,
			"f:1: profile: a list stands here; one or more tables [[profile]] is wanted"},
		{"fraction of a fret", edit("frets = 20", "frets = 20.5"),
			"f:4: scale.frets: 20.5 is not a whole number"},
		{"huge integer", edit("frets = 20", "frets = 99999999999999999999"),
			"f:4: scale.frets: the number 99999999999999999999 is too large"},
		{"huge whole number", edit("frets = 20", "frets = 5000000000"),
			"f:4: scale.frets: the number 5000000000 is too large"},
		{"not a number", edit("nut = 40", "nut = nan"),
			"f:6: width.nut: nan stands here; a finite number is wanted"},
		{"infinite", edit("nut = 40", "nut = -inf"),
			"f:6: width.nut: -inf stands here; a finite number is wanted"},
		{"overflow", edit("nut = 40", "nut = 1e400"),
			"f:6: width.nut: the number 1e400 is too large"},
		{"overflow in inches", "units = 'in'\n" + edit("nut = 40", "nut = 1e308"),
			"f:7: width.nut: the number 1e308 is too large"},
		{"missing key", edit("total = 22\n", ""),
			"f:13: depth[2].total: missing; the thickness at the deepest point, board included, is required"},
		{"missing table", edit("[board]\nthickness = 5\n", ""),
			"f: board: missing; the table [board] with the fretboard's thickness is required"},
		{"no depth", strings.Replace(plainSpec, "depth]]", "profile]]\nshape = 'C'", 2),
			"f:13: profile[1].total: unknown key; allowed: fret, x, shape, bass, treble, apex\n" +
				"f:17: profile[2].total: unknown key; allowed: fret, x, shape, bass, treble, apex\n" +
				"f: depth: missing; at least one [[depth]] with fret (or x) and total is required"},
		{"duplicate key", edit("nut = 40", "nut = 40\nnut = 41"),
			"f:7: width.nut: given twice; it is already on line 6, and a key may stand only once"},
		{"duplicate table", plainSpec + "[rod]\n",
			"f:21: rod: given twice; it is already on line 16, and a key may stand only once"},
		{"table over a key", "wall.height = 1\n" + plainSpec + "[wall]\n",
			"f:22: not valid TOML: table wall already exists as defined by a dotted key"},
		{"closed table", plainSpec + "from.fret = 3",
			"f:21: rod.from: given twice; it is already on line 19, and a key may stand only once"},
		{"unit", `units = "cm"` + "\n" + plainSpec,
			`f:1: units: "cm" is not a unit of the spec; allowed: "mm" or "in"`},
		{"floor", plainSpec + `floor = "square"`,
			`f:21: rod.floor: "square" is not a shape of the channel's floor; allowed: "flat" or "round"`},
		{"bare place", edit("{ x = 5 }", "5"),
			"f:19: rod.from: the number 5 stands here; a place such as { fret = 12 } or { x = 25 } is wanted"},
		{"two places", edit("{ x = 5 }", "{ x = 5, fret = 2 }"),
			"f:19: rod.from: both fret and x are given; give one of them"},
		{"no place", edit("fret = 12\n", ""),
			"f:13: depth[2]: no place is given; fret or x is required"},
		{"no shape", plainSpec + "[[profile]]\nfret = 1",
			"f:21: profile[1]: no section shape is given; shape, or both bass and treble, is required"},
		{"one side", plainSpec + "[[profile]]\nfret = 1\nbass = 2",
			"f:21: profile[1].treble: missing; the fullness of the treble side, or a shape, is required"},
		{"shape and both sides", plainSpec + "[[profile]]\nfret = 1\nbass = 2\ntreble = 2\nshape = 'C'",
			"f:21: profile[1]: shape, bass and treble are all given; give the shape, or both sides, or the shape and the one side that differs"},
		{"unknown shape", plainSpec + "[[profile]]\nfret = 1\nshape = 'soft V'",
			`f:23: profile[1].shape: "soft V" is not a shape (is soft-V meant?); allowed: V, soft-V, C, D, U, or bass and treble with a number each`},
		{"one radius", edit("thickness = 5\n", "thickness = 5\nradius_end = 300\n"),
			"f:8: board.radius_nut: missing; with radius_end, the radius at the nut is required"},
		{"empty", " \n\t", "f: this is empty; a spec with at least the tables scale, width, board and depth is required"},
		{"not UTF-8", "\xff\xfen\x00", "f: this is not text in UTF-8; save the spec as plain UTF-8 text"},
	} {
		_, err := readText(c.text)
		if assert.Error(t, err, c.name) {
			assert.Equal(t, c.want, err.Error(), c.name)
			var problems Problems
			assert.ErrorAs(t, err, &problems, c.name)
		}
	}
}

func TestReadSyntaxErrors(t *testing.T) {
	const after = "[width]\n"
	for line, want := range map[string]string{
		"nut = 42,8":           `f:2: width.nut: "nut = 42,8" is not valid TOML; write the decimal point as a dot, such as 42.8`,
		"nut = 42mm":           `f:2: width.nut: "nut = 42mm" is not valid TOML; write the number alone, in the unit of the whole file, which is the key units; or in double quotes with its unit, such as "25.4mm"`,
		"nut = 1 11/16 # wide": `f:2: width.nut: "nut = 1 11/16 # wide" is not valid TOML; write a fraction in double quotes with its unit, such as "1-5/8in", or as a decimal number, such as 1.625`,
		`nut = 1-5/8"`:         `f:2: width.nut: "nut = 1-5/8\"" is not valid TOML; write a fraction in double quotes with its unit, such as "1-5/8in", or as a decimal number, such as 1.625`,
		"nut = .5":             `f:2: width.nut: "nut = .5" is not valid TOML; write a zero before the decimal point, such as 0.5`,
		"nut = 5.":             `f:2: width.nut: "nut = 5." is not valid TOML; write a digit after the decimal point, such as 5.0`,
		"nut = 042":            `f:2: width.nut: "nut = 042" is not valid TOML; write the number without leading zeros`,
		"angle = 11 degrees":   `f:2: width.angle: "angle = 11 degrees" is not valid TOML; write the number alone; angles are in degrees`,
		"units = in":           `f:2: width.units: "units = in" is not valid TOML; write text in double quotes, such as "mm"`,
		"nut =":                `f:2: width.nut: "nut =" is not valid TOML; the value is missing`,
		"nut: 42":              `f:2: "nut: 42" is not valid TOML; a key and its value are written with an equals sign, such as length = 636`,
		"[board":               `f:2: "[board" is not valid TOML: expected ']' to close table name`,
		"nut = [":              `f:3: not valid TOML`,
		"nut = {x = 1":         `f:2: width.nut: "nut = {x = 1" is not valid TOML`,
	} {
		_, err := readText(after + line + "\n")
		if assert.Error(t, err, line) {
			if !strings.HasPrefix(err.Error(), want) && line != "nut = [" {
				t.Errorf("%q:\n got %s\nwant %s", line, err, want)
			}
			assert.NotContains(t, err.Error(), "\n")
		}
	}
}

func TestReadManyProblems(t *testing.T) {
	var text strings.Builder
	text.WriteString(plainSpec)
	for i := 0; i < 5000; i++ {
		text.WriteString("k" + strings.Repeat("y", i%90) + string(rune('a'+i%26)) + " = 1\n")
	}
	_, err := readText(text.String())
	var problems Problems
	require.ErrorAs(t, err, &problems)
	require.Len(t, problems, maxProblems+1)
	assert.Regexp(t, `^and \d+ more problems$`, problems[maxProblems].Message)
}

func TestReadAcceptsOtherSpellings(t *testing.T) {
	want, err := readText(plainSpec)
	require.NoError(t, err)
	for name, text := range map[string]string{
		"windows lines": strings.ReplaceAll(plainSpec, "\n", "\r\n"),
		"mark":          "\ufeff" + plainSpec,
		"floats":        strings.NewReplacer("= 600", "= 6.0e2", "frets = 20", "frets = 20.0", "= 40", "= 4_0.0").Replace(plainSpec),
		"hexadecimal":   strings.Replace(plainSpec, "= 600", "= 0x258", 1),
		"header of a place": strings.Replace(plainSpec, "from = { x = 5 }\nto = { fret = 15 }\n",
			"[rod.from]\nx = 5\n[rod.to]\nfret = 15\n", 1),
		"dotted": strings.Replace(plainSpec, "from = { x = 5 }", "from.x = 5", 1),
		"inner table first": strings.Replace(strings.Replace(plainSpec, "from = { x = 5 }\n", "", 1),
			"name = \"Knot\"\n", "name = \"Knot\"\n[rod.from]\nx = 5\n", 1),
	} {
		got, err := readText(text)
		if assert.NoError(t, err, name) {
			assert.Equal(t, without(want), without(got), name)
		}
	}
}

// endless is a file without an end.
type endless struct{ read int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = '#'
	}
	e.read += len(p)
	return len(p), nil
}

func TestReadLimit(t *testing.T) {
	e := &endless{}
	_, err := Read(e, "endless")
	assert.EqualError(t, err, "endless: this is larger than 1 MiB, which no spec is")
	assert.LessOrEqual(t, e.read, MaxFileSize+1)

	text := plainSpec + "#"
	_, err = readText(text + strings.Repeat(" ", MaxFileSize-len(text)))
	assert.NoError(t, err, "a file of just the limit")
}

func TestReadFailure(t *testing.T) {
	_, err := Read(iotest.ErrReader(errors.New("the disk is gone")), "f")
	assert.EqualError(t, err, "f: the file cannot be read: the disk is gone")
	var problems Problems
	assert.False(t, errors.As(err, &problems), "a failing disk is no problem of the spec")
}

func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	_, err := ReadFile(dir)
	assert.EqualError(t, err, dir+": this is a folder; a spec is a file")

	missing := filepath.Join(dir, "none.toml")
	_, err = ReadFile(missing)
	assert.EqualError(t, err, missing+": there is no such file")
	assert.ErrorIs(t, err, fs.ErrNotExist)

	path := filepath.Join(dir, "knot.toml")
	require.NoError(t, os.WriteFile(path, []byte(plainSpec), 0o600))
	s, err := ReadFile(path)
	require.NoError(t, err)
	assert.Equal(t, path, s.Source.File)

	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	stdin := os.Stdin
	defer func() { os.Stdin = stdin }()
	os.Stdin = f
	fromPipe, err := ReadFile("-")
	require.NoError(t, err)
	assert.Equal(t, without(s), without(fromPipe))
	assert.Equal(t, "standard input", fromPipe.Source.File)
}

func TestNearest(t *testing.T) {
	for word, want := range map[string]string{
		"lenght": "length", "Length": "length", "fret": "frets", "frest": "frets",
		"len": "length", "q": "", "bridge": "", "lengthwise": "length",
	} {
		assert.Equal(t, want, nearest(word, []string{"length", "frets"}), word)
	}
}

// A file may nest as deep as it likes without harm.
func TestReadDeep(t *testing.T) {
	for _, text := range []string{
		"a = " + strings.Repeat("[", 20000),
		strings.Repeat("a.", 200000) + "b = 1",
		"a = " + strings.Repeat("{a=", 5000) + "1" + strings.Repeat("}", 5000),
		"a = " + strings.Repeat("[{a=", 3000) + "1" + strings.Repeat("}]", 3000),
		"[" + strings.Repeat("a.", 200000) + "b]",
	} {
		_, err := readText(text)
		if assert.Error(t, err) {
			assert.Less(t, len(err.Error()), 5000)
		}
	}
}

// topKeys lists what may stand at the top of a spec, as messages do.
func topKeys() string { return strings.Join(program.Top.keys(), ", ") }
