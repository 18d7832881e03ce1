package carve

import (
	"fmt"
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// ProudWood is wood beside the run that stands prouder than the plane of the
// flat back, continued: farther from the glue plane.
type ProudWood struct {
	BodyEnd  bool // at the body end; otherwise at the nut end
	From, To float64
	By, At   float64 // the most that it stands proud, and where

	// Final is the most that the finished neck stands proud between From and
	// To, and where: no thinning takes that away. It is 0 or less where the
	// finished neck stays within the plane.
	Final, FinalAt float64
}

// proudGrain is the step in mm of the search for where wood begins to stand
// proud, and proudLeast what does not count.
const (
	proudGrain = 0.5
	proudLeast = 1e-6
	proudSnap  = 0.005
)

// Proud returns the wood beside the run that stands prouder than the flat back's
// plane by more than the clearance, in order along the neck.
func (w *Wood) Proud(t Taper, clearance float64) []ProudWood {
	var out []ProudWood
	for _, side := range [2][2]float64{{w.Start(), t.From}, {t.To, w.End()}} {
		for _, span := range w.above(t, clearance, side[0], side[1]) {
			p := ProudWood{BodyEnd: side[0] == t.To, From: span[0], To: span[1]}
			// Wood that rises from the run's very end begins there.
			if math.Abs(p.From-t.To) < proudSnap {
				p.From = t.To
			}
			if math.Abs(p.To-t.From) < proudSnap {
				p.To = t.From
			}
			p.By, p.At = w.most(p.From, p.To, func(x, d float64) float64 { return d - t.Depth(x) })
			lo, hi := math.Max(p.From, w.n.Start()), math.Min(p.To, w.n.End())
			p.Final, p.FinalAt = w.most(lo, hi, func(x, _ float64) float64 { return w.n.Depth(x) - t.Depth(x) })
			out = append(out, p)
		}
	}
	return out
}

// above returns the stretches between two places where the wood stands more
// than the clearance over the plane.
func (w *Wood) above(t Taper, clearance, from, to float64) [][2]float64 {
	var out [][2]float64
	add := func(a, b float64) {
		if k := len(out); k > 0 && a-out[k-1][1] < 1e-9 {
			out[k-1][1] = b
		} else if b > a {
			out = append(out, [2]float64{a, b})
		}
	}
	for _, p := range w.pieces {
		lo, hi := math.Max(from, p.from), math.Min(to, p.to)
		if !(lo < hi) {
			continue
		}
		over := func(x float64) float64 { return p.depth(w.n, x) - t.Depth(x) - clearance - proudLeast }
		k := 1 // two straight lines cross once
		if p.profile {
			k = int(math.Ceil((hi - lo) / proudGrain))
		}
		for i := range k {
			a, b := numeric.Lerp(lo, hi, float64(i)/float64(k)), numeric.Lerp(lo, hi, float64(i+1)/float64(k))
			fa, fb := over(a), over(b)
			switch {
			case fa > 0 && fb > 0:
				add(a, b)
			case fa > 0:
				add(a, numeric.Crossing(over, a, b, fa, fb))
			case fb > 0:
				add(numeric.Crossing(over, a, b, fa, fb), b)
			}
		}
	}
	return out
}

// EndTool is a tool on the flat back as the wood beside the run sees it: a
// plate about the cutter's axis that must stay clear of what stands proud.
type EndTool struct {
	Name string

	// Half is the distance from the cutter's axis to the plate's rim along the
	// neck: of a hand router's base, of a router table on which the neck lies
	// back down, of a sled's carriage. +Inf is a table without an end.
	Half float64

	// Clearance is how far the plate lies over the flat back: 0 where it lies on
	// it, or for a carriage as far as the cutter reaches out below it.
	Clearance float64
}

// HandRouter returns a router that stands on the flat back.
func HandRouter(base float64) EndTool { return EndTool{Name: "hand router", Half: base} }

// RouterTable returns a table on which the neck lies with its flat back down;
// half is from the bit to the table's end along the neck, 0 where that is not
// said.
func RouterTable(half float64) EndTool {
	if half == 0 {
		half = math.Inf(1)
	}
	return EndTool{Name: "router table", Half: half}
}

// SledCarriage returns the carriage over a sled: half its length along the neck
// and how far the cutter reaches out below it.
func SledCarriage(half, reach float64) EndTool {
	return EndTool{Name: "sled", Half: half, Clearance: reach}
}

// EndReach is how far a tool can go along the run.
type EndReach struct {
	Tool     EndTool
	Possible bool
	From, To float64 // of the cutter's axis; where the tool is not possible, they cross

	// LostNut and LostBody are the parts of the run that the axis does not
	// reach.
	LostNut, LostBody float64

	// StopNut and StopBody are the places of the wood that stop the tool, NaN
	// where none does; ByNut and ByBody are by how much the wood at that end
	// stands over the tool's clearance, at most.
	StopNut, StopBody float64
	ByNut, ByBody     float64
}

// Reach returns how far a tool's axis can go along the run with the flat back
// cut and the ends as they are now.
func (w *Wood) Reach(t Taper, tool EndTool) EndReach {
	r := EndReach{Tool: tool, From: t.From, To: t.To, StopNut: math.NaN(), StopBody: math.NaN()}
	for _, p := range w.Proud(t, tool.Clearance) {
		over := p.By - tool.Clearance
		if p.BodyEnd {
			if math.IsNaN(r.StopBody) {
				r.StopBody = p.From
				r.To = math.Min(r.To, p.From-tool.Half)
			}
			r.ByBody = math.Max(r.ByBody, over)
			continue
		}
		r.StopNut = p.To // the last one is the nearest
		r.From = math.Max(t.From, p.To+tool.Half)
		r.ByNut = math.Max(r.ByNut, over)
	}
	r.LostNut, r.LostBody = r.From-t.From, t.To-r.To
	r.Possible = r.From < r.To
	return r
}

// finished returns the wood with its ends cut to the finished back, as thin as
// they can be made, and what lies beyond the neck's ends cut off.
func (w *Wood) finished(t Taper) *Wood {
	out := &Wood{n: w.n}
	for _, p := range w.pieces {
		if q := p.part(w.n, w.n.Start(), w.n.End()); q.to > q.from {
			out.pieces = append(out.pieces, q)
		}
	}
	for _, c := range [2][2]float64{{w.n.Start(), t.From}, {t.To, w.n.End()}} {
		if c[0] < c[1] {
			out = out.replace(woodPiece{from: c[0], to: c[1], profile: true})
		}
	}
	return out
}

// Thinning is the first cure for an end that stands proud: it is thinned to the
// plane of the flat back before the tool comes near.
type Thinning struct {
	BodyEnd  bool
	Feature  string  // what the finished neck has where the margin is least: "volute", "headstock", "heel"; "" beyond its end
	From, To float64 // where to thin, in x, to give the tool the whole run

	NowFrom, NowTo     float64 // depth of the wood at From and To now
	AfterFrom, AfterTo float64 // and when it is thinned
	Most, MostAt       float64 // the most that comes off, and where

	// Margin is the least that the thinned wood keeps over the finished back
	// from From to To, and where. Negative, the thinning would cut into the
	// finished neck by as much, and is not possible.
	Margin, MarginAt float64
	Possible         bool

	// FreeFrom and FreeTo bound the part of it, next to the run, that can be
	// thinned to the plane: all of it if it is possible. Equal, there is none.
	FreeFrom, FreeTo float64
}

// ThinCure is what thinning the ends does for a tool.
type ThinCure struct {
	Ends []Thinning // those that stand in the tool's way
	Now  EndReach   // how far the tool goes with the ends as they are

	// Reach is how far the tool then goes: the whole run where every thinning is
	// possible, otherwise with the ends thinned to the plane as far as the
	// finished back lets them be.
	Reach EndReach
}

// gainLeast is a gain in mm that no cure is worth.
const gainLeast = 0.5

// Gains reports whether thinning lets the tool go farther, by enough to be
// worth it.
func (c ThinCure) Gains() bool {
	if !c.Now.Possible {
		return c.Reach.Possible
	}
	return c.Now.From-c.Reach.From > gainLeast || c.Reach.To-c.Now.To > gainLeast
}

// Thin returns the thinnings that give a tool the whole run, what they leave
// over the finished back, and how far the tool goes with what can be thinned.
func (w *Wood) Thin(t Taper, tool EndTool) ThinCure {
	cure := ThinCure{Now: w.Reach(t, tool), Reach: w.finished(t).Reach(t, tool)}
	for _, body := range []bool{false, true} {
		th, ok := w.thinEnd(t, tool, body)
		if !ok {
			continue
		}
		th.FreeFrom, th.FreeTo = th.From, th.To
		// What stands in the way of the finished neck begins here.
		if stop := cure.Reach.StopBody; body && stop < th.FreeTo {
			th.FreeTo = math.Max(stop, th.FreeFrom)
		}
		if stop := cure.Reach.StopNut; !body && stop > th.FreeFrom {
			th.FreeFrom = math.Min(stop, th.FreeTo)
		}
		cure.Ends = append(cure.Ends, th)
	}
	return cure
}

// thinEnd returns the thinning of one end, and false where nothing stands in the
// tool's way.
func (w *Wood) thinEnd(t Taper, tool EndTool, body bool) (Thinning, bool) {
	th := Thinning{BodyEnd: body}
	lo, hi := t.From-tool.Half, t.From
	if body {
		lo, hi = t.To, t.To+tool.Half
	}
	found := false
	for _, p := range w.Proud(t, tool.Clearance) {
		if p.BodyEnd != body || p.To <= lo || p.From >= hi {
			continue
		}
		if !found {
			th.From, found = math.Max(lo, p.From), true
		}
		th.To = math.Min(hi, p.To)
	}
	if !found {
		return th, false
	}
	plane := func(x float64) float64 { return t.Depth(x) + tool.Clearance }
	th.NowFrom, th.NowTo = w.inside(th.From, 1), w.inside(th.To, -1)
	th.AfterFrom, th.AfterTo = math.Min(th.NowFrom, plane(th.From)), math.Min(th.NowTo, plane(th.To))
	th.Most, th.MostAt = w.most(th.From, th.To, func(x, d float64) float64 { return d - plane(x) })
	// Where the wood is lower now, it stays as it is.
	short, at := w.most(math.Max(th.From, w.n.Start()), math.Min(th.To, w.n.End()), func(x, d float64) float64 {
		return w.n.Depth(x) - math.Min(d, plane(x))
	})
	if math.IsInf(short, -1) { // all of it is beyond the neck's ends
		short, at = -th.AfterFrom, th.From
	}
	th.Margin, th.MarginAt = -short, at
	th.Possible = th.Margin >= -proudLeast
	if at >= w.n.Start() && at <= w.n.End() {
		th.Feature = featureAt(w.n.Spec(), w.n.VoluteCentre(), at, body)
	}
	return th, true
}

// inside returns the depth of the wood at x, at a step that of the side that
// lies in the given direction.
func (w *Wood) inside(x, towards float64) float64 {
	for _, p := range w.pieces {
		if towards > 0 && x >= p.from && x < p.to || towards < 0 && x > p.from && x <= p.to {
			return p.depth(w.n, x)
		}
	}
	return w.Depth(x)
}

// featureAt names what the neck has at a place beside the run.
func featureAt(s *spec.Spec, crest, x float64, body bool) string {
	switch {
	case body:
		return "heel"
	case s.Volute != nil && math.Abs(x-crest) < s.Volute.Length/2:
		return "volute"
	}
	return "headstock"
}

// TableRest is how a neck lies with its back down on a table that has no end.
type TableRest struct {
	Flat bool // on its flat back

	// Otherwise it rests on the two places RestNut and RestBody, and the flat
	// back stands clear of the table by GapFrom and GapTo at the ends of the
	// run, square to the table, tilted by Angle in radians, positive where it is
	// higher at the body end.
	RestNut, RestBody float64
	GapFrom, GapTo    float64
	Angle             float64
}

// OnTable returns how the wood lies on a table with its back down, the flat back
// cut and the ends as they are: on the edge of the hull of its back over which
// the centre of its side view, weighted by the neck's width, lies lowest. A body
// at rest there rocks to no other.
func (w *Wood) OnTable(t Taper) TableRest {
	cut := w.AtFlat(t)
	var hull []WoodPoint
	for _, p := range cut.Points(proudGrain) {
		if k := len(hull); k > 0 && hull[k-1].X == p.X {
			if p.Depth <= hull[k-1].Depth {
				continue
			}
			hull = hull[:k-1]
		}
		for len(hull) >= 2 {
			a, b := hull[len(hull)-2], hull[len(hull)-1]
			if b.Depth > a.Depth+(p.Depth-a.Depth)*(b.X-a.X)/(p.X-a.X)+1e-9 {
				break
			}
			hull = hull[:len(hull)-1]
		}
		hull = append(hull, p)
	}
	mid := cut.centre()
	var r TableRest
	lowest := math.Inf(1)
	for i := 0; i+1 < len(hull); i++ {
		a, b := hull[i], hull[i+1]
		slope := (b.Depth - a.Depth) / (b.X - a.X)
		_, cos := math.Sincos(math.Atan(slope))
		over := func(x, depth float64) float64 { return (a.Depth + slope*(x-a.X) - depth) * cos }
		if h := over(mid.X, mid.Depth); h < lowest {
			lowest = h
			r = TableRest{RestNut: a.X, RestBody: b.X, GapFrom: over(t.From, t.DepthFrom), GapTo: over(t.To, t.DepthTo),
				Angle: math.Atan(slope) - math.Atan(t.Slope)}
		}
	}
	if math.Max(r.GapFrom, r.GapTo) < 1e-6 {
		r = TableRest{Flat: true, RestNut: t.From, RestBody: t.To}
	}
	return r
}

// centre returns the centre of the wood's side view, weighted by the neck's
// width.
func (w *Wood) centre() WoodPoint {
	var area, along, down float64
	for _, p := range w.pieces {
		k := int(math.Ceil((p.to - p.from) / 10))
		for i := range k {
			a, b := numeric.Lerp(p.from, p.to, float64(i)/float64(k)), numeric.Lerp(p.from, p.to, float64(i+1)/float64(k))
			weigh := func(g func(x, top, bottom float64) float64) float64 {
				return shortRule.Integrate(func(x float64) float64 {
					in := numeric.Clamp(x, w.n.Start(), w.n.End())
					top, bottom := -w.n.Top(in), p.depth(w.n, x)
					return w.n.Width(in) * (bottom - top) * g(x, top, bottom)
				}, a, b)
			}
			area += weigh(func(_, _, _ float64) float64 { return 1 })
			along += weigh(func(x, _, _ float64) float64 { return x })
			down += weigh(func(_, top, bottom float64) float64 { return (top + bottom) / 2 })
		}
	}
	return WoodPoint{along / area, down / area}
}

// PackLevel is what a packing piece makes level.
type PackLevel int

const (
	// LevelBack keeps the flat back parallel to table or bench: the piece is of
	// one thickness.
	LevelBack PackLevel = iota

	// LevelGlue brings the glue plane parallel to it: the piece is a wedge.
	LevelGlue
)

// PackingPiece is the other cure: a piece under the flat back that lifts the
// neck, lying back down, until its ends hang free.
type PackingPiece struct {
	Level                      PackLevel
	From, To                   float64 // where it lies under the neck, in x
	Length                     float64 // along the table
	ThicknessFrom, ThicknessTo float64 // square to the table
	Thick                      string  // its thick end: "nut end", "body end"; "" if neither
	Angle                      float64 // between its faces, radians

	// Lowest is the wood that comes nearest to the table, and Clear how near.
	Lowest, Clear float64
}

// Packing returns the piece under the run, cut to the flat back, that holds the
// neck level and keeps its proud ends off the table by the clearance. Its
// sloping face lies against the back.
func (w *Wood) Packing(t Taper, level PackLevel, clear float64) PackingPiece {
	p := PackingPiece{Level: level, From: t.From, To: t.To, Length: t.Length()}
	if level == LevelBack {
		by, at := w.AtFlat(t).most(w.Start(), w.End(), func(x, d float64) float64 { return d - t.Depth(x) })
		if by <= proudLeast {
			by, at = 0, t.From
		}
		// The neck lies at the slope of its back: square to that is shorter.
		_, cos := math.Sincos(math.Atan(t.Slope))
		p.Lowest, p.Clear = at, clear
		p.ThicknessFrom, p.ThicknessTo = by*cos+clear, by*cos+clear
		p.Length = t.Length() / cos
		return p
	}
	deepest, at := w.AtFlat(t).most(w.Start(), w.End(), func(_, d float64) float64 { return d })
	p.Lowest, p.Clear = at, clear
	p.ThicknessFrom, p.ThicknessTo = deepest+clear-t.DepthFrom, deepest+clear-t.DepthTo
	p.Angle = math.Abs(math.Atan(t.Slope))
	switch d := p.ThicknessFrom - p.ThicknessTo; {
	case d > noShim:
		p.Thick = "nut end"
	case d < -noShim:
		p.Thick = "body end"
	}
	return p
}

// Error returns an error that says why the ends cannot be thinned to give the
// tool the whole run, nil where they can. Lengths are in unit u.
func (c ThinCure) Error(u spec.Unit) error {
	for _, th := range c.Ends {
		if !th.Possible {
			return fmt.Errorf("thinning the wood from x = %s to x = %s to the plane of the flat back would cut %s into the %s, at x = %s",
				u.Rounded(th.From), u.Rounded(th.To), u.Rounded(-th.Margin), th.Feature, u.Rounded(th.MarginAt))
		}
	}
	return nil
}
