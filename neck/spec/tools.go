package spec

// Tools are the machines of a shop and how its sheets are printed. They change
// nothing of the neck and are no part of its hash: every verb takes from them
// what no flag says. What is not said is 0 or "".
type Tools struct {
	Router     string  // RouterHand or RouterTable
	RouterMass float64 // kg
	BaseWidth  float64 // of a hand router's base plate, all of it
	Table      RouterTableSize
	Guide      string  // GuideSide or GuideTemplate: what the bearing runs on
	Template   float64 // thickness of the template
	Feed       float64 // of the router, mm a minute
	HandRate   float64 // wood taken off by hand, cm³ a minute
	Kerf       float64 // that a saw cut takes; see Saw
	Planing    float64 // that planing takes off each sawn face
	Trim       float64 // that is cut off each end of a stick
	Paper      string  // "A4" or "Letter"
	Print      string  // the unit to print in, "mm" or "in"

	Bits    []ToolBit // the round-over bits that there are
	Sled    *ToolSled
	Printer *ToolPrinter
}

// The words of Tools.
const (
	RouterHand    = "hand"
	RouterTable   = "table"
	GuideSide     = "side"
	GuideTemplate = "template"
	CarriesWork   = "work"
	CarriesRouter = "router"
	PaperA4       = "A4"
	PaperLetter   = "Letter"
)

// RouterTableSize is the surface of a router table: Length along the fence,
// with the bit in the middle, and Width across.
type RouterTableSize struct{ Length, Width float64 }

// ToolBit is a round-over bit. Of its bearing the diameter is given or how far
// it holds the arc's end off the guide; see Hold and Widest.
type ToolBit struct {
	Name          string
	Radius        float64 // of the arc
	Offset        float64 // of the arc's end from the guide, outward
	Bearing       float64 // diameter of the bearing
	BearingHeight float64 // from the arc's end to the foot of the bearing: what lies below the arc
	Straight      float64 // straight cutting edge above the arc
	Diameter      float64 // largest diameter
}

// Hold returns how far the bearing holds the arc's end off the guide: half of
// the bearing less the smallest cutting radius, which is half of the largest
// diameter less the arc. Without both diameters it is what was given.
func (b ToolBit) Hold() float64 {
	if b.Bearing != 0 && b.Diameter != 0 {
		return b.Bearing/2 - (b.Diameter/2 - b.Radius)
	}
	return b.Offset
}

// Widest returns the largest diameter, worked out from the bearing's where that
// alone is known, or 0 where neither is.
func (b ToolBit) Widest() float64 {
	if b.Diameter == 0 && b.Bearing != 0 {
		return 2*(b.Radius-b.Offset) + b.Bearing
	}
	return b.Diameter
}

// ToolSled is a sled for planing the back to its taper.
type ToolSled struct {
	Span        float64 // from the hinge to the shim
	Offset      float64 // from the hinge to the near end of the run
	Thickness   float64 // of the plate
	Width       float64
	Modulus     float64 // of elasticity, MPa
	Unsupported float64 // length of the plate without support
	Carries     string  // CarriesWork or CarriesRouter
}

// ToolPrinter is a printer of solids.
type ToolPrinter struct{ BedWidth, BedDepth, Nozzle float64 }

// PrintUnit returns the unit that a spec's tables and pages are printed in: that
// of its tools, or its own.
func (s *Spec) PrintUnit() Unit {
	if s.Tools != nil {
		switch s.Tools.Print {
		case Millimetre.String():
			return Millimetre
		case Inch.String():
			return Inch
		}
	}
	return s.Units
}

// PaperName returns the paper that a spec's pages are printed on: that of its
// tools, or Letter where inches are printed and A4 elsewhere.
func (s *Spec) PaperName() string {
	switch {
	case s.Tools != nil && s.Tools.Paper != "":
		return s.Tools.Paper
	case s.PrintUnit() == Inch:
		return PaperLetter
	}
	return PaperA4
}

// Shop returns the tools of a spec, none said where it has none.
func (s *Spec) Shop() Tools {
	if s.Tools == nil {
		return Tools{}
	}
	return *s.Tools
}
