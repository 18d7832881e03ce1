package neck

import (
	"math"

	"neckloft/neck/numeric"
)

// layBoard chooses the board's points across. The chords of a crown across and along
// share the tolerance between them: where the board hardly bends along the neck, as
// one of a single radius does, the chords across have nearly all of it, and there are
// fewer of them.
func (l *loft) layBoard() {
	total := 2*l.chord - Cutting(l.tolerance).Within // what is cut into the board is mended too
	for _, share := range []float64{0.95, 0.8, 0.65} {
		l.across = l.n.boardAcross(share * total)
		if l.alongBoard = (1 - share) * total; l.boardFits() {
			return
		}
	}
	l.across, l.alongBoard = l.n.boardAcross(l.chord), l.chord
}

// boardFits reports whether the quads between the stations miss no more of the board
// along the neck than they may.
func (l *loft) boardFits() bool {
	var before []float64
	last := 0.0
	for _, x := range l.xs {
		if x < l.n.boardFrom || x > l.n.boardTo {
			continue
		}
		at := l.boardHeights(x)
		if before != nil {
			x0 := last
			for _, k := range []float64{0.25, 0.5, 0.75} {
				if l.boardMisfit(x0, x, k, before, l.boardHeights(numeric.Lerp(x0, x, k)), at) > l.alongBoard {
					return false
				}
			}
		}
		before, last = at, x
	}
	return true
}

// boardHeights returns the heights of the board's top at its points across.
func (l *loft) boardHeights(x float64) []float64 {
	a := l.n.BoardHalfWidth(x)
	out := make([]float64, len(l.across))
	for i, t := range l.across {
		out[i] = l.n.BoardTop(x, t*a)
	}
	return out
}

// boardMisfit returns how far the heights c of the board's top are from the quads
// between two stations with heights a and b, a part k of the way from the first, the
// chords across left aside: the chord along and the twist of the quad that its diagonal
// cuts off.
func (l *loft) boardMisfit(xa, xb, k float64, a, c, b []float64) float64 {
	wa, wb := l.n.BoardHalfWidth(xa), l.n.BoardHalfWidth(xb)
	worst := 0.0
	for i := range c {
		e := math.Abs(c[i] - numeric.Lerp(a[i], b[i], k))
		if i > 0 {
			// The quad's twist, square to the surface: up, plus across by the slope
			// of the arc there.
			up := a[i] - a[i-1] - b[i] + b[i-1]
			step := l.across[i] - l.across[i-1]
			slope := (c[i] - c[i-1]) / (step * (wa + wb) / 2)
			e += math.Abs(up-slope*step*(wa-wb)) / 4
		}
		worst = math.Max(worst, e)
	}
	return worst
}
