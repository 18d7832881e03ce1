package step_test

import (
	"bytes"
	"fmt"
	"image/color"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export/step"
	"neckloft/mesh/brep"
	"neckloft/neck"
	"neckloft/neck/exact"
	"neckloft/neck/necktest"
)

// written returns a part of a neck as a file.
func written(t testing.TB, n *neck.Neck, part neck.Part, o step.Options) string {
	models, err := exact.Build(n, part)
	require.NoError(t, err)
	var parts []step.Part
	for _, m := range models {
		parts = append(parts, step.Part{Solid: m.Solid, Colour: color.NRGBA{R: 200, G: 150, B: 90, A: 255}})
	}
	var b bytes.Buffer
	require.NoError(t, step.Write(&b, parts, o))
	return b.String()
}

// instances reads the data of a file: the text of each instance by its number. It
// checks the frame of the grammar, and that numbers rise by one.
func instances(t *testing.T, file string) []string {
	lines := strings.Split(strings.TrimSuffix(file, "\n"), "\n")
	require.Equal(t, "ISO-10303-21;", lines[0])
	require.Equal(t, []string{"ENDSEC;", "END-ISO-10303-21;"}, lines[len(lines)-2:])
	at := 0
	for lines[at] != "DATA;" {
		at++
	}
	out := []string{""}
	for i, l := range lines[at+1 : len(lines)-2] {
		number, text, ok := strings.Cut(strings.TrimSuffix(l, ";"), "=")
		require.True(t, ok, l)
		require.Equal(t, fmt.Sprintf("#%d", i+1), number)
		out = append(out, text)
	}
	return out
}

// TestReferences has every reference lead to an instance before it, and every
// instance but those that nothing is made of be used.
func TestReferences(t *testing.T) {
	file := written(t, necktest.Demo(t), neck.PartBoth, step.Options{Name: "it's a neck\\ü", Program: "test"})
	all := instances(t, file)
	used := make([]bool, len(all))
	reference := regexp.MustCompile(`#(\d+)`)
	for i, text := range all {
		for _, m := range reference.FindAllStringSubmatch(text, -1) {
			var k int
			_, err := fmt.Sscan(m[1], &k)
			require.NoError(t, err)
			require.Less(t, k, i, "instance %d: %.60s", i, text)
			used[k] = true
		}
	}
	count := map[string]int{}
	for i, text := range all[1:] {
		name, _, _ := strings.Cut(text, "(")
		count[name]++
		switch name {
		case "APPLICATION_PROTOCOL_DEFINITION", "SHAPE_DEFINITION_REPRESENTATION", "PRODUCT_RELATED_PRODUCT_CATEGORY",
			"CONTEXT_DEPENDENT_SHAPE_REPRESENTATION", "MECHANICAL_DESIGN_GEOMETRIC_PRESENTATION_REPRESENTATION":
			assert.False(t, used[i+1], text)
		default:
			assert.True(t, used[i+1], text)
		}
	}
	assert.Equal(t, 2, count["MANIFOLD_SOLID_BREP"])
	assert.Equal(t, 2, count["NEXT_ASSEMBLY_USAGE_OCCURRENCE"])
	assert.Equal(t, 2, count["STYLED_ITEM"])
	assert.Equal(t, 3, count["PRODUCT"])
	assert.Equal(t, 2, count["CYLINDRICAL_SURFACE"], "corners of the heel")
	assert.Equal(t, 21, count["B_SPLINE_SURFACE_WITH_KNOTS"], "ten curved ones of the back, its walls and level bottoms, the board's top")
	assert.Equal(t, 2*count["EDGE_CURVE"], count["ORIENTED_EDGE"])
	assert.Contains(t, file, `FILE_NAME('it''s a neck\\\X2\00FC\X0\',`)
}

// TestSameBytes writes the same neck twice.
func TestSameBytes(t *testing.T) {
	n := necktest.Demo(t)
	assert.Equal(t, written(t, n, neck.PartBoth, step.Options{}), written(t, n, neck.PartBoth, step.Options{}))
}

// TestProtocols names the protocols as their standards do.
func TestProtocols(t *testing.T) {
	n := necktest.Demo(t)
	for schema, head := range map[step.Schema]string{
		step.AP242: "FILE_SCHEMA(('AP242_MANAGED_MODEL_BASED_3D_ENGINEERING_MIM_LF { 1 0 10303 442 1 1 4 }'));",
		step.AP214: "FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));",
	} {
		assert.Contains(t, written(t, n, neck.PartBoard, step.Options{Schema: schema}), head)
	}
}

// TestNothingWrong is not written.
func TestNothingWrong(t *testing.T) {
	var b bytes.Buffer
	assert.ErrorContains(t, step.Write(&b, nil, step.Options{}), "needs a solid")
	m, err := exact.Build(necktest.Demo(t), neck.PartBoard)
	require.NoError(t, err)
	open := &brep.Solid{Name: "open", Faces: m[0].Faces[1:]}
	assert.ErrorContains(t, step.Write(&b, []step.Part{{Solid: open}}, step.Options{}), `solid "open": the edge from`)
	assert.Empty(t, b.String())
}

func BenchmarkDemo(b *testing.B) {
	n := necktest.Demo(b)
	for b.Loop() {
		written(b, n, neck.PartWood, step.Options{})
	}
}
