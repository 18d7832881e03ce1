package main

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"os"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

// TestLiveDraft loads the page anew in the middle of work.
//
// Long, since each way to come back begins where the last one ended.
// It runs only with DRAWN=all.
func TestLiveDraft(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter(), `addEventListener('beforeunload', (e) => e.stopImmediatePropagation(), true)`)
	sub := p.parts(t)
	hidden := `document.getElementById('draft').hidden`

	sub("what was not saved is offered, and taken up only when that is asked for", func(t *testing.T) {
		p.enter("c-width-nut", "43.3")
		p.rest()
		p.run(`dispatchEvent(new Event('pagehide'))`)
		p.do(chromedp.Reload())
		p.rest()
		require.False(t, get[bool](p, hidden))
		require.Contains(t, get[string](p, `neckloft.text`), "nut = 42.8")
		require.Contains(t, get[string](p, `document.getElementById('draft-lines').textContent`), "+ nut = 43.3")
		require.NotContains(t, get[string](p, `document.getElementById('draft-what').textContent`), "changed since")
		p.click("#draft-take")
		p.rest()
		require.True(t, get[bool](p, hidden))
		require.Contains(t, get[string](p, `neckloft.text`), "nut = 43.3")
		p.click("#undo")
		p.rest()
		require.Contains(t, get[string](p, `neckloft.text`), "nut = 42.8")
		p.click("#redo")
		p.rest()
	})

	sub("a draft of an older file says so", func(t *testing.T) {
		p.run(`dispatchEvent(new Event('pagehide'))`)
		p.do(chromedp.Navigate("about:blank"))
		p.write(p.saved() + "# an editor was here\n")
		p.do(chromedp.Navigate(p.url))
		p.rest()
		require.False(t, get[bool](p, hidden))
		require.Contains(t, get[string](p, `document.getElementById('draft-what').textContent`), "The file has been changed since.")
		require.Contains(t, get[string](p, `neckloft.text`), "an editor was here")
	})

	sub("taken up over a newer file it is not saved over that without a question", func(t *testing.T) {
		theirs := p.saved()
		asks := func() {
			p.click("#draft-take")
			p.rest()
			p.click("#save")
			p.until(`!document.getElementById('conflict').hidden`)
			require.Equal(t, theirs, p.saved())
			require.Contains(t, get[string](p, `document.getElementById('conflict-lines').textContent`), "- # an editor was here")
			p.click("#later")
		}
		asks()
		// Nor after a reload, whose draft is still one of the older file.
		p.run(`dispatchEvent(new Event('pagehide'))`)
		p.do(chromedp.Reload())
		p.rest()
		require.Contains(t, get[string](p, `document.getElementById('draft-what').textContent`), "The file has been changed since.")
		asks()
		// The file itself, a step back, is saved as always.
		p.click("#undo")
		p.rest()
		require.Equal(t, theirs, p.text())
		p.click("#redo")
		p.rest()
		p.click("#save")
		p.until(`!document.getElementById('conflict').hidden`)
		p.click("#keep")
		p.until(`!document.body.classList.contains('unsaved')`)
		require.NotContains(t, p.saved(), "an editor was here")
		require.Contains(t, p.saved(), "nut = 43.3")
	})

	sub("a draft that is forgotten is gone", func(t *testing.T) {
		p.enter("c-width-nut", "43.6")
		p.rest()
		p.run(`dispatchEvent(new Event('pagehide'))`)
		p.do(chromedp.Reload())
		p.rest()
		p.click("#draft-drop")
		p.do(chromedp.Reload())
		p.rest()
		require.True(t, get[bool](p, hidden))
	})

	sub("what is saved leaves no draft", func(t *testing.T) {
		p.enter("c-width-nut", "43.4")
		p.rest()
		p.click("#save")
		p.until(`!document.body.classList.contains('unsaved')`)
		p.run(`dispatchEvent(new Event('pagehide'))`)
		p.do(chromedp.Reload())
		p.rest()
		require.True(t, get[bool](p, hidden))
		require.Contains(t, get[string](p, `neckloft.text`), "nut = 43.4")
	})
	p.tb = t
	p.quiet()
}

// TestUsualPort holds that the page of a file has the same address on every run,
// if its port is free.
func TestUsualPort(t *testing.T) {
	require.Equal(t, live.UsualPort("wren.toml"), live.UsualPort("./wren.toml"))
	require.NotEqual(t, live.UsualPort("wren.toml"), live.UsualPort("lark.toml"))
	port := live.UsualPort("wren.toml")
	require.True(t, port >= 20000 && port < 32000, port)
	first, err := listen("wren.toml", 0)
	require.NoError(t, err)
	defer first.Close()
	second, err := listen("wren.toml", 0)
	require.NoError(t, err, "another port where that one is taken")
	second.Close()
}

// axe is the checker of accessibility that axe-core is, if it is installed.
const axe = "../../render/live/web/node_modules/axe-core/axe.min.js"

// TestLiveRules runs axe-core over the page in its states and sizes, and looks
// where the focus is in a window that is enlarged.
//
// Long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLiveRules(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	sub := p.parts(t)

	sub("axe-core finds nothing", func(t *testing.T) {
		script, err := os.ReadFile(axe)
		if err != nil {
			t.Skip("render/live/web/node_modules is not there; \"npm ci\" in render/live/web installs axe-core")
		}
		p.run(string(script))
		p.accessible("at rest")
		p.unfold()
		p.size(360, 780, "dark")
		p.accessible("on a phone, all open")
		p.pane("section")
		p.choose("ghost", "now")
		p.until(`document.getElementById('compare').checkVisibility()`)
		p.rest()
		p.accessible("on a phone, a section compared")
		p.click("#compare-end")
		p.pane("made")
		p.click("#made-names [data-name=jigs]")
		p.until(`document.getElementById('made-words').checkVisibility() && document.getElementById('made-state').textContent === ''`)
		p.run(`document.getElementById('jig-options').open = true`)
		p.accessible("with options of jigs")
		p.pane("space")
		p.size(1400, 1000, "light")
		p.enter("c-wall-height", "99")
		p.until(`document.getElementById('c-wall-height-error').textContent !== ''`)
		p.accessible("with an error")
		p.click("#open")
		p.until(`document.getElementById('open-spec').open`)
		p.accessible("with a dialog")
		p.run(`document.getElementById('open-spec').close()`)
	})

	sub("no two controls have the same name", func(t *testing.T) {
		require.Empty(t, get[[]string](p, `(() => {
			const names = [...document.querySelectorAll('#controls input[type=range], #controls select[aria-label]')].map((e) => e.getAttribute('aria-label'));
			return names.filter((n, i) => names.indexOf(n) !== i);
		})()`))
		require.Equal(t, "Thickness, station 1: Total, slider", get[string](p, `document.getElementById('c-depth-1--total-slider').getAttribute('aria-label')`))
	})

	sub("enlarged, nothing that has the focus lies under something", func(t *testing.T) {
		p.unfold()
		for _, size := range drawn.Some([][2]int64{{320, 256}, {640, 512}, {820, 540}}, 1) { // 1280 x 1024 at 200 % and 400 %
			p.size(size[0], size[1], "light")
			p.pane("space")
			share := get[[]float64](p, `(() => { const r = document.getElementById('picture').getBoundingClientRect(); return [r.width / innerWidth, r.height / innerHeight, r.top / innerHeight]; })()`)
			require.Greater(t, share[0], 0.45, "%v: the picture is large", size)
			require.Greater(t, share[1], 0.33, "%v, under a warning and a hint", size)
			require.Less(t, share[2], 0.7, "%v: and in sight, under hints and warnings", size)
			p.run(`document.activeElement.blur(); scrollTo(0, 0); window.under = []`)
			n := get[int](p, `[...document.querySelectorAll('a[href], input, select, textarea, button:not([tabindex]), summary, [tabindex="0"]')].filter((e) => e.checkVisibility() && !e.disabled).length`)
			p.run(`window.over = () => {
				const e = document.activeElement;
				if (!e || e === document.body || e.classList.contains('skip')) return;
				const r = e.getBoundingClientRect();
				const x = Math.min(innerWidth - 1, Math.max(0, r.left + r.width / 2));
				const y = Math.min(innerHeight - 1, Math.max(0, r.top + Math.min(r.height / 2, 20)));
				const top = document.elementFromPoint(x, y);
				if (!top || !(e.contains(top) || top.contains(e) || top.closest('label')?.control === e || (e.id === 'view' && e.parentElement.contains(top)))) under.push(e.outerHTML.slice(0, 80) + ' under ' + top?.outerHTML.slice(0, 60));
			}; document.addEventListener('focusin', () => requestAnimationFrame(over))`)
			for range n + 2 {
				command(p, input.DispatchKeyEvent, input.DispatchKeyEventParams{
					Type: input.DispatchKeyEventTypeRawKeyDown, Key: "Tab", Code: "Tab", WindowsVirtualKeyCode: 9,
				})
			}
			p.frame()
			require.Empty(t, get[[]string](p, `under`), "%d x %d", size[0], size[1])
			require.LessOrEqual(t, get[int64](p, `document.documentElement.scrollWidth`), size[0])
		}
		p.size(1024, 768, "light") // a tablet on its side
		p.pane("space")
		p.frame()
		high := get[float64](p, `document.getElementById('picture').offsetHeight / innerHeight`)
		require.Greater(t, high, 0.5, "the controls lie beside the picture")
		require.Empty(t, get[[]string](p, `(() => {
			const top = document.querySelector('#picture .looks').getBoundingClientRect().top;
			return [...document.querySelectorAll('#space-knobs .knob i')].filter((e) => e.checkVisibility() && e.getBoundingClientRect().bottom > top).map((e) => e.parentElement.ariaLabel);
		})()`), "no part of the neck lies under the buttons")
		p.size(1400, 1000, "light")
	})

	sub("a move tells a screen reader nothing, its end at most one thing", func(t *testing.T) {
		p.enter("c-wall-height", "1.2")
		p.rest()
		p.run(`window.told = 0; new MutationObserver((m) => { told += m.length; }).observe(document.getElementById('told'), { childList: true, characterData: true, subtree: true })`)
		p.run(`document.getElementById('c-depth-1--total-slider').focus()`)
		for range 8 {
			p.keys("\ue014") // right
		}
		p.rest()
		require.LessOrEqual(t, get[int](p, `told`), 1)
		require.Equal(t, 0, get[int](p, `document.querySelectorAll('#problems[aria-live], #problems [role=alert], #numbers[aria-live]').length`))
	})

	sub("forced colours leave what is moved in sight", func(t *testing.T) {
		command(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "forced-colors", Value: "active"}}})
		p.frame()
		require.True(t, get[bool](p, `matchMedia('(forced-colors: active)').matches`))
		require.NotEqual(t, get[string](p, `getComputedStyle(document.body).backgroundColor`),
			get[string](p, `getComputedStyle(document.getElementById('plane'), '::-webkit-slider-runnable-track').backgroundColor`))
		require.NotEqual(t, get[string](p, `getComputedStyle(document.body).backgroundColor`),
			get[string](p, `getComputedStyle(document.querySelector('#section-drawing .wood')).stroke`))
		if dir := os.Getenv("NECKLOFT_SHOTS"); dir != "" {
			p.shoot(dir, "forced")
		}
		command(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
	})
	p.tb = t
	p.quiet()
}
