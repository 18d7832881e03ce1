package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// pane makes a picture the large one, as the button above it does.
func (p *livePage) pane(name string) {
	p.tb.Helper()
	p.run(fmt.Sprintf(`document.querySelector('#tabs [data-pane=%s]').click()`, name))
	p.until(fmt.Sprintf(`document.getElementById('bench-area').dataset.main === %q`, name))
	p.frame()
	p.frame() // the drawings follow the new size
}

// knobAt returns where a handle is on the page.
func (p *livePage) knobAt(picture, path string) (x, y float64) {
	p.tb.Helper()
	selector := fmt.Sprintf(`#%s-knobs [data-path=%q]`, picture, path)
	p.until(fmt.Sprintf(`document.querySelector(%q)`, selector))
	at := get[[]float64](p, fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`, selector))
	return at[0], at[1]
}

// dragKnob takes a handle along by a mouse in steps, and returns where it is
// before it is let go: the picture may then be drawn to another scale.
func (p *livePage) dragKnob(picture, path string, dx, dy float64) [2]float64 {
	p.tb.Helper()
	x, y := p.knobAt(picture, path)
	mouse := func(typ input.DispatchMouseEventType, x, y float64) {
		p.do(chromedp.MouseEvent(typ, x, y, chromedp.ButtonLeft))
	}
	mouse(input.DispatchMouseEventTypeMousePressed, x, y)
	for i := 1; i <= 4; i++ {
		mouse(input.DispatchMouseEventTypeMouseMoved, x+dx*float64(i)/4, y+dy*float64(i)/4)
		p.frame()
	}
	p.rest()
	a, b := p.knobAt(picture, path)
	mouse(input.DispatchMouseEventTypeMouseReleased, x+dx, y+dy)
	p.rest()
	return [2]float64{a, b}
}

// TestLiveBench shapes a neck in the pictures: large ones, with handles.
//
// Long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLiveBench(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	sub := p.parts(t)

	sub("the pictures fill the window", func(t *testing.T) {
		p.run(`document.getElementById('hint-end').click()`)
		type window struct {
			width, height int64
			share         float64 // of the window that pictures take
		}
		for _, s := range drawn.Some([]window{{1440, 900, 0.5}, {1920, 1080, 0.5}, {1180, 820, 0.42}, {820, 1180, 0.37}, {390, 844, 0.33}}, 3) {
			p.size(s.width, s.height, "light")
			for _, pane := range []string{"space", "section", "side", "top"} {
				p.pane(pane)
				got := get[float64](p, `[...document.querySelectorAll('.pane')].filter((e) => e.checkVisibility()).reduce((sum, e) => {
					const r = e.getBoundingClientRect();
					return sum + r.width * Math.max(0, Math.min(r.bottom, innerHeight) - Math.max(0, r.top));
				}, 0) / innerWidth / innerHeight`)
				require.Greater(t, got, s.share, "%d x %d, %s", s.width, s.height, pane)
				if s.width >= 1150 {
					require.LessOrEqual(t, get[float64](p, `document.getElementById('bench-area').getBoundingClientRect().bottom`), float64(s.height)+1)
				}
			}
		}
		p.size(1440, 900, "light")
	})

	sub("what is shaped is large on a tablet, also under a hint", func(t *testing.T) {
		for _, c := range drawn.Some([]struct {
			width, height int64
			share         float64 // of the window's height that the large picture takes
		}{{768, 1024, 0.39}, {1024, 768, 0.47}, {820, 1180, 0.42}}, 3) {
			p.size(c.width, c.height, "light")
			for _, hint := range []string{"hints-again", "hint-end"} {
				p.run(fmt.Sprintf(`document.getElementById(%q).click()`, hint))
				for _, pane := range []string{"space", "section", "side", "top", "made"} {
					p.pane(pane)
					got := get[[]float64](p, fmt.Sprintf(`(() => { const r = document.querySelector('.pane[data-pane=%s]').getBoundingClientRect(); return [(Math.min(r.bottom, innerHeight) - Math.max(0, r.top)) / innerHeight, r.height / innerHeight]; })()`, pane))
					require.Greater(t, got[0], c.share, "%d x %d, %s, %s", c.width, c.height, pane, hint)
					require.InDelta(t, got[0], got[1], 0.01, "all of it is in the window")
				}
			}
		}
		p.size(1440, 900, "light")
	})

	sub("a handle goes with the pointer, its key with it, and undo takes all of it back", func(t *testing.T) {
		for _, c := range []struct {
			picture, path string
			way           float64 // px, in the direction that the handle shows
		}{
			{"side", "depth[2].total", 24}, {"side", "rod.to", -20}, {"side", "headstock.angle", 24},
			{"section", "profile[1].bass", 13}, {"section", "profile[1].apex", 18}, {"section", "wall.height", 14}, {"section", "rod.depth", -12},
			{"top", "width.nut", 18}, {"space", "depth[1].total", 12},
		} {
			p.pane(c.picture)
			before := p.text()
			x, y := p.knobAt(c.picture, c.path)
			turn := get[float64](p, fmt.Sprintf(`parseFloat(document.querySelector('#%s-knobs [data-path=%q]').style.getPropertyValue('--turn'))`, c.picture, c.path)) * math.Pi / 180
			dx, dy := c.way*math.Cos(turn), c.way*math.Sin(turn)
			seen := p.dragKnob(c.picture, c.path, dx, dy)
			require.NotEqual(t, before, p.text(), c.path)
			require.Less(t, math.Hypot(seen[0]-x-dx, seen[1]-y-dy), 5.0, "%s: the handle is under the pointer: %v", c.path, seen)
			p.click("#undo")
			p.rest()
			require.Equal(t, before, p.text(), "%s: a drag is one step back", c.path)
		}
	})

	sub("arrow keys do the same, by a tenth of a millimetre", func(t *testing.T) {
		p.pane("side")
		knob := `document.querySelector('#side-knobs [data-path="depth[2].total"]')`
		p.run(knob + `.focus()`)
		before := p.text()
		_, y := p.knobAt("side", "depth[2].total")
		for range 5 {
			p.keys(kb.ArrowDown)
		}
		p.until(`neckloft.values['depth[2].total'] === 22.9`)
		p.rest()
		require.Equal(t, "22.9 mm", get[string](p, knob+`.getAttribute('aria-valuetext')`))
		require.Contains(t, get[string](p, knob+`.querySelector('.says').textContent`), "22.9 mm")
		_, now := p.knobAt("side", "depth[2].total")
		require.Greater(t, now, y, "down is down")
		p.keys(kb.ArrowUp, chromedp.ModifierShift)
		p.until(`neckloft.values['depth[2].total'] === 21.9`)
		p.rest()
		require.True(t, get[bool](p, knob+` === document.activeElement`))
		p.click("#undo")
		p.rest()
		require.Equal(t, before, p.text(), "keys in a row are one step back")
	})

	sub("a handle at the end of the neck stays in hand", func(t *testing.T) {
		before := p.text()
		for _, c := range [][2]string{{"side", "headstock.angle"}, {"side", "headstock.length"}, {"side", "heel.end"}, {"top", "width.past_last_fret"}} {
			p.pane(c[0])
			knob := fmt.Sprintf(`document.querySelector('#%s-knobs [data-path=%q]')`, c[0], c[1])
			require.True(t, get[bool](p, `Boolean(`+knob+`)`), c[1])
			p.run(knob + `.focus()`)
			for _, key := range []string{kb.ArrowDown, kb.ArrowDown, kb.ArrowRight} {
				p.keys(key)
				p.rest()
				require.True(t, get[bool](p, `Boolean(`+knob+`) && `+knob+` === document.activeElement`), c[1])
			}
			for p.text() != before {
				p.click("#undo")
				p.rest()
			}
		}
		p.pane("top")
		p.dragKnob("top", "width.past_last_fret", 20, 0)
		p.knobAt("top", "width.past_last_fret")
		p.click("#undo")
		p.rest()
		require.Equal(t, before, p.text())
	})

	sub("on a phone what a handle says is inside the picture", func(t *testing.T) {
		p.size(390, 844, "light")
		for _, pane := range []string{"section", "side"} {
			p.pane(pane)
			out := get[[]string](p, fmt.Sprintf(`(() => {
				const box = document.getElementById('%[1]s-knobs').getBoundingClientRect();
				return [...document.querySelectorAll('#%[1]s-knobs .knob')].filter((k) => {
					k.classList.add('held');
					const r = k.querySelector('.says').getBoundingClientRect();
					k.classList.remove('held');
					return r.width < 40 || r.left < box.left - 0.5 || r.right > box.right + 0.5 || r.top < box.top - 0.5;
				}).map((k) => k.dataset.path);
			})()`, pane))
			require.Empty(t, out, pane)
		}
		p.size(1440, 900, "light")
	})

	sub("no handle lies under anything, and no button of the bench under another", func(t *testing.T) {
		for _, size := range drawn.Some([][2]int64{{844, 390}, {720, 450}, {390, 844}}, 3) {
			p.size(size[0], size[1], "light")
			p.run(`scrollTo(0, 0)`)
			for _, pane := range []string{"section", "side", "top"} {
				p.pane(pane)
				require.Empty(t, get[[]string](p, fmt.Sprintf(`[...document.querySelectorAll('#%s-knobs .knob, #tabs button, #parts button')].filter((e) => {
					if (!e.checkVisibility()) return false;
					const r = e.getBoundingClientRect();
					const top = document.elementFromPoint(r.left + r.width / 2, r.top + r.height / 2);
					return !(e.contains(top) || top?.closest('.knob') && e.closest('.knob'));
				}).map((e) => e.dataset.path ?? e.textContent)`, pane)), "%v %s", size, pane)
			}
		}
		p.size(1440, 900, "light")
	})

	sub("inches go by sixty-fourths", func(t *testing.T) {
		before := p.text()
		p.choose("c-units", "in")
		p.until(`neckloft.values.units === 'in'`)
		p.rest()
		p.pane("side")
		p.run(`document.querySelector('#side-knobs [data-path="depth[2].total"]').focus()`)
		p.keys(kb.ArrowDown)
		p.until(`neckloft.values['depth[2].total'] * 64 % 1 === 0`)
		p.rest()
		p.click("#undo")
		p.rest()
		p.click("#undo")
		p.rest()
		require.Equal(t, before, p.text())
	})

	sub("a double click adds a station there", func(t *testing.T) {
		before := p.text()
		p.pane("side")
		x, y := p.knobAt("side", "rod.depth")
		at := get[[]float64](p, `(() => { const r = document.getElementById('side-drawing').getBoundingClientRect(); return [r.left, r.bottom]; })()`)
		require.Greater(t, x, at[0])
		for n := range 2 {
			for _, typ := range []input.DispatchMouseEventType{input.DispatchMouseEventTypeMousePressed, input.DispatchMouseEventTypeMouseReleased} {
				command(p, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: typ, X: x, Y: y + 60, Button: "left", ClickCount: int64(n + 1)})
			}
		}
		p.until(`neckloft.values['depth[3].total'] !== undefined`)
		p.rest()
		there := get[float64](p, `neckloft.values['depth[2]'].mm`)
		require.InDelta(t, get[float64](p, `neckloft.x`), there, 8, "where it was pointed")
		a, _ := p.knobAt("side", "depth[2].total")
		require.InDelta(t, x, a, 14)
		p.click("#undo")
		p.rest()
		require.Equal(t, before, p.text())
	})

	sub("what is shaped comes into view", func(t *testing.T) {
		for id, want := range map[string]string{"c-depth-1--total": "side", "c-profile-2--bass": "section", "c-width-nut": "top", "c-headstock-angle": "side", "c-wall-height": "section"} {
			p.pane("space")
			p.run(fmt.Sprintf(`{ const e = document.getElementById(%q); e.closest('details').open = true; e.focus(); }`, id))
			p.until(fmt.Sprintf(`neckloft.main === %q`, want))
			p.frame()
			require.True(t, get[bool](p, `Boolean(document.querySelector('.knob.near')?.checkVisibility())`), "%s: its handle is marked", id)
		}
		p.run(`document.getElementById('follow').click()`)
		p.pane("space")
		p.run(`document.getElementById('c-width-end').focus()`)
		p.frame()
		require.Equal(t, "space", get[string](p, `neckloft.main`), "unless it is not wanted")
		p.run(`document.getElementById('follow').click()`)
	})

	sub("a search goes over all keys", func(t *testing.T) {
		p.run(`document.activeElement.blur()`)
		p.keys("/")
		require.Equal(t, "find", get[string](p, `document.activeElement.id`))
		p.run(`document.getElementById('find').value = ''`) // a driven key writes even where the page has taken it
		p.insert("fullness treble")
		seen := func() []string {
			return get[[]string](p, `[...document.querySelectorAll('#controls .control')].filter((e) => e.checkVisibility()).map((e) => e.dataset.path)`)
		}
		require.ElementsMatch(t, []string{"profile[1].treble", "profile[2].treble"}, seen())
		p.keys(kb.Enter)
		require.Contains(t, get[string](p, `document.activeElement.id`), "c-profile-1--treble")
		p.run(`document.getElementById('find').focus()`)
		p.keys(kb.Escape)
		p.insert("moisture")
		require.Empty(t, seen())
		require.True(t, get[bool](p, `document.getElementById('c-has-moisture').checkVisibility()`), "of what the neck has not, the tick")
		p.keys(kb.Escape)
		require.Greater(t, len(seen()), 8)
	})

	sub("the line of errors leads to the place", func(t *testing.T) {
		p.enter("c-wall-height", "99")
		p.until(`document.querySelector('#problems li.error')`)
		require.True(t, get[bool](p, `document.querySelector('#problems li').className === 'error'`), "what is wrong stands first")
		p.run(`document.querySelector('[data-table=wall]').open = false; document.activeElement.blur()`)
		p.click("#problems li button")
		require.Equal(t, "c-wall-height", get[string](p, `document.activeElement.id`))
		require.True(t, get[bool](p, `(() => { const r = document.activeElement.getBoundingClientRect(); return r.top >= 0 && r.bottom <= innerHeight; })()`))
		p.click("#undo")
		p.rest()
	})

	sub("hints come once, and the keys stand under ?", func(t *testing.T) {
		p.run(`document.activeElement.blur()`)
		p.keys("?")
		p.until(`document.getElementById('keys').open`)
		p.click("#hints-again")
		require.True(t, get[bool](p, `document.getElementById('hint').checkVisibility()`))
		for range 2 {
			p.click("#hint-next")
		}
		require.Contains(t, get[string](p, `document.getElementById('hint').textContent`), "3 of 3")
		p.click("#hint-end")
		require.False(t, get[bool](p, `document.body.classList.contains('unsaved')`))
		p.do(chromedp.Reload())
		p.rest()
		require.False(t, get[bool](p, `document.getElementById('hint').checkVisibility()`))
	})

	sub("help stands at its key when it is asked for", func(t *testing.T) {
		help := `document.getElementById('c-width-nut-help')`
		require.False(t, get[bool](p, help+`.checkVisibility()`))
		p.click(`[data-path="width.nut"] .ask`)
		require.True(t, get[bool](p, help+`.checkVisibility()`))
		require.Contains(t, get[string](p, help+`.textContent`), "2 to 300")
	})

	sub("pictures of what will be made follow the neck", func(t *testing.T) {
		p.pane("made")
		source := `document.getElementById('made-image').src`
		drawn := `document.getElementById('made-image').naturalWidth > 600 && document.getElementById('made-state').textContent === ''`
		p.until(drawn)
		require.Contains(t, get[string](p, `document.querySelector('#made-names [aria-pressed=true]').textContent`), "Plan 1")
		for _, name := range []string{"gauges", "sheet-top"} {
			before := get[string](p, source)
			p.click(fmt.Sprintf("#made-names [data-name=%s]", name))
			p.until(source + ` !== "` + before + `"`)
		}
		before := get[string](p, source)
		p.run(`document.getElementById('follow').click()`)
		p.enter("c-width-nut", "44")
		p.until(source + ` !== "` + before + `"`)
		p.run(`document.getElementById('follow').click()`)
		p.click("#undo")
		p.rest()
	})

	sub("the neck in space is coloured by its thickness", func(t *testing.T) {
		p.pane("space")
		for _, look := range []string{"grain", "stripes", "across", "thickness"} {
			p.choose("dress", look)
			p.rest()
		}
		p.until(`document.getElementById('ramp').checkVisibility()`)
		require.Equal(t, "26.0 mm", get[string](p, `document.getElementById('ramp-high').textContent`), "the heel")
		require.Equal(t, "lines 1 mm apart", get[string](p, `document.getElementById('ramp-lines').textContent`))
		p.choose("dress", "plain")
		require.False(t, get[bool](p, `document.getElementById('ramp').checkVisibility()`))
	})

	sub("two points are measured, and a pointer at rest reads the neck", func(t *testing.T) {
		p.pane("section")
		p.click("#measure")
		text := p.text()
		// The corners of the board's foot: pressed near, they are meant.
		box := get[[]float64](p, `(() => { const r = document.querySelector('#section-drawing .board').getBoundingClientRect(); return [r.left, r.right, r.bottom]; })()`)
		for _, x := range []float64{box[0] + 3, box[1] - 3} {
			p.do(chromedp.MouseClickXY(x, box[2]))
		}
		n := p.shown()
		want := fmt.Sprintf("%.2f mm apart: %.2f mm across", n.Width(get[float64](p, `neckloft.x`)), n.Width(get[float64](p, `neckloft.x`)))
		require.Contains(t, get[string](p, `document.getElementById('read').textContent`), want)
		require.Equal(t, text, p.text())
		p.keys(kb.Escape)
		require.Equal(t, "false", get[string](p, `document.getElementById('measure').getAttribute('aria-pressed')`))

		p.pane("side")
		x, y := p.knobAt("side", "depth[2].total")
		p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x, y-40))
		p.until(`document.getElementById('read').textContent.startsWith('fret 12 ')`)
		require.Contains(t, get[string](p, `document.getElementById('read').textContent`), "22.4")
	})

	sub("points are measured by keys alone", func(t *testing.T) { p.measuresByKeys(t) })

	sub("jigs and the mill have tabs", func(t *testing.T) { p.showsJigs(t) })

	sub("files are chosen, and made", func(t *testing.T) {
		p.click("#to-make")
		p.until(`document.getElementById('make').open`)
		p.click("#make-none")
		p.click("#make-go")
		p.until(`document.getElementById('make-state').textContent === 'Nothing is chosen.'`)
		p.run(`window.given = []; const plain = URL.createObjectURL; URL.createObjectURL = (b) => { given.push(b.size); return plain.call(URL, b); }`)
		for _, name := range []string{"stations.csv", "index.md"} {
			p.run(fmt.Sprintf(`document.getElementById(%q).click()`, "make-"+name))
		}
		p.click("#make-go")
		p.until(`document.getElementById('make-state').textContent === 'neck.zip is made, with 2 files.'`)
		require.Equal(t, "make-go", get[string](p, `document.activeElement.id`), "the focus stays")
		require.Less(t, get[int](p, `given[0]`), 20000, "those two alone")
		require.True(t, get[bool](p, `Boolean(document.querySelector('#make-list [aria-label="Print plan.pdf"]'))`))
		p.choosesJigs(t)
		p.keys(kb.Escape)
	})

	sub("a sheet is printed from another tab", func(t *testing.T) { p.prints(t) })
	p.quiet()

	sub("points of an outline go both ways", func(t *testing.T) {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "specs", "turnstone.toml"))
		require.NoError(t, err)
		p.write(string(data))
		p.until(`neckloft.text.includes('Turnstone')`)
		p.rest()
		p.pane("top")
		p.run(`document.querySelector('#parts [data-part=head]').click()`)
		p.frame()
		p.frame()
		const path = "headstock.outline[8].u headstock.outline[8].y"
		before := strings.Join(get[[]string](p, `['u', 'y'].map((k) => String(neckloft.values['headstock.outline[8].' + k]))`), " ")
		x, y := p.knobAt("top", path)
		at := p.dragKnob("top", path, -12, -9)
		require.InDelta(t, x-12, at[0], 3)
		require.InDelta(t, y-9, at[1], 3)
		require.NotEqual(t, before, strings.Join(get[[]string](p, `['u', 'y'].map((k) => String(neckloft.values['headstock.outline[8].' + k]))`), " "))
		p.click("#undo")
		p.rest()
		require.Equal(t, string(data), p.text())
	})
}
