package export

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// GaugeSet says which gauges to make.
type GaugeSet struct {
	Places     []spec.Place
	Halves     []gauge.Half  // which of them at each station; none means whole ones
	Allowances []float64     // stages, in mm; none means the finished neck
	Options    gauge.Options // Half, Allowance and the label's room are set for each
	Letters    float64       // height of the letters cut through, in mm
}

// DefaultGaugeSet returns whole gauges for the finished neck at frets 1, 3, 5,
// 7, 9 and 12, those of them that there is wood for.
func DefaultGaugeSet(n *neck.Neck) GaugeSet {
	set := GaugeSet{Options: gauge.DefaultOptions(), Letters: LettersFor(n.Spec())}
	for _, f := range []float64{1, 3, 5, 7, 9, 12} {
		if p := spec.AtFret(f); n.Spec().X(p) <= n.End() && f <= float64(n.Spec().LastNamed()) {
			set.Places = append(set.Places, p)
		}
	}
	return set
}

// maxGauges bounds the number of gauges of a set.
const maxGauges = 500

// Gauges returns the gauges of a set with their labels cut, stage by stage and
// along the neck. The gauges as computed come with them, for what else they tell.
func Gauges(n *neck.Neck, set GaugeSet) ([]Piece, []*gauge.Gauge, error) {
	const tallest = 30
	if !(set.Letters >= MinStencilHeight && set.Letters <= tallest) {
		u := n.Spec().PrintUnit()
		return nil, nil, fmt.Errorf("letters %s high; allowed: %s to %s, so that strokes are 0.8 mm wide or wider",
			u.Format(set.Letters), u.Format(MinStencilHeight), u.Format(tallest))
	}
	halves, stages := set.Halves, set.Allowances
	if len(halves) == 0 {
		halves = []gauge.Half{gauge.WholeGauge}
	}
	if len(stages) == 0 {
		stages = []float64{set.Options.Allowance}
	}
	switch count := len(set.Places) * len(halves) * len(stages); {
	case count == 0:
		return nil, nil, errors.New("no station is named for a gauge")
	case count > maxGauges:
		return nil, nil, fmt.Errorf("%d gauges are too many; allowed: %d", count, maxGauges)
	}
	var pieces []Piece
	var gauges []*gauge.Gauge
	for _, stage := range stages {
		for _, place := range set.Places {
			for _, half := range halves {
				o := set.Options
				o.Allowance, o.Half = stage, half
				g, p, err := labelled(n, place, o, set.Letters)
				if err != nil {
					return nil, nil, err
				}
				pieces, gauges = append(pieces, p), append(gauges, g)
			}
		}
	}
	return pieces, gauges, nil
}

// labelled returns a gauge that is large enough for its label, with the label
// cut through it.
func labelled(n *neck.Neck, at spec.Place, o gauge.Options, letters float64) (*gauge.Gauge, Piece, error) {
	o.LabelWidth, o.LabelDepth = 0, 0
	bare, err := gauge.New(n, at, o)
	if err != nil {
		return nil, Piece{}, err
	}
	l := layLabel(n.Spec(), at, o, letters, bare.Room[1].X-bare.Room[0].X)
	o.LabelWidth, o.LabelDepth = l.width, l.depth()
	g, err := gauge.New(n, at, o)
	if err != nil {
		return nil, Piece{}, err
	}
	p := Piece{Name: gaugeName(n.Spec(), g), Region: g.Region, Marks: g.Marks, Thick: o.Thickness, Hold: g.Hold, Target: readingOf(n, g), square: n.Spec().Multiscale() && g.Slope == 0, unit: n.Spec().PrintUnit()}
	p.Region.Holes = append(p.Region.Holes, l.cut(g)...)
	return g, p, nil
}

// gaugeName describes a gauge in words.
func gaugeName(s *spec.Spec, g *gauge.Gauge) string {
	name := g.Label
	if g.Options.Half != gauge.WholeGauge {
		name += ", " + g.Options.Half.String() + " half"
	}
	if g.Options.Allowance > 0 {
		name += ", " + s.PrintUnit().Format(g.Options.Allowance) + " allowance"
	}
	if g.Options.OverBoard {
		name += ", over the board"
	}
	if w := slantWord(s, g.Slope); w != "" {
		name += ", " + w
	}
	return name
}

// slantWord says of a gauge for a neck with leaning frets how it stands: along the
// fret, or square to the centreline. It is empty where no fret leans.
func slantWord(s *spec.Spec, slope float64) string {
	switch {
	case math.Abs(slope) > 1e-9:
		return "slant"
	case s.Multiscale():
		return "square"
	}
	return ""
}

// label is what is cut through a gauge: the sides' letters and the station in
// the row away from the opening, and the rest, if any, in one below it.
type label struct {
	left    string // the letters of the sides, "" where a half gauge ends
	right   string
	letters float64
	station string
	rest    string
	width   float64 // that it needs
}

// sideLetters returns the letters of the sides of a gauge, "" where a half one
// ends. As a gauge stands on the neck, its back up, seen from the body, treble is
// on the left, and bass on a left-handed neck.
func sideLetters(h spec.Hand, half gauge.Half) (left, right string) {
	if half != gauge.BassHalfGauge {
		left = "T"
	}
	if half != gauge.TrebleHalfGauge {
		right = "B"
	}
	if h == spec.LeftHand {
		left, right = right, left
	}
	return left, right
}

// layLabel chooses the words for a plate with the given room: it takes short
// ones, or leaves the neck's name off, where long ones do not fit. What a gauge
// must not be without asks for more room instead.
func layLabel(s *spec.Spec, at spec.Place, o gauge.Options, letters, room float64) label {
	l := label{letters: letters}
	l.left, l.right = sideLetters(s.Hand, o.Half)
	length := func(text string) float64 { return StencilLength(text, letters) }
	sides := 0.0
	for _, letter := range []string{l.left, l.right} {
		if letter != "" {
			sides += length(letter) + l.gap()
		}
	}
	for _, l.station = range stationWords(s, at) {
		if sides+length(l.station) <= room {
			break
		}
	}
	l.width = sides + length(l.station)

	var must []string
	if o.Allowance > 0 {
		must = append(must, "+"+stencilLength(s, o.Allowance))
	}
	if o.OverBoard {
		must = append(must, "BOARD")
	}
	lean := 0.0
	if o.Slant {
		lean = s.FretSlope(s.FretAt(s.X(at)))
	}
	if slant := slantWord(s, lean); slant != "" {
		must = append(must, strings.ToUpper(slant))
	}
	l.rest = strings.Join(must, " ")
	l.width = max(l.width, length(l.rest))
	room = max(room, l.width)
	for words := strings.Fields(string(stencilText(s.Name))); len(words) > 0; words = words[:len(words)-1] {
		if rest := strings.TrimSpace(l.rest + " " + strings.Join(words, " ")); length(rest) <= room {
			l.rest = rest
			break
		}
	}
	return l
}

// stationWords returns the names of a station, long ones first.
func stationWords(s *spec.Spec, at spec.Place) []string {
	switch {
	case at.ByFret && at.Fret == 0:
		return []string{"NUT"}
	case at.ByFret:
		n := strconv.FormatFloat(math.Round(at.Fret*1e2)/1e2, 'f', -1, 64)
		return []string{"FRET " + n, "F" + n}
	}
	return []string{"X=" + stencilLength(s, at.X)}
}

// stencilLength returns a length in the spec's unit: plain millimetres, or
// inches with their mark.
func stencilLength(s *spec.Spec, mm float64) string {
	if s.PrintUnit() == spec.Inch {
		return strconv.FormatFloat(math.Round(s.PrintUnit().Of(mm)*1e3)/1e3, 'f', -1, 64) + `"`
	}
	return strconv.FormatFloat(math.Round(mm*1e2)/1e2, 'f', -1, 64)
}

// gap is the least distance between two groups of letters.
func (l label) gap() float64 { return 0.6 * l.letters }

// depth returns the height of the rows.
func (l label) depth() float64 {
	if l.rest == "" {
		return l.letters
	}
	return 2*l.letters + l.gap()
}

// cut returns the openings in a gauge's room.
func (l label) cut(g *gauge.Gauge) [][]mesh.Vec2 {
	lo, hi := g.Room[0], g.Room[1]
	var out [][]mesh.Vec2
	put := func(text string, x, y float64) {
		openings, _ := Stencil(text, l.letters)
		for _, o := range openings {
			for i := range o {
				o[i] = o[i].Add(mesh.Vec2{X: x, Y: y})
			}
			out = append(out, o)
		}
	}
	length := func(text string) float64 { return StencilLength(text, l.letters) }
	centred := func(text string, left, right, y float64) { put(text, (left+right-length(text))/2, y) }
	left, right, y := lo.X, hi.X, hi.Y-l.letters
	if l.left != "" {
		put(l.left, left, y)
		left += length(l.left) + l.gap()
	}
	if l.right != "" {
		right -= length(l.right)
		put(l.right, right, y)
		right -= l.gap()
	}
	centred(l.station, left, right, y)
	centred(l.rest, lo.X, hi.X, lo.Y)
	return out
}
