package main

import (
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// TestLiveLongNamesFit gives the neck and its file names as long as they may
// be.
// It runs only with DRAWN=all.
func TestLiveLongNamesFit(t *testing.T) {
	drawn.Only(t)
	long := strings.Repeat("W", 100)
	p := openLive(t, strings.Replace(spec.Starter(), `"Tern 636"`, `"`+long+`"`, 1))
	file := strings.Repeat("m", 110) + ".toml"
	p.put(file, strings.Replace(spec.Starter(), `"Tern 636"`, `"`+long+`"`, 1))
	p.open(file)
	p.until(openFile + `.startsWith('mmm')`)
	p.rest()
	require.Contains(t, get[string](p, `document.getElementById('title').textContent`), long)
	p.unfold()
	p.run(`document.getElementById('ghost').dispatchEvent(new Event('focus'))`)
	p.until(`[...document.getElementById('ghost').options].some((o) => o.value.startsWith('f:mmm'))`)
	p.choose("ghost", "f:"+file)
	p.until(`document.getElementById('ghost-name').textContent.includes('mmm')`)
	p.write(spec.Starter()) // nothing: another file is open
	for _, width := range []int64{360, 820, 1400} {
		p.size(width, 900, "light")
		require.LessOrEqual(t, get[int64](p, `document.documentElement.scrollWidth`), width)
		require.Empty(t, get[[]string](p, `[...document.querySelectorAll('header *, main > section, #ghost-name, #ghost-words')].filter((e) => e.checkVisibility() && !e.closest('.hidden') &&
			(e.getBoundingClientRect().right > innerWidth + 1 || e.scrollWidth > e.clientWidth + 1 && e.clientWidth > 0 && !['SELECT', 'OPTION'].includes(e.tagName))).map((e) => e.tagName + '#' + e.id)`), "%d px", width)
		p.click("#open")
		p.until(`document.getElementById('open-spec').open`)
		require.LessOrEqual(t, get[int64](p, `document.getElementById('open-spec').scrollWidth`), width)
		p.keys(kb.Escape)
	}
	if dir := os.Getenv("NECKLOFT_SHOTS"); dir != "" {
		p.shoot(dir, "long-names")
	}
	p.quiet()
}

// TestLiveFretLabels looks that every fret has its number where the numbers
// beside it leave room, and that no two numbers touch.
// It runs only with DRAWN=all.
func TestLiveFretLabels(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	p.pane("side")
	for _, width := range []int64{1600, 820, 360} {
		p.size(width, 900, "light")
		p.rest()
		p.frame()
		got := get[struct {
			Touch, Dropped []string
			Shown          int
		}](p, `(() => {
			const ticks = [...document.querySelectorAll('#side-drawing .tick')].map((t) => parseFloat(t.getAttribute('x1')));
			const labels = [...document.querySelectorAll('#side-drawing text.quiet')].map((t) => ({ text: t.textContent, x: parseFloat(t.getAttribute('x')), w: t.getBBox().width })).sort((a, b) => a.x - b.x);
			const out = { touch: [], dropped: [], shown: labels.length };
			for (let i = 1; i < labels.length; i++) if (labels[i].x - labels[i].w / 2 < labels[i - 1].x + labels[i - 1].w / 2 + 2) out.touch.push(labels[i].text);
			ticks.forEach((x, n) => {
				if (labels.some((l) => Math.abs(l.x - x) < 0.01)) return;
				const w = n > 9 ? 14 : 8;
				if (!labels.some((l) => Math.abs(l.x - x) < (l.w + w) / 2 + 4)) out.dropped.push(String(n));
			});
			return out;
		})()`)
		require.Empty(t, got.Touch, "%d px", width)
		require.Empty(t, got.Dropped, "%d px", width)
		if width == 1600 {
			require.GreaterOrEqual(t, got.Shown, spec.Demo().Scale.Frets, "all but one")
		}
	}
}

// TestLiveTypedNumbers types as builders do.
// It runs only with DRAWN=all.
func TestLiveTypedNumbers(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	for typed, want := range map[string]float64{
		"43½": 43.5, "43 ⅝": 43.625, "1.7 inch": 43.18, "1.7inches": 43.18, "1 11/16 in": 42.8625, "1¾″": 44.45, "1¾”": 44.45, "44 mm": 44, "4.4 cm": 44,
	} {
		p.enter("c-width-nut", typed)
		p.keys(kb.Enter)
		p.until(fmt.Sprintf("Math.abs(neckloft.values['width.nut'] - %v) < 1e-6", want))
		p.rest()
	}
	// What is not finished is no error yet, neither as a number nor as a
	// measure.
	p.enter("c-width-nut", "44")
	p.keys(kb.Enter)
	p.rest()
	p.run(`window.flashed = []; new MutationObserver(() => {
		for (const e of document.querySelectorAll('.sentences .error, #problems .error')) flashed.push(e.textContent);
		if (document.body.classList.contains('unsound')) flashed.push('unsound');
	}).observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true })`)
	p.enter("c-width-nut", "")
	for _, key := range []string{"4", "3", " ", "1", "/", "2", " ", "m", "m"} {
		p.insert(key)
		time.Sleep(60 * time.Millisecond)
	}
	p.until(`neckloft.values['width.nut'] === 43.5`)
	p.rest()
	require.Empty(t, get[[]string](p, `[...new Set(flashed)]`))
	p.keys(kb.Enter)
	// But when the hand rests on what is wrong, it is said.
	p.enter("c-width-nut", "1")
	p.until(`document.getElementById('c-width-nut-error').textContent !== ''`)
	p.enter("c-width-nut", "4x")
	p.until(`document.getElementById('c-width-nut-error').textContent.includes('is not a number')`)
	p.enter("c-width-nut", "43 1/")
	p.run(`document.activeElement.blur()`)
	p.until(`document.getElementById('note').textContent.includes('is not a number')`)
	p.until(`neckloft.values['width.nut'] === 43.5`)
	p.rest()
	p.enter("c-width-nut", " ")
	p.run(`document.activeElement.blur()`)
	p.until(`document.getElementById('note').textContent.startsWith('An empty field is not a number')`)
	p.until(`neckloft.values['width.nut'] === 43.5`)
	p.rest()
	// A save in the middle of typing holds what is typed.
	p.enter("c-width-nut", "45.5")
	p.keys("s", chromedp.ModifierCtrl)
	require.Eventually(t, func() bool { return strings.Contains(p.saved(), "nut = 45.5") }, 20*time.Second, 50*time.Millisecond)
	p.until(`!document.body.classList.contains('unsaved')`)
	p.quiet()
}

// TestLiveColoursAreKept opens the page of another run, at another port.
// It runs only with DRAWN=all.
func TestLiveColoursAreKept(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	p.choose("theme", "dark")
	q := openLive(t, spec.Starter())
	require.NotEqual(t, strings.Split(p.url, "#")[0], strings.Split(q.url, "#")[0])
	require.Equal(t, "dark", get[string](q, `document.documentElement.dataset.theme`))
	require.Equal(t, "dark", get[string](q, `document.getElementById('theme').value`))
	q.choose("theme", "")
	require.False(t, get[bool](q, `'theme' in document.documentElement.dataset`))
	r := openLive(t, spec.Starter())
	require.False(t, get[bool](r, `'theme' in document.documentElement.dataset`))
}

// TestLiveFocusStaysNear works with keys alone through what builds the controls
// anew or has nothing more to do.
// It runs only with DRAWN=all.
func TestLiveFocusStaysNear(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	p.unfold()
	where := `(() => { const e = document.activeElement; return e.closest('[data-table]')?.dataset.table ?? e.id ?? e.tagName; })()`
	press := func(selector string) {
		t.Helper()
		p.run(fmt.Sprintf(`document.querySelector(%q).focus()`, selector))
		p.keys(kb.Enter)
		p.frame()
		p.rest()
	}
	entries := `document.querySelectorAll('[data-table=depth] fieldset').length`
	press(`[data-table=depth] fieldset:nth-of-type(1) .entry-buttons button`)
	require.Equal(t, 3, get[int](p, entries))
	require.Equal(t, "depth", get[string](p, where))
	require.Equal(t, "Station 2", get[string](p, `document.activeElement.closest('fieldset').querySelector('legend').textContent`), "at the new one")
	press(`[data-table=depth] fieldset:nth-of-type(3) [aria-label^=Remove]`)
	require.Equal(t, 2, get[int](p, entries))
	require.Equal(t, "Station 2", get[string](p, `document.activeElement.closest('fieldset').querySelector('legend').textContent`), "at the one before")
	press(`[data-table=depth] [aria-label="Remove station 1"]`)
	require.Equal(t, 1, get[int](p, entries))
	require.Equal(t, "depth", get[string](p, where))
	press(`#save`)
	p.until(`!document.body.classList.contains('unsaved')`)
	require.Equal(t, "save", get[string](p, `document.activeElement.id`))
	for range 3 {
		press(`#undo`)
	}
	require.Equal(t, "undo", get[string](p, `document.activeElement.id`), "even when there is nothing more")
	require.True(t, get[bool](p, `neckloft.text.includes('fret = 12')`))
	p.keys(kb.Enter)
	p.keys(kb.Tab)
	require.True(t, get[bool](p, `document.getElementById('undo').disabled`))
	// A table that comes and goes.
	p.run(`document.getElementById('c-has-volute').focus()`)
	p.keys(" ")
	p.rest()
	require.Equal(t, "c-has-volute", get[string](p, `document.activeElement.id`))
	// Dialogs give it back.
	for _, id := range []string{"open", "save-other"} {
		p.run(fmt.Sprintf(`document.getElementById(%q).focus()`, id))
		p.keys(kb.Enter)
		p.until(`document.querySelector('dialog[open]')`)
		p.keys(kb.Escape)
		p.until(`!document.querySelector('dialog[open]')`)
		require.Equal(t, id, get[string](p, `document.activeElement.id`))
	}
	p.quiet()
}
