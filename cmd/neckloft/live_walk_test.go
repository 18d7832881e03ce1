package main

import (
	"encoding/base64"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// TestLiveWalk is what every run sees of the page in a browser: it opens, a control
// and a handle change the neck, a step is taken back, the file is saved, one file
// is made, and axe-core finds nothing. All else runs with DRAWN=all.
func TestLiveWalk(t *testing.T) {
	p := openLive(t, spec.Starter())

	p.drag("#c-depth-1--total-slider", 40, 4, 10*time.Millisecond)
	p.rest()
	total := get[string](p, `document.getElementById('c-depth-1--total').value`)
	require.NotEqual(t, "20.6", total)
	s, err := spec.Read(strings.NewReader(p.text()), "")
	require.NoError(t, err)
	n, err := neck.New(s)
	require.NoError(t, err)
	require.Equal(t, s.Units.Rounded(n.Depth(s.FretX(1))), get[string](p, `document.querySelector('#numbers [data-key=wood-at-fret-1] strong').textContent`))
	require.Contains(t, p.text(), "total = "+total)

	p.pane("side")
	before := p.text()
	p.run(`document.getElementById('hint-end').click()`)
	p.frame()
	x, y := p.knobAt("side", "depth[2].total")
	seen := p.dragKnob("side", "depth[2].total", 0, 24)
	require.NotEqual(t, before, p.text())
	require.Less(t, math.Hypot(seen[0]-x, seen[1]-y-24), 5.0, "the handle is under the pointer")
	p.click("#undo")
	p.rest()
	require.Equal(t, before, p.text(), "a drag is one step back")

	require.Equal(t, spec.Starter(), p.saved(), "nothing is written unasked")
	p.saveAll()
	require.Equal(t, before, p.saved())

	out := filepath.Join(p.dir, "stations.csv")
	r := call("", "stations", p.file, "--format", "csv", "-o", out)
	require.Equal(t, exitDone, r.code, r.err)
	want, err := os.ReadFile(out)
	require.NoError(t, err)
	got, err := base64.StdEncoding.DecodeString(await[string](p, `neckloft.made('stations.csv')`))
	require.NoError(t, err)
	require.Equal(t, string(want), string(got))

	if script, err := os.ReadFile(axe); err == nil {
		p.run(string(script))
		p.accessible("after work")
	}
	p.quiet()
}

// accessible fails the test where axe-core finds something on the page.
func (p *livePage) accessible(state string) {
	p.tb.Helper()
	p.rest()
	require.Empty(p.tb, await[[]string](p, `axe.run(document, { resultTypes: ['violations'] }).then((r) => r.violations.flatMap((v) => v.nodes.map((n) => v.id + ': ' + n.html.slice(0, 160))))`), state)
}
