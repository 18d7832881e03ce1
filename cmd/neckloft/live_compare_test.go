package main

import (
	"fmt"

	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/neck"
)

// edges are those of an outline on the page, in px.
type edges struct{ Left, Right, Top, Bottom float64 }

// outline returns where an outline of a drawing is, the first or a later one.
func (p *livePage) outline(drawing, of string, i int) edges {
	p.tb.Helper()
	return get[edges](p, fmt.Sprintf(`(() => {
		const r = document.querySelectorAll('#%s-drawing %s')[%d].getBoundingClientRect();
		return { Left: r.left, Right: r.right, Top: r.top, Bottom: r.bottom };
	})()`, drawing, of, i))
}

// flush lays the ghost, which is the neck other, over the page's own in all ways, and
// reads the numbers by which they differ. Afterwards all is as before.
//
// Long, since each way begins where the last one ended.
func (p *livePage) flush(other *neck.Neck) {
	p.tb.Helper()
	t := p.tb
	mine := p.shown()
	p.click("#stations tbody tr:nth-child(8) button")
	p.rest()
	p.pane("section")
	// What all headlines differ by is reckoned by the program; the page shows it.
	p.rest()
	heads, apart := export.Headlines(mine), export.Apart(mine, other)
	shown := get[[]string](p, `[...document.querySelectorAll('#numbers .apart')].map((e) => e.textContent)`)
	require.Len(t, shown, len(heads))
	require.Equal(t, apart, shown)
	require.NotContains(t, shown[0], "±0", "the two differ")
	for _, n := range get[[]string](p, `[...document.querySelectorAll('#section-numbers dd')].map((e) => e.textContent)`) {
		require.Regexp(t, `\((±|\+|−|\d|none there).*\)$`, n, "each number of the section has its difference")
	}

	const within = 0.8 // px
	at := func(along, by string) {
		p.choose("flush-along", along)
		p.choose("flush-at", by)
		p.rest()
	}
	x := get[float64](p, `neckloft.x`)
	s := mine.Spec()
	fret := 0
	for s.FretX(float64(fret+1)) <= x {
		fret++
	}
	// The same share of the way from fret to fret.
	share := (x - s.FretX(float64(fret))) / (s.FretX(float64(fret+1)) - s.FretX(float64(fret)))
	from, to := other.Spec().FretX(float64(fret)), other.Spec().FretX(float64(fret+1))
	there := from + share*(to-from)
	require.Greater(t, there-x, 1.0, "another scale")
	for _, c := range []struct {
		along string
		x     float64
	}{{"nut", x}, {"fret", there}} {
		at(c.along, "glue")
		w, g := p.outline("section", ".wood", 0), p.outline("section", ".ghost", 0)
		scale := (w.Right - w.Left) / mine.Width(x)
		require.InDelta(t, other.Width(c.x)*scale, g.Right-g.Left, 1.5)
		require.InDelta(t, w.Top, g.Top, within)
		at(c.along, "back")
		w, g = p.outline("section", ".wood", 0), p.outline("section", ".ghost", 0)
		require.InDelta(t, w.Bottom, g.Bottom, within)
		at(c.along, "crown")
		w, g = p.outline("section", ".board", 0), p.outline("section", ".ghost", 1)
		require.InDelta(t, w.Top, g.Top, within)
		for _, by := range []string{"bass", "treble"} {
			at(c.along, by)
			w, g = p.outline("section", ".wood", 0), p.outline("section", ".ghost", 0)
			left := (mine.SideName(neck.MinusY) == by)
			if left {
				require.InDelta(t, w.Left, g.Left, within, by)
			} else {
				require.InDelta(t, w.Right, g.Right, within, by)
			}
		}
	}
	// Along the neck the nuts are apart by what the frets are.
	at("fret", "glue")
	p.pane("side")
	w, g := p.outline("side", ".board", 0), p.outline("side", ".ghost", 1)
	scale := (w.Right - w.Left) / mine.BoardEnd()
	require.InDelta(t, (there-x)*scale, w.Left-g.Left, 1.5)
	at("nut", "glue")
	w, g = p.outline("side", ".board", 0), p.outline("side", ".ghost", 1)
	require.InDelta(t, w.Left, g.Left, 1.5)
	p.pane("space")
	p.click("#compare-end")
	require.False(t, get[bool](p, `document.getElementById('compare').checkVisibility()`))
	require.Equal(t, "", get[string](p, `document.getElementById('ghost').value`))
	p.rest()
	require.Empty(t, get[string](p, `[...document.querySelectorAll('#numbers .apart')].map((e) => e.textContent).join('')`))
}
