package spec

import (
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The demo neck is a contract: what it makes is in the documentation.
func TestDemo(t *testing.T) {
	s := Demo()
	assert.Empty(t, s.Validate())
	assert.Equal(t, &Spec{
		Name:  "Tern 636",
		Units: Millimetre,
		Scale: Scale{Length: 636, Frets: 22},
		Width: Width{Nut: 42.8, End: 56.2, PastLastFret: 9.5},
		Board: Board{Thickness: 5.6, RadiusNut: 305, RadiusEnd: 406},
		Depth: []DepthTarget{{AtFret(1), 20.6}, {AtFret(12), 22.4}},
		Profile: []ProfileStation{
			{At: AtFret(1), Shape: "C", Bass: 2, Treble: 2},
			{At: AtFret(12), Bass: 2.5, Treble: 2.2, Apex: -1},
		},
		Wall:      1.2,
		Rod:       &Rod{Width: 6.2, Depth: 9.3, From: AtX(6), To: AtX(402), Floor: FloorFlat},
		Volute:    &Volute{Rise: 3.2, Centre: AtX(-12), Length: 44},
		Headstock: &Headstock{Angle: 11 * (math.Pi / 180), Thickness: 14.5, Length: 182, Width: 74, Shelf: 5, Cove: 15, Corner: 2},
		Heel:      &Heel{Start: AtFret(15.5), Full: AtFret(18.5), Total: 26, Width: 56.2, End: AtX(474), Corner: 4},
		Blank:     &Blank{Thickness: 32, Width: 90, Length: 760},
		Limits:    Limits{Cover: 4},
		Wood:      Wood{Species: "sugar maple"},
		Strings: &Strings{HeightNut: 1.6, Height12: 3.0, Set: []String{
			{Pitch: "E4", Gauge: 0.254}, {Pitch: "B3", Gauge: 0.33}, {Pitch: "G3", Gauge: 0.432},
			{Pitch: "D3", Gauge: 0.66, Core: 0.36}, {Pitch: "A2", Gauge: 0.914, Core: 0.41}, {Pitch: "E2", Gauge: 1.168, Core: 0.46},
		}},
	}, without(s))
}

// The starter shows every key there is, set or as a comment, with its sentence,
// limits and default.
func TestStarterHasEveryKey(t *testing.T) {
	Keys().Walk(func(path string, table *Table) {
		text := strings.ReplaceAll(Starter(), "\n# [", "\n[") // shown only
		after := "\n[" + path + "]"
		switch {
		case path == "strings.set": // inline
			after = "\nset = ["
		case table.Rows.List:
			after = "\n[[" + path + "]]"
		}
		if path != "" {
			var found bool
			if _, text, found = strings.Cut(text, after); !assert.True(t, found, path) {
				return
			}
		}
		if path != "profile" && path != "tools.bit" && path != "headstock.outline" { // whose first row lacks what a further one has
			text, _, _ = strings.Cut(text, "\n[")
		}
		for _, key := range table.fieldKeys() {
			assert.Regexp(t, `(?m)(^|^# |or |[{,] )`+key+`\s*= `, text, "%s %s", path, key)
		}
	})
	for i, line := range strings.Split(Starter(), "\n") {
		assert.LessOrEqual(t, len([]rune(line)), 110, "line %d: %s", i+1, line)
		assert.False(t, strings.HasSuffix(line, "#") && line != "#", "line %d", i+1)
	}
}

func TestStarterShapes(t *testing.T) {
	last := 1.0
	for _, s := range Shapes() {
		n, ok := ShapeFullness(s.Name)
		assert.True(t, ok)
		assert.Equal(t, s.Fullness, n)
		assert.Greater(t, n, last, "in the order of fullness")
		last = n
		text := fmt.Sprintf("%.2f", n)
		text = strings.TrimSuffix(text, "0")
		assert.Contains(t, Starter(), s.Name+" "+text)
	}
	for _, name := range []string{"", "W", "soft", "CC"} {
		_, ok := ShapeFullness(name)
		assert.False(t, ok, name)
	}
	c, _ := ShapeFullness("c")
	assert.Equal(t, 2.0, c, "C is the ellipse")
	Shapes()[0].Fullness = 99
	assert.NotEqual(t, 99.0, Shapes()[0].Fullness)
}

// TestStarterLinesCanBeTakenUp takes the # off each line of the starter that is
// only shown, alone in its place: it is read there, and sets its key. A line of
// a table that is only shown comes with its header, and then nothing but what the
// table requires may be missing; the table as a whole is read too.
func TestStarterLinesCanBeTakenUp(t *testing.T) {
	lines := strings.Split(Starter(), "\n")
	bare := func(line string) string { return strings.Replace(line, "# ", "", 1) }
	read := func(up ...int) error {
		text := append([]string(nil), lines...)
		for _, i := range up {
			text[i] = bare(lines[i])
		}
		_, err := Read(strings.NewReader(strings.Join(text, "\n")), "starter")
		return err
	}
	taken, header, table := 0, -1, []int(nil)
	whole := func() {
		if header >= 0 {
			assert.NoError(t, read(append(table, header)...), lines[header])
		}
		header, table = -1, nil
	}
	for i, line := range lines {
		shown := regexp.MustCompile(`^# \[+[a-z_.]+\]+`).MatchString(line)
		switch {
		case strings.HasPrefix(line, "["):
			whole()
		case shown && header >= 0 && line == lines[header]: // a further row
			table = append(table, i)
		case shown:
			whole()
			header = i
		case regexp.MustCompile(`^ *# ([a-z0-9_]+ *= |\{ )`).MatchString(line):
			taken++
			if header < 0 {
				assert.NoError(t, read(i), line)
				continue
			}
			table = append(table, i)
			if err := read(header, i); err != nil {
				for _, p := range strings.Split(err.Error(), "\n") {
					assert.Regexp(t, ": missing; |: no place is given; fret or x is required", p, line)
				}
			}
		}
	}
	whole()
	assert.Greater(t, taken, 150)
	s, err := Read(strings.NewReader(strings.Replace(Starter(), "# nut_edge = ", "nut_edge = ", 1)), "starter")
	require.NoError(t, err)
	assert.Equal(t, 3.5, s.Strings.NutEdge)

	// What the text lacks is added before a list that is written in rows, not in it.
	f := &starterFile{keys: Keys(), lines: []string{"[strings]", "height_12 = 3", "set = [", `  { pitch = "E4" },`, "]"},
		has: map[string]bool{}, last: map[string]int{}, list: map[string]bool{}, shown: map[string]bool{}}
	f.fill()
	assert.Contains(t, strings.Join(f.lacking()[1], "\n"), "# nut_edge = ")
	assert.NotContains(t, strings.Join(f.lacking()[2], "\n"), "# nut_edge = ")
}

// An angle of the starter is as a person writes it, not as radians come out.
func TestStarterRoundsItsAngles(t *testing.T) {
	assert.Contains(t, Starter(), "\n# rake = -15 ")
	assert.NotRegexp(t, `\.\d{6}`, Starter())
}
