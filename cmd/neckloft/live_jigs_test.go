package main

import (
	"encoding/base64"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"
)

// measuresByKeys measures a hundred points of the screen across the section.
func (p *livePage) measuresByKeys(t *testing.T) {
	t.Helper()
	p.pane("section")
	text := p.text()
	p.run(`document.activeElement.blur()`)
	p.keys("m")
	require.Equal(t, "cross", get[string](p, `document.activeElement.id`))
	for range 12 {
		p.keys(kb.ArrowDown, chromedp.ModifierShift) // under the wood, where no corner is near
	}
	p.keys(kb.Enter)
	for range 10 {
		p.keys(kb.ArrowRight, chromedp.ModifierShift)
	}
	p.keys(kb.Enter)
	read := get[string](p, `document.getElementById('read').textContent`)
	found := regexp.MustCompile(`([\d.]+) mm across`).FindStringSubmatch(read)
	require.Len(t, found, 2, read)
	across, err := strconv.ParseFloat(found[1], 64)
	require.NoError(t, err)
	board := p.outline("section", ".board", 0)
	scale := (board.Right - board.Left) / p.shown().Width(get[float64](p, `neckloft.x`))
	require.InEpsilon(t, 100/scale, across, 0.02)
	require.Equal(t, text, p.text())
	p.keys(kb.Escape)
	require.Equal(t, "measure", get[string](p, `document.activeElement.id`))
	require.False(t, get[bool](p, `document.getElementById('cross').checkVisibility()`))
}

// showsJigs looks at the pictures of jigs and of the mill's set-up, which follow the
// neck.
func (p *livePage) showsJigs(t *testing.T) {
	t.Helper()
	const (
		source = `document.getElementById('made-image').src`
		drawn  = `document.getElementById('made-state').textContent === '' && document.getElementById('made-image').naturalWidth > 400`
	)
	p.pane("made")
	p.click("#made-names [data-name=jigs]")
	p.until(`document.getElementById('made-words').checkVisibility() && ` + drawn)
	require.Equal(t, "bevels", get[string](p, `document.querySelector('#made-jigs [aria-pressed=true]').textContent`), "the first that the spec gives cause for")
	before := get[string](p, source)
	p.click(`#made-jigs [data-name="jigs/rest"]`)
	p.until(source + ` !== "` + before + `" && ` + drawn)
	require.Equal(t, 3, get[int](p, `document.querySelectorAll('#made-words li').length`), "three lines of use")
	require.Contains(t, get[string](p, `document.querySelector('#made-words .never').textContent`), "it tips")
	p.asksOfJigs(t, source, drawn)
	before = get[string](p, source)
	p.run(`document.getElementById('follow').click()`)
	p.enter("c-width-nut", "45")
	p.until(source + ` !== "` + before + `" && ` + drawn)
	p.run(`document.getElementById('follow').click()`)
	p.click("#undo")
	p.rest()
	p.click("#made-names [data-name=mill]")
	p.until(`!document.getElementById('made-words').checkVisibility() && ` + drawn)
	require.Contains(t, get[string](p, `document.getElementById('made-image').alt`), "Mill")
	p.click("#made-names [data-name=plan-1]")
	p.until(drawn)
}

// choosesJigs has none of them chosen in the open choice of files, chooses one, and
// makes it alone.
func (p *livePage) choosesJigs(t *testing.T) {
	t.Helper()
	const chosen = `[...document.querySelectorAll('#make-list input:checked')].map((e) => e.dataset.name)`
	p.click("#make-all")
	p.until(`document.getElementById('make-jigs/rest')`)
	all := get[[]string](p, chosen)
	require.Contains(t, all, "plan.pdf")
	for _, name := range all {
		require.NotRegexp(t, `^jigs/|^mill`, name, "make does not write it")
	}
	p.click("#make-none")
	p.run(`document.getElementById('make-jigs/rest').click()`)
	require.Equal(t, []string{"jigs/rest"}, get[[]string](p, chosen))
	p.click("#make-go")
	p.until(`document.getElementById('make-state').textContent === 'neck.zip is made, with 1 jig.'`)
	p.click("#make-all")
}

// asksOfJigs asks for another lining: the picture of the jig follows, its files are
// those of the command line, and a lining that cannot be is refused in its words.
func (p *livePage) asksOfJigs(t *testing.T, source, drawn string) {
	t.Helper()
	before := get[string](p, source)
	p.run(`document.getElementById('jig-options').open = true`)
	p.enter("jig-lining", "3mm\n")
	p.until(source + ` !== "` + before + `" && ` + drawn)
	require.Equal(t, "--lining 3mm", get[string](p, `document.getElementById('jig-asked').textContent`))
	file := filepath.Join(t.TempDir(), "neck.toml")
	require.NoError(t, os.WriteFile(file, []byte(p.text()), 0o600))
	data, err := base64.StdEncoding.DecodeString(await[string](p, `neckloft.made('all.zip', ['jigs/rest'])`))
	require.NoError(t, err)
	sameAsLine(t, file, "rest", data, "--lining", "3mm")

	p.enter("jig-lining", "30mm\n")
	p.until(`document.getElementById('jig-lining-error').textContent === '30 mm; allowed: 0 mm to 10 mm'`)
	require.Equal(t, "true", get[string](p, `document.getElementById('jig-lining').getAttribute('aria-invalid')`))
	require.True(t, get[bool](p, `document.getElementById('made-image').classList.contains('old')`), "the picture is of another lining")
	p.click("#jig-usual")
	p.until(`document.getElementById('jig-lining-error').textContent === '' && document.getElementById('jig-lining').value === '' && ` + drawn)
	require.Equal(t, "as usual", get[string](p, `document.getElementById('jig-asked').textContent`))
	require.False(t, get[bool](p, `document.getElementById('made-image').classList.contains('old')`))
	p.run(`document.getElementById('jig-options').open = false`)
}
