package main

import (
	"context"
	"fmt"
	"net"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

// put writes another spec into the folder of the page.
func (p *livePage) put(name, text string) {
	p.tb.Helper()
	require.NoError(p.tb, os.WriteFile(filepath.Join(p.dir, name), []byte(text), 0o600))
}

// open opens a spec of the folder from the page's list.
func (p *livePage) open(name string) {
	p.tb.Helper()
	p.click("#open")
	choice := fmt.Sprintf(`#open-spec button[data-name=%q]`, name)
	p.until(fmt.Sprintf("document.getElementById('open-spec').open && document.querySelector(%q)", choice))
	p.click(choice)
}

// again serves the page's file anew at the same port, with another key.
func (p *livePage) again() (url string) {
	p.tb.Helper()
	p.end()
	host, _, _ := strings.Cut(strings.TrimPrefix(p.url, "http://"), "/")
	_, port, err := net.SplitHostPort(host)
	require.NoError(p.tb, err)
	number, err := strconv.Atoi(port)
	require.NoError(p.tb, err)
	s, err := live.New(live.Options{File: p.file})
	require.NoError(p.tb, err)
	var l net.Listener
	require.Eventually(p.tb, func() bool { l, err = live.Listen(number); return err == nil }, 5*time.Second, 50*time.Millisecond)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- serveLive(ctx, s, l) }()
	p.tb.Cleanup(func() {
		stop()
		<-ended
		s.Close()
	})
	return s.URL(l)
}

const (
	readReason = `document.getElementById('unread').checkVisibility()`
	openFile   = `document.getElementById('file-name').textContent`
)

// press has every kind of control act, with keys and with clicks.
func (p *livePage) pressEverything() {
	p.tb.Helper()
	p.unfold()
	p.run(`document.activeElement.blur(); document.getElementById('c-depth-1--total-slider')?.focus()`)
	p.keys(kb.ArrowRight)
	p.run(`document.getElementById('c-width-nut')?.focus()`)
	p.keys(kb.ArrowUp)
	p.insert("1")
	p.run(`document.activeElement.blur()`)
	p.run(`document.activeElement.blur()`)
	// And what a script, or a browser's own helper, does without the focus.
	p.run(`for (const e of document.querySelectorAll('#controls button, #controls input[type=checkbox]')) e.click();
		for (const e of document.querySelectorAll('#controls select')) { e.selectedIndex = (e.selectedIndex + 1) % e.options.length; e.dispatchEvent(new Event('change', { bubbles: true })); }
		for (const e of document.querySelectorAll('#controls input[type=range]')) { e.stepUp(); for (const kind of ['input', 'change']) e.dispatchEvent(new Event(kind, { bubbles: true })); }`)
	time.Sleep(300 * time.Millisecond)
	p.rest()
}

// TestLiveControlsActOnlyOnWhatWasRead opens and makes by an editor what cannot
// be read, and presses everything.
//
// Long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLiveControlsActOnlyOnWhatWasRead(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter(), slowFetch)
	sub := p.parts(t)
	broken := map[string]string{
		"not TOML":           strings.Replace(spec.Starter(), "nut = 42.8", "nut = = 42.8", 1),
		"not a spec":         strings.Replace(spec.Starter(), "nut = 42.8", `nut = "wide"`, 1),
		"without its widths": "name = \"Wren\"\n\n[scale]\nlength = 600\nfrets = 20\n",
		"empty":              "",
	}
	for _, name := range drawn.Keys(broken, 2) {
		text := broken[name]
		sub("an editor makes it "+name, func(t *testing.T) {
			require.NotEqual(t, spec.Starter(), text)
			p.write(text)
			p.until(fmt.Sprintf("neckloft.text === %q", text))
			p.rest()
			p.pressEverything()
			require.True(t, text == p.text(), "the text was changed")
			require.True(t, text == p.saved(), "the file was changed")
			require.True(t, get[bool](p, readReason))
			require.NotEmpty(t, get[string](p, `document.querySelector('#unread .what').textContent`))
			require.True(t, get[bool](p, `(() => { const r = document.getElementById('unread').getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight + 1 && r.height > 20; })()`), "the reason is in sight")
			p.write(spec.Starter())
			p.until(`!` + readReason)
			p.rest()
			p.enter("c-width-nut", "43.5")
			p.until(`neckloft.text.includes('nut = 43.5')`)
			p.rest()
			p.keys("z", chromedp.ModifierCtrl)
			p.rest()
			p.run(`document.activeElement.blur()`)
			p.until(`neckloft.text.includes('nut = 42.8')`)
			p.rest()
		})
	}
	for _, name := range drawn.Keys(broken, 2) {
		text := broken[name]
		sub("opened "+name, func(t *testing.T) {
			p.put("wren.toml", text)
			p.open("wren.toml")
			p.until(openFile + ` === 'wren.toml'`)
			p.rest()
			title := get[string](p, `document.getElementById('title').textContent + document.title`)
			require.NotContains(t, title, spec.Demo().Name)
			for _, id := range []string{"side-drawing", "section-drawing", "numbers", "stations", "products"} {
				require.Zero(t, get[int](p, fmt.Sprintf(`document.getElementById(%q).childElementCount`, id)), "%s is that of the neck before", id)
			}
			p.pressEverything()
			require.True(t, text == p.text(), "the text was changed")
			require.True(t, get[bool](p, readReason))
			p.open("neck.toml")
			p.until(openFile + ` === 'neck.toml'`)
			p.rest()
			require.False(t, get[bool](p, readReason))
			require.Positive(t, get[int](p, `document.getElementById('stations').childElementCount`))
		})
	}
	sub("a key pressed before the new file is read changes nothing in it", func(t *testing.T) {
		other := strings.Replace(spec.Starter(), "total = 20.6", "total = 24.6", 1)
		p.put("wren.toml", other)
		p.unfold()
		p.run(`slow = 1500`)
		p.open("wren.toml")
		p.until(openFile + ` === 'wren.toml'`)
		p.run(`document.getElementById('c-depth-1--total-slider')?.focus()`)
		p.keys(kb.ArrowRight)
		p.run(`document.querySelector('[data-path="profile[1].shape"] [data-shape="U"]')?.click()`)
		p.run(`slow = 0`)
		p.rest()
		require.True(t, other == p.text(), "the text was changed")
		require.Equal(t, "24.6", get[string](p, `document.getElementById('c-depth-1--total').value`))
	})
	sub("of what is moved before an editor's text is read only that is done which both texts agree on", func(t *testing.T) {
		p.file = filepath.Join(p.dir, "wren.toml")
		theirs := strings.Replace(spec.Starter(), "total = 20.6", "total = 25.6", 1)
		p.unfold()
		p.run(`slow = 1500`)
		p.write(theirs)
		p.until(fmt.Sprintf("neckloft.text === %q", theirs))
		p.run(`document.getElementById('c-depth-1--total-slider').focus()`)
		p.keys(kb.ArrowRight)
		p.run(`document.querySelector('[data-path="profile[1].shape"] [data-shape="U"]').click()`)
		require.Equal(t, "not saved", get[string](p, `document.getElementById('file-state').textContent`))
		p.run(`slow = 0`)
		p.until(`neckloft.text.includes('shape = "U"')`)
		p.rest()
		require.Contains(t, p.text(), "total = 25.6", "it was 24.6 where the key was pressed")
		require.Equal(t, "25.6", get[string](p, `document.getElementById('c-depth-1--total').value`))
		require.Contains(t, get[string](p, `document.getElementById('note').textContent`), "before the text was read again")
		p.saveAll()
	})
	sub("a value that cannot be read is not put into the text", func(t *testing.T) {
		before := p.text()
		p.enter("c-scale-frets", "21.5")
		p.until(`document.getElementById('note').textContent.includes('whole')`)
		p.rest()
		require.False(t, get[bool](p, readReason))
		require.Equal(t, "c-scale-frets", get[string](p, `document.activeElement.id`), "the field is still in hand")
		p.run(`document.activeElement.blur()`)
		p.until(`document.getElementById('c-scale-frets').value === '22'`)
		p.rest()
		require.True(t, before == p.text(), "what was typed on the way is taken back")
		p.mu.Lock()
		require.NotEmpty(t, p.trouble)
		p.trouble = nil // the refusal was meant
		p.mu.Unlock()
	})
	sub("typing what cannot be read leaves the box in hand", func(t *testing.T) {
		p.run(`document.getElementById('text-part').open = true`)
		p.until(`document.getElementById('text').value === neckloft.text`)
		p.run(`(() => { const e = document.getElementById('text'); e.focus(); e.setSelectionRange(0, 0); })()`)
		p.insert("= ")
		p.until(readReason)
		p.pressEverything()
		require.True(t, strings.HasPrefix(p.text(), "= "))
		p.run(`(() => { const e = document.getElementById('text'); e.focus(); e.setSelectionRange(2, 2); })()`)
		p.keys(kb.Backspace)
		p.keys(kb.Backspace)
		p.until(`!` + readReason)
		p.rest()
		require.Equal(t, "text", get[string](p, `document.activeElement.id`))
	})
	p.tb = t
	p.quiet()
}

// TestLiveKeyOutlivesTheAddress goes through what changes or loses the key in
// the address.
// It runs only with DRAWN=all.
func TestLiveKeyOutlivesTheAddress(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	barred := `document.body.classList.contains('barred')`
	reloaded := func() {
		t.Helper()
		p.run(`window.old = true; location.reload()`)
		p.until(`!window.old && document.body && window.neckloft && (neckloft.resting || ` + barred + `)`)
		require.False(t, get[bool](p, barred), get[string](p, `document.body.innerText.slice(0, 300)`))
		require.Equal(t, spec.Starter(), p.text())
	}
	p.run(`document.querySelector('.skip').focus()`)
	p.keys(kb.Enter)
	require.Equal(t, "controls-heading", get[string](p, `document.activeElement.id`))
	reloaded()
	p.run(`location.hash = '#stations'`)
	reloaded()
	p.run(`history.replaceState(null, '', '/')`)
	reloaded()
	address, _, _ := strings.Cut(p.url, "#")
	p.do(chromedp.Navigate("about:blank"), chromedp.Navigate(address))
	p.rest()

	// Another run of the program, at the same port. Its address is entered in
	// the same tab, over work that is not saved.
	p.enter("c-width-nut", "44")
	p.until(`neckloft.text.includes('nut = 44 ')`)
	p.rest()
	url := p.again()
	p.until(`document.getElementById('lost-what').textContent.includes('started anew')`)
	p.do(chromedp.Navigate(url))
	p.until(`document.getElementById('lost').hidden`)
	require.Contains(t, p.text(), "nut = 44 ")
	p.enter("c-width-nut", "44.5")
	p.until(`neckloft.text.includes('nut = 44.5')`)
	p.rest()
	p.saveAll()
	require.Contains(t, p.saved(), "nut = 44.5")
	p.run(`window.old = true; location.reload()`)
	p.until(`!window.old && document.body && window.neckloft && neckloft.resting`)
	require.Contains(t, p.text(), "nut = 44.5")

	// A page that was barred by the wrong key is let in with the right one.
	_, key, _ := strings.Cut(url, "#")
	p.do(chromedp.Navigate("about:blank"))
	p.do(chromedp.Navigate(address + "#" + strings.Repeat("0", len(key))))
	p.until(`window.neckloft && (neckloft.resting || ` + barred + `)`)
	require.False(t, get[bool](p, barred), "the key of this tab is tried too")
	p.run(`sessionStorage.clear(); window.old = true; location.reload()`)
	p.until(`!window.old && document.body && ` + barred)
	p.do(chromedp.Navigate(url))
	p.until(`window.neckloft && neckloft.resting`)
	require.Contains(t, p.text(), "nut = 44.5")
}

// TestLiveSlidersKeepTheirLimits takes every slider to both ends with keys.
//
// Long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLiveSlidersKeepTheirLimits(t *testing.T) {
	drawn.Only(t)
	for _, unit := range drawn.Some([]string{"in", "mm"}, 1) {
		t.Run(unit, func(t *testing.T) {
			p := openLive(t, spec.Starter())
			if unit == "in" {
				p.choose("c-units", "in")
				p.until(`neckloft.text.includes('units = "in"') || neckloft.text.includes("units  = \"in\"") || /units\s*=\s*"in"/.test(neckloft.text)`)
				p.rest()
			}
			p.unfold()
			k := 1.0
			if unit == "in" {
				k = 1 / spec.MillimetresPerInch
			}
			checked := 0
			for _, g := range live.Groups() {
				at := g.Table
				if g.List {
					at += "[1]"
				}
				for _, c := range g.Controls {
					if c.To <= c.From || c.Kind == live.Place {
						continue
					}
					path := c.Key
					if at != "" {
						path = at + "." + c.Key
					}
					id := get[string](p, fmt.Sprintf(`'c-' + %q.replace(/[^A-Za-z0-9_]/g, '-')`, path))
					if !get[bool](p, fmt.Sprintf(`Boolean(document.getElementById(%q + '-slider'))`, id)) {
						continue
					}
					scale, least := 1.0, 0.0005
					if c.Kind == live.Length {
						scale, least = k, 0.0001
					}
					from, to := c.From*scale, c.To*scale
					for key, want := range map[string]float64{"min": from, "max": to} {
						// As the key Home or End does, without waiting for the neck.
						got := get[float64](p, fmt.Sprintf(`(() => {
							const s = document.getElementById(%[1]q + '-slider');
							const from = s.value;
							s.value = s[%[2]q];
							s.dispatchEvent(new Event('input', { bubbles: true }));
							const got = parseFloat(document.getElementById(%[1]q).value);
							s.value = from;
							return got;
						})()`, id, key))
						// A value outside the slider's own span widens it, up to
						// what is allowed.
						if key == "min" {
							require.GreaterOrEqual(t, got, min(from, c.Min*scale)-1e-9, path)
						} else {
							require.LessOrEqual(t, got, max(to, c.Max*scale)+1e-9, path)
						}
						if value := get[float64](p, fmt.Sprintf(`neckloft.values[%q] ?? %v`, path, from)); value >= from && value <= to {
							require.InDelta(t, want, got, least+1e-9, "%s of %s", key, path)
						}
						checked++
					}
				}
			}
			require.Greater(t, checked, 40)
		})
	}
}

// TestLiveSwipeScrolls puts a thumb on a slider and swipes up, as on a phone.
// It runs only with DRAWN=all.
func TestLiveSwipeScrolls(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	command(p, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: 1})
	p.size(360, 780, "light")
	const (
		down = input.DispatchTouchEventTypeTouchStart
		move = input.DispatchTouchEventTypeTouchMove
		up   = input.DispatchTouchEventTypeTouchEnd
	)
	before := p.text()
	slider := "#c-depth-1--total-slider"
	value := func() string { return get[string](p, `document.querySelector('#c-depth-1--total').value`) }
	thumb := func() string { return get[string](p, fmt.Sprintf(`document.querySelector(%q).value`, slider)) }
	swipe := func(x, y, dx, dy float64) {
		p.touch(down, [2]float64{x, y})
		for i := range 10 {
			f := float64(i+1) / 10
			p.touch(move, [2]float64{x + dx*f, y + dy*f})
			p.frame() // as a hand moves: not faster than the page is drawn
		}
		p.touch(up)
		p.frame()
		p.rest()
	}
	// A quarter along, away from the thumb of the slider, and on the thumb.
	for _, where := range []float64{0.1, 0.9, -1} {
		for _, dx := range []float64{0, 3, -6} {
			left, y, width := p.steady(slider)
			along := where
			if where < 0 {
				along = get[float64](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); return (e.value - e.min) / (e.max - e.min); })()`, slider))
			}
			high := get[float64](p, `scrollY`)
			swipe(left+9+along*(width-18), y, dx, -120)
			p.until(fmt.Sprintf(`scrollY > %v + 50`, high)) // the page follows the thumb
			require.True(t, before == p.text(), "at %v, %v aside", where, dx)
			require.Equal(t, value(), thumb(), "at %v", where)
		}
	}
	// Along, it shapes.
	left, y, width := p.steady(slider)
	swipe(left+width/2, y, 50, 10)
	p.until(fmt.Sprintf("neckloft.text !== %q", before))
	p.rest()
	moved := p.text()
	require.Equal(t, value(), thumb())
	p.keys("z", chromedp.ModifierCtrl)
	p.until(fmt.Sprintf("neckloft.text === %q", before)) // one gesture
	// And a tap puts it where it is tapped.
	left, y, width = p.steady(slider)
	p.touch(down, [2]float64{left + 0.85*width, y})
	p.touch(up)
	p.until(fmt.Sprintf("neckloft.text !== %q", before))
	p.rest()
	require.Equal(t, value(), thumb())
	require.NotEqual(t, moved, before)
	command(p, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{})
}

// TestLiveOpenAsksFirst opens another spec over work that is not saved.
// It runs only with DRAWN=all.
func TestLiveOpenAsksFirst(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	other := strings.Replace(spec.Starter(), "nut = 42.8", "nut = 47.8", 1)
	p.put("wren.toml", other)
	// Keys that walk through a list open nothing.
	p.run(`document.getElementById('open').focus()`)
	for _, key := range []string{kb.ArrowDown, kb.ArrowDown, "w", kb.End} {
		p.keys(key)
	}
	time.Sleep(300 * time.Millisecond)
	require.Equal(t, "neck.toml", get[string](p, openFile))

	p.enter("c-width-nut", "43.5")
	p.until(`neckloft.text.includes('nut = 43.5')`)
	p.rest()
	asked := `document.getElementById('leave').open`
	p.open("wren.toml")
	p.until(asked)
	require.Equal(t, "leave-stay", get[string](p, `document.activeElement.id`), "the safe answer is the one at hand")
	p.keys(kb.Enter)
	p.until(`!` + asked)
	require.Equal(t, "neck.toml", get[string](p, openFile))
	require.Contains(t, p.text(), "nut = 43.5")
	p.open("wren.toml")
	p.until(asked)
	p.keys(kb.Escape)
	p.until(`!` + asked)
	require.Equal(t, "neck.toml", get[string](p, openFile))

	p.open("wren.toml")
	p.until(asked)
	p.click("#leave-save")
	p.until(openFile + ` === 'wren.toml'`)
	p.rest()
	require.Contains(t, p.saved(), "nut = 43.5")
	require.Equal(t, other, p.text())

	p.enter("c-width-nut", "48.5")
	p.until(`neckloft.text.includes('nut = 48.5')`)
	p.rest()
	p.open("neck.toml")
	p.until(asked)
	p.click("#leave-drop")
	p.until(openFile + ` === 'neck.toml'`)
	p.rest()
	got, err := os.ReadFile(filepath.Join(p.dir, "wren.toml"))
	require.NoError(t, err)
	require.Equal(t, other, string(got))
	p.quiet()
}

// TestLiveBenchSaysWhatIsRefused looks at the list of files to make where the
// plan is refused, and where there is none.
// It runs only with DRAWN=all.
func TestLiveBenchSaysWhatIsRefused(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, strings.Replace(spec.Starter(), "cover = 4.0 ", "cover = 5.45 ", 1))
	p.run(`document.getElementById('make-part').open = true`)
	said := `document.getElementById('bench').textContent`
	p.until(said + `.includes('do not cut by plan.pdf')`)
	require.True(t, get[bool](p, `document.querySelector('#products [data-name="plan.pdf"]').closest('li').textContent.includes('Refused')`))
	require.False(t, get[bool](p, `document.querySelector('#products [data-name="neck.stl"]').closest('li').textContent.includes('Refused')`))

	p.write(strings.Replace(spec.Starter(), "thickness = 32", "thickness = 16", 1))
	p.until(said + `.includes('plan.pdf, plan.csv, plan.json are not made')`)
	require.True(t, get[bool](p, `document.querySelector('#products [data-name="plan.pdf"]').disabled`))
	require.False(t, get[bool](p, `document.querySelector('#products [data-name="neck.stl"]').disabled`))
	require.Contains(t, get[string](p, `document.querySelector('#products [data-name="plan.pdf"]').closest('li').textContent`), "the wood is 16 mm deep")

	p.write(spec.Starter())
	p.until(said + ` === ''`)
	p.rest()
	// Of a text with errors nothing is made.
	p.enter("c-wall-height", "99")
	p.until(`document.body.classList.contains('unsound')`)
	require.True(t, get[bool](p, `[...document.querySelectorAll('#products button')].every((b) => b.disabled)`))
	p.quiet()
}

// TestLiveStateIsTrue ends the program and types on.
// It runs only with DRAWN=all.
func TestLiveStateIsTrue(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	state := `document.getElementById('file-state').textContent`
	require.Equal(t, "saved", get[string](p, state))
	p.end()
	p.enter("c-width-nut", "44")
	p.until(`!document.getElementById('lost').hidden`)
	require.Equal(t, "not saved", get[string](p, state))
	require.False(t, get[bool](p, `document.getElementById('save').disabled`))
	require.True(t, get[bool](p, `(() => { const e = new Event('beforeunload', { cancelable: true }); window.dispatchEvent(e); return e.defaultPrevented; })()`))
}
