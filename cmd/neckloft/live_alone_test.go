package main

import (
	"encoding/base64"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render"
)

// engineBuilt reports whether this program carries the engine for browsers.
func engineBuilt() bool {
	_, err := engineFiles.ReadFile("engine/engine.wasm.gz")
	return err == nil
}

// openAlone writes the page in one file and opens it from the disk, with no
// program behind it.
func openAlone(tb testing.TB, text string) *livePage {
	tb.Helper()
	if !engineBuilt() {
		tb.Skip("the engine for browsers is not built; go generate ./cmd/neckloft builds it")
	}
	p := &livePage{tb: tb, ctx: browser(tb), dir: tb.TempDir()}
	p.file = filepath.Join(p.dir, "neck.toml")
	require.NoError(tb, os.WriteFile(p.file, []byte(text), 0o600))
	out := filepath.Join(p.dir, "page.html")
	r := call("", "page", p.file, "-o", out)
	require.Equal(tb, exitDone, r.code, r.err)
	p.url, p.made = (&url.URL{Scheme: "file", Path: out}).String(), out
	messages := chromedp.Console(p.ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			p.note(m)
		}
	}()
	p.do(chromedp.Navigate(p.url))
	p.rest()
	return p
}

// TestPageAlone holds the page with no program behind it against the command
// line: every number of the table, and every byte of every file for the bench.
//
// Long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestPageAlone(t *testing.T) {
	drawn.Only(t)
	p := openAlone(t, spec.Starter())
	preview, jigs := bench.PreviewWidth, bench.JigWidth
	bench.PreviewWidth, bench.JigWidth, render.Rough = render.DefaultWidth, jigWidth, false // the engine has none of the tests' haste
	t.Cleanup(func() { bench.PreviewWidth, bench.JigWidth, render.Rough = preview, jigs, true })
	dir := filepath.Join(t.TempDir(), "out")
	r := call("", "make", p.file, "-o", dir)
	require.Equal(t, exitDone, r.code, r.err)
	names := get[[]string](p, `[...document.querySelectorAll('#products button')].map((b) => b.dataset.name)`)
	require.NotEmpty(t, names)
	if !drawn.All() {
		names = slices.DeleteFunc(names, func(name string) bool { return name == "preview.png" }) // it takes the engine long
	}
	names = drawn.Some(names, 3)
	var differ []string
	for _, name := range names {
		if name == "all.zip" {
			continue
		}
		want, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		got, err := base64.StdEncoding.DecodeString(await[string](p, `neckloft.made(`+"`"+name+"`"+`)`))
		require.NoError(t, err)
		if string(got) != string(want) {
			differ = append(differ, name)
			if dir := os.Getenv("NECKLOFT_SHOTS"); dir != "" {
				require.NoError(t, os.WriteFile(filepath.Join(dir, "page-"+name), got, 0o644))
				require.NoError(t, os.WriteFile(filepath.Join(dir, "line-"+name), want, 0o644))
			}
		}
	}
	require.Empty(t, differ, "of %s", strings.Join(names, " "))
	p.quiet()

	t.Run("jigs and the mill's files are those of the command line", func(t *testing.T) {
		p.tb = t
		zip, err := base64.StdEncoding.DecodeString(await[string](p, "neckloft.made('all.zip', ['jigs/rest', 'mill.pdf', 'mill.dxf', 'mill.svg'])"))
		require.NoError(t, err)
		sameAsLine(t, p.file, "rest", zip)
		p.quiet()
	})

	t.Run("the table is that of the command line", func(t *testing.T) {
		p.tb = t
		cells := get[[][]string](p, `[...document.querySelectorAll('#stations tr')].map((r) => [...r.cells].map((c) => c.textContent))`)
		l := openLive(t, spec.Starter())
		require.Equal(t, get[[][]string](l, `[...document.querySelectorAll('#stations tr')].map((r) => [...r.cells].map((c) => c.textContent))`), cells)
		require.Equal(t, get[string](l, `document.getElementById('numbers').textContent`), get[string](p, `document.getElementById('numbers').textContent`))
		require.Greater(t, len(cells), 20)
	})

	t.Run("handles, pictures and readings need no program", func(t *testing.T) {
		p.tb = t
		p.pane("side")
		p.run(`document.querySelector('#side-knobs [data-path="depth[2].total"]').focus()`)
		p.keys(kb.ArrowDown)
		p.until(`neckloft.values['depth[2].total'] === 22.5`)
		p.rest()
		p.pane("made")
		p.click("#made-names [data-name=sheet-top]")
		p.until(`document.getElementById('made-image').naturalWidth > 100`)
		p.click("#undo")
		p.rest()
		p.quiet()
	})

	t.Run("a spec is kept in the browser, and comes back", func(t *testing.T) {
		p.tb = t
		p.enter("c-width-nut", "43")
		p.rest()
		p.click("#save")
		p.until(`document.getElementById('save-as').open`)
		p.run(`document.getElementById('save-name').value = 'kept.toml'`)
		p.click("#save-as button.main")
		p.until(`document.getElementById('file-name').textContent === 'kept.toml'`)
		p.enter("c-width-nut", "44")
		p.rest()
		p.click("#save")
		p.until(`document.getElementById('note').textContent.startsWith('kept.toml is saved')`)
		p.do(chromedp.Reload())
		p.rest()
		require.Contains(t, get[string](p, `neckloft.text`), "nut = 42.8", "the page begins with the spec that came with it")
		p.open("kept.toml")
		p.until(`document.getElementById('file-name').textContent === 'kept.toml'`)
		p.rest()
		require.Contains(t, get[string](p, `neckloft.text`), "nut = 44")
		p.quiet()
	})
}

// await is get for a promise.
func await[T any](p *livePage, expression string) T {
	p.tb.Helper()
	out, err := chromedp.Run(p.ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	require.NoError(p.tb, err, expression)
	return out
}
