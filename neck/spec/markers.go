package spec

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"neckloft/mesh"
	"neckloft/neck/outline"
)

// Shapes of a marker.
const (
	MarkerDot   = "dot"
	MarkerBar   = "bar"
	MarkerBlock = "block"
	MarkerPath  = "path"
)

// Marker is let into the board between a fret and the one before it, at each
// fret of a list. Along and Across are its sizes, of a dot Along is the
// diameter; a block leaves Along free of the frets and Across of the edges; a
// Path, the data of an SVG path, is drawn so large that it is Along.
// Apart is the distance of two dots. Y is its middle, Depth that of its pocket
// below the top there, Corner the radius of the pocket's corners.
type Marker struct {
	Frets         string
	Shape         string
	Along, Across float64
	Apart         float64
	Y             float64
	Depth         float64
	Corner        float64
	Path          string
}

// SideDots are dots in the board's edge: Below is how far under the top there,
// 0 for the middle of the edge. Side is "bass", "treble" or "" for the bass side.
type SideDots struct {
	Frets    string
	Diameter float64
	Depth    float64
	Below    float64
	Apart    float64
	Side     string
}

// MarkedFret is a fret of a list and how many marks it has.
type MarkedFret struct{ Fret, Count int }

// ParseFrets reads a list of frets such as "3 5 7 9 12x2 15", the x2 being two
// marks.
func ParseFrets(text string) ([]MarkedFret, error) {
	fields := strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == '\t' })
	if len(fields) == 0 {
		return nil, fmt.Errorf(`no fret is named; allowed: a list such as "3 5 7 9 12x2 15", x2 for two marks`)
	}
	var out []MarkedFret
	seen := map[int]bool{}
	for _, f := range fields {
		number, times, two := strings.Cut(f, "x")
		n, err := strconv.Atoi(number)
		count := 1
		if two && err == nil {
			count, err = strconv.Atoi(times)
		}
		switch {
		case err != nil || count < 1 || count > 2:
			return nil, fmt.Errorf(`%s is not a fret; allowed: a whole number, or one with x2 for two marks, such as 12x2`, quote(f))
		case seen[n]:
			return nil, fmt.Errorf("fret %d is named twice", n)
		}
		seen[n] = true
		out = append(out, MarkedFret{n, count})
	}
	return out, nil
}

// MarkerX returns the place of a marker at fret n: halfway between it and the
// fret before it, on the centreline. On a board without frets it is where the fret
// would be, since the finger stops the string there (common practice).
func (s *Spec) MarkerX(n int) float64 {
	if s.Scale.Frets == 0 {
		return s.FretX(float64(n))
	}
	return (s.FretX(float64(n-1)) + s.FretX(float64(n))) / 2
}

// MarkerSlope returns how much a marker at fret n leans, as the two frets beside
// it do on the average.
func (s *Spec) MarkerSlope(n int) float64 {
	if s.Scale.Frets == 0 {
		return s.FretSlope(float64(n))
	}
	return (s.FretSlope(float64(n-1)) + s.FretSlope(float64(n))) / 2
}

// AcrossOr returns a marker's size across, that along where none is given.
func (m *Marker) AcrossOr() float64 {
	if m.Across != 0 {
		return m.Across
	}
	return m.Along
}

// markerExtent returns half of a marker's size along and across the neck where it
// stands at fret n, the lean left aside.
func (s *Spec) markerExtent(m *Marker, n int) (along, across float64) {
	switch m.Shape {
	case MarkerBar:
		return m.Along / 2, m.AcrossOr() / 2
	case MarkerBlock:
		gap := s.FretX(float64(n)) - s.FretX(float64(n-1))
		return gap/2 - m.Along, s.halfWidth(s.MarkerX(n)) - m.AcrossOr()
	}
	if m.Shape == MarkerPath {
		if loop, err := m.Loop(0.05); err == nil {
			lo, hi := mesh.LoopBounds(loop)
			return m.Along / 2, (hi.Y - lo.Y) / 2
		}
	}
	return m.Along / 2, m.Along / 2
}

// Loop returns the outline of a marker that is given as a path, about its
// middle, counter-clockwise, with chords within e: x along the neck, y towards
// the treble side. It is an error where the data is not a path, or the outline
// crosses itself.
func (m *Marker) Loop(e float64) ([]mesh.Vec2, error) {
	p, err := m.Outline()
	if err != nil {
		return nil, err
	}
	loop := polygonOf(p, e)
	if mesh.Area2(loop) < 0 {
		slices.Reverse(loop)
	}
	if _, err := mesh.Triangulate(loop); err != nil {
		return nil, fmt.Errorf("the path's outline is not simple: %w; allowed: one outline that does not cross itself", err)
	}
	return loop, nil
}

// Outline returns the path about the middle of its box, as long along the neck as
// the marker.
func (m *Marker) Outline() (outline.Path, error) {
	p, err := outline.ParsePath(m.Path)
	if err != nil {
		return p, err
	}
	lo, hi := mesh.LoopBounds(polygonOf(p, 1e-3*pathSize(p)))
	if !(hi.X > lo.X && hi.Y > lo.Y) {
		return p, errors.New("the path encloses nothing; allowed: one closed outline")
	}
	k := m.Along / (hi.X - lo.X)
	return p.Map(outline.Scaled(k, k).After(outline.Moved(-(lo.X+hi.X)/2, -(lo.Y+hi.Y)/2))), nil
}

// pathSize returns the largest distance of a path's corners from the first.
func pathSize(p outline.Path) float64 {
	far := 0.0
	for _, s := range p.Segments {
		for _, t := range []float64{0, 0.5, 1} {
			far = math.Max(far, s.At(t).Sub(p.Segments[0].At(0)).Norm())
		}
	}
	return far
}

// polygonOf returns a path as a polygon with chords within e.
func polygonOf(p outline.Path, e float64) []mesh.Vec2 {
	var out []mesh.Vec2
	for _, s := range p.Segments {
		out = append(out, s.At(0))
		if s.Kind == outline.Line {
			continue
		}
		var split func(t0, t1 float64, deep int)
		split = func(t0, t1 float64, deep int) {
			a, b := s.At(t0), s.At(t1)
			d := b.Sub(a)
			for _, u := range []float64{0.25, 0.5, 0.75} {
				q := s.At(t0 + (t1-t0)*u)
				off := q.Sub(a.Add(d.Scale(u))).Norm()
				if deep < 3 || off > e && deep < 12 {
					mid := (t0 + t1) / 2
					split(t0, mid, deep+1)
					out = append(out, s.At(mid))
					split(mid, t1, deep+1)
					return
				}
			}
		}
		split(0, 1, 0)
	}
	// A path that comes back to its start has that point once.
	if k := len(out); k > 1 {
		last := p.Segments[len(p.Segments)-1].At(1)
		if last.Sub(out[0]).Norm() > 1e-9*math.Max(1, pathSize(p)) {
			out = append(out, last)
		}
	}
	return out
}

// Margins of a marker's pocket, in mm: board that it leaves under it and beside
// a slot. Common practice, no published source.
const (
	wantUnderMarker = 1.0
	wantBesideSlot  = 0.5
)

var markerTable = &Table{
	Name: "marker", Title: "Markers", Item: "Marker",
	Help: "Let into the board halfway between each fret of the list and the fret before it.",
	Rows: Several(func(s *Spec) *[]Marker { return &s.Markers }),
	Fields: []Field{
		{Key: "frets", Kind: KindText, Label: "Frets", Help: "such as \"3 5 7 9 12x2\", x2 for two dots", What: "the list of frets", Required: true,
			At: in(func(m *Marker) *string { return &m.Frets })},
		said(Field{Key: "shape", Label: "Shape", Help: "seen from above", What: "a shape of a marker", Absent: `"dot"`,
			Choices: []string{MarkerDot, MarkerBar, MarkerBlock, MarkerPath}}, func(m *Marker) *string { return &m.Shape }),
		{Key: "along", Kind: KindLength, Label: "Along", Help: "along the neck; a dot's diameter; what a block leaves to a fret", What: "its size along the neck", Required: true,
			Min: 0.3, Max: 100, From: 1, To: 20, At: in(func(m *Marker) *float64 { return &m.Along })},
		{Key: "across", Kind: KindLength, Label: "Across", Help: "of a bar; what a block leaves to the edges", Absent: "as along", Blank: true,
			Min: 0.3, Max: 200, From: 1, To: 50, At: in(func(m *Marker) *float64 { return &m.Across })},
		{Key: "apart", Kind: KindLength, Label: "Apart", Help: "middles of two dots", Absent: "a third of the board", Blank: true,
			Min: 0.5, Max: 200, From: 5, To: 40, At: in(func(m *Marker) *float64 { return &m.Apart })},
		{Key: "y", Kind: KindLength, Label: "Off the centreline", Help: "bass (-) or treble (+)", Absent: "0", Blank: true,
			Min: -150, Max: 150, From: -25, To: 25, At: in(func(m *Marker) *float64 { return &m.Y })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "of the pocket, at its middle", What: "the depth of the pocket", Required: true,
			Min: 0.1, Max: 50, From: 0.5, To: 5, At: in(func(m *Marker) *float64 { return &m.Depth })},
		{Key: "corner_radius", Kind: KindLength, Label: "Corner", Help: "of a bar or block, as the cutter leaves them", Absent: "sharp", Blank: true,
			Min: 0.05, Max: 50, From: 0.2, To: 5, At: in(func(m *Marker) *float64 { return &m.Corner })},
		{Key: "path", Kind: KindText, Label: "Path", Help: "an outline as path data of SVG, x towards the body", Blank: true,
			At: in(func(m *Marker) *string { return &m.Path })},
	},
}

var sideDotsTable = &Table{
	Name: "side_dots", Title: "Side dots", Help: "In the board's edge.",
	Rows: Maybe(func(s *Spec) **SideDots { return &s.SideDots }),
	Fields: []Field{
		{Key: "frets", Kind: KindText, Label: "Frets", Help: "such as \"3 5 7 9 12x2\", x2 for two dots", What: "the list of frets", Required: true,
			At: in(func(d *SideDots) *string { return &d.Frets })},
		{Key: "diameter", Kind: KindLength, Label: "Diameter", Help: "of the dots", What: "the diameter of the dots", Required: true,
			Min: 0.3, Max: 15, From: 1, To: 4, At: in(func(d *SideDots) *float64 { return &d.Diameter })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "of the holes", What: "the depth of the holes", Required: true,
			Min: 0.3, Max: 50, From: 1, To: 8, At: in(func(d *SideDots) *float64 { return &d.Depth })},
		{Key: "below", Kind: KindLength, Label: "Below the top", Help: "their middles, at the edge", Absent: "half the edge", Blank: true,
			Min: 0.2, Max: 50, From: 1, To: 5, At: in(func(d *SideDots) *float64 { return &d.Below })},
		{Key: "apart", Kind: KindLength, Label: "Apart", Help: "middles of two dots", Absent: "3 diameters", Blank: true,
			Min: 0.5, Max: 100, From: 2, To: 15, At: in(func(d *SideDots) *float64 { return &d.Apart })},
		said(Field{Key: "side", Label: "Side", Help: "of the board", What: "a side of the board", Absent: `"bass"`, Choices: []string{"bass", "treble"}},
			func(d *SideDots) *string { return &d.Side }),
	},
}

// markers checks the markers against the board, its slots and the channel.
func (c *checker) markers() {
	s := c.s
	for i := range s.Markers {
		m := &s.Markers[i]
		at := indexKey("marker", i+1)
		list := c.fretList(at+".frets", m.Frets)
		c.markerPath(at, m)
		if !c.boardKnown() || !c.ok(at+".along", at+".across", at+".apart", at+".y", at+".depth", at+".corner_radius", at+".path") {
			continue
		}
		if most := c.thinnestEdge() - minUnderSlot; m.Depth > most {
			c.errorf(at+".depth", "a pocket %s deep leaves less than %s of board where that is thinnest, %s; allowed: up to %s", c.mm(m.Depth), c.mm(minUnderSlot), c.mm(c.thinnestEdge()), c.most(most))
			continue
		}
		for _, f := range list {
			if !c.marker(at, m, f) {
				break
			}
		}
	}
}

// markerPath checks the outline of a marker that has one.
func (c *checker) markerPath(at string, m *Marker) {
	if m.Shape != MarkerPath {
		if m.Path != "" {
			c.errorf(at+".path", "only a marker of shape %q has a path", MarkerPath)
		}
		return
	}
	if m.Path == "" {
		c.errorf(at+".path", "missing; a marker of shape %q needs its outline as path data", MarkerPath)
	} else if _, err := m.Loop(0.05); err != nil {
		c.errorf(at+".path", "%v", err)
	}
}

// fretList checks a list of frets and returns those on the board.
func (c *checker) fretList(key, text string) []MarkedFret {
	list, err := ParseFrets(text)
	if err != nil {
		c.errorf(key, "%v", err)
		return nil
	}
	for _, f := range list {
		if f.Fret < 1 || f.Fret > c.s.LastNamed() {
			c.errorf(key, "there is no fret %d on this board; allowed: 1 to %d", f.Fret, c.s.LastNamed())
			return nil
		}
	}
	return list
}

// marker checks one marker at a fret, and reports whether the next may be
// looked at: one sentence is enough.
func (c *checker) marker(at string, m *Marker, f MarkedFret) bool {
	s := c.s
	along, across := s.markerExtent(m, f.Fret)
	if along <= 0 || across <= 0 {
		c.errorf(at+".along", "a block that leaves %s to the frets and %s to the edges has no room at fret %d; allowed: less", c.mm(m.Along), c.mm(m.AcrossOr()), f.Fret)
		return false
	}
	if most := math.Min(along, across); m.Corner >= most {
		c.errorf(at+".corner_radius", "a corner of %s is more than half of the marker at fret %d; allowed: less than %s", c.mm(m.Corner), f.Fret, c.most(most))
		return false
	}
	x := s.MarkerX(f.Fret)
	for _, y := range s.MarkerOffsets(m, f) {
		if half := s.halfWidth(x); math.Abs(y)+across >= half {
			c.errorf(at+".y", "the marker at fret %d reaches %s from the centreline of a board %s wide there; allowed: less than half of that", f.Fret, c.mm(math.Abs(y)+across), c.mm(2*half))
			return false
		}
	}
	kerf := 0.0
	if s.Slots != nil {
		kerf = s.Slots.Kerf
	}
	if room := (s.FretX(float64(f.Fret))-s.FretX(float64(f.Fret-1)))/2 - along - kerf/2; room < wantBesideSlot {
		c.warnf(at+".along", "the marker at fret %d comes within %s of a fret's slot; %s of board beside a slot is common practice", f.Fret, c.mm(math.Max(0, room)), c.mm(wantBesideSlot))
		return false
	}
	for _, p := range s.Partial {
		for _, y := range s.MarkerOffsets(m, f) {
			if math.Abs(s.X(p.At)-x) < along+kerf/2+wantBesideSlot && p.From < y+across && p.To > y-across {
				c.warnf(at+".frets", "the marker at fret %d meets the partial fret at %s", f.Fret, c.place(p.At))
				return false
			}
		}
	}
	return c.underMarker(at, m, f, x, along, across)
}

// apart returns the distance of two dots, a third of the board where none is
// given.
func (m *Marker) apart(s *Spec, n int) float64 {
	if m.Apart != 0 {
		return m.Apart
	}
	return 2 * s.halfWidth(s.MarkerX(n)) / 3
}

// MarkerOffsets returns where the middles of a marker at a fret lie across: one
// at Y, or two dots to either side of it.
func (s *Spec) MarkerOffsets(m *Marker, f MarkedFret) []float64 {
	if f.Count < 2 || m.Shape != MarkerDot && m.Shape != "" {
		return []float64{m.Y}
	}
	apart := m.apart(s, f.Fret)
	return []float64{m.Y - apart/2, m.Y + apart/2}
}

// sideDots checks the dots in the edge.
func (c *checker) sideDots() {
	s, d := c.s, c.s.SideDots
	if d == nil {
		return
	}
	list := c.fretList("side_dots.frets", d.Frets)
	if !c.boardKnown() || !c.ok("side_dots.diameter", "side_dots.depth", "side_dots.below", "side_dots.apart") {
		return
	}
	if edge := c.thinnestEdge(); d.Diameter > edge-2*minUnderSlot {
		c.errorf("side_dots.diameter", "dots of %s in an edge %s thick at its thinnest; allowed: up to %s", c.mm(d.Diameter), c.mm(edge), c.most(edge-2*minUnderSlot))
		return
	} else if d.Below != 0 && (d.Below < d.Diameter/2+minUnderSlot || d.Below > edge-d.Diameter/2-minUnderSlot) {
		c.errorf("side_dots.below", "dots of %s whose middles lie %s below the top run out of an edge %s thick; allowed: %s to %s", c.mm(d.Diameter), c.mm(d.Below), c.mm(edge), c.least(d.Diameter/2+minUnderSlot), c.most(edge-d.Diameter/2-minUnderSlot))
	}
	if most := math.Min(s.Width.Nut, s.Width.End) / 3; d.Depth > most {
		c.errorf("side_dots.depth", "holes %s deep into a board; allowed: up to %s, a third of its width", c.mm(d.Depth), c.most(most))
	}
	for _, f := range list {
		reach := d.Diameter / 2
		if f.Count == 2 {
			reach += d.ApartOr() / 2
		}
		if room := (s.FretX(float64(f.Fret)) - s.FretX(float64(f.Fret-1))) / 2; reach+minUnderSlot > room {
			c.errorf("side_dots.frets", "the dots of fret %d reach %s to either side, and the frets are %s off; allowed: smaller dots, or nearer to each other", f.Fret, c.mm(reach), c.mm(room))
			return
		}
	}
}

// ApartOr returns the distance of two side dots, three diameters where none is
// given.
func (d *SideDots) ApartOr() float64 {
	if d.Apart != 0 {
		return d.Apart
	}
	return 3 * d.Diameter
}
