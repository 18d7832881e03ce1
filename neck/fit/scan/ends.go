package scan

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// endClues is what is known beside the scan of which end the nut is at.
type endClues struct {
	asked, flip bool         // somebody has said whether it is at the wider end
	widths      [][2]float64 // x from the nut and width, of the readings or the base, mm
	units       spec.Unit
}

// clues gathers them from the readings and, where these give no width, from the
// base.
func (scan *Options) clues(set *readings.Set, s, base *spec.Spec) endClues {
	c := endClues{asked: scan.Ends || scan.Flip, flip: scan.Flip, units: set.Units}
	for _, r := range set.Readings {
		if r.Kind == readings.Width && r.Placed {
			c.widths = append(c.widths, [2]float64{s.X(r.At), r.Value})
		}
	}
	if len(c.widths) == 0 && base != nil {
		c.widths = [][2]float64{{0, base.Width.Nut}, {base.BoardEnd(), base.Width.End}}
	}
	return c
}

// extent is how far a scan and its flat reach along the neck, in mm.
type extent struct {
	least, first, last, most float64
}

// extent measures the flat from edge to edge, the plane at `level` or a board's
// crown on it, and false where too few points lie on it.
func (f *found) extent(m *mesh.Mesh, level float64) (extent, bool) {
	e := extent{least: math.Inf(1), most: math.Inf(-1)}
	var on []float64
	for _, v := range m.Vertices {
		p := f.to(v)
		e.least, e.most = math.Min(e.least, p.X), math.Max(e.most, p.X)
		drop := 0.0
		if f.boardRadius != nil {
			if r := f.boardRadius(p.X); r > 0 {
				drop = p.Y * p.Y / 2 / r
			}
		}
		if math.Abs(p.Z-level+drop) < 0.25 && math.Abs(p.Y) < 0.55*f.width(p.X) {
			on = append(on, p.X)
		}
	}
	if len(on) < 10 {
		return e, false
	}
	e.first, e.last = slices.Min(on), slices.Max(on)
	return e, true
}

// beyond is how far wood must reach beyond the flat to be a headstock, in mm.
const beyond = 8.0

// nutEnd turns the frame so that it begins at the nut. What somebody says comes
// first, then a headstock, then widths that were read or that the base has.
// Without any of these a neck is taken to be narrower and thinner at its nut,
// which nearly every one is; where the two do not agree, both ends are possible
// and the scan is refused. It returns a note where nothing but the taper tells.
func (f *found) nutEnd(m *mesh.Mesh, level float64, clues endClues) (string, error) {
	if clues.asked {
		if clues.flip {
			f.turn()
		}
		return "", nil
	}
	e, ok := f.extent(m, level)
	if !ok {
		return "", errors.New("the ends of the flat were not found in the scan; give --origin, --along and --up")
	}
	if near, far := e.least < e.first-beyond, e.most > e.last+beyond; near != far {
		if far {
			f.turn()
		}
		return "", nil
	}
	if flip, ok := clues.told(f.width, e); ok {
		if flip {
			f.turn()
		}
		return "", nil
	}
	if f.bothSame {
		return "", errors.New("the neck of the scan is equally wide at both ends, so that its nut cannot be told; give --origin, --along and --up")
	}
	narrow, wide := clues.units.Rounded(f.width(e.first)), clues.units.Rounded(f.width(e.last))
	const ask = "give --flip if the nut is at the wide end, --flip=false if it is at the narrow one, or the width at the nut among the readings"
	const clear = 0.3 // mm from end to end; less is the scan's or the builder's error
	switch rise := f.rise(m, e); {
	case rise < -clear:
		return "", fmt.Errorf("the nut may be at either end of the scan: the end that is %s wide is narrower than the other, of %s, but it is the thicker one, and there is no headstock; %s", narrow, wide, ask)
	case rise <= clear:
		return "", fmt.Errorf("the nut may be at either end of the scan: one is %s wide and the other %s, the neck is as thick at the one as at the other, and there is no headstock; %s", narrow, wide, ask)
	}
	return fmt.Sprintf("no headstock and no width tell which end the nut is at: it is taken to be the narrower and thinner one, %s wide. If it is the other, of %s, give --flip or the width at the nut.", narrow, wide), nil
}

// told reports whether widths put the nut at the other end, and whether they
// tell: the taper of the scan must come nearer to them by a millimetre in the
// mean one way round than the other.
func (c *endClues) told(width func(float64) float64, e extent) (flip, ok bool) {
	if len(c.widths) == 0 {
		return false, false
	}
	var here, turned float64
	for _, w := range c.widths {
		here += math.Abs(width(e.first+w[0])-w[1]) / float64(len(c.widths))
		turned += math.Abs(width(e.last-w[0])-w[1]) / float64(len(c.widths))
	}
	return turned < here, math.Abs(here-turned) > 1
}

// rise returns how much thicker the wood becomes from one end of the flat to the
// other, by a straight line through the deepest points of its middle.
func (f *found) rise(m *mesh.Mesh, e extent) float64 {
	const bin = 6.0
	deepest := make(map[int]float64)
	for _, v := range m.Vertices {
		if p := f.to(v); p.X > e.first+0.1*(e.last-e.first) && p.X < e.last-0.1*(e.last-e.first) {
			k := int(math.Floor(p.X / bin))
			deepest[k] = math.Max(deepest[k], -p.Z)
		}
	}
	keys := make([]int, 0, len(deepest))
	for k := range deepest {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	var x, z []float64
	for _, k := range keys {
		x, z = append(x, (float64(k)+0.5)*bin), append(z, deepest[k])
	}
	if len(x) < 3 {
		return 0
	}
	_, b := robustLine(x, z)
	return b * (e.last - e.first)
}
