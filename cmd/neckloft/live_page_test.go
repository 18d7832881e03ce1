package main

import (
	"archive/zip"
	"bytes"
	"context"
	"fmt"
	"io"
	"net"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	cdpbrowser "github.com/chromedp/cdproto/browser"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/spec"
	"neckloft/render/live"
)

// spot returns the middle of an element in the window, brought into sight.
func (p *livePage) spot(selector string) (x, y float64) {
	p.tb.Helper()
	at := get[[]float64](p, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		for (let d = e.closest('details'); d; d = d.parentElement.closest('details')) d.open = true;
		e.scrollIntoView({ block: 'center' });
		const r = e.getBoundingClientRect();
		return [r.left + r.width / 2, r.top + r.height / 2];
	})()`, selector))
	return at[0], at[1]
}

// steady brings an element into sight and waits until the page rests and the
// element stays where it is. It returns its left edge, the middle of its height
// and its width.
func (p *livePage) steady(selector string) (left, middle, width float64) {
	p.tb.Helper()
	p.spot(selector)
	var last []float64
	for end := time.Now().Add(40 * time.Second); time.Now().Before(end); {
		p.rest()
		p.frame()
		at := get[[]float64](p, fmt.Sprintf(`(() => {
			const r = document.querySelector(%q).getBoundingClientRect();
			return [r.left, r.top + r.height / 2, r.width, scrollY, innerHeight];
		})()`, selector))
		if slices.Equal(at, last) && at[1] > 0 && at[1] < at[4] {
			return at[0], at[1], at[2]
		}
		if last != nil && slices.Equal(at, last) {
			p.spot(selector) // it has come to rest out of sight
		}
		last = at
	}
	p.tb.Fatalf("%s does not come to rest", selector)
	return 0, 0, 0
}

// frame waits until the page has been drawn twice, and so has seen all input
// before.
func (p *livePage) frame() {
	p.tb.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, 60*time.Second)
	defer cancel()
	_, err := chromedp.Run(ctx, chromedp.Evaluate[bool](
		`new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))`, chromedp.EvalAwaitPromise))
	require.NoError(p.tb, err)
}

// click presses an element as a pointer does.
func (p *livePage) click(selector string) {
	p.tb.Helper()
	x, y := p.spot(selector)
	p.do(chromedp.MouseClickXY(x, y))
}

// drag moves a slider by its thumb in steps, and lets go of it.
func (p *livePage) drag(selector string, pixels float64, steps int, pause time.Duration) {
	p.tb.Helper()
	p.spot(selector)
	// Where the thumb is: the track keeps half a thumb free at either end.
	at := get[[]float64](p, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		const r = e.getBoundingClientRect();
		const t = (e.value - e.min) / (e.max - e.min);
		return [r.left + 9 + t * (r.width - 18), r.top + r.height / 2];
	})()`, selector))
	mouse := func(typ input.DispatchMouseEventType, x float64, opts ...chromedp.MouseOption) {
		p.do(chromedp.MouseEvent(typ, x, at[1], opts...))
	}
	mouse(input.DispatchMouseEventTypeMousePressed, at[0], chromedp.ButtonLeft)
	for i := 1; i <= steps; i++ {
		mouse(input.DispatchMouseEventTypeMouseMoved, at[0]+pixels*float64(i)/float64(steps), chromedp.ButtonLeft)
		time.Sleep(pause)
	}
	mouse(input.DispatchMouseEventTypeMouseReleased, at[0]+pixels, chromedp.ButtonLeft)
}

// enter puts text into a field, as typed.
func (p *livePage) enter(id, text string) {
	p.tb.Helper()
	p.click("#" + id)
	p.do(chromedp.Evaluate[chromedp.Void](fmt.Sprintf(`document.getElementById(%q).select()`, id)))
	p.do(chromedp.KeyEvent(text))
}

func (p *livePage) saved() string {
	p.tb.Helper()
	data, err := os.ReadFile(p.file)
	require.NoError(p.tb, err)
	return string(data)
}

func (p *livePage) write(text string) {
	p.tb.Helper()
	require.NoError(p.tb, os.WriteFile(p.file, []byte(text), 0o600))
}

// TestLivePageInBrowser is long, since one page is opened for all that is tried on it.
// It runs only with DRAWN=all.
func TestLivePageInBrowser(t *testing.T) {
	drawn.Only(t)
	p := openLive(t, spec.Starter())
	number := `document.querySelector('#numbers [data-key=wood-at-fret-1] strong').textContent`

	t.Run("a move is drawn soon", func(t *testing.T) {
		p.tb = t
		p.drag("#c-depth-1--total-slider", 20, 5, 40*time.Millisecond) // for the browser to have compiled what it needs
		p.rest()
		times := dragTimes(p)
		require.NotEmpty(t, times)
		var report []string
		reportTimes(times, func(what string, ms float64) { report = append(report, fmt.Sprintf("%s %.1f", what, ms)) })
		load, _ := os.ReadFile("/proc/loadavg")
		t.Logf("%d moves at 0.1 mm on %d cores, drawn in software, load %s; ms: %s", len(times), runtime.NumCPU(), strings.TrimSpace(string(load)), strings.Join(report, ", "))
		p.run(`delete document.documentElement.dataset.measure`)
		p.click("#undo")
		p.rest()
		for get[bool](p, `document.body.classList.contains('unsaved')`) {
			p.click("#undo")
			p.rest()
		}
	})

	t.Run("drag a control and the number changes", func(t *testing.T) {
		p.tb = t
		before := get[string](p, number)
		requests := `performance.getEntriesByType('resource').filter((e) => e.name.endsWith('/api/model')).length`
		asked := get[int](p, requests)
		p.drag("#c-depth-1--total-slider", 40, 8, 30*time.Millisecond)
		p.rest()
		require.Equal(t, asked, get[int](p, requests), "moves go through the socket")
		total := get[string](p, `document.getElementById('c-depth-1--total').value`)
		require.NotEqual(t, "20.6", total)
		require.NotEqual(t, before, get[string](p, number))
		// The number is that of the library for the text on the page.
		s, err := spec.Read(strings.NewReader(get[string](p, `neckloft.text`)), "")
		require.NoError(t, err)
		n, err := neck.New(s)
		require.NoError(t, err)
		require.Equal(t, s.Units.Rounded(n.Depth(s.FretX(1))), get[string](p, number))
		require.Contains(t, get[string](p, `neckloft.text`), "total = "+total)
		require.Equal(t, spec.Starter(), p.saved(), "nothing is written unasked")
	})

	t.Run("undo and redo are whole drags", func(t *testing.T) {
		p.tb = t
		after := get[string](p, `neckloft.text`)
		p.click("#undo")
		p.rest()
		require.Equal(t, spec.Starter(), get[string](p, `neckloft.text`))
		p.click("#redo")
		p.rest()
		require.Equal(t, after, get[string](p, `neckloft.text`))
	})

	t.Run("save keeps comments, and a reload shows the file", func(t *testing.T) {
		p.tb = t
		p.click("#save")
		p.until(`!document.body.classList.contains('unsaved')`)
		text := p.saved()
		require.Equal(t, get[string](p, `neckloft.text`), text)
		was, now := strings.Split(spec.Starter(), "\n"), strings.Split(text, "\n")
		require.Len(t, now, len(was))
		differ := 0
		for i := range was {
			if was[i] != now[i] {
				differ++
				require.True(t, strings.HasPrefix(now[i], "total = "))
				_, comment, _ := strings.Cut(was[i], "#")
				require.True(t, strings.HasSuffix(now[i], comment))
			}
		}
		require.Equal(t, 1, differ)
		p.do(chromedp.Reload())
		p.rest()
		require.Equal(t, text, get[string](p, `neckloft.text`))
	})

	t.Run("the page follows an editor", func(t *testing.T) {
		p.tb = t
		p.write(strings.Replace(p.saved(), "nut = 42.8", "nut = 43.4", 1))
		p.until(`document.getElementById('c-width-nut').value === '43.4'`)
		p.rest()
	})

	t.Run("a bad value shows the validator's sentence beside its control", func(t *testing.T) {
		p.tb = t
		p.enter("c-width-nut", "900")
		p.until(`document.getElementById('c-width-nut-error').textContent !== ''`)
		s := spec.Demo()
		s.Width.Nut = 900
		require.Equal(t, s.Validate().Errors()[0].Message, get[string](p, `document.getElementById('c-width-nut-error').textContent`))
		require.Equal(t, "true", get[string](p, `document.getElementById('c-width-nut').getAttribute('aria-invalid')`))
		require.False(t, get[bool](p, `document.getElementById('kept').hidden`))
		p.enter("c-width-nut", "wide")
		p.until(`document.getElementById('c-width-nut-error').textContent.includes('not a number')`)
		p.enter("c-width-nut", "43")
		p.until(`document.getElementById('c-width-nut-error').textContent === ''`)
		p.rest()
	})

	t.Run("a conflict is shown and nothing is lost", func(t *testing.T) {
		p.tb = t
		theirs := strings.Replace(p.saved(), "frets  = 22", "frets  = 21", 1)
		p.write(theirs)
		p.until(`!document.getElementById('conflict').hidden`)
		require.Equal(t, theirs, p.saved())
		lines := get[string](p, `document.getElementById('conflict-lines').textContent`)
		require.Contains(t, lines, "frets  = 21")
		require.Contains(t, lines, "nut = 43 ")
		p.click("#keep")
		p.until(`document.getElementById('conflict').hidden`)
		require.Equal(t, get[string](p, `neckloft.text`), p.saved())
		require.Contains(t, p.saved(), "frets  = 22")
	})

	t.Run("every file of make is downloaded, and the STL is a solid", func(t *testing.T) {
		p.tb = t
		dir := t.TempDir()
		require.NoError(t, chromedp.Do(p.ctx, func(ctx context.Context, _ *chromedp.Target) (chromedp.Void, error) {
			_, err := chromedp.CallBrowser(ctx, cdpbrowser.SetDownloadBehavior, cdpbrowser.SetDownloadBehaviorParams{
				Behavior: cdpbrowser.SetDownloadBehaviorBehaviorAllow, DownloadPath: dir,
			})
			return chromedp.Void{}, err
		}))
		names := get[[]string](p, `[...document.querySelectorAll('#products button')].map((b) => b.dataset.name)`)
		var want []string
		for _, pr := range demoProducts() {
			want = append(want, pr.File)
		}
		require.Equal(t, append(want, "index.md", "all.zip"), names)
		// The same bytes as make writes of the saved file.
		out := filepath.Join(t.TempDir(), "out")
		var said bytes.Buffer
		require.Equal(t, exitDone, run([]string{"make", p.file, "-o", out}, nil, &said, &said), said.String())
		fetch := func(name, file string) []byte {
			p.click(fmt.Sprintf(`#products button[data-name=%q]`, name))
			path := filepath.Join(dir, file)
			// Chromium now and then holds back the eleventh of downloads in a row,
			// which the page has made and handed over, until it is
			// asked for once more.
			for again, end := time.Now().Add(3*time.Second), time.Now().Add(30*time.Second); ; time.Sleep(20 * time.Millisecond) {
				// The browser holds the name with an empty file until the whole
				// one takes its place.
				if info, err := os.Stat(path); err == nil && info.Size() > 0 {
					break
				}
				if now := time.Now(); now.After(end) {
					there, _ := filepath.Glob(filepath.Join(dir, "*"))
					t.Fatalf("%s does not come; the page says %q; in the folder: %q", name, get[string](p, `document.getElementById('note').textContent`), there)
				} else if now.After(again) {
					t.Logf("%s is asked for again; the page says %q", name, get[string](p, `document.getElementById('note').textContent`))
					again = end
					p.click(fmt.Sprintf(`#products button[data-name=%q]`, name))
				}
			}
			data, err := os.ReadFile(path)
			require.NoError(t, err)
			return data
		}
		made := map[string][]byte{}
		for _, name := range append(want, "index.md") {
			same, err := os.ReadFile(filepath.Join(out, name))
			require.NoError(t, err)
			made[name] = same
			require.True(t, bytes.Equal(same, fetch(name, name)), name)
		}
		m, err := export.ReadSTL(bytes.NewReader(made["neck.stl"]))
		require.NoError(t, err)
		require.NoError(t, m.Validate())
		data := fetch("all.zip", "neck.zip")
		z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
		require.NoError(t, err)
		require.Len(t, z.File, len(made))
		for _, f := range z.File {
			r, err := f.Open()
			require.NoError(t, err)
			inside, err := io.ReadAll(r)
			require.NoError(t, err)
			require.True(t, bytes.Equal(made[f.Name], inside), f.Name)
		}
	})
	p.tb = t
	p.quiet()
}

// moveTimes are the times of one move of a control, in ms.
type moveTimes struct {
	Wait   float64 // until the browser tells the page of the move and the page asks
	Answer float64 // until the answer is there, as typed arrays
	Draw   float64 // until the picture is drawn, to its last point
	All    float64 // the sum of these, and of putting the buffers in place
	Frame  float64 // from the move to the next frame of the screen, with which it is seen
	Page   float64 // what the page does to all that stands around the picture
}

// dragTimes drags a control to and fro.
func dragTimes(p *livePage) []moveTimes {
	p.do(chromedp.Evaluate[chromedp.Void](`document.documentElement.dataset.measure = 'on'; neckloft.times.length = 0`))
	for range 2 {
		p.drag("#c-depth-1--total-slider", 50, 15, 40*time.Millisecond)
		p.rest()
		p.drag("#c-depth-1--total-slider", -50, 15, 40*time.Millisecond)
		p.rest()
	}
	return get[[]moveTimes](p, `neckloft.times.map((t) => ({ Wait: t.wait, Answer: t.answer, Draw: t.draw, All: t.all, Frame: t.frame, Page: t.page }))`)
}

// ranked returns one of the times of all moves in order.
func ranked(times []moveTimes, pick func(moveTimes) float64) []float64 {
	out := make([]float64, len(times))
	for i, t := range times {
		out[i] = pick(t)
	}
	slices.Sort(out)
	return out
}

// reportTimes tells how long moves took.
func reportTimes(times []moveTimes, say func(what string, ms float64)) {
	for _, c := range []struct {
		what string
		pick func(moveTimes) float64
	}{
		{"all", func(t moveTimes) float64 { return t.All }},
		{"wait", func(t moveTimes) float64 { return t.Wait }},
		{"answer", func(t moveTimes) float64 { return t.Answer }},
		{"draw", func(t moveTimes) float64 { return t.Draw }},
		{"page", func(t moveTimes) float64 { return t.Page }},
		{"frame", func(t moveTimes) float64 { return t.Frame }},
	} {
		v := ranked(times, c.pick)
		say(c.what, v[len(v)/2])
		if c.what == "all" {
			say("95%", v[len(v)*95/100])
			say("worst", v[len(v)-1])
		}
	}
}

// BenchmarkLiveDrag reports the time from a control's move to the end of the
// drawing of the new picture at 0.1 mm, in a real browser that draws in
// software, and what it is made of.
func BenchmarkLiveDrag(b *testing.B) {
	p := openLive(b, spec.Starter())
	dragTimes(p)
	var times []moveTimes
	for b.Loop() {
		times = append(times, dragTimes(p)...)
	}
	require.NotEmpty(b, times)
	reportTimes(times, func(what string, ms float64) { b.ReportMetric(ms, "ms-"+what) })
	b.ReportMetric(float64(len(times)), "moves")
}

// TestLiveKeyIsShownToTheOwnerOnly starts the verb with a stand-in for the
// system's opener, which keeps what it was started with.
func TestLiveKeyIsShownToTheOwnerOnly(t *testing.T) {
	if runtime.GOOS != "linux" {
		t.Skip("the stand-in is that of xdg-open")
	}
	dir := t.TempDir()
	seen := filepath.Join(dir, "seen")
	script := "#!/bin/sh\nprintf '%s\\n' \"$@\" > " + seen + ".part && mv " + seen + ".part " + seen + "\n"
	require.NoError(t, os.WriteFile(filepath.Join(dir, "xdg-open"), []byte(script), 0o700))
	t.Setenv("PATH", dir+string(os.PathListSeparator)+os.Getenv("PATH"))
	t.Setenv("TMPDIR", dir)
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	var out, errs bytes.Buffer
	p := &program{in: strings.NewReader(""), out: &out, err: &errs}
	ended := make(chan error, 1)
	go func() { ended <- p.live(ctx, live.Options{Text: spec.Starter(), Folder: dir}, 0, true) }()
	require.Eventually(t, func() bool { _, err := os.Stat(seen); return err == nil }, 10*time.Second, 5*time.Millisecond)
	args, err := os.ReadFile(seen)
	require.NoError(t, err)
	door := strings.TrimSpace(string(args))
	page, err := os.ReadFile(door)
	require.NoError(t, err)
	for path, mode := range map[string]os.FileMode{door: 0o600, filepath.Dir(door): 0o700} {
		info, err := os.Stat(path)
		require.NoError(t, err)
		require.Equal(t, mode, info.Mode().Perm(), path)
	}
	stop()
	require.NoError(t, <-ended)
	require.Empty(t, errs.String())
	url := strings.Fields(out.String())[5]
	_, key, ok := strings.Cut(url, "#")
	require.True(t, ok)
	require.Len(t, key, 48)
	require.NotContains(t, string(args), key)
	require.Contains(t, string(page), "0;url="+url+"\"")
	require.NoFileExists(t, door)
}

func TestLiveVerbRefusesWhatItCannotServe(t *testing.T) {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	port := l.Addr().(*net.TCPAddr).Port
	for _, c := range []struct {
		args []string
		code int
		want string
	}{
		{[]string{"--port", "70000", "--no-open"}, exitUsage, "not a port"},
		{[]string{"no-such.toml", "--no-open"}, exitUsage, "there is no such file"},
		{[]string{t.TempDir(), "--no-open"}, exitUsage, ".toml"},
		{[]string{"a", "b"}, exitUsage, "2 arguments"},
		{[]string{"--port", fmt.Sprint(port), "--no-open"}, exitFailed, "cannot be used"},
	} {
		var out, errs bytes.Buffer
		verb := (&program{in: strings.NewReader(""), out: &out, err: &errs}).liveVerb()
		verb.SetArgs(c.args)
		verb.SilenceErrors, verb.SilenceUsage = true, true
		err := verb.Execute()
		require.ErrorContains(t, err, c.want)
		require.Equal(t, c.code, exitCode(err), c.args)
	}
}
