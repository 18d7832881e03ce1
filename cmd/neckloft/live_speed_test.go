package main

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"neckloft/neck/spec"
)

// controlTimes are the times in ms of one control's moves, from the event to the
// frame with which its picture is seen.
type controlTimes struct {
	Path   string
	Frames []float64
}

// everyControl moves each slider of the page to and fro, a move every 40 ms.
func everyControl(p *livePage) []controlTimes {
	p.tb.Helper()
	p.run(`document.getElementById('follow').checked = false; document.documentElement.dataset.measure = 'on'`)
	p.unfold()
	paths := get[[]string](p, `[...document.querySelectorAll('#controls .control input[type=range]')].map((e) => e.closest('.control').dataset.path)`)
	var all []controlTimes
	for _, path := range paths {
		frames := await[[]float64](p, fmt.Sprintf(`(async () => {
			const s = document.querySelector('.control[data-path=%q] input[type=range]');
			const from = s.value;
			neckloft.times.length = 0;
			for (let i = 1; i <= 14; i++) {
				const up = Number(from) + (i <= 7 ? i : 14 - i) * Number(s.step) * 2;
				s.value = up > Number(s.max) ? Number(from) - (up - Number(from)) : up;
				s.dispatchEvent(new Event('input', { bubbles: true }));
				await new Promise((done) => setTimeout(done, 40));
			}
			s.value = from;
			s.dispatchEvent(new Event('input', { bubbles: true }));
			s.dispatchEvent(new Event('change', { bubbles: true }));
			for (let i = 0; i < 400 && !neckloft.resting; i++) await new Promise((done) => setTimeout(done, 20));
			return neckloft.times.map((t) => t.frame).filter((f) => f !== undefined);
		})()`, path))
		all = append(all, controlTimes{path, frames})
	}
	return all
}

// BenchmarkLiveEveryControl reports the slowest controls of the page: from a move
// to the frame of the screen with which its picture is seen, in a real browser
// that draws in software.
func BenchmarkLiveEveryControl(b *testing.B) {
	p := openLive(b, spec.Starter())
	p.size(1440, 900, "light")
	dragTimes(p) // for the browser to have compiled what it needs
	var every []float64
	late := map[string]float64{}
	for b.Loop() {
		for _, c := range everyControl(p) {
			if len(c.Frames) == 0 {
				continue // a move to what cannot be built draws nothing
			}
			every = append(every, c.Frames...)
			slices.Sort(c.Frames)
			late[c.Path] = max(late[c.Path], c.Frames[len(c.Frames)*95/100])
		}
	}
	require.NotEmpty(b, every)
	slices.Sort(every)
	b.ReportMetric(every[len(every)/2], "ms-median")
	b.ReportMetric(every[len(every)*95/100], "ms-95%")
	var paths []string
	for path := range late {
		paths = append(paths, path)
	}
	slices.SortFunc(paths, func(a, c string) int { return int(1000 * (late[c] - late[a])) })
	for _, path := range paths[:min(8, len(paths))] {
		b.Logf("%s: %.0f ms at 95 %%", path, late[path])
	}
}
