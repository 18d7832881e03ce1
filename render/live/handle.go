package live

import (
	"math"
	"slices"
	"strconv"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

// handle is a place on the pictures that a hand may take to change a key, or two
// keys across each other.
type handle struct {
	// Pictures are those that show it: "section", "side", "top" and "space".
	Pictures []string `json:"pictures"`

	At   point3 `json:"at"` // mm
	Axes []axis `json:"axes"`
}

// axis is one key of a handle. Per is how far and whereto the handle's place
// moves for a change of the value by one, as the page writes the value: mm for a
// length in mm, for an inch, a degree, a fret. A picture shows two of its three
// parts; their inverse turns the way of a pointer into a value.
type axis struct {
	Path string `json:"path"`
	Op   string `json:"op"` // of the edit: "set", "side" or "place"
	By   string `json:"by,omitempty"`
	Per  point3 `json:"per"`
}

// grip is a key that a handle can change: where it is held in a spec, and how
// many of its units the page counts as one.
type grip struct {
	path, op, by string
	of           func(s *spec.Spec) *float64
	unit         float64
}

// spot finds a handle's place on a neck; false where it has none.
type spot func(n *neck.Neck) (mesh.Vec, bool)

// holds finds handles of one neck.
type holds struct {
	n     *neck.Neck
	loose *spec.Spec // that is changed to see where a handle goes
	list  []handle
}

func newHolds(n *neck.Neck) *holds { return &holds{n: n, loose: loosened(n.Spec())} }

// loosened copies a spec so far that what handles change is its own.
func loosened(s *spec.Spec) *spec.Spec {
	out := *s
	out.Depth = slices.Clone(s.Depth)
	out.Profile = slices.Clone(s.Profile)
	out.Tuners = slices.Clone(s.Tuners)
	out.Rod = cloned(s.Rod)
	out.Volute = cloned(s.Volute)
	out.Heel = cloned(s.Heel)
	if out.Headstock = cloned(s.Headstock); out.Headstock != nil {
		out.Headstock.Outline = slices.Clone(s.Headstock.Outline)
	}
	return &out
}

func cloned[T any](p *T) *T {
	if p == nil {
		return nil
	}
	out := *p
	return &out
}

// length is the grip of a length.
func (h *holds) length(path string, of func(s *spec.Spec) *float64) grip {
	return grip{path: path, op: "set", of: of, unit: h.n.Spec().Units.Millimetres(1)}
}

// place is the grip of a place along the neck, in the way that it is given.
func (h *holds) place(path string, of func(s *spec.Spec) *spec.Place) grip {
	if of(h.loose).ByFret {
		return grip{path: path, op: "place", by: "fret", of: func(s *spec.Spec) *float64 { return &of(s).Fret }, unit: 1}
	}
	return grip{path: path, op: "place", by: "x", of: func(s *spec.Spec) *float64 { return &of(s).X }, unit: h.n.Spec().Units.Millimetres(1)}
}

// leastPull is the least way in mm that a handle must go for a change of a
// millimetre, a fret, a degree or a whole fullness. What moves less cannot be
// aimed at.
const leastPull = 0.05

// pull returns how a place moves for one unit of a grip: half of what lies
// between a little less and a little more. It is the picture's own answer, so
// that it needs no formula for each key.
func (h *holds) pull(g grip, at spot) (point3, bool) {
	return h.moved(g, func() (mesh.Vec, bool) {
		n, err := neck.Draft(h.loose)
		if err != nil {
			return mesh.Vec{}, false
		}
		return at(n)
	})
}

// moved is pull for a place that is told after each change of the spec.
func (h *holds) moved(g grip, at func() (mesh.Vec, bool)) (point3, bool) {
	const little = 1e-4
	p := g.of(h.loose)
	was := *p
	step := little * g.unit
	if g.by == "" && g.unit > 1 {
		step = little // an inch is far
	}
	ends := [2]mesh.Vec{}
	ok := true
	for i, sign := range []float64{-1, 1} {
		*p = was + sign*step
		var there bool
		ends[i], there = at()
		ok = ok && there
	}
	*p = was
	if !ok {
		return point3{}, false
	}
	k := g.unit / (2 * step)
	per := point3{k * (ends[1].X - ends[0].X), k * (ends[1].Y - ends[0].Y), k * (ends[1].Z - ends[0].Z)}
	far := math.Hypot(math.Hypot(per[0], per[1]), per[2])
	if !(far > leastPull) || math.IsInf(far, 0) {
		return point3{}, false
	}
	for i := range per {
		per[i] = math.Round(per[i]*1e6) / 1e6
	}
	return per, true
}

// add adds a handle at a spot for one grip, or two that move it in different
// ways.
func (h *holds) add(pictures []string, at spot, grips ...grip) {
	p, ok := at(h.n)
	h.gripped(pictures, p, ok, func(g grip) (point3, bool) { return h.pull(g, at) }, grips...)
}

// gripped adds a handle at a place, if there is one.
func (h *holds) gripped(pictures []string, p mesh.Vec, ok bool, pull func(g grip) (point3, bool), grips ...grip) {
	if !ok || math.IsNaN(p.X+p.Y+p.Z) {
		return
	}
	out := handle{Pictures: pictures, At: point3{fine(p.X), fine(p.Y), fine(p.Z)}}
	for _, g := range grips {
		per, ok := pull(g)
		if !ok {
			return
		}
		out.Axes = append(out.Axes, axis{g.path, g.op, g.by, per})
	}
	h.list = append(h.list, out)
}

// best is add for that one of some grips which moves the spot the most: on a
// section between two stations the nearer one's.
func (h *holds) best(pictures []string, at spot, grips ...grip) {
	p, ok := at(h.n)
	if !ok || math.IsNaN(p.X+p.Y+p.Z) {
		return
	}
	var chosen axis
	most := 0.0
	for _, g := range grips {
		per, ok := h.pull(g, at)
		if !ok {
			continue
		}
		// Of fullness or lengths, all in the same unit.
		if far := math.Hypot(math.Hypot(per[0], per[1]), per[2]); far > most*1.001 {
			most, chosen = far, axis{g.path, g.op, g.by, per}
		}
	}
	if most > 0 {
		h.list = append(h.list, handle{pictures, point3{fine(p.X), fine(p.Y), fine(p.Z)}, []axis{chosen}})
	}
}

// onBack is the spot on the neck's deepest line at x, which may depend on the
// neck.
func onBack(x func(n *neck.Neck) float64) spot {
	return func(n *neck.Neck) (mesh.Vec, bool) {
		at := x(n)
		if at < n.Start() || at > n.End() {
			return mesh.Vec{}, false
		}
		s := n.Section(at)
		return mesh.Vec{X: at, Y: s.Apex, Z: -n.Depth(at)}, true
	}
}

// inside is the spot on the centreline half way between the back and what lies
// over it.
func inside(x func(n *neck.Neck) float64) spot {
	return func(n *neck.Neck) (mesh.Vec, bool) {
		at := x(n)
		return mesh.Vec{X: at, Z: (n.Top(at) - n.Depth(at)) / 2}, at >= n.Start() && at <= n.End()
	}
}

// onEdge is the spot on the treble edge of the wood at x.
func onEdge(x func(n *neck.Neck) float64) spot {
	return func(n *neck.Neck) (mesh.Vec, bool) {
		at := x(n)
		if at < n.Start() || at > n.End() {
			return mesh.Vec{}, false
		}
		_, y := n.Edges(at)
		if n.Treble() == neck.MinusY {
			y, _ = n.Edges(at)
		}
		return mesh.Vec{X: at, Y: y, Z: n.Top(at)}, true
	}
}

// still is a place along the neck that stays when the neck changes.
func still(x float64) func(*neck.Neck) float64 { return func(*neck.Neck) float64 { return x } }

// Which pictures show a handle.
var (
	inSide    = []string{"side", "space"}
	inTop     = []string{"top", "space"}
	inSection = []string{"section"}
	inCut     = []string{"section", "space"} // in space at the section plane
)

// drawHandles returns the handles of the pictures of the whole neck.
func drawHandles(n *neck.Neck) []handle {
	h := newHolds(n)
	for i, d := range n.Spec().Depth {
		x := n.Spec().X(d.At)
		h.add(inSide, onBack(still(x)), h.length(entry("depth", i)+".total", func(s *spec.Spec) *float64 { return &s.Depth[i].Total }))
	}
	h.board()
	if n.Spec().Rod != nil {
		h.rod()
	}
	if n.Spec().Headstock != nil {
		h.head()
	}
	if n.Spec().Volute != nil {
		h.volute()
	}
	if n.Spec().Heel != nil {
		h.heel()
	}
	return h.list
}

func (h *holds) board() {
	crown := func(n *neck.Neck) (mesh.Vec, bool) {
		x := 0.6 * n.BoardEnd()
		return mesh.Vec{X: x, Z: n.BoardTop(x, 0)}, true
	}
	h.add([]string{"side"}, crown, h.length("board.thickness", func(s *spec.Spec) *float64 { return &s.Board.Thickness }))
	corner := func(x func(n *neck.Neck) float64) spot {
		return func(n *neck.Neck) (mesh.Vec, bool) {
			return mesh.Vec{X: x(n), Y: n.Treble().Sign() * n.BoardHalfWidth(x(n))}, true
		}
	}
	h.add(inTop, corner(still(0)), h.length("width.nut", func(s *spec.Spec) *float64 { return &s.Width.Nut }))
	h.add(inTop, corner((*neck.Neck).BoardEnd), h.length("width.end", func(s *spec.Spec) *float64 { return &s.Width.End }))
	if s := h.n.Spec(); s.Board.Length == 0 && s.Scale.Frets > 0 {
		end := func(n *neck.Neck) (mesh.Vec, bool) { return mesh.Vec{X: n.BoardEnd()}, true }
		h.add([]string{"top"}, end, h.length("width.past_last_fret", func(s *spec.Spec) *float64 { return &s.Width.PastLastFret }))
	}
}

func (h *holds) rod() {
	floor := func(x func(*neck.Neck) float64) spot {
		return func(n *neck.Neck) (mesh.Vec, bool) {
			return mesh.Vec{X: x(n), Z: -n.Spec().Rod.Depth}, true
		}
	}
	from := func(n *neck.Neck) float64 { return n.Spec().X(n.Spec().Rod.From) }
	to := func(n *neck.Neck) float64 { return n.Spec().X(n.Spec().Rod.To) }
	half := func(x func(*neck.Neck) float64) spot {
		return func(n *neck.Neck) (mesh.Vec, bool) {
			return mesh.Vec{X: x(n), Z: -n.Spec().Rod.Depth / 2}, true
		}
	}
	side := []string{"side"}
	h.add(side, floor(func(n *neck.Neck) float64 { return (from(n) + to(n)) / 2 }), h.length("rod.depth", func(s *spec.Spec) *float64 { return &s.Rod.Depth }))
	h.add(side, half(from), h.place("rod.from", func(s *spec.Spec) *spec.Place { return &s.Rod.From }))
	h.add(side, half(to), h.place("rod.to", func(s *spec.Spec) *spec.Place { return &s.Rod.To }))
}

func (h *holds) volute() {
	crest := (*neck.Neck).VoluteCentre
	length := func(s *spec.Spec) *float64 { return &s.Volute.Length }
	h.add(inSide, onBack(crest), h.length("volute.rise", func(s *spec.Spec) *float64 { return &s.Volute.Rise }))
	h.add(inSide, inside(crest), h.place("volute.centre", func(s *spec.Spec) *spec.Place { return &s.Volute.Centre }))
	h.add(inSide, onBack(func(n *neck.Neck) float64 { return crest(n) + *length(n.Spec())/2 }), h.length("volute.length", length))
}

func (h *holds) heel() {
	start := func(n *neck.Neck) float64 { return n.Spec().X(n.Spec().Heel.Start) }
	full := func(n *neck.Neck) float64 { return n.Spec().X(n.Spec().Heel.Full) }
	block := func(n *neck.Neck) float64 { return (full(n) + n.End()) / 2 }
	h.add(inSide, inside(start), h.place("heel.start", func(s *spec.Spec) *spec.Place { return &s.Heel.Start }))
	h.add(inSide, inside(full), h.place("heel.full", func(s *spec.Spec) *spec.Place { return &s.Heel.Full }))
	h.add(inSide, onBack(block), h.length("heel.total", func(s *spec.Spec) *float64 { return &s.Heel.Total }))
	h.add(inTop, onEdge(block), h.length("heel.width", func(s *spec.Spec) *float64 { return &s.Heel.Width }))
	end := func(n *neck.Neck) (mesh.Vec, bool) {
		return mesh.Vec{X: n.End(), Z: -n.Depth(n.End()-1e-6) / 2}, true
	}
	h.add(inSide, end, h.place("heel.end", func(s *spec.Spec) *spec.Place { return &s.Heel.End }))
}

func (h *holds) head() {
	s := h.n.Spec()
	middle := func(n *neck.Neck) float64 { return 0.6 * n.Start() }
	tip := func(n *neck.Neck) (mesh.Vec, bool) { return mesh.Vec{X: n.Start(), Z: n.Top(n.Start())}, true }
	far := func(n *neck.Neck) (mesh.Vec, bool) {
		return mesh.Vec{X: n.Start(), Z: (n.Top(n.Start()) - n.Depth(n.Start())) / 2}, true
	}
	angle := grip{path: "headstock.angle", op: "set", of: func(s *spec.Spec) *float64 { return &s.Headstock.Angle }, unit: math.Pi / 180}
	if s.Headstock.Angle > 0 {
		h.add(inSide, tip, angle)
	}
	h.add(inSide, onBack(middle), h.length("headstock.thickness", func(s *spec.Spec) *float64 { return &s.Headstock.Thickness }))
	if !s.Headstock.Shaped() {
		h.add([]string{"side", "top", "space"}, far, h.length("headstock.length", func(s *spec.Spec) *float64 { return &s.Headstock.Length }))
		h.add(inTop, onEdge(func(n *neck.Neck) float64 { return 0.75 * n.Start() }), h.length("headstock.width", func(s *spec.Spec) *float64 { return &s.Headstock.Width }))
	}
	// Points of the outline and tuners go both ways, in the plane of the face, which
	// stays where it is: no neck need be laid out to see where.
	both := func(list string, i int, u, y func(s *spec.Spec) *float64) {
		at := entry(list, i)
		place := func() (mesh.Vec, bool) { return h.n.OnFace(*u(h.loose), h.n.Y(*y(h.loose)), 0), true }
		p, ok := place()
		pull := func(g grip) (point3, bool) { return h.moved(g, place) }
		h.gripped(inTop, p, ok, pull, h.length(at+".u", u), h.length(at+".y", y))
	}
	for i := range s.Headstock.Outline {
		both("headstock.outline", i, func(s *spec.Spec) *float64 { return &s.Headstock.Outline[i].U }, func(s *spec.Spec) *float64 { return &s.Headstock.Outline[i].Y })
	}
	for i := range s.Tuners {
		both("tuner", i, func(s *spec.Spec) *float64 { return &s.Tuners[i].U }, func(s *spec.Spec) *float64 { return &s.Tuners[i].Y })
	}
}

// sectionHandles returns the handles of the section at x.
func sectionHandles(n *neck.Neck, x float64) []handle {
	h := newHolds(n)
	s := h.loose
	at := func(place func(n *neck.Neck, sec *neck.Section) neck.YZ) spot {
		return func(n *neck.Neck) (mesh.Vec, bool) {
			if x < n.Start() || x > n.End() {
				return mesh.Vec{}, false
			}
			sec := n.Section(x)
			p := place(n, &sec)
			return mesh.Vec{X: x, Y: p.Y, Z: p.Z}, true
		}
	}
	deepest := at(func(n *neck.Neck, sec *neck.Section) neck.YZ { return neck.YZ{Y: sec.Apex, Z: -n.Depth(x)} })
	h.best(inSection, deepest, h.thicknesses()...)
	if len(s.Profile) > 0 && s.Source.Has("profile") {
		h.profile(at)
	} else if len(s.Profile) > 0 { // the page writes it out when it is changed
		s.Profile = s.Profile[:1]
		h.profile(at)
	}
	edge := at(func(n *neck.Neck, sec *neck.Section) neck.YZ {
		p := sec.Point(n.Treble(), 0)
		return neck.YZ{Y: p.Y, Z: p.Z}
	})
	h.add(inCut, edge, h.length("wall.height", func(s *spec.Spec) *float64 { return &s.Wall }))
	wide := at(func(n *neck.Neck, sec *neck.Section) neck.YZ {
		p := sec.Edge(n.Bass())
		return neck.YZ{Y: p.Y, Z: p.Z}
	})
	h.best(inSection, wide, h.widths()...)
	if r := s.Rod; r != nil && x > s.X(r.From) && x < s.X(r.To) {
		floor := at(func(n *neck.Neck, _ *neck.Section) neck.YZ { return neck.YZ{Z: -n.Spec().Rod.Depth} })
		h.add(inSection, floor, h.length("rod.depth", func(s *spec.Spec) *float64 { return &s.Rod.Depth }))
	}
	if x >= 0 && x <= n.BoardEnd() {
		crown := at(func(n *neck.Neck, _ *neck.Section) neck.YZ { return neck.YZ{Z: n.BoardTop(x, 0)} })
		h.add(inSection, crown, h.length("board.thickness", func(s *spec.Spec) *float64 { return &s.Board.Thickness }))
	}
	return h.list
}

// profile adds the shoulders and the apex of the section.
func (h *holds) profile(at func(func(*neck.Neck, *neck.Section) neck.YZ) spot) {
	var bass, treble, apex []grip
	for i := range h.loose.Profile {
		path := entry("profile", i)
		bass = append(bass, grip{path + ".bass", "side", "", func(s *spec.Spec) *float64 { return &s.Profile[i].Bass }, 1})
		treble = append(treble, grip{path + ".treble", "side", "", func(s *spec.Spec) *float64 { return &s.Profile[i].Treble }, 1})
		apex = append(apex, h.length(path+".apex", func(s *spec.Spec) *float64 { return &s.Profile[i].Apex }))
	}
	shoulder := func(side func(n *neck.Neck) neck.Side) spot {
		return at(func(n *neck.Neck, sec *neck.Section) neck.YZ { return sec.Point(side(n), math.Pi/4) })
	}
	h.best(inCut, shoulder((*neck.Neck).Bass), bass...)
	h.best(inCut, shoulder((*neck.Neck).Treble), treble...)
	h.best(inCut, at(func(_ *neck.Neck, sec *neck.Section) neck.YZ {
		// Between glue plane and back: the deepest point itself is the depth's.
		return neck.YZ{Y: sec.Apex, Z: sec.Top - 0.8*(sec.Top+sec.Depth)}
	}), apex...)
}

// thicknesses are the grips of how deep a section is.
func (h *holds) thicknesses() []grip {
	var out []grip
	for i := range h.loose.Depth {
		out = append(out, h.length("depth["+strconv.Itoa(i+1)+"].total", func(s *spec.Spec) *float64 { return &s.Depth[i].Total }))
	}
	if h.loose.Heel != nil {
		out = append(out, h.length("heel.total", func(s *spec.Spec) *float64 { return &s.Heel.Total }))
	}
	if h.loose.Headstock != nil {
		out = append(out, h.length("headstock.thickness", func(s *spec.Spec) *float64 { return &s.Headstock.Thickness }))
	}
	return out
}

// widths are the grips of how wide a section is.
func (h *holds) widths() []grip {
	out := []grip{
		h.length("width.nut", func(s *spec.Spec) *float64 { return &s.Width.Nut }),
		h.length("width.end", func(s *spec.Spec) *float64 { return &s.Width.End }),
	}
	if h.loose.Heel != nil {
		out = append(out, h.length("heel.width", func(s *spec.Spec) *float64 { return &s.Heel.Width }))
	}
	if k := h.loose.Headstock; k != nil && !k.Shaped() {
		out = append(out, h.length("headstock.width", func(s *spec.Spec) *float64 { return &s.Headstock.Width }))
	}
	return out
}
