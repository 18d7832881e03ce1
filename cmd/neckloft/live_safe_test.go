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

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

// slowFetch lets a test hold back the answers about the neck, or refuse them as
// a busy program does. The page has no socket then, and asks by requests alone.
const slowFetch = `(() => {
	delete window.WebSocket;
	const plain = window.fetch;
	window.slow = 0;
	window.busy = 0;
	window.fetch = async (url, options) => {
		if (String(url).endsWith('/api/model')) {
			if (busy > 0) {
				busy--;
				return new Response('{"error": "busy for a test"}', { status: 503 });
			}
			if (slow) await new Promise((done) => setTimeout(done, slow));
		}
		return plain(url, options);
	};
})()`

// insert types text at the cursor, key by key.
func (p *livePage) insert(text string) {
	p.tb.Helper()
	p.do(chromedp.KeyEvent(text))
}

// saveAll saves and waits until it is done.
func (p *livePage) saveAll() {
	p.tb.Helper()
	p.keys("s", chromedp.ModifierCtrl)
	p.until(`!document.body.classList.contains('unsaved')`)
	p.rest()
}

// TestLivePageLosesNothing is long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLivePageLosesNothing(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter(), slowFetch)
	sub := p.parts(t)
	box := `document.getElementById('text')`
	conflict := `!document.getElementById('conflict').hidden`

	sub("a box in hand follows the file", func(t *testing.T) {
		p.run(`document.getElementById('text-part').open = true`)
		p.until(box + `.value === neckloft.text`)
		p.run(box + `.focus(); ` + box + `.setSelectionRange(0, 0)`)
		theirs := strings.Replace(spec.Starter(), "nut = 42.8", "nut = 43.6", 1)
		p.write(theirs)
		p.until(box + `.value.includes('nut = 43.6')`)
		p.insert("# a")
		p.saveAll()
		require.Equal(t, "# a"+theirs, p.saved())
	})

	sub("typing and an editor at the same time are a conflict, which takes the focus from nobody", func(t *testing.T) {
		base := p.saved()
		p.insert("b")
		theirs := strings.Replace(base, "nut = 43.6", "nut = 43.1", 1)
		p.write(theirs)
		p.until(conflict)
		require.Equal(t, "text", get[string](p, `document.activeElement.id`))
		p.insert(" c")
		p.until(`neckloft.text.startsWith('# ab c')`)
		require.True(t, get[bool](p, conflict))
		require.Equal(t, theirs, p.saved())
		require.Contains(t, get[string](p, `document.getElementById('file-state').textContent`), "two versions")
		// The editor takes its change back: there is nothing to decide any more.
		p.write(base)
		p.until(`document.getElementById('conflict').hidden`)
		require.Equal(t, "not saved", get[string](p, `document.getElementById('file-state').textContent`))
		p.saveAll()
		require.True(t, strings.HasPrefix(p.saved(), "# ab c"))
	})

	sub("a save holds what is still under way", func(t *testing.T) {
		p.run(`slow = 400`)
		p.enter("c-width-nut", "44.2")
		p.saveAll()
		require.Contains(t, p.saved(), "nut = 44.2")
		// A control within the delay of the box.
		p.run(fmt.Sprintf(`%[1]s.focus(); %[1]s.setSelectionRange(0, 0)`, box))
		p.insert("# d\n")
		p.run(`document.querySelector('[data-path="profile[1].shape"] [data-shape="D"]').click()`)
		p.saveAll()
		require.True(t, strings.HasPrefix(p.saved(), "# d\n# ab c"), p.saved()[:20])
		require.Contains(t, p.saved(), `shape = "D"`)
		// A box typed into while a control's answer is awaited.
		p.run(`document.querySelector('[data-path="profile[1].shape"] [data-shape="U"]').click()`)
		p.run(fmt.Sprintf(`%[1]s.focus(); %[1]s.setSelectionRange(0, 0)`, box))
		p.insert("# e\n")
		p.saveAll()
		require.True(t, strings.HasPrefix(p.saved(), "# e\n# d\n"))
		require.Contains(t, p.saved(), `shape = "U"`)
		p.run(`slow = 0`)
	})

	sub("two quick saves are no conflict", func(t *testing.T) {
		p.enter("c-width-nut", "44.4")
		p.run(`for (let i = 0; i < 3; i++) document.dispatchEvent(new KeyboardEvent('keydown', { key: 's', ctrlKey: true }))`)
		p.until(`!document.body.classList.contains('unsaved')`)
		p.rest()
		require.False(t, get[bool](p, conflict))
		require.Contains(t, p.saved(), "nut = 44.4")
	})

	sub("fractions are read, and what is no number is taken back", func(t *testing.T) {
		p.enter("c-width-nut", "43 3/4")
		p.run(`document.activeElement.blur()`)
		p.until(`document.getElementById('c-width-nut').value === '43.75'`)
		p.rest()
		text := p.text()
		require.Contains(t, text, "nut = 43.75")
		p.enter("c-width-nut", "1.") // on the way to 1.71875 in
		time.Sleep(600 * time.Millisecond)
		require.Equal(t, text, p.text(), "half a number is not taken")
		require.Zero(t, get[int](p, `document.querySelectorAll('#problems .error').length`))
		p.insert("71875in")
		p.until(`neckloft.text.includes('nut = 43.65')`)
		p.rest()
		p.enter("c-width-nut", "43.75")
		p.until(`neckloft.text.includes('nut = 43.75')`)
		p.rest()
		require.Equal(t, text, p.text())
		for _, typed := range []string{"1.234,5", "40 1/", "40x", "1/0"} {
			p.enter("c-width-nut", typed)
			p.run(`document.activeElement.blur()`)
			p.until(`document.getElementById('c-width-nut').value === '43.75'`)
			p.rest()
			require.Equal(t, text, p.text(), typed)
			require.Contains(t, get[string](p, `document.getElementById('note').textContent`), "“"+typed+"” is not a number")
		}
		p.enter("c-width-nut", "1.75in")
		p.keys(kb.Enter)
		p.until(`neckloft.text.includes('nut = 44.45')`)
		p.saveAll()
	})

	sub("a busy program is asked again, and the field in hand is left alone", func(t *testing.T) {
		p.run(`busy = 1`)
		p.enter("c-width-nut", "44.1")
		p.until(`busy === 0`)
		require.Equal(t, "44.1", get[string](p, `document.getElementById('c-width-nut').value`))
		p.until(`neckloft.text.includes('nut = 44.1')`)
		p.saveAll()
		// More moves than go into one question, while nothing is answered.
		p.run(`busy = 1000`)
		p.run(`for (let i = 1; i <= 60; i++) for (const id of ['c-depth-1--total-slider', 'c-width-nut-slider']) {
			const e = document.getElementById(id);
			e.value = (id.includes('nut') ? 43 : 20) + i / 50;
			for (const kind of ['input', 'change']) e.dispatchEvent(new Event(kind, { bubbles: true }));
		}`)
		time.Sleep(300 * time.Millisecond)
		p.run(`busy = 0`)
		p.until(`neckloft.text.includes('nut = 44.2') && neckloft.text.includes('total = 21.2')`)
		p.saveAll()
	})

	sub("ends of lines stay", func(t *testing.T) {
		crlf := strings.ReplaceAll(p.saved(), "\n", "\r\n")
		p.write(crlf)
		p.until(`neckloft.text.includes('\r\n')`)
		p.run(fmt.Sprintf(`%[1]s.focus(); %[1]s.setSelectionRange(0, 0)`, box))
		p.insert("# f\n")
		p.saveAll()
		require.Equal(t, "# f\r\n"+crlf, p.saved())
	})

	sub("what an editor broke is not written over by a step back", func(t *testing.T) {
		before := p.saved()
		broken := strings.Replace(before, "nut = ", "nut = = ", 1)
		p.write(broken)
		p.until(readReason)
		p.rest()
		p.run(`document.activeElement.blur()`)
		p.keys("z", chromedp.ModifierCtrl)
		p.rest()
		require.True(t, broken == p.text(), "a step back by habit leads nowhere")
		p.clearFoot()
		require.True(t, get[bool](p, `document.getElementById('undo').disabled`))
		require.Equal(t, "true", get[string](p, `document.getElementById('to-make').getAttribute('aria-disabled')`))
		require.Zero(t, get[int](p, `[...document.querySelectorAll('.knob')].filter((e) => e.checkVisibility({ visibilityProperty: true })).length`), "handles in sight")
		require.Equal(t, 2, get[int](p, `document.body.innerText.split('is not valid TOML').length`), "the reason is told once")
		p.click("#problems li button")
		require.Equal(t, "text", get[string](p, `document.activeElement.id`))
		back := func() {
			p.click("#unread-back")
			p.until(fmt.Sprintf("neckloft.text === %q", before))
			p.rest()
			p.run(`document.activeElement.blur()`)
			p.keys("s", chromedp.ModifierCtrl)
			p.until(conflict)
			require.Equal(t, broken, p.saved(), "nothing is written without a question")
		}
		back()
		p.run(`document.activeElement.blur()`)
		p.keys("y", chromedp.ModifierCtrl)
		p.until(readReason + ` && !(` + conflict + `)`)
		p.rest()
		back()
		p.click("#keep")
		p.until(`!document.body.classList.contains('unsaved')`)
		require.Equal(t, before, p.saved())
		// What is made from an old text is asked about too, and then no more.
		theirs := strings.Replace(before, "nut = ", "nut =  ", 1)
		p.write(theirs)
		p.until(fmt.Sprintf("neckloft.text === %q", theirs))
		p.rest()
		p.run(`document.activeElement.blur()`)
		p.keys("z", chromedp.ModifierCtrl)
		p.until(fmt.Sprintf("neckloft.text === %q", before))
		p.enter("c-width-nut", "44.3")
		p.keys("s", chromedp.ModifierCtrl)
		p.until(conflict)
		require.Equal(t, theirs, p.saved())
		p.click("#keep")
		p.until(`!document.body.classList.contains('unsaved')`)
		p.enter("c-width-nut", "44.2")
		p.saveAll()
		require.Contains(t, p.saved(), "nut = 44.2")
	})

	sub("undo stays in its file", func(t *testing.T) {
		require.NoError(t, os.WriteFile(filepath.Join(p.dir, "wren.toml"), []byte(spec.Starter()), 0o600))
		require.False(t, get[bool](p, `document.getElementById('undo').disabled`))
		p.open("wren.toml")
		p.until(`document.getElementById('file-name').textContent === 'wren.toml'`)
		p.rest()
		require.True(t, get[bool](p, `document.getElementById('undo').disabled`))
		p.run(`document.activeElement.blur()`)
		p.keys("z", chromedp.ModifierCtrl)
		p.rest()
		require.Equal(t, spec.Starter(), p.text())
	})

	sub("a name that is taken is not said to be this file", func(t *testing.T) {
		p.click("#save-other")
		p.run(`document.getElementById('save-name').value = 'neck'`)
		p.click("#save-as button.main")
		p.until(conflict)
		require.Contains(t, get[string](p, `document.getElementById('conflict').textContent`), "neck.toml is there already")
		require.False(t, get[bool](p, `document.getElementById('take').checkVisibility()`))
		require.Equal(t, "saved", get[string](p, `document.getElementById('file-state').textContent`))
		p.click("#later")
	})

	sub("a file that is gone is not saved", func(t *testing.T) {
		require.NoError(t, os.Remove(filepath.Join(p.dir, "wren.toml")))
		p.until(`document.body.classList.contains('unsaved')`)
		require.Equal(t, "not saved: the file is gone", get[string](p, `document.getElementById('file-state').textContent`))
		require.True(t, get[bool](p, `(() => { const e = new Event('beforeunload', { cancelable: true }); window.dispatchEvent(e); return e.defaultPrevented; })()`))
		p.saveAll()
		require.FileExists(t, filepath.Join(p.dir, "wren.toml"))
	})

	sub("the section of a headstock has its own thickness and no board", func(t *testing.T) {
		p.run(`(() => { const e = document.getElementById('plane'); e.value = -120; e.dispatchEvent(new Event('input')); })()`)
		p.until(`document.querySelector('#section-numbers [data-key=square]')`)
		require.Equal(t, fmt.Sprintf("%.2f mm", spec.Demo().Headstock.Thickness), get[string](p, `document.querySelector('#section-numbers [data-key=square] dd').textContent`))
		require.NotContains(t, get[string](p, `document.getElementById('section').textContent`), "otal")
	})

	sub("after a new start the page says where the work is", func(t *testing.T) {
		p.enter("c-width-nut", "44")
		p.until(`neckloft.text.includes('nut = 44 ')`)
		p.rest()
		p.end()
		p.until(`!document.getElementById('lost').hidden`)
		require.Contains(t, get[string](p, `document.getElementById('lost-what').textContent`), "does not answer")
		// The same port, another run.
		host, _, _ := strings.Cut(strings.TrimPrefix(p.url, "http://"), "/")
		_, port, err := net.SplitHostPort(host)
		require.NoError(t, err)
		number, err := strconv.Atoi(port)
		require.NoError(t, err)
		s, err := live.New(live.Options{File: p.file})
		require.NoError(t, err)
		defer s.Close()
		var l net.Listener
		require.Eventually(t, func() bool { l, err = live.Listen(number); return err == nil }, 5*time.Second, 50*time.Millisecond)
		ctx, stop := context.WithCancel(context.Background())
		ended := make(chan error, 1)
		go func() { ended <- serveLive(ctx, s, l) }()
		p.until(`document.getElementById('lost-what').textContent.includes('started anew')`)
		p.click("#lost-text")
		require.Contains(t, get[string](p, `document.activeElement.value`), "nut = 44 ")
		stop()
		require.NoError(t, <-ended)
	})
}

// TestLiveDoorLeadsToThePage opens the file that the browser is given.
// It runs only with DRAWN=all.
func TestLiveDoorLeadsToThePage(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	d, err := newDoor(p.url)
	require.NoError(t, err)
	defer d.remove()
	p.do(chromedp.Navigate("about:blank"), chromedp.Navigate("file://"+d.file))
	p.until(`location.protocol === 'http:'`)
	p.rest()
	require.Equal(t, spec.Starter(), p.text())
	p.quiet()
}
