package main

import (
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
	"github.com/stretchr/testify/require"

	"neckloft/export/bench"
	"neckloft/neck/spec"
	"neckloft/render"
	"neckloft/render/live"
)

// chromium returns the browser that tests drive, and skips the test where
// there is none.
func chromium(tb testing.TB) string {
	tb.Helper()
	if testing.Short() {
		tb.Skip("the browser is left out of short runs")
	}
	// The shell without windows costs half of what the whole browser does.
	for _, name := range []string{"chromium-headless-shell", "chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	tb.Skip("no chromium is installed; the page is not tested in a browser")
	return ""
}

// shared is the one browser of all tests. It has no window, and its profile is
// new and empty. A tab that a test has left is taken by the next one: a new tab
// is a new process, which compiles the page's script again.
var shared struct {
	sync.Mutex
	ctx  context.Context
	end  func()
	free []tab // that nobody uses
}

// jigWidth is the width of a jig's picture outside of tests.
var jigWidth = bench.JigWidth

func TestMain(m *testing.M) {
	// Drawing the preview is half of make; its size and its edges are looked at in
	// its own package.
	bench.PreviewWidth, bench.JigWidth, render.Rough = render.MinWidth, render.MinWidth, true
	code := m.Run()
	if shared.end != nil {
		shared.end()
	}
	removeMakings()
	os.Exit(code)
}

// scale is how many points of the picture go to a pixel of the page, across and
// down. Without a graphics card points cost most of a test's time, and only the
// pictures to look at need all of them.
var scale = func() float64 {
	if os.Getenv("NECKLOFT_SHOTS") != "" {
		return 1
	}
	return 0.25
}()

// browser returns a tab in which nothing is open.
func browser(tb testing.TB) context.Context {
	tb.Helper()
	path := chromium(tb)
	shared.Lock()
	defer shared.Unlock()
	if shared.ctx == nil {
		profile, err := os.MkdirTemp("", "neckloft-browser")
		require.NoError(tb, err)
		options := append(chromedp.DefaultExecAllocatorOptions[:],
			chromedp.ExecPath(path),
			chromedp.UserDataDir(profile),
			chromedp.NoSandbox,
			chromedp.Flag("disable-gpu", true),
			chromedp.Flag("use-gl", "angle"),
			chromedp.Flag("use-angle", "swiftshader"),
			chromedp.Flag("enable-unsafe-swiftshader", true),
			chromedp.Flag("disable-quic", true),
			chromedp.Flag("no-first-run", true),
			chromedp.Flag("disable-background-networking", true),
			chromedp.Flag("disable-component-update", true),
			chromedp.Flag("disable-sync", true),
			chromedp.Flag("disable-dev-shm-usage", true),
			chromedp.WindowSize(400, 300), // of the frame, which nobody sees; a tab is as large as it is told to be
		)
		allocated, stop := chromedp.NewExecAllocator(context.Background(), options...)
		ctx, cancel := chromedp.NewContext(allocated)
		shared.end = func() {
			cancel()
			stop()
			os.RemoveAll(profile)
		}
		require.NoError(tb, chromedp.Do(ctx))
		shared.ctx = ctx
	}
	var t tab
	if n := len(shared.free); n > 0 {
		t, shared.free = shared.free[n-1], shared.free[:n-1]
	} else {
		t.ctx, t.end = chromedp.NewContext(shared.ctx)
		require.NoError(tb, chromedp.Do(t.ctx))
	}
	require.NoError(tb, chromedp.Do(t.ctx, chromedp.EmulateViewport(1400, 1000, chromedp.EmulateScale(scale))))
	ctx, cancel := context.WithCancel(t.ctx)
	tb.Cleanup(func() {
		cancel()
		if tb.Failed() || !t.left() {
			t.end()
			return
		}
		shared.Lock()
		defer shared.Unlock()
		shared.free = append(shared.free, t)
	})
	return ctx
}

// tab is one of the browser's.
type tab struct {
	ctx context.Context
	end func()
}

// left empties a tab for the next test and reports whether it is as good as
// new. A page asks before it is left with work that is not saved: such a tab
// is not used again.
func (t tab) left() bool {
	unsaved, err := chromedp.Run(t.ctx, chromedp.Evaluate[bool](`document.body.classList.contains('unsaved')`))
	return err == nil && !unsaved &&
		chromedp.Do(t.ctx, chromedp.Navigate("about:blank")) == nil &&
		called(t.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{}) == nil &&
		called(t.ctx, emulation.SetTouchEmulationEnabled, emulation.SetTouchEmulationEnabledParams{}) == nil
}

// called runs a command of the browser's protocol of which only the error
// matters.
func called[P, R any](ctx context.Context, cmd cdp.Command[P, R], params P) error {
	_, err := chromedp.Call(ctx, cmd, params)
	return err
}

// livePage is a served page in a browser.
type livePage struct {
	tb   testing.TB
	ctx  context.Context
	url  string
	dir  string
	file string
	end  func() // of the program that serves it
	made string // the page as one file, where there is no program

	mu      sync.Mutex
	trouble []string // errors of the console, exceptions, failed loads
}

// parts returns what runs the parts of a test on one page.
func (p *livePage) parts(t *testing.T) func(name string, fn func(t *testing.T)) {
	return func(name string, fn func(t *testing.T)) {
		t.Run(name, func(t *testing.T) {
			p.tb = t
			fn(t)
		})
	}
}

// engine returns the one that answers all pages: it remembers the necks that they
// begin with.
var engine = func() func(live.Options) *live.Engine {
	var once sync.Once
	var shared *live.Engine
	return func(o live.Options) *live.Engine {
		once.Do(func() { shared = live.NewEngine(o) })
		return shared
	}
}()

// openLive serves a spec in a folder of its own and opens the page. Scripts are
// run before the page's own.
func openLive(tb testing.TB, text string, before ...string) *livePage {
	tb.Helper()
	p := &livePage{tb: tb, ctx: browser(tb), dir: tb.TempDir()}
	p.file = filepath.Join(p.dir, "neck.toml")
	require.NoError(tb, os.WriteFile(p.file, []byte(text), 0o600))
	prog := &program{}
	opts, err := prog.liveOptions([]string{p.file})
	require.NoError(tb, err)
	s, err := live.New(opts)
	require.NoError(tb, err)
	s.Engine = engine(opts)
	l, err := live.Listen(0)
	require.NoError(tb, err)
	p.url = s.URL(l)
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- serveLive(ctx, s, l) }()
	p.end = sync.OnceFunc(func() {
		stop()
		if err := <-ended; err != nil {
			tb.Errorf("serving: %v", err)
		}
		s.Close()
	})
	tb.Cleanup(p.end)
	messages := chromedp.Console(p.ctx)
	go func() {
		for m, err := range messages {
			if err != nil {
				return
			}
			p.note(m)
		}
	}()
	for _, script := range before {
		added, err := chromedp.Call(p.ctx, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: script})
		require.NoError(tb, err)
		tb.Cleanup(func() {
			command(p, page.RemoveScriptToEvaluateOnNewDocument, page.RemoveScriptToEvaluateOnNewDocumentParams(added))
		})
	}
	p.do(chromedp.Navigate(p.url))
	p.rest()
	return p
}

// note keeps what the console says that is not for information only.
func (p *livePage) note(m chromedp.ConsoleMessage) {
	if strings.Contains(m.Text, "GPU stall due to ReadPixels") {
		return // what taking a picture of the page costs a drawing in software
	}
	if m.IsException() || m.Type == "error" || m.Type == "warning" || m.Type == "assert" {
		p.mu.Lock()
		p.trouble = append(p.trouble, m.String()+" "+m.URL)
		p.mu.Unlock()
	}
}

func (p *livePage) do(actions ...chromedp.Action[chromedp.Void]) {
	p.tb.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, 60*time.Second)
	defer cancel()
	require.NoError(p.tb, chromedp.Do(ctx, actions...))
}

// command runs a command of the browser's protocol.
func command[P, R any](p *livePage, cmd cdp.Command[P, R], params P) {
	p.tb.Helper()
	require.NoError(p.tb, called(p.ctx, cmd, params))
}

// get returns the value of an expression in the page.
func get[T any](p *livePage, expression string) T {
	p.tb.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, 60*time.Second)
	defer cancel()
	out, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	require.NoError(p.tb, err, expression)
	return out
}

// until waits for a condition in the page. It asks again and again, since the
// page's own policy forbids to run a condition inside of it.
func (p *livePage) until(condition string) {
	p.tb.Helper()
	pause := 15 * time.Millisecond
	for end := time.Now().Add(60 * time.Second); time.Now().Before(end); time.Sleep(pause) {
		pause = min(pause*3/2, 150*time.Millisecond) // asking costs the page time too
		ctx, cancel := context.WithTimeout(p.ctx, 60*time.Second)
		met, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+condition+")"))
		cancel()
		if err != nil && strings.Contains(err.Error(), "Inspected target navigated") {
			continue // the page was just left for the one that is waited for
		}
		require.NoError(p.tb, err, condition)
		if met {
			return
		}
	}
	shown := get[string](p, `document.body.innerText.slice(0, 3000)`)
	p.mu.Lock()
	defer p.mu.Unlock()
	p.tb.Fatalf("waited in vain for %s\ntrouble: %q\npage: %s", condition, p.trouble, shown)
}

// rest waits until the fine picture is there and nothing is under way.
func (p *livePage) rest() {
	p.tb.Helper()
	p.until(`window.neckloft && window.neckloft.resting`)
}

// size sets the size of the window, and its colours.
func (p *livePage) size(width, height int64, scheme string) {
	command(p, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{
		Width: width, Height: height, DeviceScaleFactor: scale, Mobile: width < 700,
	})
	command(p, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: scheme}},
	})
	p.frame()
	p.rest()
}

// quiet fails the test if anything went wrong on the page that was not meant
// to.
func (p *livePage) quiet() {
	p.tb.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	require.Empty(p.tb, p.trouble)
}

// TestLiveShots takes pictures of the page to look at, if a folder is named.
//
// Long, as it is a list of the pictures.
func TestLiveShots(t *testing.T) {
	dir := os.Getenv("NECKLOFT_SHOTS")
	if dir == "" {
		t.Skip("NECKLOFT_SHOTS names no folder for pictures")
	}
	p := openLive(t, spec.Starter())
	p.shoot(dir, "first-visit")
	p.run(`document.getElementById('hint-end').click()`)
	for _, s := range []struct {
		name          string
		width, height int64
		scheme        string
	}{
		{"phone-light", 390, 844, "light"}, {"phone-dark", 390, 844, "dark"},
		{"tablet-light", 820, 1180, "light"}, {"tablet-dark", 820, 1180, "dark"},
		{"level-tablet-light", 1180, 820, "light"}, {"level-tablet-dark", 1180, 820, "dark"},
		{"wide-dark", 1440, 900, "dark"}, {"wide-light", 1440, 900, "light"},
		{"large-light", 1920, 1080, "light"},
		{"live", 1240, 900, "light"}, // of the guide: its section
	} {
		p.size(s.width, s.height, s.scheme)
		for _, pane := range []string{"space", "side", "top", "made", "section"} {
			p.pane(pane)
			p.rest()
			if pane != "section" {
				p.shoot(dir, s.name+"-"+pane)
			}
		}
		p.shoot(dir, s.name)
	}
	for _, s := range []struct {
		name  string
		width int64
	}{{"phone", 360}, {"wide", 1400}} {
		p.size(s.width, 900, "light")
		p.put("wren.toml", spec.Starter())
		p.click("#open")
		p.until(`document.getElementById('open-spec').open`)
		p.shoot(dir, s.name+"-open")
		p.do(chromedp.KeyEvent(kb.Escape))
		p.enter("c-width-nut", "43")
		p.rest()
		p.open("wren.toml")
		p.until(`document.getElementById('leave').open`)
		p.shoot(dir, s.name+"-leave")
		p.click("#leave-drop")
		p.rest()
		p.run(`document.getElementById('make-part').open = true; document.getElementById('text-part').open = true`)
		p.put("wren.toml", strings.Replace(spec.Starter(), "cover = 4.0 ", "cover = 5.45 ", 1))
		p.until(`document.getElementById('bench').textContent`)
		p.run(`document.getElementById('make-part').scrollIntoView()`)
		p.shoot(dir, s.name+"-refused")
		p.put("wren.toml", strings.Replace(spec.Starter(), "nut = 42.8", `nut = "wide"`, 1))
		p.until(readReason)
		p.run(`document.getElementById('shaping').scrollIntoView()`)
		time.Sleep(7 * time.Second) // until the note is gone
		p.shoot(dir, s.name+"-unread")
		p.open("neck.toml")
		p.rest()
	}
	p.quiet()
}

// shoot takes a picture of the window and one of the whole page.
func (p *livePage) shoot(dir, name string) {
	p.tb.Helper()
	for kind, shot := range map[string]chromedp.Action[[]byte]{"": chromedp.CaptureScreenshot(), "-full": chromedp.FullScreenshot(100)} {
		png, err := chromedp.Run(p.ctx, shot)
		require.NoError(p.tb, err)
		require.NoError(p.tb, os.WriteFile(filepath.Join(dir, name+kind+".png"), png, 0o644))
	}
}
