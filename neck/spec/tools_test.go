package spec

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// allTools are tools with every key.
const allTools = `[tools]
router = "table"
router_mass = 4.2
base_width = 150
table_length = 610
table_width = 405
guide = "template"
template = 9.5
feed = 1200
hand_rate = 2.5
kerf = 2.2
planing = 0.8
trim = 12
paper = "Letter"
print = "in"
[[tools.bit]]
name = "old one"
radius = 12
offset = 0.5
bearing_height = 4
straight = 0
diameter = 38
[[tools.bit]]
radius = "1/2in"
bearing = 16
[tools.sled]
span = 500
offset = -20
thickness = 12
width = 200
modulus = 12000
unsupported = 410
carries = "router"
[tools.printer]
bed_width = 180
bed_depth = 200
nozzle = 0.6
`

func allOfThem() *Tools {
	return &Tools{
		Router: RouterTable, RouterMass: 4.2, BaseWidth: 150, Table: RouterTableSize{610, 405}, Guide: GuideTemplate, Template: 9.5,
		Feed: 1200, HandRate: 2.5, Kerf: 2.2, Planing: 0.8, Trim: 12, Paper: PaperLetter, Print: "in",
		Bits: []ToolBit{
			{Name: "old one", Radius: 12, Offset: 0.5, BearingHeight: 4, Diameter: 38},
			{Radius: 12.7, Bearing: 16, BearingHeight: 5, Straight: 6},
		},
		Sled:    &ToolSled{Span: 500, Offset: -20, Thickness: 12, Width: 200, Modulus: 12000, Unsupported: 410, Carries: CarriesRouter},
		Printer: &ToolPrinter{BedWidth: 180, BedDepth: 200, Nozzle: 0.6},
	}
}

func soundSpec(t *testing.T, text string) *Spec {
	s, err := Read(strings.NewReader(text), "f")
	require.NoError(t, err)
	require.NoError(t, s.Validate().Err())
	return s
}

// Tools are read, checked, written, and read back the same, in both units.
func TestTools(t *testing.T) {
	s := soundSpec(t, plainSpec+allTools)
	assert.Equal(t, allOfThem(), s.Tools)
	for _, unit := range []Unit{Millimetre, Inch} {
		s.Units = unit
		var b strings.Builder
		require.NoError(t, s.WriteTOML(&b))
		back := soundSpec(t, b.String())
		if unit == Millimetre {
			assert.Equal(t, s.Tools, back.Tools)
			continue
		}
		assert.Contains(t, b.String(), "\nradius = 0.5\n")
		assert.InDelta(t, 610, back.Tools.Table.Length, 1e-9)
		assert.InDelta(t, 180, back.Tools.Printer.BedWidth, 1e-9)
		assert.InDelta(t, -20, back.Tools.Sled.Offset, 1e-9)
	}
	inches := soundSpec(t, strings.Replace(inchSpec(t), "units = \"mm\"", "units = \"in\"", 1)+"[tools]\ntemplate = 0.375\nfeed = 60\n[[tools.bit]]\nradius = 0.5\n")
	assert.InDelta(t, 9.525, inches.Tools.Template, 1e-12)
	assert.InDelta(t, 1524, inches.Tools.Feed, 1e-12)
	assert.InDelta(t, 12.7, inches.Tools.Bits[0].Radius, 1e-12)
	assert.Equal(t, 5.0, inches.Tools.Bits[0].BearingHeight, "the default is in mm")
}

// inchSpec is the demo neck in inches, without tools.
func inchSpec(t *testing.T) string {
	s := Demo()
	s.Units = Inch
	var b strings.Builder
	require.NoError(t, s.WriteTOML(&b))
	return b.String()
}

// The hash names the neck: no tool changes it, and that of a spec without tools
// is what it was before there were any.
func TestHashIsWithoutTools(t *testing.T) {
	with, without := soundSpec(t, plainSpec+allTools), soundSpec(t, plainSpec)
	assert.Equal(t, without.Hash(), with.Hash())
	assert.Equal(t, "7d4fb14306f070d8", Demo().Hash()[:16])
	with.Scale.Length++
	assert.NotEqual(t, without.Hash(), with.Hash())
}

// What a bearing does, against a drawing of the bit: the arc's end stands at
// half the largest diameter less the arc from the axis, the bearing's rim at half
// its own.
func TestToolBit(t *testing.T) {
	assert.Equal(t, 0.0, ToolBit{Radius: 12}.Hold())
	assert.Equal(t, 0.0, ToolBit{Radius: 12}.Widest())
	b := ToolBit{Radius: 12, Diameter: 36, Bearing: 13} // small radius 6, rim 6.5
	assert.Equal(t, 0.5, b.Hold())
	assert.Equal(t, 36.0, b.Widest())
	b = ToolBit{Radius: 12, Offset: 0.5, Bearing: 13} // the same, without its diameter
	assert.Equal(t, 0.5, b.Hold())
	assert.Equal(t, 36.0, b.Widest())
	b = ToolBit{Radius: 12, Offset: -1, Diameter: 40}
	assert.Equal(t, -1.0, b.Hold())
	assert.Equal(t, 40.0, b.Widest())
}

// The unit and the paper: the tools', or what goes with the spec's unit.
func TestPrintUnitAndPaper(t *testing.T) {
	for _, c := range []struct {
		units Unit
		tools *Tools
		unit  Unit
		paper string
	}{
		{Millimetre, nil, Millimetre, "A4"},
		{Inch, nil, Inch, "Letter"},
		{Millimetre, &Tools{}, Millimetre, "A4"},
		{Millimetre, &Tools{Print: "in"}, Inch, "Letter"},
		{Inch, &Tools{Print: "mm"}, Millimetre, "A4"},
		{Inch, &Tools{Paper: PaperA4}, Inch, "A4"},
		{Millimetre, &Tools{Paper: PaperLetter, Print: "mm"}, Millimetre, "Letter"},
	} {
		s := &Spec{Units: c.units, Tools: c.tools}
		assert.Equal(t, c.unit, s.PrintUnit(), "%+v", c)
		assert.Equal(t, c.paper, s.PaperName(), "%+v", c)
	}
}

// A file of tools: with its header or without, in its own unit.
func TestReadTools(t *testing.T) {
	headed, err := ReadTools(strings.NewReader(allTools), "f")
	require.NoError(t, err)
	assert.Equal(t, allOfThem(), headed)
	bare := strings.NewReplacer("[tools]\n", "", "tools.", "").Replace(allTools)
	require.NotContains(t, bare, "tools")
	plain, err := ReadTools(strings.NewReader("units = \"mm\"\n"+bare), "f")
	require.NoError(t, err)
	assert.Equal(t, allOfThem(), plain)
	inches, err := ReadTools(strings.NewReader("units = \"in\"\ntemplate = 0.5\n[[bit]]\nradius = 0.375\n"), "f")
	require.NoError(t, err)
	assert.InDelta(t, 12.7, inches.Template, 1e-12)
	assert.InDelta(t, 9.525, inches.Bits[0].Radius, 1e-12)
	none, err := ReadTools(strings.NewReader("# nothing yet\n"), "f")
	require.NoError(t, err)
	assert.Equal(t, &Tools{}, none)

	path := filepath.Join(t.TempDir(), "tools.toml")
	require.NoError(t, os.WriteFile(path, []byte(allTools), 0o666))
	file, err := ReadToolsFile(path)
	require.NoError(t, err)
	assert.Equal(t, allOfThem(), file)
	_, err = ReadToolsFile(filepath.Dir(path))
	assert.ErrorContains(t, err, "this is a folder")
	_, err = ReadToolsFile(path + "x")
	assert.ErrorContains(t, err, "there is no such file")
	assert.ErrorIs(t, err, os.ErrNotExist)
}

// What is wrong with tools has its line, in a file of their own as in a spec.
func TestToolErrors(t *testing.T) {
	for text, want := range map[string]string{
		"router = \"lathe\"\n":                                     `f:2: tools.router: "lathe" is not a way to use a router; allowed: "hand" or "table"`,
		"print = 3\n":                                              `f:2: tools.print: the number 3 stands here; text in double quotes is wanted`,
		"rooter = \"hand\"\n":                                      `f:2: tools.rooter: unknown key (is router meant?); allowed: router, router_mass, base_width, table_length, table_width, guide, template, feed, hand_rate, kerf, planing, trim, paper, print, bit, sled, printer`,
		"template = 0.2\n":                                         `f:2: tools.template: 0.2 mm is not sensible here; allowed: 1 mm to 100 mm`,
		"template = 0\n":                                           `f:2: tools.template: 0 mm is not sensible here; allowed: 1 mm to 100 mm`,
		"[[tools.bit]]\noffset = 1\n":                              `f:2: tools.bit[1].radius: missing; the radius of the bit's arc is required`,
		"[tools.bit]\nradius = 9\n":                                `f:2: tools.bit: single square brackets; each is written [[tools.bit]], in double square brackets, since there can be several`,
		"[[tools.bit]]\nradius = 9\ndiameter = 17\n":               `f:4: tools.bit[1].diameter: a bit of 9 mm radius cannot be 17 mm in diameter; allowed: 18 mm to 118 mm`,
		"[[tools.bit]]\nradius = 9\noffset = 9\n":                  `f:3: tools.bit[1].radius: a bearing that holds the bit 9 mm off the guide keeps an arc of 9 mm radius off the wood; allowed: a radius of more than that`,
		"[[tools.bit]]\nradius = 9\nbearing = 60\ndiameter = 19\n": `f:4: tools.bit[1].bearing: the bearing holds the arc 29.5 mm off the guide; allowed: -20 mm to 20 mm`,
		"[[tools.bit]]\nradius = 9\nbearing = 2\noffset = 1\n":     `f:5: tools.bit[1].offset: 1 mm leaves nothing of a bearing of 2 mm; allowed: less than half of it`,
		"[[tools.bit]]\nradius = 9\nbearing = 13\ndiameter = 30\noffset = 0\n": `f:6: tools.bit[1].offset: the bearing, the diameter and the offset are all given, and the offset follows from the two others (0.5 mm); give two of the three`,
		"[[tools.bit]]\nradius = 9\nname = \"a\\u0007\"\n":                     `f:4: tools.bit[1].name: the name "a\a" is too long or has characters that cannot be printed; allowed: up to 24 letters, digits, signs and spaces`,
		"[tools.printer]\nbed_width = 200\n":                                   `f:2: tools.printer.bed_depth: missing; bed_width and bed_depth are given together`,
		"[tools.printer]\nbed_depth = 200\n":                                   `f:2: tools.printer.bed_width: missing; bed_width and bed_depth are given together`,
		"[tools.sled]\ncarries = \"me\"\n":                                     `f:3: tools.sled.carries: "me" is not what a plate carries; allowed: "work" or "router"`,
	} {
		_, err := ReadTools(strings.NewReader("[tools]\n"+text), "f")
		assert.EqualError(t, err, want, text)
		s, err := Read(strings.NewReader(plainSpec+"[tools]\n"+text), "f")
		if err == nil {
			err = s.Validate().Err()
		}
		lines := strings.Count(plainSpec, "\n")
		_, rest, _ := strings.Cut(want, "tools.")
		at := strings.TrimSuffix(strings.TrimPrefix(want, "f:"), ": tools."+rest)
		n := int(at[0] - '0')
		assert.EqualError(t, err, "f:"+plain(float64(lines+n))+": tools."+rest, text)
	}
	for text, want := range map[string]string{
		"rooter = \"hand\"\n":                              `f:1: rooter: unknown key (is router meant?); allowed: units, router, router_mass, base_width, table_length, table_width, guide, template, feed, hand_rate, kerf, planing, trim, paper, print, bit, sled, printer`,
		"[[bit]]\nradius = 9\nstraigth = 4":                `f:3: bit[1].straigth: unknown key (is straight meant?); allowed: name, radius, offset, bearing, bearing_height, straight, diameter`,
		"\n[sled]\nspan = 1\n":                             `f:3: sled.span: 1 mm is not sensible here; allowed: 10 mm to 5000 mm`,
		"units = \"in\"\n[sled]\nspan = 0.1\n":             `f:3: sled.span: 0.1 in is not sensible here; allowed: 0.3937 in to 196.8504 in`,
		"[tools]\nrouter = \"hand\"\n[sled]\nspan = 500\n": `f:3: sled: unknown key (sled belongs in the table [tools]); allowed: units, tools`,
		"paper = \"A4\"\npaper = \"A4\"\n":                 `f:2: paper: given twice; it is already on line 1, and a key may stand only once`,
		"[scale]\nlength = 600\n":                          `f: this is a spec without a table [tools]; a file of tools is wanted`,
		"paper = Letter\n":                                 `f:1: paper: "paper = Letter" is not valid TOML; write text in double quotes, such as "mm"`,
	} {
		_, err := ReadTools(strings.NewReader(text), "f")
		assert.EqualError(t, err, want, text)
	}
	_, err := ReadTools(strings.NewReader("a\xff"), "f")
	assert.ErrorContains(t, err, "UTF-8")
	_, err = ReadTools(strings.NewReader(strings.Repeat("#\n", MaxFileSize)), "f")
	assert.ErrorContains(t, err, "larger than 1 MiB")
}

// A spec's own tools go before shared ones, key by key, and its bits as a list.
func TestUseTools(t *testing.T) {
	s := soundSpec(t, plainSpec)
	s.UseTools(nil)
	assert.Nil(t, s.Tools)
	s.UseTools(allOfThem())
	assert.Equal(t, allOfThem(), s.Tools)

	shared := allOfThem()
	s = soundSpec(t, plainSpec+"[tools]\nrouter = \"hand\"\ntemplate = 6\n[[tools.bit]]\nradius = 9\n[tools.sled]\nspan = 300\noffset = 0\n[tools.printer]\nnozzle = 0.4\n")
	s.UseTools(shared)
	want := allOfThem()
	want.Router, want.Template = RouterHand, 6
	want.Bits = []ToolBit{{Radius: 9, BearingHeight: 5, Straight: 6}}
	want.Sled.Span, want.Sled.Offset = 300, 0 // a 0 that is said goes before too
	want.Printer.Nozzle = 0.4
	assert.Equal(t, want, s.Tools)
	assert.Equal(t, allOfThem(), shared, "the shared tools stay")
	require.NoError(t, s.Validate().Err())
	s.Tools.Bits = append(s.Tools.Bits[:0], ToolBit{})
	s.Tools.Sled.Span = 1
	assert.Equal(t, allOfThem(), shared, "nothing is held in common")

	s = soundSpec(t, plainSpec+"[tools]\npaper = \"A4\"\n")
	s.UseTools(&Tools{Print: "in", Paper: PaperLetter})
	assert.Equal(t, &Tools{Paper: PaperA4, Print: "in"}, s.Tools)
}

// The tables of the starter are such as can be taken in as they stand.
func TestStarterToolsStand(t *testing.T) {
	_, text, ok := strings.Cut(Starter(), "\n# [tools]\n")
	require.True(t, ok)
	var b strings.Builder
	b.WriteString("[tools]\n")
	for _, line := range strings.Split(text, "\n") {
		bare, _ := strings.CutPrefix(line, "# ")
		if strings.HasPrefix(bare, "[") || starterKey.MatchString(bare) {
			b.WriteString(bare + "\n")
		}
	}
	s := soundSpec(t, plainSpec+b.String())
	require.NotNil(t, s.Tools.Sled)
	require.NotNil(t, s.Tools.Printer)
	require.Len(t, s.Tools.Bits, 2)
	assert.Equal(t, "big one", s.Tools.Bits[0].Name)
	for _, bit := range s.Tools.Bits {
		assert.False(t, math.IsNaN(bit.Hold()))
	}
	assert.Nil(t, Demo().Tools)
}

// A cubic inch is 16.387064 cm³ exactly (NIST Special Publication 811,
// appendix B).
func TestVolume(t *testing.T) {
	assert.InDelta(t, 1, Inch.Volume(16387.064), 1e-12)
	assert.InDelta(t, 16.387064, Millimetre.Volume(16387.064), 1e-12)
	assert.Equal(t, "2.50 in3", Inch.RoundedVolume(2.5*16387.064))
	assert.Equal(t, "41.0 cm3", Millimetre.RoundedVolume(2.5*16387.064))
}
