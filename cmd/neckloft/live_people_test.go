package main

import (
	"encoding/json"
	"fmt"
	"math"
	"testing"

	"github.com/chromedp/cdproto/accessibility"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
)

// run evaluates statements in the page.
func (p *livePage) run(script string) {
	p.tb.Helper()
	p.do(chromedp.Evaluate[chromedp.Void](script))
}

// keys presses keys.
func (p *livePage) keys(keys string, modifiers ...chromedp.Modifier) {
	p.tb.Helper()
	p.do(chromedp.KeyEvent(keys, chromedp.KeyModifiers(modifiers...)))
}

// unfold opens everything that can be folded away.
func (p *livePage) unfold() {
	p.run(`for (const d of document.querySelectorAll('details')) d.open = true`)
}

// luminance is the relative luminance of an sRGB colour, of WCAG 2.2.
func luminance(c []float64) float64 {
	var out float64
	for i, weight := range []float64{0.2126, 0.7152, 0.0722} {
		v := c[i] / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		out += weight * v
	}
	return out
}

// contrast is the contrast ratio of WCAG 2.2.
func contrast(a, b []float64) float64 {
	x, y := luminance(a), luminance(b)
	return (math.Max(x, y) + 0.05) / (math.Min(x, y) + 0.05)
}

func TestContrastFormula(t *testing.T) {
	// WCAG 2.2: black on white is 21:1; #767676 is the lightest grey that
	// passes 4.5:1 on white, 4.54:1 (W3C, Understanding SC 1.4.3).
	require.InDelta(t, 21, contrast([]float64{0, 0, 0}, []float64{255, 255, 255}), 1e-9)
	require.InDelta(t, 4.54, contrast([]float64{0x76, 0x76, 0x76}, []float64{255, 255, 255}), 0.005)
}

// inked is a text on the page, with its colour and that of what it stands on.
type inked struct {
	What   string
	Ink    []float64
	Ground []float64
}

// inkScript finds every text that can be seen and the colours it is drawn in,
// with whatever is half transparent mixed in.
const inkScript = `(() => {
	const parse = (c) => {
		const m = c.match(/[\d.]+/g).map(Number);
		return m.length === 3 ? [...m, 1] : m;
	};
	const over = (top, under) => under.slice(0, 3).map((u, i) => u + (top[i] - u) * top[3]);
	const ground = (e) => {
		const stack = [];
		for (; e; e = e.parentElement) {
			const s = getComputedStyle(e);
			const c = parse(s.backgroundColor);
			if (c[3] > 0) stack.push([c[0], c[1], c[2], c[3]]);
			if (c[3] === 1) break;
		}
		return stack.reverse().reduce((under, top) => over(top, under), [255, 255, 255]);
	};
	const out = [];
	for (const e of document.querySelectorAll('body *')) {
		if (['SCRIPT', 'STYLE', 'OPTION', 'title'].includes(e.tagName)) continue;
		const own = [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim());
		const field = ['INPUT', 'SELECT', 'TEXTAREA'].includes(e.tagName) && e.value && e.type !== 'range' && e.type !== 'checkbox';
		if (!own && !field || !e.checkVisibility()) continue;
		const s = getComputedStyle(e);
		const ink = parse(e instanceof SVGElement ? s.fill : s.color);
		for (let a = e; a; a = a.parentElement) ink[3] *= parseFloat(getComputedStyle(a).opacity);
		const under = ground(e);
		out.push({ What: e.tagName + ' ' + (e.id || e.className.baseVal || e.className) + ': ' + (e.value || e.textContent).trim().slice(0, 40), Ink: over(ink, under), Ground: under });
	}
	return out;
})()`

// legible fails the test where a text has too little contrast.
func (p *livePage) legible(scheme string) {
	p.tb.Helper()
	texts := get[[]inked](p, inkScript)
	require.Greater(p.tb, len(texts), 200)
	worst, where := math.Inf(1), inked{}
	for _, x := range texts {
		ratio := contrast(x.Ink, x.Ground)
		if ratio < worst {
			worst, where = ratio, x
		}
		if ratio < 4.5 {
			p.tb.Errorf("%s: contrast %.2f of %s: %v on %v", scheme, ratio, x.What, x.Ink, x.Ground)
		}
	}
	p.tb.Logf("%s: %d texts, the least contrast is %.2f:1, of %s", scheme, len(texts), worst, where.What)
	// What shows that something can be moved, pressed or filled in: 3:1 (WCAG
	// 2.2, 1.4.11).
	for _, pair := range [][2]string{{"edge", "sheet"}, {"edge", "paper"}, {"measure", "sheet"}, {"measure", "paper"}, {"feature", "paper"}, {"bad", "sheet"}} {
		colours := get[[][]float64](p, fmt.Sprintf(`%q.split(' ').map((name) => {
			const c = getComputedStyle(document.documentElement).getPropertyValue('--' + name).trim();
			return [1, 3, 5].map((i) => parseInt(c.slice(i, i + 2), 16));
		})`, pair[0]+" "+pair[1]))
		require.GreaterOrEqual(p.tb, contrast(colours[0], colours[1]), 3.0, "%s: %v", scheme, pair)
	}
}

// touch sends touches of fingers at places of the window.
func (p *livePage) touch(kind input.DispatchTouchEventType, places ...[2]float64) {
	p.tb.Helper()
	points := []*input.TouchPoint{}
	for i, at := range places {
		id := float64(i)
		points = append(points, &input.TouchPoint{X: at[0], Y: at[1], ID: &id})
	}
	command(p, input.DispatchTouchEvent, input.DispatchTouchEventParams{Type: kind, TouchPoints: points})
}

// stood is how the view in space is looked at.
type stood struct {
	Camera, Target []float64
	Ghost          bool
}

func (p *livePage) stood() stood { return get[stood](p, `neckloft.view`) }

func (s stood) distance() float64 {
	var sum float64
	for i := range 3 {
		sum += (s.Camera[i] - s.Target[i]) * (s.Camera[i] - s.Target[i])
	}
	return math.Sqrt(sum)
}

// TestLivePageForPeople is long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLivePageForPeople(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	sub := p.parts(t)

	sub("everything has a name for screen readers", func(t *testing.T) {
		p.unfold()
		// Fields in the page: what the tree must hold.
		fields := get[int](p, `[...document.querySelectorAll('input, select, textarea, button, canvas')].filter((e) => e.checkVisibility()).length`)
		require.Greater(t, fields, 150)
		tree, err := chromedp.Call(p.ctx, accessibility.GetFullAXTree, accessibility.GetFullAXTreeParams{})
		require.NoError(t, err)
		count := 0
		word := func(v *accessibility.Value) string {
			var s string
			if v != nil {
				_ = json.Unmarshal(v.Value, &s)
			}
			return s
		}
		for _, n := range tree.Nodes {
			if n.Ignored {
				continue
			}
			switch role := word(n.Role); role {
			case "button", "slider", "textbox", "combobox", "checkbox", "image", "img", "region", "alertdialog", "DisclosureTriangle", "table", "group":
				if role == "group" && word(n.Name) == "" {
					continue // of details
				}
				count++
				require.NotEmpty(t, word(n.Name), "a %s without a name, %v", role, n.BackendDOMNodeID)
			}
		}
		require.GreaterOrEqual(t, count, fields)
		// A control says what it means and what is allowed.
		for _, id := range []string{"c-depth-1--total", "c-scale-length", "c-headstock-angle"} {
			said := get[string](p, fmt.Sprintf(`document.getElementById(%q).getAttribute('aria-describedby').split(' ').map((i) => document.getElementById(i).textContent).join(' ')`, id))
			require.Contains(t, said, " to ", id)
		}
	})

	sub("everything is reached by Tab, and one sees where one is", func(t *testing.T) {
		p.run(`document.getElementById('follow').click()`) // what is on the page stays
		// What the focus looks like is read with the next key, when the style
		// has settled. Past the last element the focus leaves the page, which
		// then shows none.
		p.run(`document.activeElement.blur(); window.reached = new Set(); window.dim = []; window.looked = new Set();
			window.look = () => {
				const e = document.activeElement;
				if (!e || e === document.body || !document.hasFocus()) return;
				looked.add(e);
				const s = getComputedStyle(e);
				if (s.outlineStyle === 'none' || parseFloat(s.outlineWidth) < 2) {
					dim.push((e.matches(':focus-visible') ? '' : 'no keyboard focus: ') + e.outerHTML.slice(0, 80));
				}
			};
			document.addEventListener('keydown', look, true);
			document.addEventListener('focusin', (e) => reached.add(e.target)); window.scrollTo(0, 0)`)
		n := get[int](p, `[...document.querySelectorAll('a[href], input, select, textarea, button:not([tabindex]), summary, [tabindex="0"]')].filter((e) => e.checkVisibility() && !e.disabled).length`)
		for range n + 3 {
			command(p, input.DispatchKeyEvent, input.DispatchKeyEventParams{
				Type: input.DispatchKeyEventTypeRawKeyDown, Key: "Tab", Code: "Tab", WindowsVirtualKeyCode: 9,
			})
		}
		require.Empty(t, get[[]string](p, `[...document.querySelectorAll('a[href], input, select, textarea, button:not([tabindex]), summary, [tabindex="0"]')]
			.filter((e) => e.checkVisibility() && !e.disabled && !reached.has(e)).map((e) => e.outerHTML.slice(0, 90))`))
		p.run(`look(); document.removeEventListener('keydown', look, true)`)
		require.Empty(t, get[[]string](p, `dim`))
		require.GreaterOrEqual(t, get[int](p, `looked.size`), n-1)
	})

	sub("a neck is shaped, undone and saved with keys alone", func(t *testing.T) {
		p.run(`document.activeElement.blur(); window.scrollTo(0, 0)`)
		p.run(`document.querySelector('.skip').focus()`)
		p.keys(kb.Enter)
		for range 40 {
			p.keys(kb.Tab)
			if get[string](p, `document.activeElement.id`) == "c-depth-1--total-slider" {
				break
			}
		}
		for range 3 {
			p.keys(kb.ArrowRight)
			p.rest()
		}
		require.Equal(t, "20.9", get[string](p, `document.getElementById('c-depth-1--total').value`))
		p.keys("z", chromedp.ModifierCtrl)
		p.rest()
		require.Equal(t, "20.8", get[string](p, `document.getElementById('c-depth-1--total').value`))
		require.Equal(t, "20.8", get[string](p, `document.getElementById('c-depth-1--total-slider').value`), "the slider in hand follows too")
		p.keys("Z", chromedp.ModifierCtrl, chromedp.ModifierShift)
		p.rest()
		require.Equal(t, "20.9", get[string](p, `document.getElementById('c-depth-1--total').value`))
		p.keys("s", chromedp.ModifierCtrl)
		p.until(`!document.body.classList.contains('unsaved')`)
		require.Contains(t, p.saved(), "total = 20.9")

		// The field: arrow keys step it, with shift ten steps.
		p.keys(kb.Tab)
		require.Equal(t, "c-depth-1--total", get[string](p, `document.activeElement.id`))
		p.keys(kb.ArrowDown)
		p.keys(kb.ArrowUp, chromedp.ModifierShift)
		p.rest()
		require.Contains(t, get[string](p, `neckloft.text`), "total = 21.8")

		// The section plane from fret to fret.
		p.run(`document.getElementById('plane').focus()`)
		p.keys(kb.PageUp)
		p.until(`document.getElementById('section-where').textContent.startsWith('fret 2 ')`)
		p.keys(kb.PageDown)
		p.until(`document.getElementById('section-where').textContent.startsWith('fret 1 ')`)

		// The view in space.
		p.run(`document.getElementById('view').focus()`)
		before := p.stood()
		p.keys(kb.ArrowLeft)
		turned := p.stood()
		require.NotEqual(t, before.Camera, turned.Camera)
		require.InDelta(t, before.distance(), turned.distance(), 1e-6)
		p.keys("+")
		require.InDelta(t, turned.distance()/1.1, p.stood().distance(), 1e-6)
		p.keys(kb.ArrowRight, chromedp.ModifierShift)
		require.NotEqual(t, before.Target, p.stood().Target)
		p.keys(kb.Home)
		require.InDeltaSlice(t, before.Camera, p.stood().Camera, 1e-6)
	})

	sub("texts stand out, light and dark", func(t *testing.T) {
		// With something wrong, something to look at, and a conflict.
		p.enter("c-wall-height", "99")
		p.until(`document.getElementById('c-wall-height-error').textContent !== ''`)
		p.write(p.saved() + "# an editor was here\n")
		p.until(`!document.getElementById('conflict').hidden`)
		p.unfold()
		p.size(1400, 1000, "light")
		p.legible("light")
		p.size(1400, 1000, "dark")
		p.legible("dark")
		p.run(`document.getElementById('take').click()`)
		p.rest()
		p.legible("dark, at rest")
	})

	sub("nothing is wider than a phone or a tablet, and a thumb hits it", func(t *testing.T) {
		p.unfold()
		for _, width := range drawn.Some([]int64{360, 768, 820, 1024, 1400}, 2) {
			p.size(width, 900, "light")
			require.LessOrEqual(t, get[int64](p, `document.documentElement.scrollWidth`), width)
			require.Empty(t, get[[]string](p, `[...document.querySelectorAll('main > section, main > section *, header *')].filter((e) => {
				if (!e.checkVisibility() || e.closest('.scroll, svg, pre, textarea, .hidden')) return false;
				const r = e.getBoundingClientRect();
				return r.width > 1 && (r.right > innerWidth + 1 || r.left < -11);
			}).map((e) => e.tagName + '#' + e.id + '.' + e.className)`), width)
			// No part lies over another one, but for the picture, which stays
			// in sight: also at the very end of the page.
			for _, at := range []string{"0", "1500", "document.body.scrollHeight"} {
				p.run(`scrollTo(0, ` + at + `)`)
				require.Empty(t, get[[]string](p, `(() => {
					const boxes = [...document.querySelectorAll('main > section')].map((e) => [e, e.getBoundingClientRect()]);
					return boxes.flatMap(([a, r], i) => boxes.slice(i + 1).filter(([b, s]) => !a.contains(b) && !b.contains(a) &&
						r.left < s.right - 9 && s.left < r.right - 9 && r.top < s.bottom - 1 && s.top < r.bottom - 1).map(([b]) => a.id + ' and ' + b.id + b.className));
				})()`), "%d at %s", width, at)
			}
			// WCAG 2.2, 2.5.8: 24 by 24 px at least.
			require.Empty(t, get[[]string](p, `[...document.querySelectorAll('button, select, input, summary, textarea')].filter((e) => {
				if (!e.checkVisibility()) return false;
				const r = (e.type === 'checkbox' ? e.closest('label, .toggle') ?? e : e).getBoundingClientRect();
				return r.width < 24 || r.height < 24;
			}).map((e) => e.outerHTML.slice(0, 80))`), width)
		}
	})

	sub("fingers turn, zoom and shape", func(t *testing.T) {
		command(p, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{Enabled: true, MaxTouchPoints: 2})
		p.size(360, 780, "light")
		const (
			down = input.DispatchTouchEventTypeTouchStart
			move = input.DispatchTouchEventTypeTouchMove
			up   = input.DispatchTouchEventTypeTouchEnd
		)
		p.pane("space")
		x, y := p.spot("#view")
		before := p.stood()
		p.touch(down, [2]float64{x, y})
		for i := range 5 {
			p.touch(move, [2]float64{x + 10*float64(i+1), y})
		}
		p.touch(up)
		require.NotEqual(t, before.Camera, p.stood().Camera)
		far := p.stood().distance()
		p.touch(down, [2]float64{x - 20, y}, [2]float64{x + 20, y})
		for i := range 5 {
			d := 20 + 8*float64(i+1)
			p.touch(move, [2]float64{x - d, y}, [2]float64{x + d, y})
		}
		p.touch(up)
		require.Less(t, p.stood().distance(), 0.8*far)

		// The dot of the first thickness in the side view.
		text := get[string](p, `neckloft.text`)
		p.pane("side")
		left, middle, width := p.steady("#side-knobs [data-path='depth[1].total']")
		at := [2]float64{left + width/2, middle}
		p.touch(down, [2]float64{at[0], at[1]})
		for i := range 4 {
			p.touch(move, [2]float64{at[0], at[1] + 5*float64(i+1)})
			p.frame()
		}
		p.touch(up)
		p.rest()
		require.NotEqual(t, text, get[string](p, `neckloft.text`))
		require.Equal(t, "21.9", get[string](p, `document.getElementById('c-depth-1--total').value`), "20 px are 1 mm")
		command(p, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{})
	})

	sub("paper shows the neck and its numbers", func(t *testing.T) {
		p.size(1400, 1000, "dark")
		p.onPaper(t)
		require.True(t, get[bool](p, `document.getElementById('print-view').src.startsWith('data:image/png')`))
		command(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		for selector, shown := range map[string]bool{
			"#shaping": false, ".tools": false, "#plane": false, "#tabs": false, ".knobs": false, "#top-drawing": true, "#view": false, ".looks": false,
			"#print-view": true, "#side-drawing": true, "#section-drawing": true, "#numbers": true, "#stations": true, "#cautions": true,
		} {
			require.Equal(t, shown, get[bool](p, fmt.Sprintf(`document.querySelector(%q).checkVisibility()`, selector)), selector)
		}
		require.Equal(t, "rgb(255, 255, 255)", get[string](p, `getComputedStyle(document.body).backgroundColor`))
		command(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{})
	})

	p.tb = t
	p.quiet()
}

// TestLivePageWithoutSpace opens the page where the browser draws nothing in
// space, and ends the program under it.
// It runs only with DRAWN=all.
func TestLivePageWithoutSpace(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter(), `HTMLCanvasElement.prototype.getContext = () => null`)
	require.True(t, get[bool](p, `document.getElementById('no-view').checkVisibility()`))
	require.False(t, get[bool](p, `document.querySelector('.looks').checkVisibility()`))
	p.enter("c-depth-1--total", "21")
	p.rest()
	require.Equal(t, "15.4 mm", get[string](p, `document.querySelector('#numbers [data-key=wood-at-fret-1] strong').textContent`))
	p.end()
	p.enter("c-depth-1--total", "22")
	p.until(`!document.getElementById('lost').hidden && document.getElementById('lost-what').textContent.includes('does not answer')`)
	require.Contains(t, p.text(), "total = 21 ", "nothing is lost")
}
