package fit

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"neckloft/neck"
	"neckloft/neck/numeric"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// Options sets how a fit is made.
type Options struct {
	Name string     // of the spec; "" for that of the readings or of the base
	Hand *spec.Hand // that the neck is for; nil for that of the base, or right

	// Targets and Profiles are the numbers of depth targets and of profile
	// stations; 0 has as many as the readings ask for.
	Targets, Profiles int

	faced bool       // the board has been taken off the points
	Pose  bool       // the points are a scan's, whose place across is fitted too
	Width [2]float64 // of a scan, at the nut and at the board's end, to begin with
}

// plan is what a set of readings can be asked for.
type plan struct {
	set   *readings.Set
	based bool
	spec  *spec.Spec // all that is known or at its default
	opts  Options
	half  func(x float64) float64 // half the width, from the readings

	depths []spec.Place // stations with the thickness, in order
	shapes []spec.Place // stations with enough points for a shape of their own

	source map[string]string // of the keys that are not fitted: why they are so
	notes  []string          // what the readings cannot determine
	weak   map[string]string // keys given up, and why
}

// shoulder points lie between these shares of the half width: nearer the
// middle they tell only of the depth, farther out of the wall.
const (
	shoulderFrom = 0.25
	shoulderTo   = 0.97
	sidePoints   = 2  // shoulder points a side for a shape
	apart        = 60 // mm between stations that tell of a taper
)

// newPlan judges what the readings hold. The base is nil or the spec to start
// from. An error lists all that is missing, since it cannot be guessed.
func newPlan(set *readings.Set, base *spec.Spec, opts Options) (*plan, error) {
	p := &plan{set: set, opts: opts, source: make(map[string]string), weak: make(map[string]string)}
	var missing spec.Problems
	miss := func(format string, args ...any) {
		missing = append(missing, spec.Problem{File: set.File, Message: fmt.Sprintf(format, args...)})
	}
	p.leaveHeadOut()
	p.begin(base)
	p.scale(miss)
	if len(missing) == 0 {
		if err := p.set.Distinct(p.spec.X); err != nil {
			return nil, err
		}
		if err := p.end(); err != nil {
			return nil, err
		}
	}
	if len(missing) == 0 {
		p.setAside()
	}
	p.widths(miss)
	if p.set.Count(readings.BoardAt) == 0 && !p.based {
		miss("the board's thickness is missing: 1 reading of kind board, at its edge or end, plus what its crown rises above that")
	}
	p.findDepths(miss)
	if err := missing.Err(); err != nil {
		return nil, err
	}
	if err := p.onTheWood(); err != nil {
		return nil, err
	}
	p.startWidth()
	p.radius()
	p.findShapes()
	return p, nil
}

// leaveHeadOut leaves out readings of the headstock's thickness: what is fitted is
// the neck.
func (p *plan) leaveHeadOut() {
	var left []string
	whole := *p.set
	whole.Readings = nil
	for _, r := range p.set.Readings {
		if r.Kind == readings.Head {
			left = append(left, fmt.Sprintf("%s (line %d)", p.set.Label(r), r.Line))
			continue
		}
		whole.Readings = append(whole.Readings, r)
	}
	if len(left) > 0 {
		p.set = &whole
		p.notes = append(p.notes, fmt.Sprintf("left out: %s. The headstock is not fitted: give its thickness under [headstock].", some(left)))
	}
}

// begin sets what is known without the readings, and the name.
func (p *plan) begin(base *spec.Spec) {
	if base != nil {
		p.based = true
		s := *base
		p.spec = &s
		p.spec.Source = nil
	} else {
		p.spec = spec.Defaults()
	}
	s := p.spec
	s.Units = p.set.Units
	if p.opts.Hand != nil {
		s.Hand = *p.opts.Hand
	}
	switch {
	case p.opts.Name != "":
		s.Name = p.opts.Name
	case p.set.Name != "":
		s.Name = p.set.Name
	case !p.based:
		s.Name = "fitted neck"
	default:
		p.notes = append(p.notes, fmt.Sprintf("the name is still that of the base spec, %q; --name gives another.", s.Name))
	}
}

// scale takes over the scale length and the number of frets.
func (p *plan) scale(miss func(string, ...any)) {
	if p.set.Scale > 0 {
		p.spec.Scale.Length = p.set.Scale
		p.source["scale.length"] = "given"
	} else if !p.based {
		miss("the scale length is missing: add a line of kind scale, twice the distance from the nut to fret 12")
	}
	if p.set.Frets > 0 || p.set.Fretless {
		p.spec.Scale.Frets = p.set.Frets
		p.source["scale.frets"] = "given"
	} else if !p.based {
		miss("the number of frets is missing: add a line of kind frets")
	}
}

// onTheWood refuses readings beside the neck.
func (p *plan) onTheWood() error {
	s := p.spec
	lo, hi := p.extent()
	for _, r := range p.set.Readings {
		if !r.Placed {
			continue
		}
		if most := s.LastNamed(); r.At.ByFret && r.At.Fret > float64(most)+0.5 && s.Scale.Frets > 0 {
			return spec.Problems{p.set.Problem(r.Line, "there is no fret %s on this neck; allowed: up to %d", strconv.FormatFloat(r.At.Fret, 'f', -1, 64), most)}
		}
		if x := s.X(r.At); x < lo-1e-6 || x > hi+1e-6 {
			return spec.Problems{p.set.Problem(r.Line, "the station of %s lies at x = %s, off the wood; allowed: %s to %s", p.set.Label(r), s.Length(x), s.Length(lo), s.Length(hi))}
		}
	}
	return nil
}

// setAside takes out the readings that tell nothing of what is fitted: of the
// back where it is the heel's, the volute's or the headstock's, which are kept
// from the base, and of a width where there is no board.
func (p *plan) setAside() {
	s := p.spec
	lo, hi := math.Inf(-1), math.Inf(1)
	var kept []string
	if p.based && s.Heel != nil {
		hi = s.X(s.Heel.Start)
		kept = append(kept, "heel")
	}
	if p.based && s.Headstock != nil {
		lo = 0
		kept = append(kept, "headstock")
	}
	if p.based && s.Volute != nil {
		lo = math.Max(lo, s.X(s.Volute.Centre)+s.Volute.Length/2)
		kept = append(kept, "volute")
	}
	const grain = 1e-6
	whole := *p.set
	whole.Readings = nil
	var back, sides []string
	from, to := p.extent()
	for _, r := range p.set.Readings {
		x := 0.0
		if r.Placed {
			x = s.X(r.At)
		}
		name := fmt.Sprintf("%s (line %d)", p.set.Label(r), r.Line)
		switch {
		case !r.Placed, r.Kind == readings.RadiusAt, x < from-grain, x > to+grain: // the last two are refused yet
		case r.Kind == readings.Width && (x < -grain || x > s.BoardEnd()+grain):
			sides = append(sides, name)
			continue
		case r.Kind != readings.Width && (x < lo-grain || x > hi+grain):
			back = append(back, name)
			continue
		}
		whole.Readings = append(whole.Readings, r)
	}
	p.set = &whole
	if len(back) > 0 {
		p.notes = append(p.notes, fmt.Sprintf("left out: %s. There the back is that of the %s, kept from the base spec.", some(back), strings.Join(kept, " or ")))
	}
	if len(sides) > 0 {
		p.notes = append(p.notes, fmt.Sprintf("left out: %s. [width] is across the board's edges, and there is no board.", some(sides)))
	}
}

// some lists the first few of some names.
func some(names []string) string {
	const most = 4
	if len(names) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
	}
	return strings.Join(names, ", ")
}

// extent returns the ends of the wood that can be measured.
func (p *plan) extent() (lo, hi float64) {
	if p.based {
		if n, err := neck.New(p.spec); err == nil {
			return n.Start(), n.End()
		}
	}
	return 0, p.spec.BoardEnd()
}

// end sets the board's end.
func (p *plan) end() error {
	s := p.spec
	last := s.FretX(float64(s.Scale.Frets))
	if p.set.BoardEnd == 0 {
		if s.Scale.Frets == 0 && s.Board.Length == 0 {
			return spec.Problems{{File: p.set.File, Message: "the board's end is missing: on a neck without frets a line of kind end is wanted, the distance from the nut to the board's end"}}
		}
		if !p.based {
			p.notes = append(p.notes, fmt.Sprintf("the board's end is not given: past_last_fret is kept at the default, %s. Measure from the nut to the board's end (kind end).", s.Length(s.Width.PastLastFret)))
		}
		return nil
	}
	if s.Scale.Frets == 0 || s.Board.Length > 0 {
		s.Board.Length = p.rounded(true, p.set.BoardEnd)
		p.source["board.length"] = "given"
		return nil
	}
	s.Width.PastLastFret = p.rounded(true, p.set.BoardEnd-last)
	p.source["width.past_last_fret"] = "given"
	if d := s.Width.PastLastFret; d < 0 || d > 300 {
		return spec.Problems{p.set.Problem(p.set.Lines["end"], "the board's end, %s from the nut, lies %s past the last fret; allowed: 0 to %s", s.Length(p.set.BoardEnd), s.Length(d), s.Length(300))}
	}
	return nil
}

// at returns the readings of a kind at x.
func (p *plan) at(k readings.Kind, x float64) []readings.Reading {
	var out []readings.Reading
	for _, r := range p.set.Readings {
		if r.Kind == k && r.Placed && math.Abs(p.spec.X(r.At)-x) < 0.01 {
			out = append(out, r)
		}
	}
	return out
}

// stations returns the distinct stations of the readings of some kinds, from
// the nut on.
func (p *plan) stations(ks ...readings.Kind) []spec.Place {
	var out []spec.Place
	for _, r := range p.set.Readings {
		if !r.Placed || !slices.Contains(ks, r.Kind) {
			continue
		}
		x := p.spec.X(r.At)
		if !slices.ContainsFunc(out, func(q spec.Place) bool { return math.Abs(p.spec.X(q)-x) < 0.01 }) {
			out = append(out, r.At)
		}
	}
	slices.SortFunc(out, func(a, b spec.Place) int {
		if p.spec.X(a) < p.spec.X(b) {
			return -1
		}
		return 1
	})
	return out
}

// spread returns the distance between the first and the last of some places.
func (p *plan) spread(places []spec.Place) float64 {
	if len(places) == 0 {
		return 0
	}
	return p.spec.X(places[len(places)-1]) - p.spec.X(places[0])
}

// label names a place.
func (p *plan) label(at spec.Place) string { return p.spec.Label(at) }

func (p *plan) widths(miss func(string, ...any)) {
	places := p.stations(readings.Width)
	switch {
	case p.spread(places) >= apart:
	case p.opts.Pose:
	case p.based:
		if len(places) > 0 {
			p.notes = append(p.notes, "the widths read do not tell the taper: both ends are kept at those of the base spec. Measure the width at the nut and near the last fret.")
		}
	case len(places) == 0:
		miss("the width is missing: 2 readings of kind width, across the board's edges at the nut and near the last fret")
	default:
		miss("the taper of the width is not known from %s alone: 1 more reading of kind width, %s or farther away", p.label(places[0]), p.spec.Length(apart))
	}
}

// widthFitted reports whether the readings tell the taper.
func (p *plan) widthFitted() bool {
	return p.opts.Pose || p.spread(p.stations(readings.Width)) >= apart
}

// startWidth sets the width to a straight line through the readings, for the
// fit to begin with and to tell where the shoulders are.
func (p *plan) startWidth() {
	s := p.spec
	if places := p.stations(readings.Width); p.spread(places) >= apart {
		var x, y, w []float64
		for _, r := range p.set.Readings {
			if r.Kind == readings.Width {
				x, y, w = append(x, s.X(r.At)), append(y, r.Value), append(w, 1/r.Sigma/r.Sigma)
			}
		}
		a, b := StraightLine(x, y, w)
		s.Width.Nut, s.Width.End = math.Max(5, a), math.Max(5, a+b*s.BoardEnd())
	} else if p.opts.Pose {
		s.Width.Nut, s.Width.End = p.opts.Width[0], p.opts.Width[1]
	}
	p.half = func(x float64) float64 {
		return (s.Width.Nut + (s.Width.End-s.Width.Nut)*x/s.BoardEnd()) / 2
	}
}

// findDepths finds the stations whose thickness is known.
func (p *plan) findDepths(miss func(string, ...any)) {
	for _, at := range p.stations(readings.Total, readings.Centre, readings.Wood, readings.Point) {
		x := p.spec.X(at)
		if len(p.at(readings.Total, x))+len(p.at(readings.Centre, x))+len(p.at(readings.Wood, x)) > 0 {
			p.depths = append(p.depths, at)
			continue
		}
		// A contour that spans the middle has the depth in it.
		pts := p.at(readings.Point, x)
		minus := slices.ContainsFunc(pts, func(r readings.Reading) bool { return r.Y <= 0 })
		plus := slices.ContainsFunc(pts, func(r readings.Reading) bool { return r.Y >= 0 })
		if len(pts) >= 4 && minus && plus {
			p.depths = append(p.depths, at)
		}
	}
	p.depths = slices.DeleteFunc(p.depths, func(at spec.Place) bool { return p.spec.X(at) < 0 })
	switch {
	case len(p.depths) == 0 && p.based:
		p.notes = append(p.notes, "there is no thickness among the readings: the depths are kept at those of the base spec. Measure the total at fret 1 and at fret 12.")
	case len(p.depths) == 0:
		miss("the thickness is missing: 2 readings of kind total, at fret 1 and at fret 12, or a contour of 4 or more points across the centreline")
	case p.spread(p.depths) < apart:
		where, far := "at "+p.label(p.depths[0]), "fret 12"
		if n := len(p.depths); n > 1 {
			where = "from " + p.label(p.depths[0]) + " to " + p.label(p.depths[n-1])
		}
		if p.spec.X(p.depths[0]) > p.spec.FretX(7) {
			far = "fret 1"
		}
		p.notes = append(p.notes, fmt.Sprintf("the thickness is known %s alone: %s. Measure the total once more, %s or farther away, say at %s.", where, p.taken(), p.spec.Length(apart), far))
		p.depths = p.depths[:1]
	}
}

// taken says how the thickness is taken to run along where it is known at one
// place.
func (p *plan) taken() string {
	if p.based && p.opts.Targets == 0 {
		return "along the neck it changes as in the base spec, whose depths are all moved by the same"
	}
	return "the neck is taken to be even along"
}

// shoulders counts the shoulder points a side at x.
func (p *plan) shoulders(x float64) [2]int {
	var n [2]int
	a := p.half(x)
	for _, r := range p.at(readings.Point, x) {
		if y := math.Abs(r.Y); y > shoulderFrom*a && y < shoulderTo*a && r.Value > p.spec.Wall+0.3 {
			if r.Y < 0 {
				n[neck.MinusY]++
			} else {
				n[neck.PlusY]++
			}
		}
	}
	return n
}

// bass and treble return the sides of the neck.
func (p *plan) bass() neck.Side   { return neck.SidesOf(p.spec.Hand)[0] }
func (p *plan) treble() neck.Side { return neck.SidesOf(p.spec.Hand)[1] }

// zone says where the shoulder points of a side are to be measured at x: in the
// widest gap between those that there are.
func (p *plan) zone(side neck.Side, x float64) string {
	a := p.half(x)
	lo, hi := 0.35*a, 0.9*a
	var ys []float64
	for _, r := range p.at(readings.Point, x) {
		if y := r.Y * side.Sign(); y > lo && y < hi {
			ys = append(ys, y)
		}
	}
	if len(ys) > 0 {
		slices.Sort(ys)
		away := 0.12 * a
		from, wide := lo, 0.0
		for i := range len(ys) + 1 {
			low, high := lo, hi
			if i > 0 {
				low = ys[i-1] + away
			}
			if i < len(ys) {
				high = ys[i] - away
			}
			if high-low > wide {
				from, wide = low, high-low
			}
		}
		if wide > 0.1*a {
			lo, hi = from, from+wide
		}
	}
	if side == neck.MinusY {
		lo, hi = -hi, -lo
	}
	return fmt.Sprintf("between y = %s and %s", p.spec.Units.Rounded(lo), p.spec.Units.Rounded(hi))
}

// findShapes finds the stations that have a shape of their own and says what
// the others lack.
func (p *plan) findShapes() {
	for _, at := range p.stations(readings.Point) {
		x := p.spec.X(at)
		n := p.shoulders(x)
		if n[0] >= sidePoints && n[1] >= sidePoints {
			p.shapes = append(p.shapes, at)
			continue
		}
		for _, side := range neck.SidesOf(p.spec.Hand) {
			if lack := sidePoints - n[side]; lack > 0 {
				p.notes = append(p.notes, fmt.Sprintf("%s: no shape of its own, %d of %d points on the %s shoulder. Measure %s there, %s.",
					p.label(at), n[side], sidePoints, neck.SideNameOf(p.spec.Hand, side), more(lack), p.zone(side, x)))
			}
		}
	}
	if len(p.shapes) > 1 && p.spread(p.shapes) < apart {
		p.shapes = p.shapes[:1]
	}
	if len(p.shapes) == 1 {
		p.notes = append(p.notes, fmt.Sprintf("the shape is known at %s alone: it is taken to be the same all along. Trace a contour of 6 points or more %s or farther away to tell how it changes.",
			p.label(p.shapes[0]), p.spec.Length(apart)))
	}
}

func more(n int) string {
	if n == 1 {
		return "1 more point"
	}
	return fmt.Sprintf("%d more points", n)
}

// radius sets the board's radius: a straight line through the readings.
func (p *plan) radius() {
	var x, y, w []float64
	for _, r := range p.set.Readings {
		if r.Kind == readings.RadiusAt {
			x, y, w = append(x, p.spec.X(r.At)), append(y, r.Value), append(w, 1/r.Sigma/r.Sigma)
		}
	}
	b := &p.spec.Board
	switch {
	case len(x) == 0:
		if !p.based {
			p.notes = append(p.notes, "the board's radius is not among the readings: the board is kept flat, the default. Hold a radius gauge to it at the nut and at its end (kind radius).")
		}
		return
	case b.EndRadiusFollows():
		b.RadiusNut = round3(p.nutRadius(x, y, w))
		b.RadiusEnd = round3(p.spec.BoardRadius(p.spec.BoardEnd()))
	case slices.Max(x)-slices.Min(x) < apart:
		b.RadiusNut, b.RadiusEnd = y[0], y[0]
		p.notes = append(p.notes, "the board's radius was read at one place: it is taken to be the same all along.")
	default:
		a, k := StraightLine(x, y, w)
		b.RadiusNut, b.RadiusEnd = round3(a), round3(a+k*p.spec.BoardEnd())
	}
	p.source["board.radius_nut"], p.source["board.radius_end"] = "given", "given"
}

// nutRadius returns the radius at the nut of a surface that follows from it, by
// weighted least squares of the radii read.
func (p *plan) nutRadius(x, y, w []float64) float64 {
	s := *p.spec
	_, at := numeric.Maximize(func(ln float64) float64 {
		s.Board.RadiusNut = math.Exp(ln)
		sum := 0.0
		for i := range x {
			off := s.BoardRadius(x[i]) - y[i]
			sum -= w[i] * off * off
		}
		return sum
	}, math.Log(math.Max(20, 0.51*s.Width.Nut)), math.Log(1e4), 60)
	return math.Exp(at)
}

// StraightLine is the weighted least squares line y = a + b x.
func StraightLine(x, y, w []float64) (a, b float64) {
	var sw, sx, sy float64
	for i := range x {
		sw, sx, sy = sw+w[i], sx+w[i]*x[i], sy+w[i]*y[i]
	}
	mx, my := sx/sw, sy/sw
	var xx, xy float64
	for i := range x {
		xx, xy = xx+w[i]*(x[i]-mx)*(x[i]-mx), xy+w[i]*(x[i]-mx)*(y[i]-my)
	}
	if xx > 0 {
		b = xy / xx
	}
	return my - b*mx, b
}

// round3 rounds to three decimals.
func round3(v float64) float64 { return math.Round(v*1e3) / 1e3 }
