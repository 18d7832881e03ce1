package spec

import (
	"fmt"
	"math"
	"strings"
)

// Moisture is the change of the air that a neck is to bear, and how its woods
// are cut: From and To are relative humidities in percent. The coefficients,
// change of size by moisture content in percent, go before those of the species.
type Moisture struct {
	From, To                          float64
	NeckCut, BoardCut                 string // CutFlat, CutQuarter or ""
	NeckCoefficient, BoardCoefficient float64
}

// Cuts of a board from the log: flat-sawn wood moves across by its tangential
// coefficient and through its thickness by the radial one, quarter-sawn wood the
// other way round.
const (
	CutFlat    = "flat"
	CutQuarter = "quarter"
)

// change holds a species' dimensional change coefficients, radial and
// tangential, per percent of moisture content between 6 and 14.
//
// USDA FPL Wood Handbook, FPL-GTR-190, table 13-5: sugar maple as quoted
// from it, the others from memory.
var change = map[string][2]float64{
	"sugar maple":   {0.00165, 0.00353},
	"black walnut":  {0.00190, 0.00274},
	"black cherry":  {0.00126, 0.00248},
	"true mahogany": {0.00172, 0.00238},
	"Spanish-cedar": {0.00141, 0.00219},
}

// humidities are relative humidities in percent and the moisture content of wood
// that has come to rest in them at about 21 °C: Wood Handbook, ch. 4, rounded.
var humidities = [][2]float64{{30, 6}, {50, 9}, {65, 12}, {80, 16}}

// MoistureContent returns the moisture content, in percent, that wood comes to in
// air of the relative humidity given in percent, at about 21 °C: straight
// between the handbook's figures, and on beyond them.
func MoistureContent(humidity float64) float64 {
	i := 1
	for i < len(humidities)-1 && humidity > humidities[i][0] {
		i++
	}
	a, b := humidities[i-1], humidities[i]
	return a[1] + (b[1]-a[1])*(humidity-a[0])/(b[0]-a[0])
}

// Movement is how sizes of wood change from one humidity to another: as a share
// of the size, across its width and through its thickness.
type Movement struct{ Across, Through float64 }

// movement returns that of a wood, and false where its coefficients are not
// known. A coefficient of the builder's own is that across, and the other then
// is not known.
func (m *Moisture) movement(species, cut string, own float64) (Movement, bool) {
	by := MoistureContent(m.To) - MoistureContent(m.From)
	if own != 0 {
		return Movement{Across: own * by, Through: math.NaN()}, true
	}
	for name, c := range change {
		if !strings.EqualFold(name, species) {
			continue
		}
		if cut == CutQuarter {
			return Movement{Across: c[0] * by, Through: c[1] * by}, true
		}
		return Movement{Across: c[1] * by, Through: c[0] * by}, true
	}
	return Movement{}, false
}

// NeckMovement returns how the neck's wood moves, and BoardMovement how the
// board's does: D C dM for a size D, with the change dM of moisture content. They
// are false where nothing is asked or the wood's coefficients are not known.
func (s *Spec) NeckMovement() (Movement, bool) {
	if s.Moisture == nil {
		return Movement{}, false
	}
	cut := s.Moisture.NeckCut
	if cut == "" && s.Blank != nil && s.Blank.Grain == GrainQuarter {
		cut = CutQuarter // the growth rings stand square to the board
	}
	return s.Moisture.movement(s.Wood.Species, cut, s.Moisture.NeckCoefficient)
}

// BoardMovement is NeckMovement for the board.
func (s *Spec) BoardMovement() (Movement, bool) {
	if s.Moisture == nil {
		return Movement{}, false
	}
	wood := s.Board.Wood
	if wood == (Wood{}) {
		wood = s.Wood
	}
	return s.Moisture.movement(wood.Species, s.Moisture.BoardCut, s.Moisture.BoardCoefficient)
}

var moistureTable = &Table{
	Name: "moisture", Title: "Moisture", Help: "From one humidity of the air to another: what the woods do, told by check.",
	Rows: Maybe(func(s *Spec) **Moisture { return &s.Moisture }),
	Fields: []Field{
		{Key: "from", Kind: KindNumber, Label: "From", Unit: "%", Help: "relative humidity of the shop", What: "the humidity that the neck is made in", Required: true,
			Min: 10, Max: 90, From: 20, To: 80, Step: 1, At: in(func(m *Moisture) *float64 { return &m.From })},
		{Key: "to", Kind: KindNumber, Label: "To", Unit: "%", Help: "where the neck will live", What: "the humidity that the neck will live in", Required: true,
			Min: 10, Max: 90, From: 20, To: 80, Step: 1, At: in(func(m *Moisture) *float64 { return &m.To })},
		said(Field{Key: "neck_cut", Label: "Neck's cut", Help: "from the log", What: "a cut from the log", Absent: `the blank's grain, or "flat"`, Choices: []string{CutFlat, CutQuarter}},
			func(m *Moisture) *string { return &m.NeckCut }),
		said(Field{Key: "board_cut", Label: "Board's cut", Help: "from the log", What: "a cut from the log", Absent: `"flat"`, Choices: []string{CutFlat, CutQuarter}},
			func(m *Moisture) *string { return &m.BoardCut }),
		{Key: "neck_change", Kind: KindNumber, Label: "Neck's change", Help: "across, by percent of moisture", Absent: "the species' own", Blank: true,
			Min: 0.0001, Max: 0.01, From: 0.001, To: 0.005, Step: 0.0001, At: in(func(m *Moisture) *float64 { return &m.NeckCoefficient })},
		{Key: "board_change", Kind: KindNumber, Label: "Board's change", Help: "across, by percent of moisture", Absent: "the species' own", Blank: true,
			Min: 0.0001, Max: 0.01, From: 0.001, To: 0.005, Step: 0.0001, At: in(func(m *Moisture) *float64 { return &m.BoardCoefficient })},
	},
}

// moisture tells what the woods do.
func (c *checker) moisture() {
	s, m := c.s, c.s.Moisture
	if m == nil || !c.ends() || !c.ok("moisture.from", "moisture.to", "board.thickness", "wood.species", "board.species") {
		return
	}
	between := fmt.Sprintf("from %s %% to %s %% humidity (%s to %s %% moisture)", Number(m.From, 1), Number(m.To, 1), Number(MoistureContent(m.From), 1), Number(MoistureContent(m.To), 1))
	board, known := s.BoardMovement()
	if !known {
		c.warnf("moisture.board_change", "how the board's wood moves is not in our table; give board_change, its change across by percent of moisture")
	} else {
		end := s.Width.End * board.Across
		text := fmt.Sprintf("%s the board's width changes by %s at the nut and %s at its end", between, c.signed(s.Width.Nut*board.Across), c.signed(end))
		if !math.IsNaN(board.Through) {
			text += fmt.Sprintf(", its thickness by %s", c.signed(s.Board.Thickness*board.Through))
		}
		if end < 0 {
			text += fmt.Sprintf("; fret ends stand out by up to %s on either side", c.s.Units.Rounded(-end/2))
		}
		c.warnf("moisture.to", "%s", text)
	}
	wood, known := s.NeckMovement()
	if !known {
		c.warnf("moisture.neck_change", "how the neck's wood moves is not in our table; give neck_change, its change across by percent of moisture")
		return
	}
	c.warnf("moisture.from", "%s the neck's width changes by %s at the nut and %s at the board's end", between, c.signed(s.Width.Nut*wood.Across), c.signed(s.Width.End*wood.Across))
}

// signed prints a change of a length with its sign.
func (c *checker) signed(v float64) string {
	text := c.s.Units.Rounded(v)
	if v > 0 {
		text = "+" + text
	}
	return text
}
