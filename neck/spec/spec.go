package spec

// Spec is a neck as its builder describes it. Every length is in millimetres
// and every angle in radians, whatever unit the file was written in; pointers
// are nil where the file leaves a feature out.
//
// A Spec says what was asked for. New turns it into a Neck that can be
// measured, and refuses one that cannot be built.
type Spec struct {
	Name        string
	Units       Unit // unit of the file, for printing the spec back
	Hand        Hand
	Scale       Scale
	Width       Width
	Board       Board
	Depth       []DepthTarget    // at least one, in order along the neck
	Profile     []ProfileStation // at least one, in order along the neck
	Wall        float64          // height of the straight side below the glue plane
	Rod         *Rod
	Channels    []Channel // besides Rod
	Volute      *Volute
	Headstock   *Headstock
	Tuners      []Tuner
	Heel        *Heel
	Joint       *Joint
	Bridge      *Bridge
	Blank       *Blank
	Scarf       *Scarf
	Stack       *Stack
	Laminations []Lamination // from bass to treble; none for a neck of one piece across
	Limits      Limits
	Wood        Wood
	Strings     *Strings

	Temperament *Temperament
	Spacing     *Spacing
	Nut         *Nut
	Slots       *Slots
	Partial     []PartialFret
	Binding     *Binding
	FallAway    *FallAway
	Scallop     *Scallop
	Markers     []Marker
	SideDots    *SideDots
	Pins        *Pins
	Moisture    *Moisture

	Tools *Tools // of the shop, no part of the neck

	// Source tells where each key stood in the file, for error messages. It
	// is nil for a Spec that was made in code.
	Source *Source
}

// Scale is the string length and the number of frets, 0 for a neck without.
// Treble is the length of the treble outer string where it differs, Length then
// that of the bass one, and SquareFret the fret that stands square to the
// centreline.
type Scale struct {
	Length     float64
	Frets      int
	Treble     float64
	SquareFret float64
}

// Width is the neck's width at the board's edges: straight from Nut, at x = 0,
// to End, at the board's end, which lies PastLastFret beyond the last fret unless
// the Board has a length.
type Width struct {
	Nut, End     float64
	PastLastFret float64
}

// Board is the fretboard: its finished thickness on the centreline and the
// radius of its playing surface at the nut and at its end. The two radii are
// both 0 for a flat board. Wood is the zero Wood where the board is of the
// neck's. Length is 0 where the last fret says where the board ends.
type Board struct {
	Thickness            float64
	Length               float64
	RadiusNut, RadiusEnd float64
	Wood                 Wood

	Surface                   string  // SurfaceCompound and so on, or ""
	End                       string  // EndSquare, EndFret or ""
	EndCurve                  float64 // how far the end's middle stands out from its corners
	Extension, ExtensionWidth float64 // under the high strings
}

// Place is a station as the file gives it: a fret number, which may be
// fractional, or a distance from the nut.
type Place struct {
	Fret   float64
	X      float64
	ByFret bool
}

// DepthTarget is the total thickness at a station, board included: what wide
// caliper jaws read at the deepest point of the section.
type DepthTarget struct {
	At    Place
	Total float64
}

// ProfileStation is the section shape at a station: the fullness (superellipse
// exponent, greater than 1) of each side and the offset of the deepest line,
// negative towards the bass side. Shape keeps the letter the file used, or "".
type ProfileStation struct {
	At           Place
	Shape        string
	Bass, Treble float64
	Apex         float64
}

// Floor is the shape of the rod channel's bottom.
type Floor int

const (
	FloorFlat  Floor = iota // square bottom corners
	FloorRound              // ball-nose cutter: bottom corners of radius Width/2
)

// Rod is the truss-rod channel, open at the glue plane.
type Rod struct {
	Width, Depth float64
	From, To     Place
	Floor        Floor
}

// Volute is the swelling on the back before the nut: Rise is the wood it adds
// at its crest, Length its whole extent along the neck, centred on Centre.
type Volute struct {
	Rise   float64
	Centre Place
	Length float64
}

// Heel is the block at the body: the neck leaves its profile at Start and is
// the full block, Total thick with its board and Width wide, from Full to End.
type Heel struct {
	Start, Full Place
	Total       float64
	Width       float64
	End         Place
	Corner      float64

	Kind      string  // "" for HeelBlock
	CapWidth  float64 // of a heel with a cap
	Sweep     float64 // of its heel line; 0 for the usual: SweepPower
	Cheeks    float64 // of its cheeks; 0 for the usual: CheekPower
	Rake      float64 // of the face against the body: above 0 the cap lies nearer to the nut
	EndCorner float64 // radius of the end's corners in the top view
	Bolts     []Bolt
}

// Blank is the piece of wood that the neck is cut from, and what it is like now.
// A word that is not said is "": squared, in one piece.
type Blank struct {
	Thickness, Width, Length float64

	State string // BlankSquared or BlankProfile
	Build string // BlankOnePiece, BlankScarfed, BlankStacked or BlankBoth

	// Allowance is what a side profile that is cut leaves over the finished back.
	Allowance float64

	Template float64 // thickness of the template that is on the glue face; 0 = none
	Grain    string  // GrainQuarter, GrainFlat or "" for not said
}

// The words of a Blank.
const (
	BlankSquared  = "squared"
	BlankProfile  = "side profile"
	BlankOnePiece = "one piece"
	BlankScarfed  = "scarfed"
	BlankStacked  = "stacked heel"
	BlankBoth     = "both" // scarfed, with a stacked heel
)

// Profiled reports whether the side profile is cut, and Scarfed and Stacked
// whether the headstock is scarfed and the heel stacked on.
func (b *Blank) Profiled() bool { return b.State == BlankProfile }
func (b *Blank) Scarfed() bool  { return b.Build == BlankScarfed || b.Build == BlankBoth }
func (b *Blank) Stacked() bool  { return b.Build == BlankStacked || b.Build == BlankBoth }

// Stated reports whether anything is said of what the blank is like now.
func (b *Blank) Stated() bool {
	return b.State != "" || b.Build != "" || b.Allowance != 0 || b.Template != 0
}

// Limits are what the builder will not go below.
type Limits struct {
	Cover float64 // least wood between the rod channel and the back
}

// Wood is the neck wood: a species from the table, or a density in kg/m³ and a
// modulus of elasticity in MPa given outright (0 where not given).
type Wood struct {
	Species string
	Density float64
	Modulus float64
}
