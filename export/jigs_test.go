package export

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/necktest"
	"neckloft/neck/spec"
)

// jigNecks are necks whose jigs differ: in inches, for the left hand, thin with
// nothing at either end, in a pocket.
func jigNecks(t *testing.T) []*neck.Neck {
	t.Helper()
	var out []*neck.Neck
	for _, n := range necktest.All(t) {
		switch strings.Fields(n.Spec().Name)[0] {
		case "Siskin", "Wheatear":
			out = append(out, n)
		}
	}
	require.Len(t, out, 2)
	bare := spec.Demo()
	bare.Headstock, bare.Volute, bare.Heel, bare.Blank = nil, nil, nil, nil
	for i := range bare.Depth {
		bare.Depth[i].Total -= 5
	}
	bare.Rod = nil
	n, err := neck.New(bare)
	require.NoError(t, err)
	left, err := necktest.Demo(t).Mirrored()
	require.NoError(t, err)
	return append(out, n, left)
}

// Every part of the default jigs is a valid solid with its words cut in, lies on its
// bed, and is the part that the jig has.
// Without DRAWN=all it takes some of the cases.
func TestJigSolids(t *testing.T) {
	for _, n := range drawn.Some(jigNecks(t), 1) {
		jigs, err := jig.New(n, jig.DefaultOptions())
		require.NoError(t, err, n.Spec().Name)
		letters := LettersFor(n.Spec())
		blank := map[string]float64{} // volumes without letters
		for _, p := range JigParts(jigs) {
			words, _ := jigWords(&p.Label, letters)
			assert.NotEmpty(t, words, "%s: %v", p.Name, p.Label)
			blank[p.Name] = p.Region.Area() * p.Thick
			if !p.Flat() {
				blank[p.Name] = p.Mesh.Volume()
			}
		}
		beds, err := LayJigs(n, JigParts(jigs), DefaultBed())
		require.NoError(t, err)
		for _, b := range beds {
			for i, o := range b.Objects {
				require.NoError(t, o.Mesh.Validate(), "%s, %s", n.Spec().Name, o.Name)
				// The letters are gone, and little else.
				assert.Less(t, o.Mesh.Volume(), blank[o.Name], o.Name)
				assert.Greater(t, o.Mesh.Volume(), 0.8*blank[o.Name], o.Name)
				delete(blank, o.Name)
				lo, hi := o.Mesh.Bounds()
				assert.InDelta(t, 0, lo.Z, 1e-6)
				assert.GreaterOrEqual(t, math.Min(lo.X, lo.Y), b.Bed.Edge-1e-3)
				assert.LessOrEqual(t, hi.X, b.Bed.Width-b.Bed.Edge+1e-3)
				assert.LessOrEqual(t, hi.Y, b.Bed.Depth-b.Bed.Edge+1e-3)
				for _, q := range b.Objects[:i] {
					l, h := q.Mesh.Bounds()
					apart := lo.X > h.X || l.X > hi.X || lo.Y > h.Y || l.Y > hi.Y
					assert.True(t, apart, "%s and %s", o.Name, q.Name)
				}
			}
		}
		assert.Empty(t, blank)
	}
}

// Letters lie in the face that they are cut into, so deep, and read from outside.
func TestJigLetters(t *testing.T) {
	n := necktest.Demo(t)
	jigs, err := jig.New(n, jig.DefaultOptions(), "cradle")
	require.NoError(t, err)
	p := jigs[0].Parts[0]
	m, err := JigSolid(p, 6)
	require.NoError(t, err)
	lo, _ := p.Mesh.Bounds()
	openings, long := Stencil("F2", 6)
	area := 0.0
	for _, o := range openings {
		area += math.Abs(mesh.Area2(o)) / 2
	}
	words, height := jigWords(&p.Label, 6)
	if words != "F2" {
		openings, long = Stencil(words, height)
		area = 0
		for _, o := range openings {
			area += math.Abs(mesh.Area2(o)) / 2
		}
	}
	assert.InDelta(t, area*engraved, p.Mesh.Volume()-m.Volume(), 0.02*area)
	// Seen from the front of the bed, x to the right and z up: the first letter is
	// an F, whose stem is at its left.
	left, right := math.Inf(1), math.Inf(-1)
	for _, v := range m.Vertices {
		if math.Abs(v.Y-lo.Y-engraved) < 1e-4 {
			left, right = math.Min(left, v.X), math.Max(right, v.X)
		}
	}
	assert.InDelta(t, long, right-left, 0.02)
	stem := 0
	for _, v := range m.Vertices {
		if math.Abs(v.Y-lo.Y-engraved) < 1e-4 && v.X < left+0.01 {
			stem++
		}
	}
	assert.GreaterOrEqual(t, stem, 2)

	// Too little room: no words.
	l := jig.Label{Words: []string{"CRADLE"}, Along: mesh.Vec{X: 1}, Up: mesh.Vec{Z: 1}, Width: 100, Height: 5}
	words, _ = jigWords(&l, 6)
	assert.Empty(t, words)
	l.Height, l.Width = 6, 5
	words, _ = jigWords(&l, 6)
	assert.Empty(t, words)
}

// A bevel gauge has room for its name and angle in letters of the usual height.
func TestBevelsTellTheirAngle(t *testing.T) {
	for _, n := range jigNecks(t) {
		set, err := jig.Named(n, jig.DefaultOptions(), "bevels")
		require.NoError(t, err)
		for _, p := range JigParts(set.Jigs) {
			words, height := jigWords(&p.Label, DefaultLetters)
			assert.Equal(t, float64(DefaultLetters), height)
			assert.Equal(t, p.Label.Words[0], words, p.Name)
			assert.Regexp(t, `^\d(B|T|BT) [\d.]+$`, words)
		}
	}
}

// The page of a folder has each jig's lines, caution and parts, in the neck's unit.
func TestJigIndex(t *testing.T) {
	n := jigNecks(t)[0]
	require.Equal(t, spec.Inch, n.Spec().Units)
	jigs, err := jig.New(n, jig.DefaultsFor(spec.Inch), "cradle", "bevels", "caul")
	require.NoError(t, err)
	var b bytes.Buffer
	require.NoError(t, WriteJigIndex(&b, n, jigs, map[string][]string{"cradle": {"cradle.3mf"}}))
	page := b.String()
	for _, j := range jigs {
		assert.Contains(t, page, "## "+j.Name+": "+j.Title)
		assert.Contains(t, page, j.Gaps)
		assert.Contains(t, page, "**"+j.Never+"**")
		for _, line := range j.Use {
			assert.Contains(t, page, line)
		}
		for _, p := range j.Parts {
			assert.Contains(t, page, "- "+p.Name+": ")
		}
	}
	assert.Contains(t, page, "- [cradle.3mf](cradle.3mf)")
	assert.Contains(t, page, " in x ")
	assert.NotContains(t, page, " mm")
	assert.Contains(t, page, "a clamp every 2-1/2 to 3 in")
	assert.Contains(t, page, "0.0625 in for the lining and 0.008 in clearance")
	assert.Contains(t, page, "dowels, 0.25 in thick")
	for _, c := range Cautions {
		assert.Contains(t, page, c)
	}
	assert.Error(t, WriteJigIndex(failing{}, n, jigs, nil))
}

// failing is a writer that cannot write.
type failing struct{}

func (failing) Write([]byte) (int, error) { return 0, bytes.ErrTooLarge }

func BenchmarkJigs(b *testing.B) {
	n := necktest.Demo(b)
	for b.Loop() {
		jigs, err := jig.New(n, jig.DefaultOptions())
		require.NoError(b, err)
		beds, err := LayJigs(n, JigParts(jigs), DefaultBed())
		require.NoError(b, err)
		for _, bed := range beds {
			require.NoError(b, bed.Solid().Validate())
		}
	}
}
