package neck

import (
	"math"
	"neckloft/neck/numeric"
	"strconv"
)

// LaminationEdges returns how far from the centreline the strips' edges lie at x,
// negative towards the bass side, from the bass edge of the first to the treble
// edge of the last: one more than there are strips. The strips are centred on the
// neck together. It is nil for a neck of one piece across. Y turns an edge into
// its y.
func (n *Neck) LaminationEdges(x float64) []float64 {
	strips := n.spec.Laminations
	if len(strips) == 0 {
		return nil
	}
	edges := make([]float64, 1, len(strips)+1)
	y := 0.0
	for i := range strips {
		y += n.LaminationWidth(i, x)
		edges = append(edges, y)
	}
	for i := range edges {
		edges[i] -= y / 2
	}
	return edges
}

// LaminationWidth returns the width of strip i at x, straight along the whole
// neck.
func (n *Neck) LaminationWidth(i int, x float64) float64 {
	l := n.spec.Laminations[i]
	return numeric.Lerp(l.Width, l.WidthEnd, x/n.boardEnd)
}

// stripsAt returns between which y each strip counts at x: the outer ones go on
// to the neck's sides, as ears of the same wood do.
func (n *Neck) stripsAt(x float64) [][2]float64 {
	edges := n.LaminationEdges(x)
	if edges == nil {
		return nil
	}
	edges[0], edges[len(edges)-1] = math.Inf(-1), math.Inf(1)
	out := make([][2]float64, len(edges)-1)
	for i := range out {
		a, b := n.Y(edges[i]), n.Y(edges[i+1])
		out[i] = [2]float64{math.Min(a, b), math.Max(a, b)}
	}
	return out
}

// Strips returns the parts of an outline of the wood's section at x that lie in
// each strip, and nil for a neck of one piece across.
func (n *Neck) Strips(x float64, outline []YZ) [][]YZ {
	var out [][]YZ
	for _, s := range n.stripsAt(x) {
		out = append(out, clippedTo(outline, math.Max(s[0], -1e6), math.Min(s[1], 1e6)))
	}
	return out
}

// StripMoments returns the moments of each strip at x, the channels cut out
// where there are any, and nil for a neck of one piece across. They add up to
// WoodMoments.
func (n *Neck) StripMoments(x float64) []Moments {
	strips := n.stripsAt(x)
	if strips == nil {
		return nil
	}
	sec := n.Section(x)
	out := make([]Moments, len(strips))
	for i, s := range strips {
		out[i] = sec.MomentsBetween(s[0], s[1])
		for k := 0; k < len(n.channels); {
			group := n.group(k)
			k += len(group)
			out[i] = out[i].Plus(-1, n.groupBetween(group, x, s[0], s[1]))
		}
	}
	return out
}

// LaminationsWidth returns the width of all strips together at x.
func (n *Neck) LaminationsWidth(x float64) float64 {
	w := 0.0
	for i := range n.spec.Laminations {
		w += n.LaminationWidth(i, x)
	}
	return w
}

// laminationKey is the key of strip i, counted from 0.
func laminationKey(i int) string { return "lamination[" + strconv.Itoa(i+1) + "]" }
