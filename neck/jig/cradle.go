package jig

import (
	"fmt"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// Sizes of a cradle, in mm: common practice, no published source.
const (
	cradleCheek = 12.0 // beside the hollow
	cradleFloor = 10.0 // under its deepest point, of all segments
	cradleLeast = 4.0  // depth of the hollow below its rim
	cradleRim   = 0.3  // of the wood's depth that stands over it
	restLong    = 24.0
	restFoot    = 8.0 // thickness of the foot
	restWide    = 110.0
	restLean    = 18.0 // height of the lean from stem to foot
	restWords   = 14.0 // room for words over that, low enough to be seen under a neck
)

// places returns where segments so long stand: those asked for, or three along the
// run.
func (m *maker) places(long float64) ([]spec.Place, error) {
	from, to := m.n.Run()
	if len(m.At) > 0 {
		for _, p := range m.At {
			x := m.s.X(p)
			if !(x >= m.n.Start() && x <= m.n.End()) {
				return nil, fmt.Errorf("station %s lies at %s, off the wood; allowed: %s to %s", m.s.Label(p), m.s.Length(x), m.s.Length(m.n.Start()), m.s.Length(m.n.End()))
			}
			if s := m.n.Section(x); s.CutLine() != nil {
				return nil, fmt.Errorf("station %s lies at %s, where the outline of the headstock cuts the section; allowed: places from the nut on", m.s.Label(p), m.s.Length(x))
			}
		}
		return m.At, nil
	}
	var out []spec.Place
	for _, f := range []float64{2, 7, 12} {
		p := spec.AtFret(f)
		if x := m.s.X(p); f <= float64(m.s.LastNamed()) && x-long/2 >= from && x+long/2 <= to {
			out = append(out, p)
		}
	}
	if len(out) < 2 {
		if to-from < 2*long {
			return nil, fmt.Errorf("there is no run of plain back for two segments of %s; allowed: stations of your own", m.u.Format(long))
		}
		out = []spec.Place{spec.AtX(from + long/2 + 1), spec.AtX(to - long/2 - 1)}
	}
	return out, nil
}

// segment is a piece of a cradle: the hollow between two stations, open upwards
// from the level rim, over a flat base.
type segment struct {
	from, to float64
	rim      float64
	shares   []float64
	hollow   hollow
	cheek    float64 // y of its outer sides
}

// segment lays out a piece about a station. It is an error where the back slopes so
// much that it comes out over the rim.
func (m *maker) segment(at spec.Place, long float64) (segment, error) {
	x := m.s.X(at)
	from, to := x-long/2, x+long/2
	e := m.Tolerance / 4
	g := segment{from: from, to: to, rim: math.Inf(1), hollow: hollow{m.n, m.Clearance + m.Lining + 2*e}}
	all := m.n.Spread(from, to, 12)
	for _, x := range all {
		s := m.n.Section(x)
		g.rim = math.Min(g.rim, s.Top-cradleRim*(s.Top+s.Depth))
	}
	for _, x := range all {
		if m.n.Depth(x)+g.rim < cradleLeast {
			return g, fmt.Errorf("at station %s the back is too flat or slopes too much for a segment %s long; allowed: a shorter one, or a station on the playing length",
				m.s.Label(at), m.u.Format(long))
		}
	}
	g.shares = g.hollow.shares([]float64{from, x, to}, g.rim, e)
	for _, x := range all {
		for _, p := range g.hollow.chain(x, g.rim, g.shares) {
			g.cheek = math.Max(g.cheek, math.Abs(p.Y)+cradleCheek)
		}
	}
	return g, nil
}

// solid returns the segment as a solid. Outside is its outside in every station, from
// the rim on the side of lower y around to that of greater y.
func (m *maker) solid(g segment, outside []neck.YZ) (*mesh.Mesh, error) {
	return sweep(rings(g.from, g.to, m.n.Spread(g.from, g.to, 1), m.Tolerance/8, func(x float64) []neck.YZ {
		return append(append([]neck.YZ{}, outside...), g.hollow.chain(x, g.rim, g.shares)...)
	}))
}

// gaps tells the clearances of what holds the back.
func (m *maker) gaps() string {
	if m.Lining == 0 {
		return fmt.Sprintf("The hollow lies %s off the finished back, square to it, without a lining.", m.u.Format(m.Clearance))
	}
	return fmt.Sprintf("The hollow lies %s off the finished back, square to it: %s for the lining and %s clearance.",
		m.u.Format(m.Clearance+m.Lining), m.u.Format(m.Lining), m.u.Format(m.Clearance))
}

// buildCradle makes the cradle of the carved back, in segments.
func buildCradle(m *maker) ([]Part, string, error) {
	places, err := m.places(m.Length)
	if err != nil {
		return nil, "", err
	}
	var all []segment
	base := math.Inf(1)
	for _, p := range places {
		g, err := m.segment(p, m.Length)
		if err != nil {
			return nil, "", err
		}
		for _, x := range []float64{g.from, (g.from + g.to) / 2, g.to} {
			base = math.Min(base, -m.n.Depth(x)-g.hollow.d-cradleFloor)
		}
		all = append(all, g)
	}
	var parts []Part
	for i, g := range all {
		w := g.cheek
		solid, err := m.solid(g, []neck.YZ{{Y: -w, Z: g.rim}, {Y: -w, Z: base}, {Y: w, Z: base}, {Y: w, Z: g.rim}})
		if err != nil {
			return nil, "", err
		}
		p := laid("cradle, "+m.s.ShortLabel(places[i]), solid, upright(mesh.Vec{}))
		p.sideLabel(m.stationWords("CRADLE", places[i]))
		parts = append(parts, p)
	}
	return parts, m.gaps() + " All segments hold the glue plane at one height over the bench, " + m.u.Rounded(-base) + ".", nil
}

// buildRest makes the rest of the neck at one station, with a foot.
func buildRest(m *maker) ([]Part, string, error) {
	places, err := m.places(restLong)
	if err != nil {
		return nil, "", err
	}
	at := places[0]
	g, err := m.segment(at, restLong)
	if err != nil {
		return nil, "", err
	}
	base := -m.Height
	lowest := math.Inf(1)
	for _, x := range []float64{g.from, g.to} {
		lowest = math.Min(lowest, -m.n.Depth(x)-g.hollow.d)
	}
	if room := lowest - cradleFloor - restFoot - restLean; base > room {
		return nil, "", fmt.Errorf("a rest %s high has no room for its foot under this neck; allowed: %s or more", m.u.Format(m.Height), m.u.Limit(-room, math.Ceil))
	}
	w, foot := g.cheek, math.Max(restWide/2, g.cheek+10)
	solid, err := m.solid(g, []neck.YZ{
		{Y: -w, Z: g.rim}, {Y: -w, Z: base + restFoot + restLean}, {Y: -foot, Z: base + restFoot}, {Y: -foot, Z: base},
		{Y: foot, Z: base}, {Y: foot, Z: base + restFoot}, {Y: w, Z: base + restFoot + restLean}, {Y: w, Z: g.rim},
	})
	if err != nil {
		return nil, "", err
	}
	p := laid("rest, "+m.s.ShortLabel(at), solid, upright(mesh.Vec{}))
	_, hi := p.Mesh.Bounds()
	// On the face that looks to the nut.
	p.Label = Label{
		Words: m.stationWords("REST", at), At: mesh.Vec{X: 0, Y: hi.Y/2 + w - labelEdge, Z: restFoot + restLean},
		Along: mesh.Vec{Y: -1}, Up: mesh.Vec{Z: 1},
		Width: 2*w - 2*labelEdge, Height: math.Min(restWords, lowest-base-restFoot-restLean-labelEdge),
	}
	return []Part{p}, m.gaps() + " It holds the glue plane " + m.u.Format(m.Height) + " over the bench.", nil
}

// stationWords are what is cut into a part for a station.
func (m *maker) stationWords(name string, at spec.Place) []string {
	station := "X=" + m.u.Rounded(m.s.X(at))
	if at.ByFret {
		station = "F" + spec.Number(at.Fret, 2)
		if at.Fret == 0 {
			station = "NUT"
		}
	}
	return append(m.named(station+" "+name), station)
}
