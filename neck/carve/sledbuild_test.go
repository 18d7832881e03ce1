package carve

import (
	"math"
	"math/rand/v2"
	"neckloft/mesh/drawn"
	"neckloft/neck/spec"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// straightTaper is a flat from depth a at x = 10 to depth b at x = 410.
func straightTaper(a, b float64) Taper {
	t := Taper{From: 10, To: 410, DepthFrom: a, DepthTo: b, Slope: (b - a) / 400}
	t.Angle = math.Atan(t.Slope)
	return t
}

func dial(t *testing.T, b SledBuild, tp Taper) SledDials {
	t.Helper()
	d, err := b.Dial(tp, spec.Millimetre)
	require.NoError(t, err)
	return d
}

// TestShimByHand works the shim out by similar triangles. The flat drops by 2 mm
// over 400 mm, 1 in 200. Over a span of 500 mm the shim is 2.5 mm; cards of
// 0.76 mm make 2.28 mm, which stand at 456 mm.
func TestShimByHand(t *testing.T) {
	tp := straightTaper(15, 17)
	b := SledBuild{Offset: 50, Span: 500, Bed: 18}
	d := dial(t, b, tp)
	assert.Equal(t, "body end", d.HingeAt)
	assert.Equal(t, "nut end", d.ShimAt)
	assert.True(t, d.Shim.Possible)
	assert.InDelta(t, 2.5, d.Shim.Wanted, 1e-12)
	assert.InDelta(t, 2.5, d.Shim.Height, 1e-12)
	assert.InDelta(t, 500, d.Shim.At, 1e-9)

	b.Stock = []Sheet{{"card", 0.76, 3}}
	d = dial(t, b, tp)
	assert.InDelta(t, 2.28, d.Shim.Height, 1e-12)
	assert.InDelta(t, 456, d.Shim.At, 1e-9)
	assert.Equal(t, 3, d.Shim.Stack.Pieces())
	assert.InDelta(t, 456, d.Build.Span, 1e-9)
	assert.False(t, d.Shim.ZeroFar())

	// Without a span it is offset and run.
	b.Span, b.Stock = 0, nil
	assert.InDelta(t, 2.25, dial(t, b, tp).Shim.Height, 1e-12)
	b.Span = 485 // 2.425 mm: 2.4 or 2.45; 2.4 stands at 480
	d = dial(t, b, tp)
	assert.InDelta(t, d.Shim.Height*200, d.Shim.At, 1e-9)
	assert.LessOrEqual(t, math.Abs(d.Shim.Height-2.425), 0.025+1e-9)
	assert.InDelta(t, math.Round(d.Shim.Height/0.05)*0.05, d.Shim.Height, 1e-9)

	// Deeper at the nut, and with a carriage that tilts, hinge and shim change
	// places.
	assert.Equal(t, "nut end", dial(t, b, straightTaper(17, 15)).HingeAt)
	b.Tilts = TiltCarriage
	assert.Equal(t, "nut end", dial(t, b, tp).HingeAt)
	assert.Equal(t, "body end", dial(t, b, straightTaper(17, 15)).HingeAt)

	// A level flat has no shim.
	d = dial(t, SledBuild{Span: 400, Bed: 18}, straightTaper(16, 16))
	assert.True(t, d.Shim.Possible)
	assert.Zero(t, d.Shim.Height)
	assert.InDelta(t, 34, d.Near.OverBench, 1e-9)
	assert.InDelta(t, 34, d.Far.OverBench, 1e-9)

	// A shim of 30 mm is a block.
	d = dial(t, SledBuild{Span: 1500}, straightTaper(15, 23))
	assert.InDelta(t, 30, d.Shim.Height, 1e-9)
	assert.InDelta(t, 1500, d.Shim.At, 1e-9)
}

// TestShimBounds tries both sides of where a shim may stand. The run ends
// 450 mm from the hinge, so that the shim stands at 360 mm or farther and is
// 1.8 mm or more.
func TestShimBounds(t *testing.T) {
	tp := straightTaper(15, 17)
	stock := func(v float64) SledBuild {
		return SledBuild{Offset: 50, Span: 450, Length: 450, Stock: []Sheet{{"slip", v, 1}}}
	}
	for _, c := range []struct {
		thick float64
		ok    bool
	}{{1.79, false}, {1.8, true}, {2.25, true}, {2.26, false}} {
		d := dial(t, stock(c.thick), tp)
		assert.Equal(t, c.ok, d.Shim.Possible, "%v", c.thick)
		if !c.ok {
			assert.Equal(t, "no stack is between 1.8 mm and 2.25 mm thick, which would stand 360 mm to 450 mm from the hinge", d.Shim.Why)
		}
	}
	b := stock(2)
	b.Span, b.Length = 300, 359
	d := dial(t, b, tp)
	assert.False(t, d.Shim.Possible)
	assert.Equal(t, "the plate is too short: the run ends 450 mm from the hinge and the shim can stand 359 mm from it at most", d.Shim.Why)
	b.Length, b.Stock = 361, nil
	assert.True(t, dial(t, b, tp).Shim.Possible)
}

// TestShimFixed holds the error of a stack that cannot be moved to a cut worked
// out end by end, for both plates.
func TestShimFixed(t *testing.T) {
	tp := straightTaper(15, 17)
	for _, tilt := range []SledTilt{TiltBed, TiltCarriage} {
		for _, thick := range []float64{2.4, 2.6} {
			b := SledBuild{Tilts: tilt, Offset: 50, Span: 500, Fixed: true, Stock: []Sheet{{"slip", thick, 1}}}
			d := dial(t, b, tp)
			assert.InDelta(t, 500, d.Shim.At, 0)
			assert.InDelta(t, thick, d.Shim.Height, 1e-12)
			// At the near end the cut is right. Per mm from there the plate rises
			// by thick/500, and the flat asks for 2/400.
			rise := (thick/500 - 2.0/400) * 400
			stays := -rise // the bed lifts the wood into the cutter
			if tilt == TiltCarriage {
				stays = rise // the carriage lifts the cutter off it
			}
			assert.InDelta(t, stays, d.Shim.FarError, 1e-9)
			assert.Equal(t, stays < 0, d.Shim.ZeroFar())
		}
	}
	d := dial(t, SledBuild{Offset: 50, Span: 500, Fixed: true, Stock: []Sheet{{"slip", 2.5, 1}}}, tp)
	assert.InDelta(t, 0, d.Shim.FarError, 1e-9)
}

// TestSledHeights turns the neck on its bed by the angle that the stack gives,
// point by point, and compares the heights.
func TestSledHeights(t *testing.T) {
	r := rand.New(rand.NewPCG(6, 13))
	for range 100 {
		tp := straightTaper(8+12*r.Float64(), 8+12*r.Float64())
		b := SledBuild{Offset: 100*r.Float64() - 20, Bed: 30 * r.Float64(), Template: 12 * r.Float64()}
		if r.IntN(2) == 0 {
			b.Plate = Plate{Thickness: 18, Width: 150, Modulus: 9000}
			b.RouterMass, b.Under = 3, 40*r.Float64()
		}
		d := dial(t, b, tp)
		if !d.Shim.Possible || d.Shim.Height == 0 {
			continue
		}
		angle := math.Atan(d.Shim.Height / d.Shim.At)
		sin, cos := math.Sincos(angle)
		height := func(along, up float64) float64 { return b.Under + along*sin + up*cos }
		require.InDelta(t, math.Abs(tp.Slope), math.Tan(angle), 1e-12)
		deep, thin := tp.To, tp.From
		if tp.Slope < 0 {
			deep, thin = thin, deep
		}
		assert.Equal(t, deep, d.Near.X)
		assert.InDelta(t, thin, d.Far.X, 1e-9)
		for _, e := range []SledEnd{d.Near, d.Far} {
			along := b.Offset + math.Abs(e.X-deep)
			assert.InDelta(t, along, e.FromHinge, 1e-9)
			assert.InDelta(t, tp.Depth(e.X), e.Depth, 1e-9)
			assert.InDelta(t, height(along, b.Bed), e.BedHigh, 1e-9)
			assert.InDelta(t, height(along, b.Bed+b.Template+tp.Depth(e.X)), e.OverBench, 1e-9)
			assert.InDelta(t, b.Template+tp.Depth(e.X), e.OverBed, 1e-9)
		}

		// Under a carriage that tilts the neck lies level, and the cutter rises
		// along the run by what the shim makes of it.
		b.Tilts, b.Carries = TiltCarriage, CarriesRouter
		d = dial(t, b, tp)
		assert.Equal(t, thin, d.Near.X)
		assert.InDelta(t, b.Bed, d.Near.BedHigh, 1e-9)
		assert.InDelta(t, b.Bed+b.Template+tp.Depth(thin), d.Near.OverBench, 1e-9)
		assert.InDelta(t, d.Shim.Height/d.Shim.At*400, d.Far.OverBench-d.Near.OverBench, 1e-9)
	}
}

// TestSagSetting checks what the sag does to the cut for both kinds of plate.
func TestSagSetting(t *testing.T) {
	tp := straightTaper(15, 17)
	b := SledBuild{Offset: 50, Span: 500, Bed: 9, RouterMass: 3.5,
		Plate: Plate{Thickness: 9, Width: 150, Modulus: 9000}}
	d := dial(t, b, tp)
	require.True(t, d.HasSag)
	middle := 3.5 * Gravity * math.Pow(500, 3) / (48 * 9000 * 150 * 9 * 9 * 9 / 12)
	assert.InEpsilon(t, middle, d.Sag.Most, 1e-12)
	assert.InDelta(t, 250, d.Sag.MostAt, 1e-9)
	assert.InDelta(t, 410-200, d.Sag.MostX, 1e-9)
	assert.False(t, d.Sag.Deeper)
	assert.Zero(t, d.Sag.Higher)
	assert.Equal(t, d.Sag.Most, d.Sag.Stays)
	assert.InDelta(t, d.Sag.Near, middle*16*math.Pow(50.0*450/500/500, 2), 1e-9)
	assert.Equal(t, d.Sag.Near, d.Sag.Far)
	assert.True(t, middle < 250.0/200) // the bench is 1.25 mm below it there
	assert.False(t, d.Sag.Touches)

	b.RouterMass = 20
	assert.True(t, dial(t, b, tp).Sag.Touches)
	b.RouterMass = 3.5

	b.Carries, b.Under = CarriesRouter, 60
	d = dial(t, b, tp)
	assert.True(t, d.Sag.Deeper)
	assert.InEpsilon(t, middle, d.Sag.Higher, 1e-12)
	assert.InDelta(t, middle-d.Sag.Near, d.Sag.Stays, 1e-12)

	// Carried elsewhere, the middle of the supports lies elsewhere.
	b.Plate.From, b.Plate.To = 100, 420
	d = dial(t, b, tp)
	assert.InDelta(t, 260, d.Sag.MostAt, 1e-9)
	assert.InDelta(t, 410-210, d.Sag.MostX, 1e-9)

	// No plate, no sag.
	d = dial(t, SledBuild{Span: 500}, tp)
	assert.False(t, d.HasSag)
	assert.Empty(t, d.Packings)
}

// TestSagPackingByHand takes the sag out. The bed slopes 1 in 200 and spans
// 500 mm, so that the gap in its middle is 1.25 mm. One packing there halves
// the spans and leaves an eighth of the sag.
//
// Long, since its cases share what is set up first.
func TestSagPackingByHand(t *testing.T) {
	tp := straightTaper(15, 17)
	b := SledBuild{Offset: 0, Span: 500, Bed: 12, RouterMass: 3.5, Allowed: 0.1,
		Plate: Plate{Thickness: 12, Width: 150, Modulus: 9000}}
	d := dial(t, b, tp)
	middle := 3.5 * Gravity * math.Pow(500, 3) / (48 * 9000 * 150 * 12 * 12 * 12 / 12)
	require.Greater(t, middle, 0.1)
	require.Less(t, middle/8, 0.1)
	require.Len(t, d.Packings, 1)
	p := d.Packings[0]
	assert.InDelta(t, 1.25, p.Height, 1e-9)
	assert.InDelta(t, 250, p.At, 1e-9)
	assert.InDelta(t, 410-250, p.X, 1e-9)
	assert.Zero(t, p.Error)
	assert.InEpsilon(t, middle/8, d.PackedSag.Most, 1e-9)

	// Of stated sheets the packing moves to where it fits: 1.3 mm at 260. The
	// shim takes its own slips first.
	b.Stock = []Sheet{{"shim slip", 2.5, 1}, {"slip", 1.3, 1}}
	p = dial(t, b, tp).Packings[0]
	assert.InDelta(t, 1.3, p.Height, 1e-9)
	assert.InDelta(t, 260, p.At, 1e-9)
	b.Stock = []Sheet{{"slip", 1.25, 2}}
	d = dial(t, b, tp)
	assert.Equal(t, 2, d.Shim.Stack.Pieces())
	assert.Zero(t, d.Packings[0].Stack.Pieces()) // none remains
	assert.Zero(t, d.Packings[0].Error)
	assert.InDelta(t, 1.25, d.Packings[0].Height, 1e-9)
	b.Stock = []Sheet{{"slip", 1.25, 3}}
	assert.Equal(t, 1, dial(t, b, tp).Packings[0].Stack.Pieces())
	b.Stock = nil

	// Both sides of what is allowed.
	b.Allowed = middle + 1e-9
	assert.Empty(t, dial(t, b, tp).Packings)
	b.Allowed = middle - 1e-9
	assert.Len(t, dial(t, b, tp).Packings, 1)
	b.Allowed = middle/8 + 1e-9
	assert.Len(t, dial(t, b, tp).Packings, 1)
	b.Allowed = middle/8 - 1e-9
	d = dial(t, b, tp)
	assert.Len(t, d.Packings, 2)
	assert.LessOrEqual(t, d.PackedSag.Most, b.Allowed)

	// A carriage needs its height, and then blocks of that height.
	b.Allowed, b.Carries, b.Tilts = 0.1, CarriesRouter, TiltCarriage
	d = dial(t, b, tp)
	assert.Empty(t, d.Packings)
	assert.Equal(t, "the carriage's height over the bench is not given", d.PackWhy)
	b.Under = 70
	d = dial(t, b, tp)
	require.Len(t, d.Packings, 1)
	assert.InDelta(t, 71.25, d.Packings[0].Height, 1e-9)
	assert.InDelta(t, 10+250, d.Packings[0].X, 1e-9)
	b.Tilts = TiltBed // a level carriage over a bed that tilts
	assert.InDelta(t, 70, dial(t, b, tp).Packings[0].Height, 1e-9)

	// Under a level plate a stack cannot be moved: it is taken with its error up
	// to a step, and not beyond.
	b.Under = 20
	for slip, takes := range map[float64]bool{19.94: false, 19.96: true, 20.04: true, 20.06: false} {
		b.Stock = []Sheet{{"shim slip", 2.5, 1}, {"slip", slip, 1}}
		p := dial(t, b, tp).Packings[0]
		assert.Equal(t, takes, p.Stack.Pieces() == 1, "%v", slip)
		assert.InDelta(t, 20, p.Height, 1e-9)
		assert.InDelta(t, 250, p.At, 1e-9)
		if takes {
			assert.InDelta(t, slip-20, p.Error, 1e-9)
		}
	}

	// A level bed that lies on the bench has no gap.
	d = dial(t, SledBuild{Span: 500, Bed: 6, RouterMass: 3.5, Plate: Plate{Thickness: 6, Width: 150, Modulus: 9000}}, straightTaper(15, 15))
	assert.Empty(t, d.Packings)
	assert.Equal(t, "the plate lies on the bench there", d.PackWhy)
	assert.True(t, d.Sag.Touches)
}

// TestSagPackingStock gives one slip that fits both of two packings: it is used
// once. On feet of 5 mm the gaps are 5 mm plus a 200th of the place.
func TestSagPackingStock(t *testing.T) {
	tp := straightTaper(15, 17)
	b := SledBuild{Span: 450, Bed: 12, RouterMass: 3.5, Allowed: 0.04, Under: 5, Fixed: true,
		Plate: Plate{Thickness: 12, Width: 150, Modulus: 9000}}
	d := dial(t, b, tp)
	require.Len(t, d.Packings, 2)
	assert.InDelta(t, 5.75, d.Packings[0].Height, 1e-9)
	assert.InDelta(t, 150, d.Packings[0].At, 1e-9)
	assert.InDelta(t, 6.5, d.Packings[1].Height, 1e-9)
	assert.InDelta(t, 300, d.Packings[1].At, 1e-9)

	b.Stock = []Sheet{{"shim slip", 2.25, 1}, {"slip", 5.9, 1}, {"thin slip", 0.5, 1}}
	d = dial(t, b, tp)
	require.Len(t, d.Packings, 2)
	assert.Equal(t, "1 slip of 5.9 mm", d.Packings[0].Stack.Words(spec.Millimetre))
	assert.InDelta(t, 180, d.Packings[0].At, 1e-9)
	assert.Zero(t, d.Packings[1].Stack.Pieces()) // 0.5 mm alone fits nothing
	assert.InDelta(t, 6.5, d.Packings[1].Height, 1e-9)
	b.Stock[1].Count = 2
	d = dial(t, b, tp)
	assert.Equal(t, "1 slip of 5.9 mm and 1 thin slip of 0.5 mm", d.Packings[1].Stack.Words(spec.Millimetre))
	assert.InDelta(t, 280, d.Packings[1].At, 1e-9)
}

// TestPackedOverhang follows the sag beyond supports that the run passes: over
// their ends and the parts between.
func TestPackedOverhang(t *testing.T) {
	b := SledBuild{RouterMass: 3.5, Plate: Plate{Thickness: 12, Width: 150, Modulus: 9000}}
	part := func(from, to, at float64) float64 {
		p := b.Plate
		p.From, p.To = from, to
		return p.Sag(3.5, at)
	}
	r := packed(b, []float64{100, 200, 300}, 0, 300)
	assert.InDelta(t, part(100, 200, 0), r.Most, 1e-12)
	assert.Equal(t, 0.0, r.MostAt)
	r = packed(b, []float64{100, 200, 300}, 100, 420)
	assert.InDelta(t, part(200, 300, 420), r.Most, 1e-12)
	assert.Equal(t, 420.0, r.MostAt)
	assert.Zero(t, r.Least)
	r = packed(b, []float64{100, 200, 400}, 110, 150)
	assert.InDelta(t, part(100, 200, 150), r.Most, 1e-12)
	assert.InDelta(t, part(100, 200, 110), r.Least, 1e-12)
	assert.Equal(t, 110.0, r.LeastAt)
}

// TestPackedSag compares the sag between packings with a search that asks, at
// every place, the part of the plate that it lies in.
// Without DRAWN=all it takes some of the cases.
func TestPackedSag(t *testing.T) {
	tp := straightTaper(14, 17)
	r := rand.New(rand.NewPCG(7, 13))
	cases := 50
	if !drawn.All() {
		cases = 12
	}
	for range cases {
		b := SledBuild{Offset: 80 * r.Float64(), Span: 500 + 200*r.Float64(), Bed: 9, RouterMass: 5 * r.Float64(), Allowed: 0.02 + 0.2*r.Float64(),
			Plate: Plate{Thickness: 6 + 6*r.Float64(), Width: 150, Modulus: 9000, Density: 700}, Stock: HouseholdSheets()}
		b.RouterMass += 1
		d := dial(t, b, tp)
		if len(d.Packings) == 0 {
			continue
		}
		marks := []float64{d.Build.Plate.From}
		for _, p := range d.Packings {
			assert.InDelta(t, p.Height, 3.0/400*p.At, 1e-9) // it fills the gap
			marks = append(marks, p.At)
		}
		marks = append(marks, d.Build.Plate.To)
		most := 0.0
		for i := range 20001 {
			at := d.Near.FromHinge + 400*float64(i)/20000
			part := 0
			for part+2 < len(marks) && at > marks[part+1] {
				part++
			}
			p := b.Plate
			p.From, p.To = marks[part], marks[part+1]
			most = math.Max(most, p.Sag(b.RouterMass, at))
		}
		assert.InDelta(t, most, d.PackedSag.Most, 1e-5)
		assert.True(t, d.PackedSag.Most <= d.Build.Allowed || len(d.Packings) == 4)
	}
}

// TestSledBuildLimits tries what no sled has.
func TestSledBuildLimits(t *testing.T) {
	tp := straightTaper(15, 17)
	good := SledBuild{Span: 500, Bed: 18, RouterMass: 3.5, Plate: Plate{Thickness: 18, Width: 150, Modulus: 9000}}
	_, err := good.Dial(tp, spec.Millimetre)
	require.NoError(t, err)
	for want, change := range map[string]func(*SledBuild){
		"the sled's span is 9 mm; allowed: 10 mm to 5000 mm":                                       func(b *SledBuild) { b.Span = 9 },
		"the sled's offset is -1001 mm; allowed: -1000 mm to 5000 mm":                              func(b *SledBuild) { b.Offset = -1001 },
		"the length of the sled's plate is 5001 mm":                                                func(b *SledBuild) { b.Length = 5001 },
		"the sled's span is 500 mm, beyond its plate of 499 mm":                                    func(b *SledBuild) { b.Length = 499 },
		"the thickness of the sled's bed is -1 mm; allowed: 0 mm to 200 mm":                        func(b *SledBuild) { b.Bed = -1 },
		"the template's thickness is 101 mm":                                                       func(b *SledBuild) { b.Template = 101 },
		"the height under the sled's plate is NaN mm":                                              func(b *SledBuild) { b.Under = math.NaN() },
		"the sag allowed is 6 mm":                                                                  func(b *SledBuild) { b.Allowed = 6 },
		"the thickness of the plate is 201 mm":                                                     func(b *SledBuild) { b.Plate.Thickness = 201 },
		"the width of the plate is 9 mm":                                                           func(b *SledBuild) { b.Plate.Width = 9 },
		"the distance between the places that carry the plate is -5 mm":                            func(b *SledBuild) { b.Plate.From = 5 },
		"the plate's modulus is 99 MPa; allowed: 100 to 300000 MPa":                                func(b *SledBuild) { b.Plate.Modulus = 99 },
		"the plate's density is -1 kg/m3":                                                          func(b *SledBuild) { b.Plate.Density = -1 },
		"the router's mass is 51 kg; allowed: 0.1 to 50 kg":                                        func(b *SledBuild) { b.RouterMass = 51 },
		"the shim's place is fixed but the sled's span is not given":                               func(b *SledBuild) { b.Fixed, b.Span = true, 0 },
		"a sheet for shims has no name":                                                            func(b *SledBuild) { b.Stock = []Sheet{{"", 1, 1}} },
		"with an offset of -400 mm the run of 400 mm ends before the hinge; allowed: an offset of": func(b *SledBuild) { b.Offset, b.Span = -400, 0 },
	} {
		b := good
		change(&b)
		_, err := b.Dial(tp, spec.Millimetre)
		assert.ErrorContains(t, err, want)
	}
	b := good
	b.Span = 4000 * 25.4
	_, err = b.Dial(tp, spec.Inch)
	assert.True(t, strings.HasSuffix(err.Error(), " in"), err)
}

// TestBuildOfSled takes the plan's sled over: the same shim and the same sag.
func TestBuildOfSled(t *testing.T) {
	tp := straightTaper(15, 17)
	s := DefaultSled()
	s.Span, s.Offset, s.Unsupported = 520, 40, 380
	b := BuildOf(s, tp)
	d := dial(t, b, tp)
	set := s.For(tp)
	assert.InDelta(t, set.Shim, d.Shim.Wanted, 1e-12)
	assert.InDelta(t, set.Sag, d.Sag.Most, 1e-12)
	assert.Equal(t, set.HingeAt, d.HingeAt)
	assert.InDelta(t, 210, d.Sag.MostX, 1e-9) // the middle of the run
	s.Unsupported = 0
	assert.False(t, dial(t, BuildOf(s, tp), tp).HasSag)
}
