package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"

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
	p.apartInSection()
	p.apartInTable(other)

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

// apartInSection has a difference at each number of the section.
func (p *livePage) apartInSection() {
	p.tb.Helper()
	for _, n := range get[[]string](p, `[...document.querySelectorAll('#section-numbers .apart')].map((e) => e.textContent)`) {
		require.Regexp(p.tb, `^([±+−]?\d.*|none there)$`, n)
	}
	require.Equal(p.tb, get[int](p, `document.querySelectorAll('#section-numbers dd').length`), get[int](p, `document.querySelectorAll('#section-numbers .apart').length`))
}

// apartInTable has the differences of the table of stations from another neck.
func (p *livePage) apartInTable(other *neck.Neck) {
	p.tb.Helper()
	mine := p.shown()
	a, b := mine.Station("", mine.Spec().FretX(7)), other.Station("", other.Spec().FretX(7))
	want := []string{}
	for _, d := range []float64{a.X - b.X, a.Width - b.Width, a.Total - b.Total, a.Wood - b.Wood, a.Cover - b.Cover, a.Girth - b.Girth, a.ApexY - b.ApexY} {
		text := strings.Replace(fmt.Sprintf("%+.2f", d), "-", "−", 1)
		if math.Abs(d) < 0.005 {
			text = "±0.00"
		}
		want = append(want, text)
	}
	require.Equal(p.tb, want, get[[]string](p, `[...document.querySelector('#stations tr.here').querySelectorAll('.apart')].map((e) => e.textContent)`))
}

// turnsTheOther compares with a neck for the other hand, whose text is other: its bass
// side lies on this one's, in all pictures, and the page says so.
func (p *livePage) turnsTheOther(other string) {
	p.tb.Helper()
	t := p.tb
	require.NoError(t, os.WriteFile(filepath.Join(p.dir, "left.toml"), []byte("hand = \"left\"\n"+other), 0o600))
	lines := func() []string {
		return get[[]string](p, `[...document.querySelectorAll('#section-drawing .ghost, #side-drawing .ghost, #top-drawing .ghost')].map((e) => e.getAttribute('d'))`)
	}
	const words = `document.getElementById('ghost-hand').textContent`
	p.choose("ghost", "f:other.toml")
	p.rest()
	same, hand := lines(), get[string](p, words)
	require.Len(t, same, 6)
	require.Empty(t, hand)
	p.run(`document.getElementById('ghost').dispatchEvent(new Event('focus'))`)
	p.until(`[...document.getElementById('ghost').options].some((o) => o.value === 'f:left.toml')`)
	p.choose("ghost", "f:left.toml")
	p.until(words)
	p.rest()
	require.Contains(t, get[string](p, words), "for the left hand, turned")
	require.Equal(t, same, lines())
	require.True(t, p.stood().Ghost)
	// This neck turned to the left too: nothing is to be turned.
	p.choose("c-hand", "left")
	p.until(words + ` === ''`)
	p.rest()
	p.click("#undo")
	p.until(words)
	p.rest()
	require.Equal(t, same, lines())
	p.click("#compare-end")
	p.rest()
}
