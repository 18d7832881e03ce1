package render

import (
	"math"
	"strconv"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// cut is a section that a drawing shows.
type cut struct {
	x     float64
	title string // where along the neck: "nut end"
	place string // the station: "fret 1"

	// The least wood between channel and back at the station, and the ends of
	// the shortest line between them in the section's plane; not where there
	// is no channel.
	covered       bool
	cover         float64
	channel, back neck.YZ
}

// newCut returns the section at x.
func newCut(n *neck.Neck, x float64, title, place string) cut {
	c := cut{x: x, title: title, place: place}
	if c.channel, c.back, c.covered = nearestCover(n, x); c.covered {
		c.cover, _ = n.Cover(x)
	}
	return c
}

// pickCuts returns the sections of the sheet: at the first depth target, at the
// last (or, with one target, where the heel begins or the last fret lies over
// wood), and at the whole fret nearest to midway between.
func pickCuts(n *neck.Neck) []cut {
	s := n.Spec()
	inside := func(x float64) float64 { return math.Max(math.Max(0, n.Start()), math.Min(n.End(), x)) }
	first, last := s.Depth[0].At, s.Depth[len(s.Depth)-1].At
	if len(s.Depth) == 1 {
		// One target holds all along: show the neck from end to end.
		first = spec.AtFret(1)
		if s.LastNamed() <= 1 {
			first = spec.AtFret(0)
		}
		last = spec.AtFret(math.Max(1, math.Floor(s.FretAt(inside(s.FretX(float64(s.LastNamed()))))+1e-9)))
		if s.Heel != nil {
			last = s.Heel.Start
		}
	}
	a, b := inside(s.X(first)), inside(s.X(last))
	mid := spec.AtFret(math.Round(s.FretAt((a + b) / 2)))
	if x := s.X(mid); x <= a || x >= b {
		mid = spec.AtX((a + b) / 2)
	}
	cuts := []cut{newCut(n, a, "Nut end", cutPlace(s, first))}
	const apart = 0.05 // mm; nearer ones would print alike
	if b-a > 2*apart {
		cuts = append(cuts, newCut(n, s.X(mid), "Mid neck", cutPlace(s, mid)))
	}
	if b-a > apart {
		cuts = append(cuts, newCut(n, b, "Heel end", cutPlace(s, last)))
	}
	if s.Heel.Capped() {
		cuts = append(cuts, newCut(n, n.HeelFull(), "Cap", cutPlace(s, s.Heel.Full)))
	}
	return cuts
}

// cutPlace names a station by its fret where it has one.
func cutPlace(s *spec.Spec, p spec.Place) string {
	if p.ByFret {
		return s.Label(p)
	}
	f := s.FretAt(p.X)
	if f < 0 || math.IsInf(f, 0) {
		return ""
	}
	return "fret " + strconv.FormatFloat(math.Round(f*100)/100, 'f', -1, 64)
}
