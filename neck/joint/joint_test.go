package joint

import (
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/spec"
)

const degree = math.Pi / 180

// example is the worked example of common practice, no published source.
func example(gap float64) Heights {
	return Heights{
		Bridge: 9.525, Gap: gap, Board: 6.35, Fret: 1,
		Scale: 645.16, Compensation: 3, Joint: 645.16 * (1 - math.Exp2(-14.0/12)),
	}
}

func TestAngleOfExample(t *testing.T) {
	assert.InDelta(t, 290.39, example(0.4).Length(), 0.005)
	assert.InDelta(t, 0.508, example(0.4).Angle()/degree, 0.0005)
	assert.InDelta(t, 0.745, example(1.6).Angle()/degree, 0.0005)
}

// The angle laid out: the frets' line begins at the joint, at its height over
// the top, and is turned about the joint until it passes over the bridge.
func TestAngleLaidOut(t *testing.T) {
	for _, h := range []Heights{
		example(1), {Bridge: 12, Dome: 2, Gap: -0.5, Stand: 3, Board: 5, Fret: 1.1, Scale: 628, Compensation: 2, Joint: 400},
		{Bridge: 4, Board: 6, Fret: 1, Scale: 600, Joint: 300},
	} {
		start := mesh.Vec2{X: h.Joint, Y: h.Stand + h.Board + h.Fret}
		over := mesh.Vec2{X: h.Scale + h.Compensation, Y: h.Bridge + h.Dome + h.Gap}
		lo, hi := -math.Pi/2, math.Pi/2
		for range 100 {
			mid := (lo + hi) / 2
			dir := mesh.Vec2{X: math.Cos(mid), Y: math.Sin(mid)}
			if dir.Cross(over.Sub(start)) > 0 {
				lo = mid
			} else {
				hi = mid
			}
		}
		assert.InDelta(t, lo, h.Angle(), 1e-12)
		// And back: the gap of that angle.
		assert.InDelta(t, h.Gap, h.AtAngle(h.Angle()).Gap, 1e-9)
	}
}

func read(t testing.TB, name string, change func(*spec.Spec)) *neck.Neck {
	t.Helper()
	s, err := spec.ReadFile("../../testdata/specs/" + name + ".toml")
	require.NoError(t, err)
	s.Source = nil
	if change != nil {
		change(s)
	}
	n, err := neck.New(s)
	require.NoError(t, err)
	return n
}

func TestSetting(t *testing.T) {
	bolt := read(t, "wheatear", nil)
	pocket := bolt.End() - bolt.HeelFull()
	set := SettingOf(bolt, 0.5*degree)
	assert.InDelta(t, pocket*math.Tan(0.5*degree), set.Wedge, 1e-9)
	assert.Zero(t, set.Cut)
	assert.InDelta(t, 0.5*degree, AngleOfWedge(set.Wedge, set.Length), 1e-12)
	words := strings.Join(set.Words(bolt, spec.Millimetre), " ")
	assert.Contains(t, words, "tips back by 0.50°")
	assert.Contains(t, words, "thick at the end towards the bridge")
	words = strings.Join(SettingOf(bolt, -0.5*degree).Words(bolt, spec.Millimetre), " ")
	assert.Contains(t, words, "tips forward by 0.50°")
	assert.Contains(t, words, "thick at the end towards the nut")

	// A wedge that turns the block's bottom about the end of the pocket lifts
	// its other end by its thickness.
	sin, cos := math.Sincos(0.5 * degree)
	assert.InDelta(t, pocket*sin/cos, set.Wedge, 1e-9)

	deep := read(t, "fulmar", nil)
	rake := deep.Spec().Heel.Rake
	cut := SettingOf(deep, 2*degree)
	assert.InDelta(t, deep.HeelDepth()*(math.Tan(2*degree)-math.Tan(rake)), cut.Cut, 1e-9)
	assert.Zero(t, cut.Wedge)
	assert.InDelta(t, 2*degree, AngleOfCut(cut.Cut, cut.Depth, rake), 1e-12)
	assert.Contains(t, strings.Join(cut.Words(deep, spec.Millimetre), " "), "at the cap, tapering to nothing at the glue plane")
	assert.Contains(t, strings.Join(SettingOf(deep, 0).Words(deep, spec.Millimetre), " "), "at the glue plane, tapering to nothing at the cap")
	assert.Contains(t, strings.Join(SettingOf(deep, rake).Words(deep, spec.Millimetre), " "), "lies at this angle already")
}

// distance returns how far a point is from a closed line.
func distance(p mesh.Vec2, loop []mesh.Vec2) float64 {
	best := math.Inf(1)
	for i, a := range loop {
		b := loop[(i+1)%len(loop)]
		d := b.Sub(a)
		u := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
		best = math.Min(best, p.Sub(a.Add(d.Scale(u))).Norm())
	}
	return best
}

// Every point of the neck's outline in the pocket is the clearance away from
// the opening, but for corners that the cutter does not reach.
func TestPocketClearance(t *testing.T) {
	for name, change := range map[string]func(*spec.Spec){
		"wheatear": nil,
		"fulmar":   func(s *spec.Spec) { s.Joint.Cutter = 0 },
	} {
		n := read(t, name, change)
		c := n.Spec().Joint.Clearance
		p, err := Pocket(n)
		require.NoError(t, err)
		o := pocketOutline(n, n.Spec().Joint)
		opening := p.Region.Holes[0]
		least, most := math.Inf(1), 0.0
		for i, a := range o.neck[:len(o.neck)-1] { // the last side is the mouth
			b := o.neck[i+1]
			for k := range 21 {
				q := a.Add(b.Sub(a).Scale(float64(k) / 20))
				d := distance(q, opening)
				least, most = math.Min(least, d), math.Max(most, d)
			}
		}
		assert.InDelta(t, c, least, 0.006, name)
		assert.InDelta(t, c, most, 0.006, name)
		_, err = mesh.Extrude(p.Region, 0, 9)
		require.NoError(t, err)
	}
}

// The least corner that goes in, against a search for the largest square corner
// that does not.
func TestLeastCorner(t *testing.T) {
	for _, c := range []struct{ R, c float64 }{{6.35, 0}, {6.35, 0.1}, {6.35, 1}, {3, 0.05}, {3, 2}} {
		fits := func(r float64) bool {
			centre := mesh.Vec2{X: c.R, Y: c.R} // from the pocket's corner
			for i := range 401 {
				sin, cos := math.Sincos(math.Pi / 2 * float64(i) / 400)
				p := mesh.Vec2{X: c.c + r - r*cos, Y: c.c + r - r*sin}
				if p.X < c.R && p.Y < c.R && p.Sub(centre).Norm() > c.R+1e-9 {
					return false
				}
			}
			return true
		}
		lo, hi := 0.0, c.R
		if fits(0) {
			hi = 0
		}
		for range 60 {
			if mid := (lo + hi) / 2; fits(mid) {
				hi = mid
			} else {
				lo = mid
			}
		}
		assert.InDelta(t, hi, leastCorner(c.R, c.c), 1e-4, "%v", c)
	}
}

// A plain block of which no joint is said lies in a pocket, and so does one whose
// table gives a cutter alone.
func TestPocketOfBlock(t *testing.T) {
	for _, j := range []*spec.Joint{nil, {Cutter: 12}, {Kind: spec.JointPocket, Cutter: 12}} {
		s := spec.Demo()
		s.Joint = j
		n, err := neck.New(s)
		require.NoError(t, err)
		p, err := Pocket(n)
		require.NoError(t, err)
		lo, hi := mesh.LoopBounds(p.Region.Holes[0])
		assert.InDelta(t, n.HeelFull()-runOut, lo.X, 1e-9)
		assert.InDelta(t, n.End(), hi.X, 1e-9)
		assert.InDelta(t, s.Heel.Width, hi.Y-lo.Y, 1e-9)
	}
}

func TestPocketWords(t *testing.T) {
	square := read(t, "wheatear", func(s *spec.Spec) { s.Heel.EndCorner = 3 })
	p, err := Pocket(square)
	require.NoError(t, err)
	assert.Contains(t, strings.Join(p.Notes, " "), "does not reach into the corners: it leaves a radius of 6.35 mm, and the block has corners of 3 mm")
	assert.InDelta(t, square.HeelDepth()-3.4, p.Depth, 1e-9)

	dove, err := Pocket(read(t, "fulmar", nil))
	require.NoError(t, err)
	assert.Equal(t, "mortise", dove.Name)
	assert.Contains(t, strings.Join(dove.Notes, " "), "do not round the dovetail's edges")

	for _, kind := range []string{spec.JointButt} {
		_, err := Pocket(read(t, "fulmar", func(s *spec.Spec) { s.Joint = &spec.Joint{Kind: kind}; s.Rod.To = spec.AtX(340) }))
		assert.ErrorContains(t, err, "a butt joint has no pocket")
	}
	_, err = Pocket(read(t, "redshank", func(s *spec.Spec) { s.Heel.Kind = spec.HeelThrough }))
	assert.ErrorContains(t, err, "lies in no pocket")
}

func TestDrill(t *testing.T) {
	plates := Drill(read(t, "wheatear", nil))
	require.Len(t, plates, 1)
	require.Len(t, plates[0].Region.Holes, 4)
	want := math.Pi * 1.6 * 1.6
	for i, hole := range plates[0].Region.Holes {
		assert.InDelta(t, want, math.Abs(mesh.Area2(hole))/2, 0.05)
		lo, hi := mesh.LoopBounds(hole)
		y := (lo.Y + hi.Y) / 2
		// Bass side up: a pair begins on the bass side.
		assert.Equal(t, i%2 == 0, y > 0)
	}
	_, err := mesh.Extrude(plates[0].Region, 0, 6)
	require.NoError(t, err)

	butt := read(t, "fulmar", func(s *spec.Spec) {
		s.Rod.To = spec.AtX(340)
		s.Joint = &spec.Joint{Kind: spec.JointButt, Inserts: []spec.Insert{{Down: 18, Diameter: 8, Depth: 22}, {Down: 60, Diameter: 8, Depth: 14}}}
	})
	plates = Drill(butt)
	require.Len(t, plates, 1)
	require.Len(t, plates[0].Region.Holes, 2)
	lo, hi := mesh.LoopBounds(plates[0].Region.Holes[1])
	assert.InDelta(t, -60/math.Cos(butt.Spec().Heel.Rake), (lo.Y+hi.Y)/2, 1e-6)
	// The plate is the heel's face, longer down it by the rake.
	sec := butt.Section(butt.End())
	assert.InDelta(t, sec.Area()/math.Cos(butt.Spec().Heel.Rake), math.Abs(mesh.Area2(plates[0].Region.Outer))/2, 1)
}

// The opening for a dovetail, laid out by hand from the numbers of the spec: its
// sides are parallel to those of the dovetail.
func TestDovetailOpening(t *testing.T) {
	const c = 0.3
	n := read(t, "fulmar", func(s *spec.Spec) { s.Joint.Clearance, s.Joint.Cutter = c, 0 })
	p, err := Pocket(n)
	require.NoError(t, err)
	sin, cos := math.Sincos(13 * degree)
	face := 353.8
	atFace := 10 + c/cos
	end := face + 17 + c
	atEnd := atFace + (17+c)*sin/cos
	want := []mesh.Vec2{
		{X: face - 12, Y: -atFace}, {X: face, Y: -atFace}, {X: end, Y: -atEnd},
		{X: end, Y: atEnd}, {X: face, Y: atFace}, {X: face - 12, Y: atFace},
	}
	got := p.Region.Holes[0]
	require.Len(t, got, len(want))
	for i := range want {
		assert.InDelta(t, want[i].X, got[i].X, 1e-9, i)
		assert.InDelta(t, want[i].Y, got[i].Y, 1e-9, i)
	}
	lo, hi := mesh.LoopBounds(p.Region.Outer)
	assert.InDelta(t, face-12-35, lo.X, 1e-9)
	assert.InDelta(t, end+35, hi.X, 1e-9)
	assert.InDelta(t, atEnd+35, hi.Y, 1e-9)
	for _, m := range p.Marks {
		if m.Name == "the neck" {
			assert.InDelta(t, 10+17*sin/cos, m.Points[2].Y, 1e-9)
		}
	}

	// With a bit, the acute corners are arcs of its radius: each takes
	// r² (tan h - h) from the sharp corner, h half of the angle that it turns by.
	round := read(t, "fulmar", func(s *spec.Spec) { s.Joint.Clearance, s.Joint.Cutter = c, 6 })
	p, err = Pocket(round)
	require.NoError(t, err)
	turn := (90 + 13) * degree
	taken := 9 * (math.Tan(turn/2) - turn/2)
	assert.InDelta(t, math.Abs(mesh.Area2(want))/2-2*taken, math.Abs(mesh.Area2(p.Region.Holes[0]))/2, 0.05)
}

// The heights that a spec without a bridge has.
func TestHeightsWithoutBridge(t *testing.T) {
	n := read(t, "siskin", nil)
	h := HeightsOf(n)
	assert.Equal(t, Heights{Fret: 1, Board: 6.35, Scale: 24.3 * 25.4, Joint: n.HeelFull()}, h)
	full := HeightsOf(read(t, "wheatear", nil))
	assert.Equal(t, Heights{Bridge: 11.5, Gap: 1.2, Compensation: 3.2, Fret: 1, Stand: 3.4, Board: 5.4, Scale: 641, Joint: full.Joint}, full)
}
