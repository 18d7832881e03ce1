package bench_test

import (
	"bytes"
	"encoding/xml"
	"image/png"
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestPicturesOfWhatIsMade decodes every picture by the standard library; of the plan
// one page without DRAWN=all.
func TestPicturesOfWhatIsMade(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	names := map[string]bool{}
	for _, p := range bench.New(n, nil).Pictures() {
		require.False(t, names[p.Name], "%s twice", p.Name)
		names[p.Name] = true
		if strings.HasPrefix(p.Name, "plan-") && p.Name != "plan-1" && !drawn.All() {
			continue // one page of the plan tells of the others
		}
		var b bytes.Buffer
		require.NoError(t, p.Write(&b), p.Name)
		if !p.SVG {
			img, err := png.Decode(&b)
			require.NoError(t, err, p.Name)
			require.Greater(t, img.Bounds().Dx(), 200)
			continue
		}
		paths := 0
		for d := xml.NewDecoder(&b); ; {
			token, err := d.Token()
			if err == io.EOF {
				break
			}
			require.NoError(t, err, p.Name)
			if e, ok := token.(xml.StartElement); ok && e.Name.Local == "path" {
				paths++
			}
		}
		require.Positive(t, paths, p.Name)
	}
	for _, name := range []string{"preview", "thickness", "plan-1", "plan-2", "gauges", "sheet-side", "sheet-top"} {
		require.True(t, names[name], name)
	}
	require.False(t, names["board"], "a plain board has no sheet of its own")
}
