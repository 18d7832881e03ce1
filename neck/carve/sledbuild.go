package carve

import (
	"fmt"
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// SledTilt is the plate of a sled that stands on hinge and shim.
type SledTilt int

const (
	// TiltBed is the plate under the neck, which lies on it glue face down. The
	// router runs parallel to the bench. The hinge is at the end where the wood
	// stays deepest.
	TiltBed SledTilt = iota

	// TiltCarriage is the plate over the neck that carries the router. The neck
	// lies level. The hinge is at the end where the wood becomes thinnest.
	TiltCarriage
)

// String returns the name of the plate.
func (t SledTilt) String() string { return [...]string{"bed", "carriage"}[t] }

// SledBuild is a sled as it stands in the shop. Lengths along it count from
// the hinge, in mm.
type SledBuild struct {
	Tilts SledTilt

	Offset float64 // from the hinge to the near end of the run
	Span   float64 // from the hinge to where the shim stands; 0 = offset and run
	Length float64 // of the plate that tilts, from the hinge: the shim stands no farther; 0 = not said
	Fixed  bool    // the shim can stand at Span and nowhere else

	Bed      float64 // thickness of what the neck lies on
	Template float64 // thickness of what is still on the glue face; 0 = nothing
	Board    bool    // that is the fretboard, and what it lies on, and no template

	// The plate that sags, what it carries, the mass of the router on it in kg,
	// and the height of its underside over the bench: at the hinge of the plate
	// that tilts, anywhere of one that lies level. A plate with a thickness of 0
	// is not asked for. From and To both 0 are hinge and shim. A height of 0 is
	// a bed that lies on the bench, or a carriage whose height is not said.
	Plate      Plate
	Carries    SledLoad
	RouterMass float64
	Under      float64

	Stock   []Sheet // what shims are stacked of; nil = not stated: stacks to the nearest StackStep
	Allowed float64 // sag that may stay; more asks for packing. 0 = DefaultSagAllowed
}

// DefaultSagAllowed is the sag in mm that no packing is asked for: common
// practice, no published source.
const DefaultSagAllowed = 0.05

// BuildOf returns the sled that a Sled describes, whose plate is not supported
// over a length about the middle of the run.
func BuildOf(s Sled, t Taper) SledBuild {
	b := SledBuild{Offset: s.Offset, Span: s.Span, Bed: s.Thickness, Carries: s.Carries, RouterMass: s.RouterMass}
	if s.Unsupported > 0 {
		mid := s.Offset + t.Length()/2
		b.Plate = Plate{Thickness: s.Thickness, Width: s.Width, Modulus: s.Modulus,
			From: mid - s.Unsupported/2, To: mid + s.Unsupported/2}
	}
	return b
}

// sags reports whether the plate that sags is the one that stands on hinge and
// shim.
func (b SledBuild) sags() bool {
	return (b.Tilts == TiltBed) == (b.Carries == CarriesWork)
}

// SledEnd is what to measure at one end of the run.
type SledEnd struct {
	X         float64 // along the neck
	FromHinge float64 // along the plate that tilts
	Depth     float64 // of the flat back below the glue plane
	OverBed   float64 // height of the cutter over what the neck lies on, template included
	OverBench float64 // height of the cutter over the bench
	BedHigh   float64 // height of the bed's upper face over the bench
}

// ShimSetting is the shim in what can be found.
type ShimSetting struct {
	Wanted   float64 // height of the shim at Span
	Span     float64 // where it is wanted, from the hinge along the bench
	Height   float64 // of the stack
	At       float64 // where that stands, from the hinge along the bench: the slope is exact
	Stack    Stack   // empty without a stock
	Possible bool
	Why      string // why it is not

	// FarError is the error at the far end of the run of a stack that can stand
	// only at Span, with the cutter zeroed at the near end: positive where wood
	// stays, negative where the cutter goes below the flat.
	FarError float64
}

// ZeroFar reports whether the cutter has to be zeroed at the far end of the
// run, so that it goes below the flat nowhere.
func (s ShimSetting) ZeroFar() bool { return s.FarError < 0 }

// SagSetting is what the sag of a plate does to the cut.
type SagSetting struct {
	SagRange
	MostX     float64 // where it sags most, along the neck
	Near, Far float64 // at the ends of the run
	Deeper    bool    // the cut is deeper by the sag; otherwise that much wood stays
	Higher    float64 // by how much to set the cutter higher, so that it goes below the flat nowhere
	Stays     float64 // the most wood that stays then
	Touches   bool    // the plate comes down on the bench before it has sagged so far
}

// SagPacking is a piece under a plate that takes its sag out.
type SagPacking struct {
	At     float64 // its place from the hinge, along the bench
	X      float64 // the same along the neck
	Height float64 // of the gap that it fills there, with the plate straight
	Stack  Stack   // of the stock; empty where that has none: a piece is made to the height
	Error  float64 // height of the stack less that of the gap, where nothing fits better
}

// SledDials is all that is set and measured on a sled as it is built.
type SledDials struct {
	Build           SledBuild // with Span and supports as used
	HingeAt, ShimAt string    // "body end" or "nut end"
	Near, Far       SledEnd   // of the run, as seen from the hinge
	Shim            ShimSetting

	HasSag    bool
	Sag       SagSetting
	Packings  []SagPacking // none where the sag is within what is allowed
	PackedSag SagRange     // the sag with them in place
	PackWhy   string       // why no packing is given although the sag is more than allowed
}

// Dial returns what to set on a sled for a taper. An error says which of its
// measures no sled has, lengths in unit u.
func (b SledBuild) Dial(t Taper, u spec.Unit) (SledDials, error) {
	if err := b.check(u); err != nil {
		return SledDials{}, err
	}
	if b.Span == 0 {
		b.Span = b.Offset + t.Length()
	}
	if b.Span <= 0 {
		return SledDials{}, fmt.Errorf("with an offset of %s the run of %s ends before the hinge; allowed: an offset of more than %s",
			u.Format(b.Offset), u.Rounded(t.Length()), u.Limit(-t.Length(), math.Ceil))
	}
	d := SledDials{HingeAt: "body end", ShimAt: "nut end"}
	// The bed lifts the wood at the shim, so that it becomes thinnest there; a
	// carriage lifts the cutter.
	if (t.Slope < 0) != (b.Tilts == TiltCarriage) {
		d.HingeAt, d.ShimAt = d.ShimAt, d.HingeAt
	}
	d.Shim = b.shim(t, u)
	if d.Shim.Possible && d.Shim.Height > 0 && !b.Fixed {
		b.Span = d.Shim.At
	}
	if b.Plate.From == 0 && b.Plate.To == 0 {
		b.Plate.To = b.Span
	}
	d.Build = b
	d.Near, d.Far = d.end(t, 0), d.end(t, t.Length())
	if b.Plate.Thickness > 0 {
		d.setSag(t)
		d.setPackings(t)
	}
	return d, nil
}

// x returns the place along the neck of a distance from the hinge.
func (d *SledDials) x(t Taper, fromHinge float64) float64 {
	if d.HingeAt == "nut end" {
		return t.From + fromHinge - d.Build.Offset
	}
	return t.To - fromHinge + d.Build.Offset
}

// end returns what to measure so far along the run from its near end.
//
// The bed's underside runs from the hinge at the angle of the flat. So the flat
// is parallel to the bench, at a height of (bed + template + depth of the flat
// continued to the hinge) times the cosine of that angle over the hinge.
func (d *SledDials) end(t Taper, along float64) SledEnd {
	b := d.Build
	e := SledEnd{FromHinge: b.Offset + along}
	e.X = d.x(t, e.FromHinge)
	e.Depth = t.Depth(e.X)
	e.OverBed = e.Depth + b.Template
	if b.Tilts == TiltCarriage {
		e.BedHigh = b.Bed
		if !b.sags() {
			e.BedHigh += b.Under
		}
		e.OverBench = e.BedHigh + e.OverBed
		return e
	}
	under := 0.0
	if b.sags() {
		under = b.Under
	}
	sin, cos := math.Sincos(math.Abs(math.Atan(t.Slope)))
	e.BedHigh = under + e.FromHinge*sin + b.Bed*cos
	e.OverBench = under + (b.Bed+b.Template+t.Depth(d.x(t, 0)))*cos
	return e
}

// Bounds of where a shim may stand.
const (
	leastReach = 0.8   // share of the run, with the offset, that it must be under
	noShim     = 0.005 // less than this is no shim
)

// shim returns the stack for a taper: where the shim can be moved, the slope is
// exact for what the stack measures, by similar triangles.
func (b SledBuild) shim(t Taper, u spec.Unit) ShimSetting {
	k := math.Abs(t.Slope)
	s := ShimSetting{Wanted: k * b.Span, Span: b.Span, At: b.Span, Possible: true}
	if s.Wanted < noShim {
		return s
	}
	low, top := k*leastReach*(b.Offset+t.Length()), MaxStack
	if b.Length > 0 {
		top = math.Min(top, k*b.Length)
	}
	if s.Wanted > MaxStack {
		// A block is cut to measure and stands where it is wanted.
		s.Height = s.Wanted
		return s
	}
	switch {
	case b.Fixed:
		low, top = 0, MaxStack
	case low > top:
		s.Possible, s.Why = false, fmt.Sprintf("the plate is too short: the run ends %s from the hinge and the shim can stand %s from it at most",
			u.Rounded(b.Offset+t.Length()), u.Rounded(b.Length))
		return s
	}
	ok := false
	if b.Stock != nil {
		s.Stack, ok = FindStack(b.Stock, StackQuery{Target: s.Wanted, Low: low, Top: top, Within: StackStep / 2})
		s.Height = s.Stack.Thickness
	} else {
		s.Height, ok = StepStack(s.Wanted, low, top)
	}
	if !ok {
		s.Possible, s.Why = false, fmt.Sprintf("no stack is between %s and %s thick, which would stand %s to %s from the hinge",
			u.Rounded(low), u.Rounded(top), u.Rounded(low/k), u.Rounded(top/k))
		return s
	}
	if b.Fixed {
		// A bed that is lifted too far is cut too deep at the shim, a carriage
		// not deep enough.
		s.FarError = (k - s.Height/b.Span) * t.Length()
		if b.Tilts == TiltCarriage {
			s.FarError = -s.FarError
		}
		return s
	}
	s.At = s.Height / k
	return s
}

// setSag works out what the sag does along the run.
func (d *SledDials) setSag(t Taper) {
	b := d.Build
	d.HasSag = true
	r := b.Plate.Along(b.RouterMass, d.Near.FromHinge, d.Far.FromHinge)
	d.Sag = SagSetting{SagRange: r, MostX: d.x(t, r.MostAt), Deeper: b.Carries == CarriesRouter,
		Near: b.Plate.Sag(b.RouterMass, d.Near.FromHinge), Far: b.Plate.Sag(b.RouterMass, d.Far.FromHinge)}
	d.Sag.Touches = !d.Sag.Deeper && b.gap(t, r.MostAt) < r.Most
	d.Sag.Stays = r.Most
	if d.Sag.Deeper {
		d.Sag.Higher, d.Sag.Stays = r.Most, r.Most-r.Least
	}
}

// gap returns the height over the bench of the underside of the plate that
// sags, at a distance from the hinge along the bench, with the plate straight.
func (b SledBuild) gap(t Taper, at float64) float64 {
	if !b.sags() {
		return b.Under
	}
	return b.Under + math.Abs(t.Slope)*at
}

// mostPackings is as many as are looked at: more is another sled.
const mostPackings = 4

// setPackings puts as few packings under the plate as bring its sag to what is
// allowed, evenly between its supports. Each carries the plate, so that every
// part sags by itself at most as a plate of its own length; that the parts hold
// one another is left out, to the safe side.
func (d *SledDials) setPackings(t Taper) {
	b := d.Build
	allowed := b.Allowed
	if allowed == 0 {
		allowed = DefaultSagAllowed
	}
	d.Build.Allowed = allowed
	d.PackedSag = d.Sag.SagRange
	if d.Sag.Most <= allowed {
		return
	}
	if b.Carries == CarriesRouter && b.Under == 0 {
		d.PackWhy = "the carriage's height over the bench is not given"
		return
	}
	if d.Shim.Stack.Pieces() > 0 {
		b.Stock = without(b.Stock, d.Shim.Stack)
	}
	for k := 1; k <= mostPackings; k++ {
		packings, ok := d.pack(b, t, k)
		if !ok {
			d.PackWhy = "the plate lies on the bench there"
			return
		}
		supports := []float64{b.Plate.From}
		for _, p := range packings {
			supports = append(supports, p.At)
		}
		supports = append(supports, b.Plate.To)
		if r := packed(b, supports, d.Near.FromHinge, d.Far.FromHinge); r.Most <= allowed || k == mostPackings {
			d.Packings, d.PackedSag = packings, r
			return
		}
	}
}

// packed returns the sag along a run of a plate that is carried at several
// places, in order.
func packed(b SledBuild, supports []float64, from, to float64) SagRange {
	out := SagRange{Most: math.Inf(-1), Least: math.Inf(1)}
	for i := 0; i+1 < len(supports); i++ {
		p := b.Plate
		p.From, p.To = supports[i], supports[i+1]
		lo, hi := math.Max(from, p.From), math.Min(to, p.To)
		if i == 0 {
			lo = from
		}
		if i+2 == len(supports) {
			hi = to
		}
		if !(lo <= hi) || !(p.From < p.To) {
			continue
		}
		r := p.Along(b.RouterMass, lo, hi)
		if r.Most > out.Most {
			out.Most, out.MostAt = r.Most, r.MostAt
		}
		if r.Least < out.Least {
			out.Least, out.LeastAt = r.Least, r.LeastAt
		}
	}
	return out
}

// pack returns k packings evenly between the supports. Under a plate that
// slopes each stands where its stack fits exactly, within a quarter of its part
// of the plate. False says that there is no gap to fill.
func (d *SledDials) pack(b SledBuild, t Taper, k int) ([]SagPacking, bool) {
	var out []SagPacking
	slope := math.Abs(t.Slope)
	part := b.Plate.Length() / float64(k+1)
	for i := range k {
		at := numeric.Lerp(b.Plate.From, b.Plate.To, float64(i+1)/float64(k+1))
		p := SagPacking{At: at, Height: b.gap(t, at)}
		if p.Height < noShim {
			return nil, false
		}
		low, top := b.gap(t, at-part/4), b.gap(t, at+part/4)
		if fits, ok := p.fit(b.Stock, low, top); ok && fits >= noShim && b.sags() && slope > 0 {
			p.At, p.Height, p.Error = (fits-b.Under)/slope, fits, 0
		}
		if b.Stock != nil {
			b.Stock = without(b.Stock, p.Stack)
		}
		p.X = d.x(t, p.At)
		out = append(out, p)
	}
	return out, true
}

// fit finds the stack for a packing and the height that it has within the
// bounds. A stack that misses the gap by no more than a step is taken with its
// error where none keeps the bounds; otherwise there is none.
func (p *SagPacking) fit(stock []Sheet, low, top float64) (height float64, ok bool) {
	if p.Height > MaxStack {
		return p.Height, false // a block, cut to measure
	}
	if stock == nil {
		return StepStack(p.Height, low, top)
	}
	s, ok := FindStack(stock, StackQuery{Target: p.Height, Low: low, Top: top, Within: StackStep / 2})
	if !ok {
		s, _ = FindStack(stock, StackQuery{Target: p.Height})
	}
	if miss := s.Thickness - p.Height; ok || math.Abs(miss) <= StackStep+1e-9 {
		p.Stack, p.Error = s, miss
	}
	return s.Thickness, ok
}

// check refuses measures that no sled has.
func (b SledBuild) check(u spec.Unit) error {
	p := b.Plate
	if err := inRange(u, []ranged{
		{"the sled's span", b.Span, 10, 5000, b.Span == 0},
		{"the sled's offset", b.Offset, -1000, 5000, false},
		{"the length of the sled's plate", b.Length, 10, 5000, b.Length == 0},
		{"the thickness of the sled's bed", b.Bed, 0, 200, false},
		{"the template's thickness", b.Template, 0, 100, false},
		{"the height under the sled's plate", b.Under, 0, 1000, false},
		{"the sag allowed", b.Allowed, 0.001, 5, b.Allowed == 0},
		{"the thickness of the plate", p.Thickness, 1, 200, p.Thickness == 0},
		{"the width of the plate", p.Width, 10, 2000, p.Thickness == 0},
		{"the distance between the places that carry the plate", p.Length(), 10, 5000, p.Thickness == 0 || p.From == 0 && p.To == 0},
	}...); err != nil {
		return err
	}
	switch {
	case b.Fixed && b.Span == 0:
		return fmt.Errorf("the shim's place is fixed but the sled's span is not given; allowed: %s to %s", u.Format(10), u.Format(5000))
	case b.Length > 0 && b.Span > b.Length:
		return fmt.Errorf("the sled's span is %s, beyond its plate of %s; allowed: up to the plate's length", u.Format(b.Span), u.Format(b.Length))
	case p.Thickness > 0 && !(p.Modulus >= 100 && p.Modulus <= 300000):
		return fmt.Errorf("the plate's modulus is %s MPa; allowed: 100 to 300000 MPa", spec.Number(p.Modulus, 0))
	case p.Thickness > 0 && !(p.Density >= 0 && p.Density <= 20000):
		return fmt.Errorf("the plate's density is %s kg/m3; allowed: 0 (left out) to 20000 kg/m3", spec.Number(p.Density, 0))
	case p.Thickness > 0 && !(b.RouterMass >= 0.1 && b.RouterMass <= 50):
		return fmt.Errorf("the router's mass is %s kg; allowed: 0.1 to 50 kg", spec.Number(b.RouterMass, 2))
	}
	return checkSheets(b.Stock, u)
}
