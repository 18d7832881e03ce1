package main

import (
	"fmt"
	"os"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// controlTimes are the times in ms of one control's moves, from the event to the
// frame with which its picture is seen: until that frame begins, and until the page
// has put it together.
type controlTimes struct {
	Path         string
	Frames, Seen []float64
}

// everyControl moves each slider of the page to and fro, a move every 40 ms, and
// takes it back: a key that the spec lacks is there after it is moved, and may leave
// a neck that cannot be built. No value comes twice, since the program still has a
// neck that it was just asked for.
func everyControl(p *livePage) []controlTimes {
	p.tb.Helper()
	p.run(`document.getElementById('follow').checked = false; document.documentElement.dataset.measure = 'on'`)
	p.unfold()
	paths := get[[]string](p, `[...document.querySelectorAll('#controls .control input[type=range]')].map((e) => e.closest('.control').dataset.path)`)
	var all []controlTimes
	for _, path := range paths {
		t := await[controlTimes](p, fmt.Sprintf(`(async () => {
			const s = document.querySelector('.control[data-path=%q] input[type=range]');
			const from = s.value;
			const before = neckloft.text;
			const rest = async () => { for (let i = 0; i < 400 && !neckloft.resting; i++) await new Promise((done) => setTimeout(done, 20)); };
			neckloft.times.length = 0;
			for (let i = 1; i <= 14; i++) {
				const up = Number(from) + (i <= 7 ? 2 * i : 29 - 2 * i) * Number(s.step);
				s.value = up > Number(s.max) ? Number(from) - (up - Number(from)) : up;
				s.dispatchEvent(new Event('input', { bubbles: true }));
				await new Promise((done) => setTimeout(done, 40));
			}
			s.value = from;
			s.dispatchEvent(new Event('input', { bubbles: true }));
			s.dispatchEvent(new Event('change', { bubbles: true }));
			await rest();
			const seen = neckloft.times.filter((t) => t.seen !== undefined);
			const times = { Frames: seen.map((t) => t.frame), Seen: seen.map((t) => t.seen) };
			for (let i = 0; i < 40 && neckloft.text !== before; i++) {
				document.getElementById('undo').click();
				await new Promise((done) => setTimeout(done, 20));
				await rest();
			}
			if (neckloft.text !== before) throw new Error('the move of ' + s.id + ' was not taken back');
			return times;
		})()`, path))
		t.Path = path
		all = append(all, t)
	}
	return all
}

// BenchmarkLiveEveryControl reports how long moves of the page's controls take,
// and the slowest controls, in a real browser that draws in software.
func BenchmarkLiveEveryControl(b *testing.B) {
	p := openLive(b, spec.Starter())
	p.size(1440, 900, "light")
	dragTimes(p) // for the browser to have compiled what it needs
	benchmarkEvery(b, p)
}

// BenchmarkPageEveryControl reports the same of the page with no program behind
// it, how long its first picture takes, and its size.
func BenchmarkPageEveryControl(b *testing.B) {
	p := openAlone(b, spec.Starter())
	p.size(1440, 900, "light")
	var first []float64
	for range 5 {
		p.do(chromedp.Navigate(p.url))
		p.rest()
		first = append(first, get[float64](p, `neckloft.first`))
	}
	slices.Sort(first)
	dragTimes(p)
	benchmarkEvery(b, p)
	b.ReportMetric(first[len(first)/2], "ms-first")
	b.ReportMetric(first[len(first)-1], "ms-first-worst")
	packed, err := engineFiles.ReadFile("engine/engine.wasm.gz")
	require.NoError(b, err)
	b.ReportMetric(float64(len(packed))/1e6, "MB-engine")
	page, err := os.Stat(p.made)
	require.NoError(b, err)
	b.ReportMetric(float64(page.Size())/1e6, "MB-page")
}

// benchmarkEvery moves every control of a page.
func benchmarkEvery(b *testing.B, p *livePage) {
	var frames, seen []float64
	late := map[string]float64{}
	all, drawn := 0, 0
	for b.Loop() {
		for _, c := range everyControl(p) {
			all++
			if len(c.Frames) == 0 {
				continue // a move to what cannot be built draws nothing
			}
			drawn++
			frames, seen = append(frames, c.Frames...), append(seen, c.Seen...)
			slices.Sort(c.Frames)
			late[c.Path] = max(late[c.Path], c.Frames[len(c.Frames)*95/100])
		}
	}
	require.Greater(b, drawn, all*3/4, "controls whose moves were drawn")
	for _, of := range []struct {
		name  string
		times []float64
	}{{"frame", frames}, {"seen", seen}} {
		require.NotEmpty(b, of.times)
		slices.Sort(of.times)
		b.ReportMetric(of.times[len(of.times)/2], "ms-"+of.name+"-median")
		b.ReportMetric(of.times[len(of.times)*95/100], "ms-"+of.name+"-95%")
	}
	var paths []string
	for path := range late {
		paths = append(paths, path)
	}
	slices.SortFunc(paths, func(a, c string) int { return int(1000 * (late[c] - late[a])) })
	for _, path := range paths[:min(8, len(paths))] {
		b.Logf("%s: %.0f ms at 95 %%", path, late[path])
	}
}
