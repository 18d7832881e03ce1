package jig

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// The drilling guide lies on face and shelf: no corner of it is in the wood, its
// lower side is that of the face, and each hole is a cylinder about the tuner's own
// axis. On a face at an angle, on a stepped one and with hardly a shelf.
func TestTunerGuide(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(h *spec.Headstock)
		slant  bool
	}{
		{"angled", func(*spec.Headstock) {}, false},
		{"stepped", func(h *spec.Headstock) { h.Angle, h.Step, h.Cove = 0, 6, 9 }, false},
		{"short shelf", func(h *spec.Headstock) { h.Shelf = 1 }, false},
		{"slanted", func(h *spec.Headstock) { h.Shelf = 12 }, true},
		{"slanted and stepped", func(h *spec.Headstock) { h.Shelf, h.Angle, h.Step, h.Cove = 12, 0, 6, 9 }, true},
	} {
		s := spec.Demo()
		s.Volute = nil
		c.change(s.Headstock)
		if c.slant {
			s.Scale.Treble, s.Scale.SquareFret = 615, 7
			s.Spacing = &spec.Spacing{Nut: 36, Bridge: 52}
		}
		for i, y := range []float64{-21, 21} {
			s.Tuners = append(s.Tuners,
				spec.Tuner{U: 50 + 4*float64(i), Y: y, Hole: 9, Post: 6, Height: 10}, spec.Tuner{U: 90, Y: 1.2 * y, Hole: 10, Post: 6, Height: 10})
		}
		n, err := neck.New(s)
		require.NoError(t, err, c.name)
		p := one(t, n, DefaultOptions(), "tuners").Parts[0]
		require.NoError(t, p.Mesh.Validate())
		h := s.Headstock
		sin, cos := math.Sincos(h.Angle)
		round := map[int]int{}
		for _, v := range p.Mesh.Vertices {
			q := p.Home.Out(v)
			assert.GreaterOrEqual(t, q.Z, n.TopAt(math.Max(q.X, n.Start()), q.Y)-1e-4, c.name)
			assert.LessOrEqual(t, q.X, -guideNut+1e-4, c.name)
			// Height over the face, and place along it, by hand.
			dx, dz := q.X+s.Break(), q.Z+h.Step
			w, u := dz*cos-dx*sin, s.Break()-dx*cos-dz*sin
			for i, tuner := range s.Tuners {
				if d := math.Hypot(u-tuner.U, q.Y-tuner.Y); d < tuner.Hole/2+2 {
					assert.InDelta(t, tuner.Hole/2+guideBore/2, d, 0.02, c.name)
					round[i]++
					assert.True(t, math.Abs(w) < 1e-4 || w > guideThick-1e-4, c.name)
				}
			}
		}
		for i := range s.Tuners {
			assert.Equal(t, 96, round[i], c.name)
		}
		lo, _ := p.Mesh.Bounds()
		assert.InDelta(t, 0, lo.Z, 1e-6)
	}
}

// The guides of a slotted headstock hook over the face's edge and follow the side:
// no corner is in the wood, the inner side comes within the tolerance of it, and the
// holes are those of the tuners.
func TestSideGuides(t *testing.T) {
	o := DefaultOptions()
	seen := 0
	for _, n := range necktest.All(t) {
		s := n.Spec()
		if len(s.Tuners) == 0 || !s.Tuners[0].Across() {
			continue
		}
		parts := one(t, n, o, "tuners").Parts
		require.Len(t, parts, 2)
		h := s.Headstock
		sin, cos := math.Sincos(h.Angle)
		for _, p := range parts {
			require.NoError(t, p.Mesh.Validate())
			holes, close := 0, 0
			for _, v := range p.Mesh.Vertices {
				q := p.Home.Out(v)
				dx, dz := q.X+h.Shelf, q.Z+h.Step
				w, u := dz*cos-dx*sin, h.Shelf-dx*cos-dz*sin
				half := h.Width / 2
				if e := n.HeadEdge(); e != nil {
					ys := e.Across(u)
					half = math.Max(-ys[0], ys[len(ys)-1])
				}
				off := math.Abs(q.Y) - half
				assert.True(t, w > -1e-3 || off > -1e-3, "(%g, %g) of %s is in the wood", q.Y, w, p.Name)
				if w < -0.1 && off < 3 {
					assert.Less(t, off, o.Tolerance)
					close++
				}
				for i, tuner := range n.Tuners() {
					if d := math.Hypot(u-tuner.U, w+tuner.Below); tuner.Y*q.Y > 0 && d < tuner.Hole/2+1 {
						assert.InDelta(t, tuner.Hole/2+guideBore/2, d, 0.02, "hole %d", i+1)
						holes++
					}
				}
			}
			assert.Positive(t, close)
			assert.GreaterOrEqual(t, holes, 2*rodSides*3)
		}
		seen++
	}
	assert.GreaterOrEqual(t, seen, 2)
}

// A stop block stands with its face where the base's rim stops when the bit's axis
// is at the plan's mark, and clears sides and back of the wood as it is.
func TestStopBlocks(t *testing.T) {
	s := spec.Demo()
	s.Tools = &spec.Tools{BaseWidth: 150}
	n, err := neck.New(s)
	require.NoError(t, err)
	_, err = New(n, DefaultOptions(), "stops")
	require.ErrorContains(t, err, "stops the base by itself") // squared, much too thick
	s.Blank.State, s.Blank.Allowance = spec.BlankProfile, 1
	n, err = neck.New(s)
	require.NoError(t, err)
	m := newMaker(n, DefaultOptions())
	require.NoError(t, m.why)
	parts := one(t, n, DefaultOptions(), "stops").Parts
	require.Len(t, parts, 2)
	for i, p := range parts {
		require.NoError(t, p.Mesh.Validate())
		lo, hi := p.Mesh.Bounds()
		from, to := p.Home.Out(lo).X, p.Home.Out(hi).X
		stop := m.plan.Round.Stops[i]
		face := to
		if stop.End == "body end" {
			face = from
		}
		assert.InDelta(t, 75, math.Abs(face-stop.Centre), 1e-4, stop.End)
		for _, f := range []float64{0.02, 0.3, 0.7, 0.98} {
			x := from + f*(to-from)
			loops, err := p.Mesh.SliceX(x - p.Home.Origin.X)
			require.NoError(t, err)
			require.Len(t, loops, 1)
			a, b := n.Edges(x)
			// Finished and an allowance, or the flat back.
			deep := n.Depth(x) + 1
			if x >= m.plan.Taper.From && x <= m.plan.Taper.To {
				deep = n.Depth(x)
			}
			for _, q := range loops[0] {
				y, z := q.X+p.Home.Origin.Y, q.Y+p.Home.Origin.Z
				inside := y > a+0.15 && y < b-0.15 && z > -deep-0.15 || y > a-0.15 && y < b+0.15 && z > -deep+1
				assert.False(t, inside, "x = %g: (%g, %g) is in the wood", x, y, z)
			}
			// The opening is the neck and the clearance, and no wider.
			inner := func(sign float64) float64 {
				best := math.Inf(1)
				for _, q := range loops[0] {
					if y := sign * (q.X + p.Home.Origin.Y); y > 5 && q.Y+p.Home.Origin.Z > -deep+1 {
						best = math.Min(best, y)
					}
				}
				return best
			}
			assert.InDelta(t, b+0.2, inner(1), 0.06)
			assert.InDelta(t, -a+0.2, inner(-1), 0.06)
		}
	}
}

// On a router table that the ends foul, packing lifts the neck clear, and strips
// reach from the bearing to where the neck's end is when the axis stops.
func TestTableJigs(t *testing.T) {
	s := spec.Demo()
	s.Tools = &spec.Tools{Router: spec.RouterTable}
	n, err := neck.New(s)
	require.NoError(t, err)
	m := newMaker(n, DefaultOptions())
	thick := m.packed()
	// What stands proudest of the flat back's plane, square to it, and a millimetre.
	proud := 0.0
	tp := m.plan.Taper
	for i := range 4000 {
		x := n.Start() + (n.End()-n.Start())*float64(i)/3999
		proud = math.Max(proud, (n.Depth(x)-tp.DepthFrom-tp.Slope*(x-tp.From))*math.Cos(math.Atan(tp.Slope)))
	}
	assert.InDelta(t, proud+1, thick, 0.11)
	j := one(t, n, DefaultOptions(), "packing")
	packing := j.Parts
	// The bit stands as much higher as the packing is thick, to what can be dialled.
	var tip float64
	_, after, found := strings.Cut(j.Gaps, "the tip of the bit stands ")
	require.True(t, found, j.Gaps)
	_, err = fmt.Sscanf(after, "%g mm over the table", &tip)
	require.NoError(t, err)
	assert.InDelta(t, m.plan.Table.Tip+thick, tip, 0.1)
	for _, p := range packing {
		mm := plateMesh(t, p)
		for _, v := range mm.Vertices {
			q := p.Home.Out(v)
			// Between the flat back and the table.
			under := (-q.Z - tp.Depth(q.X)) * math.Cos(tp.Angle)
			assert.True(t, under > -1e-4 && under < thick+1e-4, "%g", under)
		}
	}
	p := m.onTable()
	require.NotNil(t, p.Table)
	assert.False(t, p.Refuses(carve.StageRound))
	strips := one(t, n, DefaultOptions(), "stops").Parts
	total := map[string]float64{}
	for _, part := range strips {
		lo, hi := part.Region.Bounds()
		total[part.Name] = hi.X - lo.X
	}
	for _, stop := range p.Table.Stops {
		bearing := p.Table.Bit.BodyRadius() - p.Table.Bit.Radius + p.Table.Bit.Offset
		want := stop.Axis - n.Start() - bearing
		if stop.End == carve.BodyEnd {
			want = n.Tip() - stop.Axis - bearing
		}
		assert.InDelta(t, want, total["stop strip, "+stop.End.String()], 1e-6)
	}
}

// Extensions go on in line with the neck's edges, rails are as high as
// what stands, with the template under it.
func TestExtensionAndRails(t *testing.T) {
	s := spec.Demo()
	s.Headstock, s.Volute, s.Heel = nil, nil, nil
	s.Blank = nil
	s.Tools = &spec.Tools{Guide: spec.GuideTemplate, Template: 9}
	n, err := neck.New(s)
	require.NoError(t, err)
	parts := one(t, n, DefaultOptions(), "extension").Parts
	require.Len(t, parts, 2)
	for _, p := range parts {
		assert.Equal(t, 9.0, p.Thick)
		for _, v := range p.Region.Outer {
			q := p.Home.Out(mesh.Vec{X: v.X, Y: v.Y})
			assert.InDelta(t, n.Taper(q.X)/2, math.Abs(q.Y), 1e-4)
		}
	}
	m := newMaker(n, DefaultOptions())
	rails := one(t, n, DefaultOptions(), "rails").Parts
	for _, p := range rails {
		lo, hi := p.Region.Bounds()
		assert.GreaterOrEqual(t, hi.Y-lo.Y, m.plan.Stock.Depth+9.2)
		assert.Less(t, hi.Y-lo.Y, m.plan.Stock.Depth+10.2)
	}
}

// Rails for a base of known width are as high as all wood under them, from end to end,
// and say what stands past them.
func TestRailsUnderBase(t *testing.T) {
	s := spec.Demo()
	s.Tools = &spec.Tools{BaseWidth: 150, Guide: spec.GuideTemplate, Template: 12}
	n, err := neck.New(s)
	require.NoError(t, err)
	m, j := newMaker(n, DefaultOptions()), one(t, n, DefaultOptions(), "rails")
	lo, hi := j.Parts[0].Region.Bounds()
	high, from := hi.Y-lo.Y, m.plan.Taper.From-75
	to := m.plan.Taper.To + 75
	for x := math.Max(from, n.Start()); x < math.Min(to, n.End()); x += 0.5 {
		require.GreaterOrEqual(t, high, n.Depth(x)+12, "x = %g", x)
	}
	assert.Less(t, high, n.Depth(n.Start())+12, "no higher than the headstock's end, which they do not reach")
	assert.Contains(t, j.Gaps, fmt.Sprintf("long, from x = %s to x = %s: ", m.u.Rounded(from), m.u.Rounded(to)))
	assert.Contains(t, j.Gaps, "neither router nor carriage may come there")
	assert.NotContains(t, strings.Join(j.Use, " "), "all of the wood")
}

// Lines of use speak of what the neck has: plain or slotted heads, a shim with bolts'
// holes or without. Where both guides begin alike it is said once.
func TestUseFitsNeck(t *testing.T) {
	for _, n := range necktest.All(t) {
		var square, across bool
		for _, hole := range n.Tuners() {
			square, across = square || !hole.Across(), across || hole.Across()
		}
		if n.Spec().Headstock == nil || !square && !across {
			continue
		}
		m := newMaker(n, DefaultOptions())
		use := make([]string, 3)
		tunerUse(m, use)
		assert.Equal(t, square, strings.Contains(use[0], "middle on the centreline"), n.Spec().Name)
		assert.Equal(t, across, strings.Contains(use[0], "over the face's edge"), n.Spec().Name)
		assert.Equal(t, across, strings.Contains(use[2], "on its side"), n.Spec().Name)
		if across {
			_, gaps, err := buildTuners(m)
			require.NoError(t, err)
			assert.Contains(t, gaps, "Those of both sides begin ", n.Spec().Name)
			assert.NotContains(t, gaps, "That of the ", n.Spec().Name)
		}
	}
	n, err := neck.New(pocketed(t))
	require.NoError(t, err)
	require.Empty(t, n.BoltHoles())
	j := one(t, n, DefaultOptions(), "neck-shim")
	assert.NotContains(t, strings.Join(j.Use, " "), "its holes")
	assert.Contains(t, j.Use[1], "drill it where screws go through")
}

// A neck for the other hand has the mirrored jigs: as large, as heavy, and with the
// same words but for the sides.
func TestLeftHand(t *testing.T) {
	n := necktest.Demo(t)
	left, err := n.Mirrored()
	require.NoError(t, err)
	o := DefaultOptions()
	a, err := New(n, o)
	require.NoError(t, err)
	b, err := New(left, o)
	require.NoError(t, err)
	require.Equal(t, len(a), len(b))
	for i := range a {
		require.Equal(t, len(a[i].Parts), len(b[i].Parts), a[i].Name)
		assert.Equal(t, a[i].Gaps, b[i].Gaps)
		// Pieces of a strip are parted from the other end.
		one, other := map[string]float64{}, map[string]float64{}
		add := func(sum map[string]float64, p Part) {
			name, _, _ := strings.Cut(p.Name, ", piece")
			if p.Flat() {
				sum[name] += p.Region.Area()
				return
			}
			sum[name] += p.Mesh.Volume()
		}
		for k, p := range a[i].Parts {
			add(one, p)
			add(other, b[i].Parts[k])
		}
		require.Equal(t, len(one), len(other))
		for name, v := range one {
			assert.InEpsilon(t, v, other[name], 1e-4, name)
		}
	}
}

// The default set has what the spec asks for, each with three lines, a caution and
// its clearances; those near a cutter say that they are no guards.
//
// Long, as it is a list of necks and of their jigs.
func TestCauses(t *testing.T) {
	with := func(tools *spec.Tools, change func(*spec.Spec)) map[string]string {
		s := spec.Demo()
		s.Tools = tools
		if change != nil {
			change(s)
		}
		n, err := neck.New(s)
		require.NoError(t, err)
		out := map[string]string{}
		o := DefaultOptions()
		o.Tolerance = rough
		set, err := Default(n, o)
		require.NoError(t, err)
		for _, c := range set.Choices {
			if c.Cause != "" {
				out[c.Name] = c.Cause
			}
		}
		require.Len(t, set.Jigs, len(out))
		for _, j := range set.Jigs {
			require.Len(t, j.Use, 3)
			assert.NotEmpty(t, j.Gaps)
			assert.True(t, strings.HasPrefix(j.Never, "Not "), j.Name)
			assert.NotContains(t, j.Gaps, "%!")
			switch j.Name {
			case "shim", "packing", "rails", "stops", "extension", "scarf", "cradle", "rest":
				assert.Contains(t, j.Never, "a guide and no guard", j.Name)
			}
		}
		return out
	}
	keys := func(m map[string]string) []string {
		var out []string
		for _, name := range Names() {
			if m[name] != "" {
				out = append(out, name)
			}
		}
		return out
	}
	assert.Equal(t, []string{"bevels", "scribes", "caul", "block", "cradle", "rest"}, keys(with(nil, nil)))
	// No router said is one in the hand, and the plan has flats beside any router.
	assert.Equal(t, []string{"bevels", "scribes", "caul", "block", "cradle", "rest"}, keys(with(&spec.Tools{Router: spec.RouterHand}, nil)))
	assert.Equal(t, []string{"stops", "bevels", "scribes", "caul", "block", "cradle", "rest"},
		keys(with(&spec.Tools{Router: spec.RouterHand, BaseWidth: 150}, func(s *spec.Spec) { s.Blank = nil })))
	assert.Equal(t, []string{"packing", "stops", "bevels", "scribes", "caul", "block", "cradle", "rest"}, keys(with(&spec.Tools{Router: spec.RouterTable}, nil)))
	assert.Equal(t, []string{"extension", "shim", "bevels", "scribes", "flat-caul", "cradle", "rest"},
		keys(with(&spec.Tools{Guide: spec.GuideTemplate, Sled: &spec.ToolSled{}}, func(s *spec.Spec) { s.Board.RadiusNut, s.Board.RadiusEnd = 0, 0 })))
	n, err := neck.New(pocketed(t))
	require.NoError(t, err)
	cause := ""
	for _, c := range Choices(n, DefaultOptions()) {
		if c.Name == "neck-shim" {
			cause = c.Cause
		}
	}
	assert.NotEmpty(t, cause)
	_, err = New(n, DefaultOptions(), "hammock")
	assert.ErrorContains(t, err, "allowed: scarf, tuners")
}

// What the default set cannot make of a neck is left out with its reason, and the
// rest is made: here a segment of the cradle is longer than the run.
func TestLeftOut(t *testing.T) {
	n := necktest.Demo(t)
	o := DefaultOptions()
	o.Length = 200
	set, err := Default(n, o)
	require.NoError(t, err)
	require.Len(t, set.LeftOut, 1)
	assert.ErrorContains(t, set.LeftOut[0], "cradle: there is no run of plain back")
	for _, j := range set.Jigs {
		assert.NotEqual(t, "cradle", j.Name)
	}
	assert.NotEmpty(t, set.Jigs)
	_, err = New(n, o, "cradle")
	assert.ErrorContains(t, err, "cradle: there is no run of plain back")
}

// The guide's middle lies on the centreline wherever the tuners are: holes, measured
// from its middle and from the end that it tells the place of, are at the tuners' u and
// y. Its words are on the side that is named. All tuners of one side, two scales, on
// either hand.
func TestTunerGuideOfOneSide(t *testing.T) {
	for _, hand := range []spec.Hand{spec.RightHand, spec.LeftHand} {
		s := spec.Demo()
		s.Volute, s.Hand = nil, hand
		s.Scale.Treble, s.Scale.SquareFret = 615, 7
		s.Spacing = &spec.Spacing{Nut: 36, Bridge: 52}
		s.Headstock.Shelf, s.Headstock.Angle = 12, 16*math.Pi/180
		s.Tuners = []spec.Tuner{{U: 60, Y: -26, Hole: 9, Post: 6, Height: 10}, {U: 100, Y: -18, Hole: 9, Post: 6, Height: 10}}
		n, err := neck.New(s)
		require.NoError(t, err)
		j := one(t, n, DefaultOptions(), "tuners")
		p := j.Parts[0]
		lo, hi := p.Mesh.Bounds()
		low, high := p.Home.Out(lo), p.Home.Out(hi)
		assert.InDelta(t, 0, low.Y+high.Y, 1e-6, "its middle")
		assert.InDelta(t, 26+4.5+guideEdge, math.Abs(low.Y), 1e-6)

		side := "bass"
		if p.Home.Out(p.Label.At).Y*n.Y(-1) < 0 {
			side = "treble"
		}
		assert.Contains(t, j.Use[0], "middle on the centreline, its words on the "+side+" side")

		var begins float64
		_, after, found := strings.Cut(j.Gaps, "begins ")
		require.True(t, found, j.Gaps)
		_, err = fmt.Sscanf(after, "%g mm from the nut's front, along the face", &begins)
		require.NoError(t, err, after)
		// On the bed x runs along the face, from the guide's end at the nut.
		for _, hole := range s.Tuners {
			round := 0
			for _, v := range p.Mesh.Vertices {
				if d := math.Hypot(v.X-lo.X-(hole.U-begins), p.Home.Out(v).Y-n.Y(hole.Y)); d < 6 {
					assert.InDelta(t, 4.5+guideBore/2, d, 0.02)
					round++
				}
			}
			assert.Equal(t, 96, round)
		}
	}
}

// The shim's words begin at its thick end, as its page says: what is engraved on the
// slope, and what is on the side that is cut from a sheet.
func TestShimIsMarked(t *testing.T) {
	s := spec.Demo()
	s.Tools = &spec.Tools{Sled: &spec.ToolSled{Span: 500}}
	n, err := neck.New(s)
	require.NoError(t, err)
	j := one(t, n, DefaultOptions(), "shim")
	p := j.Parts[0]
	high := func(x float64) float64 {
		least, most := math.Inf(1), math.Inf(-1)
		for _, v := range p.Region.Outer {
			if math.Abs(v.X-x) < 1e-9 {
				least, most = math.Min(least, v.Y), math.Max(most, v.Y)
			}
		}
		return most - least
	}
	lo, hi := p.Region.Bounds()
	for _, l := range []Label{p.Label, p.Written} {
		end := l.At.Add(l.Along.Scale(l.Width)).X
		begins, ends := lo.X, hi.X
		if l.At.X > end {
			begins, ends = ends, begins
		}
		assert.Greater(t, high(begins), high(ends)+0.1)
	}
	assert.Contains(t, j.Gaps, "its thick end, where the words begin, away from the hinge")
}

// Beside a heel the round-over bit does not come as far as the extension, which says
// so; without one it does.
func TestExtensionPastHeel(t *testing.T) {
	s := spec.Demo()
	n, err := neck.New(s)
	require.NoError(t, err)
	to := newMaker(n, DefaultOptions()).plan.Taper.To
	require.Less(t, to, s.X(s.Heel.Full))
	want := fmt.Sprintf("At the body it is for passes round the outline alone: those of the round-over bit end before it, at x = %s,", spec.Millimetre.Rounded(to))
	assert.Contains(t, one(t, n, DefaultOptions(), "extension").Gaps, want)
	s.Heel.EndCorner = 6
	n, err = neck.New(s)
	require.NoError(t, err)
	assert.Contains(t, one(t, n, DefaultOptions(), "extension").Gaps, want)
	s.Heel = nil
	n, err = neck.New(s)
	require.NoError(t, err)
	assert.NotContains(t, one(t, n, DefaultOptions(), "extension").Gaps, "round-over")
}
