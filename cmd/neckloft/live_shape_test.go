package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// choose takes an entry of a list to choose from.
func (p *livePage) choose(id, value string) {
	p.tb.Helper()
	require.True(p.tb, get[bool](p, fmt.Sprintf(`(() => {
		const e = document.getElementById(%q);
		if (![...e.options].some((o) => o.value === %[2]q)) return false;
		e.value = %[2]q;
		e.dispatchEvent(new Event('change', { bubbles: true }));
		return true;
	})()`, id, value)), "%s has no %s", id, value)
}

func (p *livePage) text() string { return get[string](p, `neckloft.text`) }

// shown reads the spec as the page has it.
func (p *livePage) shown() *neck.Neck {
	p.tb.Helper()
	s, err := spec.Read(strings.NewReader(p.text()), "")
	require.NoError(p.tb, err)
	n, err := neck.New(s)
	require.NoError(p.tb, err)
	return n
}

// TestLivePageShapes is long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLivePageShapes(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	sub := p.parts(t)
	other := strings.NewReplacer("total = 20.6", "total = 24.1", "length = 636", "length = 668", "nut = 42.8", "nut = 45").Replace(spec.Starter())
	require.NoError(t, os.WriteFile(filepath.Join(p.dir, "other.toml"), []byte(other), 0o600))

	sub("parts of a neck come and go", func(t *testing.T) {
		for _, table := range []string{"blank", "strings", "volute", "rod", "heel"} {
			header := "\n[" + table + "]\n"
			box := "#c-has-" + table
			p.click(box)
			p.rest()
			require.NotContains(t, p.text(), header)
			require.False(t, get[bool](p, `document.body.classList.contains('unsound')`), "without %s", table)
			p.click(box)
			p.rest()
			require.Contains(t, p.text(), header)
			require.False(t, get[bool](p, `document.body.classList.contains('unsound')`), "%s anew", table)
		}
		// A volute cannot be without a headstock: the sentence stands at it.
		slot := `document.querySelector('[data-for=volute]').textContent`
		p.click("#c-has-headstock")
		p.rest()
		require.True(t, get[bool](p, `document.body.classList.contains('unsound')`))
		require.Contains(t, get[string](p, slot), "a volute needs a headstock")
		p.click("#c-has-headstock")
		p.rest()
		require.False(t, get[bool](p, `document.body.classList.contains('unsound')`))
		require.Empty(t, get[string](p, slot))
	})

	sub("shapes and stations", func(t *testing.T) {
		p.click(`[data-path="profile[1].shape"] [data-shape="D"]`)
		p.rest()
		require.Equal(t, "true", get[string](p, `document.querySelector('[data-path="profile[1].shape"] [data-shape="D"]').getAttribute('aria-pressed')`))
		d, ok := spec.ShapeFullness("D")
		require.True(t, ok)
		require.Equal(t, d, p.shown().Spec().Profile[0].Treble)
		// A side of its own takes the letter away.
		p.enter("c-profile-1--treble", "2.35")
		p.rest()
		require.Equal(t, 2.35, p.shown().Spec().Profile[0].Treble)
		require.Equal(t, d, p.shown().Spec().Profile[0].Bass)
		require.Equal(t, "false", get[string](p, `document.querySelector('[data-path="profile[1].shape"] [data-shape="D"]').getAttribute('aria-pressed')`))

		before := p.shown()
		p.click(`[data-table=depth] fieldset:nth-of-type(1) .entry-buttons button:first-child`)
		p.rest()
		after := p.shown()
		require.Len(t, after.Spec().Depth, len(before.Spec().Depth)+1)
		require.InDelta(t, before.Total(150), after.Total(150), 0.002, "a new station changes nothing yet")
		p.click(`[data-table=depth] fieldset:nth-of-type(2) .entry-buttons button:last-child`)
		p.rest()
		require.Len(t, p.shown().Spec().Depth, len(before.Spec().Depth))
	})

	sub("units", func(t *testing.T) {
		text := p.text()
		p.choose("c-units", "in")
		p.rest()
		require.Equal(t, spec.Inch, p.shown().Spec().Units)
		require.InDelta(t, 636/25.4, get[float64](p, `parseFloat(document.getElementById('c-scale-length').value)`), 1e-4)
		require.True(t, strings.HasSuffix(get[string](p, `document.querySelector('#numbers [data-key=least-cover] strong').textContent`), " in"))
		require.Contains(t, get[string](p, `document.getElementById('c-scale-length-help').textContent`), " in")
		p.click("#undo")
		p.rest()
		require.Equal(t, text, p.text())
	})

	sub("the section plane moves, and its numbers are the library's", func(t *testing.T) {
		p.drag("#plane", 90, 6, 15*time.Millisecond)
		p.rest()
		n, x := p.shown(), get[float64](p, `neckloft.x`)
		require.Greater(t, x, 60.0)
		u := n.Spec().Units
		require.Equal(t, n.Where(x), get[string](p, `document.getElementById('section-where').textContent`))
		st := n.Station("", x)
		for key, want := range map[string]float64{"width": st.Width, "total": st.Total, "wood": st.Wood, "cover": st.Cover, "girth": st.Girth} {
			require.Equal(t, fmt.Sprintf("%.2f %s", want, u), get[string](p, fmt.Sprintf(`document.querySelector('#section-numbers [data-key=%s] dd span').textContent`, key)), key)
		}
		// To scale: the drawing is as wide to its height as the section.
		box := get[[]float64](p, `(() => { const b = document.querySelector('#section-drawing .wood').getBBox(); return [b.width, b.height]; })()`)
		require.InDelta(t, st.Width/st.Wood, box[0]/box[1], 0.01)
		p.run(`[...document.querySelectorAll('#stations button')].find((b) => b.textContent === 'fret 7').click()`)
		p.until(`document.getElementById('section-where').textContent.startsWith('fret 7 ')`)
		require.Equal(t, "fret 7", get[string](p, `document.querySelector('#stations tr.here th').textContent`))
		// The table is the library's.
		st = n.Station("", n.Spec().FretX(7))
		require.Equal(t, []string{
			"fret 7", fmt.Sprintf("%.2f", st.X), fmt.Sprintf("%.2f", st.Width), fmt.Sprintf("%.2f", st.Total), fmt.Sprintf("%.2f", st.Wood),
			fmt.Sprintf("%.2f", st.Cover), fmt.Sprintf("%.2f", st.Girth), fmt.Sprintf("%.2f", st.ApexY),
		}, get[[]string](p, `[...document.querySelector('#stations tr.here').children].map((c) => c.textContent)`))
	})

	sub("the view turns, moves and zooms", func(t *testing.T) {
		p.pane("space")
		x, y := p.spot("#view")
		mouse := func(button chromedp.MouseOption, dx, dy float64) {
			p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMousePressed, x, y, button))
			for i := range 4 {
				f := float64(i+1) / 4
				p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseMoved, x+dx*f, y+dy*f, button))
			}
			p.do(chromedp.MouseEvent(input.DispatchMouseEventTypeMouseReleased, x+dx, y+dy, button))
		}
		before := p.stood()
		mouse(chromedp.ButtonLeft, 60, 20)
		turned := p.stood()
		require.NotEqual(t, before.Camera, turned.Camera)
		require.InDeltaSlice(t, before.Target, turned.Target, 1e-9) // the controls measure its length and round
		mouse(chromedp.ButtonRight, 40, 0)
		require.NotEqual(t, turned.Target, p.stood().Target)
		far := p.stood().distance()
		command(p, input.DispatchMouseEvent, input.DispatchMouseEventParams{Type: input.DispatchMouseEventTypeMouseWheel, X: x, Y: y, DeltaX: 0.01, DeltaY: -240})
		p.until(fmt.Sprintf(`(() => { const v = neckloft.view; return Math.hypot(...v.camera.map((c, i) => c - v.target[i])) < %g; })()`, far*0.95))
		p.click("[data-look=side]")
		side := p.stood()
		require.InDelta(t, side.Target[0], side.Camera[0], 1e-6)
		require.InDelta(t, side.Target[2], side.Camera[2], 1e-6)
		p.click("[data-look=three-quarter]")
	})

	sub("a second spec is a ghost", func(t *testing.T) {
		ghosts := `document.querySelectorAll('#side-drawing .ghost, #section-drawing .ghost').length`
		require.Zero(t, get[int](p, ghosts))
		p.run(`document.getElementById('ghost').dispatchEvent(new Event('focus'))`) // reads the folder anew
		p.until(`[...document.getElementById('ghost').options].some((o) => o.value === 'f:other.toml')`)
		p.choose("ghost", "f:other.toml")
		p.until(ghosts + ` === 4`)
		require.True(t, p.stood().Ghost)
		require.Equal(t, "In blue: other.toml", get[string](p, `document.getElementById('ghost-name').textContent`))
		depth := func(of string) float64 {
			return get[float64](p, fmt.Sprintf(`document.querySelector('#section-drawing %s').getBBox().height`, of))
		}
		wood := depth(".wood")
		scale := wood / p.shown().Station("", get[float64](p, `neckloft.x`)).Wood
		s, err := spec.Read(strings.NewReader(other), "")
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		require.InDelta(t, n.Station("", get[float64](p, `neckloft.x`)).Wood, depth(".ghost")/scale, 0.05)
		p.flush(n)
		p.turnsTheOther(other)
		p.choose("ghost", "")
		require.Zero(t, get[int](p, ghosts))
		require.False(t, p.stood().Ghost)
	})

	sub("moves that come too fast are merged, and the last one stands", func(t *testing.T) {
		p.run(`neckloft.times.length = 0`)
		p.run(`(() => {
			const e = document.getElementById('c-depth-2--total-slider');
			for (let i = 0; i < 60; i++) setTimeout(() => {
				e.value = 22 + i / 10;
				e.dispatchEvent(new Event('input', { bubbles: true }));
				if (i === 59) e.dispatchEvent(new Event('change', { bubbles: true }));
			}, 4 * i);
		})()`)
		p.until(`document.getElementById('c-depth-2--total').value === '27.9'`)
		p.rest()
		require.Equal(t, 27.9, p.shown().Spec().Depth[1].Total)
		n := p.shown()
		require.Equal(t, n.Spec().Units.Rounded(n.Depth(n.Spec().FretX(12))), get[string](p, `document.querySelector('#numbers [data-key=wood-at-fret-12] strong').textContent`))
		require.Less(t, get[int](p, `neckloft.times.length`), 50)
		p.click("#undo")
		p.rest()
		require.Equal(t, 22.4, p.shown().Spec().Depth[1].Total, "all of them are one step back")
	})

	sub("the text is edited in place", func(t *testing.T) {
		p.run(`document.getElementById('text-part').open = true`)
		p.click("#text")
		type_ := func(text string) {
			p.run(fmt.Sprintf(`(() => { const b = document.getElementById('text'); b.value = %q; b.dispatchEvent(new Event('input')); })()`, text))
		}
		type_(strings.Replace(p.text(), "frets  = 22", "frets  = 24", 1))
		p.until(`document.getElementById('c-scale-frets').value === '24'`)
		type_(strings.Replace(p.text(), "frets  = 24", "frets  = ", 1))
		p.until(`document.body.classList.contains('unsound')`)
		require.Contains(t, get[string](p, `document.getElementById('problems').textContent`), "line ")
		type_(strings.Replace(p.text(), "frets  = ", "frets  = 22", 1))
		p.until(`!document.body.classList.contains('unsound')`)
		p.rest()
		p.run(`document.activeElement.blur()`)
	})

	sub("save as another file, open another file", func(t *testing.T) {
		text := p.text()
		p.click("#save-other")
		p.run(`document.getElementById('save-name').value = 'other'`)
		p.click("#save-as button.main")
		p.until(`!document.getElementById('conflict').hidden`)
		data, err := os.ReadFile(filepath.Join(p.dir, "other.toml"))
		require.NoError(t, err)
		require.Equal(t, other, string(data), "a name that is taken is not overwritten")
		p.click("#later")
		p.click("#save-other")
		p.run(`document.getElementById('save-name').value = 'third'`)
		p.click("#save-as button.main")
		p.until(`document.getElementById('file-name').textContent === 'third.toml'`)
		data, err = os.ReadFile(filepath.Join(p.dir, "third.toml"))
		require.NoError(t, err)
		require.Equal(t, text, string(data))
		require.Equal(t, spec.Starter(), p.saved())
		p.open("other.toml")
		p.until(`neckloft.text.includes('total = 24.1')`)
		p.rest()
		require.Equal(t, other, p.text())
		require.Equal(t, "other.toml", get[string](p, `document.getElementById('file-name').textContent`))
	})

	sub("a conflict may be given in, and undone", func(t *testing.T) {
		p.enter("c-width-nut", "43.1")
		p.rest()
		mine := p.text()
		path := filepath.Join(p.dir, "other.toml")
		theirs := strings.Replace(other, "frets  = 22", "frets  = 20", 1)
		require.NoError(t, os.WriteFile(path, []byte(theirs), 0o600))
		p.until(`!document.getElementById('conflict').hidden`)
		p.click("#take")
		p.rest()
		require.Equal(t, theirs, p.text())
		p.click("#undo")
		p.rest()
		require.Equal(t, mine, p.text())
		// A save over a change that the page has not seen yet.
		p.run(`document.getElementById('file-name')`)
		require.NoError(t, os.Remove(path))
		p.until(`document.getElementById('note').textContent.includes('no longer there')`)
		p.click("#save")
		p.until(`!document.body.classList.contains('unsaved')`)
		data, err := os.ReadFile(path)
		require.NoError(t, err)
		require.Equal(t, mine, string(data))
	})

	p.tb = t
	// The browser itself tells the console of the answer "conflict".
	p.mu.Lock()
	kept := p.trouble[:0]
	for _, line := range p.trouble {
		if !strings.Contains(line, "409") {
			kept = append(kept, line)
		}
	}
	p.trouble = kept
	p.mu.Unlock()
	p.quiet()
}
