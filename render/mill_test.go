package render

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/plot/vg"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck/mill"
	"neckloft/neck/spec"
	"neckloft/render/drawing"
)

// TestMillSheetKeepsClear lays the set-up sheet out for necks of many kinds: no
// label leaves the page or touches another, and pins and tabs are drawn where the
// table says. Half of the necks only with all cases.
func TestMillSheetKeepsClear(t *testing.T) {
	necks := gluedNecks(t)
	necks["demo"] = demo(t)
	for _, name := range drawn.Keys(necks, 3) {
		n := necks[name]
		for _, where := range []mill.PinPlace{mill.PinsWaste, mill.PinsBoard} {
			o := mill.DefaultOptions()
			o.PinsWhere = where
			s, err := mill.New(n, o)
			require.NoError(t, err, name)
			for _, u := range []spec.Unit{spec.Millimetre, spec.Inch} {
				sh := &sheet{look: sticksLook, width: sticksWidth, density: 1}
				require.NoError(t, sh.lay(millPanels(s, u)))
				p := drawing.NewBlank(vg.Length(sh.width), vg.Length(sh.height), sh.em)
				sh.draw(p, nil)
				assert.Empty(t, collisions(p.Labels(), sh.width, sh.height), "%s, %s", name, u)
				var all []string
				for _, l := range p.Labels() {
					all = append(all, l.Text)
				}
				text := strings.Join(all, "\n")
				for _, want := range []string{"pin 2", "tab 6", "datum", "Feeds, speeds", "set-up for a mill"} {
					assert.Contains(t, text, want, name)
				}
			}
			if where == mill.PinsBoard {
				continue
			}
			var first, again bytes.Buffer
			require.NoError(t, WriteMillPDF(&first, s, n.Spec().PrintUnit(), export.PaperFor(n.Spec())))
			require.NoError(t, WriteMillPDF(&again, s, n.Spec().PrintUnit(), export.PaperFor(n.Spec())))
			assert.Equal(t, first.Bytes(), again.Bytes())
		}
	}
}

// TestMillViewIsTrue measures where the datum and the pins are on the view.
func TestMillViewIsTrue(t *testing.T) {
	n := demo(t)
	s, err := mill.New(n, mill.DefaultOptions())
	require.NoError(t, err)
	v := &millView{s: s, u: spec.Millimetre}
	page := drawing.NewBlank(1000, 1000, 10)
	tall := v.lay(page, 50, 950)
	scale := 900 / (s.Hi.X - s.Lo.X)
	assert.InDelta(t, 50-scale*s.Lo.X, float64(v.f.X(0)), 1e-9)
	assert.InDelta(t, 950, float64(v.f.X(s.Hi.X)), 1e-9)
	assert.Greater(t, float64(tall), scale*(s.Hi.Y-s.Lo.Y))
}
