package export

import (
	"bytes"
	"io"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/neck"
)

// TestMarkedTemplates looks for the lines of the flats in every format that
// templates are written in: each adds one line, and its name.
func TestMarkedTemplates(t *testing.T) {
	n := demoNeck(t)
	o := neck.DefaultPlanOptions()
	o.Facets = 2
	p, err := n.Plan(o)
	require.NoError(t, err)
	bare, marked := Stack("both", Templates(n)), Stack("both", MarkedTemplates(p))
	// On the plan two lines a side, on the side view two for either side, which
	// differ in the demo.
	const lines = 4 + 4
	require.Len(t, marked.Marks, len(bare.Marks)+lines)
	require.Len(t, marked.Texts, len(bare.Texts)+lines)
	names := []string{"1B", "1T", "2B", "2T"}

	svg := func(s Sheet) string {
		var b bytes.Buffer
		require.NoError(t, WriteSVG(&b, s))
		return b.String()
	}
	paths := regexp.MustCompile(`<path`)
	assert.Len(t, paths.FindAllString(svg(marked), -1), len(paths.FindAllString(svg(bare), -1))+lines)

	dxf := func(s Sheet) string {
		var b bytes.Buffer
		require.NoError(t, WriteDXF(&b, s))
		return b.String()
	}
	for _, name := range names {
		assert.Equal(t, 2, strings.Count(svg(marked), ">"+name+"<"), name)
		assert.Equal(t, 2, len(regexp.MustCompile(`\n`+name+`\r?\n`).FindAllString(dxf(marked), -1)), name)
		assert.NotContains(t, svg(bare), ">"+name+"<")
	}
	long := func(text string) int {
		return len(regexp.MustCompile(`(?m)^(POLYLINE|LINE)\r?$`).FindAllString(text, -1))
	}
	assert.Greater(t, long(dxf(marked)), long(dxf(bare)))

	poppler := tool(t, "pdftotext", "poppler-utils")
	path := filepath.Join(t.TempDir(), "t.pdf")
	require.NoError(t, File(path, func(w io.Writer) error { return WriteSheetPDF(w, "t", MarkedTemplates(p), Papers()[0]) }))
	out, err := exec.Command(poppler, path, "-").Output()
	require.NoError(t, err)
	for _, name := range names {
		assert.Regexp(t, `\b`+name+`\b`, string(out))
	}
}
