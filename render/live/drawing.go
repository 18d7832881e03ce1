package live

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strconv"

	"neckloft/export"
	"neckloft/export/bench"
	"neckloft/neck"
	"neckloft/neck/fretboard"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"neckloft/render"
)

// point is (y, z) of a section or (x, z) of an elevation, in mm.
type point [2]float64

// sectionDrawing is a section with its numbers.
type sectionDrawing struct {
	X     float64 `json:"x"` // mm
	Where string  `json:"where"`
	Wood  []point `json:"wood"`
	Board []point `json:"board"`
	Cover []point `json:"cover"`

	Strips []filled  `json:"strips,omitempty"` // of a laminated neck, with their colours
	Seams  [][]point `json:"seams,omitempty"`  // between them
	Inlays []named   `json:"inlays,omitempty"` // bars, strips and fillings in the channels

	HalfWidth float64 `json:"halfWidth"`
	Top       float64 `json:"top"`
	Depth     float64 `json:"depth"`
	Crown     float64 `json:"crown"` // top of the board on the centreline
	Apex      float64 `json:"apex"`

	Sides [2]string `json:"sides"` // names of the left and the right side

	Handles []handle `json:"handles"`

	Numbers []labelled `json:"numbers"`

	With *beside `json:"with,omitempty"` // another neck that is compared

	Short struct { // Total and Cover are "" where there is none
		Width, Wood, Total, Cover string
	} `json:"short"`
}

// filled is a closed line with the colour inside it, as CSS has it.
type filled struct {
	Fill   string  `json:"fill"`
	Points []point `json:"points"`
}

// named is a closed line with what it is.
type named struct {
	Name   string  `json:"name"`
	Points []point `json:"points"`
}

// glued adds what the neck is glued up of to a section's drawing.
func (d *sectionDrawing) glued(lines *render.CutLines) {
	for _, s := range lines.Strips {
		d.Strips = append(d.Strips, filled{fmt.Sprintf("#%02x%02x%02x", s.Fill.R, s.Fill.G, s.Fill.B), yz(s.Closed)})
	}
	for _, s := range lines.Seams {
		d.Seams = append(d.Seams, yz(s[:]))
	}
	for _, i := range lines.Inlays {
		d.Inlays = append(d.Inlays, named{i.Name, yz(i.Closed)})
	}
}

type labelled struct {
	Key   string `json:"key"`
	Label string `json:"label"`
	Text  string `json:"text"`
	Apart string `json:"apart,omitempty"` // by how much it is more or less than that of another neck
}

// drawSection returns the section at x, held to the wood, with its handles, its
// numbers in the spec's unit.
func drawSection(n *neck.Neck, x float64) *sectionDrawing {
	return drawSectionWith(n, x, nil)
}

// drawSectionWith is drawSection beside another neck, if it is not nil.
func drawSectionWith(n *neck.Neck, x float64, other *compared) *sectionDrawing {
	u := n.Spec().Units
	d, st := drawCut(n, x)
	d.Handles = sectionHandles(n, d.X)
	var theirs []measured
	if other != nil {
		d.With, theirs = other.beside(n, d.X)
	}
	for _, m := range measures(n, &st, len(d.Board) > 0, u) {
		text, apart := m.text(n, u), ""
		if other != nil {
			apart = m.apart(n, u, theirs)
		}
		switch m.key {
		case "width":
			d.Short.Width = text
		case "total":
			d.Short.Total = text
		case "wood":
			d.Short.Wood = text
		case "cover":
			d.Short.Cover = text
		}
		if !m.quiet {
			d.Numbers = append(d.Numbers, labelled{m.key, m.label, text, apart})
		}
	}
	return d
}

// drawCut returns the lines of the section at x, held to the wood, and what is
// measured there.
func drawCut(n *neck.Neck, x float64) (*sectionDrawing, neck.Station) {
	x = math.Max(n.Start(), math.Min(n.End(), x))
	sec, st := n.Section(x), n.Station("", x)
	lines := render.Cut(n, x)
	d := &sectionDrawing{
		X: x, Where: n.Where(x),
		Wood: yz(lines.Wood), Board: yz(lines.Board), Cover: yz(lines.Cover),
		HalfWidth: sec.HalfWidth, Top: sec.Top, Depth: sec.Depth, Apex: st.ApexY,
		Crown: n.Total(x) - n.Depth(x),
		Sides: [2]string{n.SideName(neck.MinusY), n.SideName(neck.PlusY)},
	}
	d.glued(&lines)
	return d, st
}

// squareThickness returns the thickness of an angled headstock square to its
// face. That of a flat one is the wood's in the section's plane.
func squareThickness(n *neck.Neck, x float64) (float64, bool) {
	if h := n.Spec().Headstock; h == nil || h.Angle == 0 {
		return 0, false
	}
	t := n.HeadThickness(x)
	return t, !math.IsNaN(t)
}

// exactly prints a length with its zeros, so that numbers which are compared
// stand one under the other.
func exactly(u spec.Unit, mm float64) string {
	return decimal(u.Of(mm), lengthPlaces(u)) + " " + u.String()
}

// offCentre says where the deepest line lies.
func offCentre(n *neck.Neck, u spec.Unit, y float64) string {
	switch text := exactly(u, math.Abs(y)); {
	case math.Abs(y) < 0.005:
		return "centred"
	case y < 0:
		return text + " to " + n.SideName(neck.MinusY)
	default:
		return text + " to " + n.SideName(neck.PlusY)
	}
}

func decimal(v float64, places int) string { return strconv.FormatFloat(v, 'f', places, 64) }

func yz(points []neck.YZ) []point {
	out := make([]point, len(points))
	for i, p := range points {
		out[i] = point{fine(p.Y), fine(p.Z)}
	}
	return out
}

// fine rounds a coordinate for a drawing.
func fine(v float64) float64 { return math.Round(v*1e4) / 1e4 }

// elevation is the side view: x along, z up, mm.
type elevation struct {
	Start    float64    `json:"start"`
	End      float64    `json:"end"`
	Board    [2]float64 `json:"board"` // least and greatest x of the board
	Crown    float64    `json:"crown"` // height of the board
	Low      float64    `json:"low"`   // lowest z of the wood
	Back     []point    `json:"back"`
	Top      []point    `json:"top"`
	Channels [][]point  `json:"channels"`
	Frets    []fret     `json:"frets"`
	Marks    [][]point3 `json:"marks"` // other lines over the board, and the end of a leaning shelf
	Targets  []target   `json:"targets"`
	Widest   float64    `json:"widest"`  // of the wood along the board
	Deepest  float64    `json:"deepest"` // wood between nut and heel
}

type point3 [3]float64

// fret is a fret's place and the line of its crown over the board.
type fret struct {
	N    int      `json:"n"`
	X    float64  `json:"x"`
	Line []point3 `json:"line"`
}

// target is a depth target.
type target struct {
	Path  string  `json:"path"`
	X     float64 `json:"x"`
	Depth float64 `json:"depth"`
	Text  string  `json:"text"`
}

// drawElevation returns the side view.
//
// Long, since all that is drawn shares one scale.
func drawElevation(n *neck.Neck) *elevation {
	const steps = 260
	s := n.Spec()
	e := &elevation{
		Start: n.Start(), End: n.End(), Crown: s.Board.Thickness,
		Frets: []fret{}, Targets: []target{}, Channels: [][]point{},
	}
	xs := []float64{0, n.BoardEnd()}
	for i := range steps + 1 {
		xs = append(xs, n.Start()+(n.End()-n.Start())*float64(i)/steps)
	}
	if s.Headstock != nil {
		// Either side of the break of the face.
		for _, p := range n.ShelfLine() {
			xs = append(xs, p.X, p.X-1e-4)
		}
	}
	for _, c := range n.Channels() {
		var line []point
		for _, q := range n.ChannelSide(c, 0.02) {
			line = append(line, point{fine(q.X), fine(q.Y)})
		}
		e.Channels = append(e.Channels, line)
	}
	played := n.BoardEnd()
	if s.Heel != nil {
		played = math.Min(played, s.X(s.Heel.Start))
	}
	sort.Float64s(xs)
	for _, x := range xs {
		if x >= n.Start() && x <= n.End() {
			z := fine(-n.Depth(x))
			e.Low = math.Min(e.Low, z)
			e.Back = append(e.Back, point{fine(x), z})
			e.Top = append(e.Top, point{fine(x), fine(n.SideTop(x))})
			if x >= 0 {
				e.Widest = math.Max(e.Widest, n.Width(x))
			}
			if x >= 0 && x <= played {
				e.Deepest = math.Max(e.Deepest, n.Depth(x))
			}
		}
	}
	if n.ShapedEnd() {
		face := n.FaceX(n.HeelDepth())
		e.Back = slices.DeleteFunc(e.Back, func(p point) bool { return p[0] >= face })
		for _, p := range n.EndSide() {
			e.Back = append(e.Back, point{fine(p.X), fine(p.Y)})
		}
	}
	e.Widest = math.Max(e.Widest, 2*n.BoardHalfWidth(n.BoardEnd()))
	board := fretboard.New(n)
	e.markBoard(board)
	for i := range s.LastNamed() + 1 {
		x := s.FretX(float64(i))
		f := fret{N: i, X: fine(x), Line: []point3{}}
		const across = 8
		line := board.Line(float64(i))
		for k := range across + 1 {
			if i > s.Scale.Frets {
				break // only named, where it would be
			}
			y := numeric.Lerp(line.EdgeBass, line.EdgeTreble, float64(k)/across)
			f.Line = append(f.Line, point3{fine(line.At(y)), fine(n.Y(y)), fine(n.BoardTop(line.At(y), y))})
		}
		e.Frets = append(e.Frets, f)
	}
	for i, d := range s.Depth {
		x := s.X(d.At)
		e.Targets = append(e.Targets, target{
			Path: entry("depth", i), X: x, Depth: n.Depth(x),
			Text: s.Label(d.At) + ", total " + s.Units.Rounded(n.Total(x)),
		})
	}
	return e
}

// stationTable is the table of stations, as text.
type stationTable struct {
	Columns []string   `json:"columns"`
	Unit    string     `json:"unit"`
	X       []float64  `json:"x"` // of the rows, mm
	Rows    [][]string `json:"rows"`
	Apart   [][]string `json:"apart,omitempty"` // of each cell from another neck's at its own fret, "" for none
}

// drawStations returns the table of the frets that lie over wood, beside another
// neck's, if it is not nil.
func drawStations(n, other *neck.Neck) *stationTable {
	s := n.Spec()
	t := &stationTable{
		Columns: []string{"station", "x", "width", "total", "wood", "cover", "girth", "apex"},
		Unit:    s.Units.String(),
	}
	places := lengthPlaces(s.Units)
	for _, p := range bench.FretsOnTheWood(n) {
		row, apart := []string{s.Label(p)}, []string{""}
		theirs := stationNumbers(other, p)
		for i, mm := range stationNumbers(n, p) {
			if math.IsNaN(mm) {
				row, apart = append(row, ""), append(apart, "")
				continue
			}
			row = append(row, decimal(s.Units.Of(mm), places))
			if theirs == nil || math.IsNaN(theirs[i]) {
				apart = append(apart, export.NoneThere)
			} else {
				apart = append(apart, signed(s.Units.Of(mm-theirs[i]), places))
			}
		}
		t.X, t.Rows = append(t.X, s.X(p)), append(t.Rows, row)
		if other != nil {
			t.Apart = append(t.Apart, apart)
		}
	}
	return t
}

// stationNumbers are what the table tells of a neck at a place, in mm: NaN for what
// is not there, nil where there is no neck or no wood.
func stationNumbers(n *neck.Neck, p spec.Place) []float64 {
	if n == nil {
		return nil
	}
	x := n.Spec().X(p)
	if x < n.Start() || x > n.End() {
		return nil
	}
	st := n.Station("", x)
	if x > n.BoardEnd() {
		st.Total = math.NaN() // no board
	}
	return []float64{st.X, st.Width, st.Total, st.Wood, st.Cover, st.Girth, st.ApexY}
}
