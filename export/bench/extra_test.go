package bench

import (
	"bytes"
	"image/png"
	"io"
	"path"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/export"
	"neckloft/mesh/drawn"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/spec"
	"neckloft/render"
)

// smallJigs has pictures of jigs drawn small: their size is looked at elsewhere.
func smallJigs(t *testing.T) {
	before := JigWidth
	JigWidth = render.MinWidth
	t.Cleanup(func() { JigWidth = before })
}

// demoExtra returns the demo neck and what it is offered, the same to all tests.
func demoExtra(t *testing.T) (*neck.Neck, *Extra) {
	t.Helper()
	x, err := extraOnce()
	require.NoError(t, err)
	return demoOnce(), x
}

var demoOnce = sync.OnceValue(func() *neck.Neck {
	n, err := neck.New(spec.Demo())
	if err != nil {
		panic(err)
	}
	return n
})

var extraOnce = sync.OnceValues(func() (*Extra, error) { return NewExtra(demoOnce(), nil) })

// TestExtraOffersWhatCanBeMade has each jig that the neck can have, with its cause,
// and the mill's files; what was not asked for is not written. Without DRAWN=all some of
// the jigs are made alone.
func TestExtraOffersWhatCanBeMade(t *testing.T) {
	smallJigs(t)
	n, x := demoExtra(t)
	o, _, err := JigAsked(nil).For(n)
	require.NoError(t, err)
	got := map[string]string{}
	for _, j := range x.Jigs {
		got[j.Name] = j.Cause
	}
	require.Greater(t, len(got), 6)
	for _, c := range drawn.Some(jig.Choices(n, o), 6) {
		cause, offered := got[c.Name]
		_, err := jig.New(n, o, c.Name)
		require.Equal(t, err == nil, offered, c.Name)
		if offered {
			require.Equal(t, c.Cause, cause, c.Name)
		}
	}
	require.Contains(t, got, "rails")
	require.Empty(t, got["rails"], "by name only, and offered")

	files, err := x.Files([]string{"jigs/bevels", "jigs/rest", "mill.dxf", "plan.pdf"})
	require.NoError(t, err)
	var names []string
	for _, p := range files {
		names = append(names, p.File)
		var b bytes.Buffer
		require.NoError(t, p.Write(&b), p.File)
		require.Greater(t, b.Len(), 500, p.File)
	}
	require.Equal(t, []string{"jigs/bevels.3mf", "jigs/bevels.svg", "jigs/bevels.png", "jigs/rest.3mf", "jigs/rest.png", "jigs/index.md", "mill.dxf"}, names)
	for _, name := range names {
		require.True(t, IsExtra(name), name)
	}
	require.False(t, IsExtra("plan.pdf"))
	files, err = x.Files(nil)
	require.NoError(t, err)
	require.Empty(t, files)
}

// TestJigFilesAreKnown has the list of all files that a folder of jigs can have hold
// those that are made, in both formats and in numbers. Without DRAWN=all it takes some
// of the jigs.
func TestJigFilesAreKnown(t *testing.T) {
	n, err := neck.New(spec.Demo())
	require.NoError(t, err)
	o, size, err := JigAsked(nil).For(n)
	require.NoError(t, err)
	list, err := jig.Default(n, o)
	require.NoError(t, err)
	known, jigs := JigFiles(), drawn.Some(list.Jigs, 3)
	for _, format := range []string{"3mf", "stl"} {
		size.Format = format
		made, err := JigProducts(n, jigs, size)
		require.NoError(t, err)
		require.Equal(t, JigIndex, made[len(made)-1].File)
		for _, p := range made {
			assert.Contains(t, known, p.File)
		}
		assert.Equal(t, "."+format, path.Ext(made[0].File))
	}
	assert.Equal(t, []string{"a.stl"}, Numbered("a.stl", 1))
	assert.Equal(t, []string{"a-1.stl", "a-2.stl"}, Numbered("a.stl", 2))
	size.Bed.Width, size.Bed.Depth = 40, 40
	_, err = JigProducts(n, list.Jigs, size)
	var fault JigFault
	require.ErrorAs(t, err, &fault)
	assert.Equal(t, "bed", fault.Option)
}

// TestExtraPictures decodes every picture by the standard library: of a jig, and the
// mill's outlines.
func TestExtraPictures(t *testing.T) {
	smallJigs(t)
	_, x := demoExtra(t)
	pictures := x.Pictures()
	require.Len(t, pictures, len(x.Jigs)+1)
	var b bytes.Buffer
	require.NoError(t, pictures[0].Write(&b))
	img, err := png.Decode(&b)
	require.NoError(t, err)
	require.Equal(t, render.MinWidth, img.Bounds().Dx())
	mill := pictures[len(pictures)-1]
	require.Equal(t, "mill", mill.Name)
	require.NoError(t, mill.Write(&b))
	size, err := png.DecodeConfig(&b)
	require.NoError(t, err)
	require.Greater(t, size.Width, 1000)
}

// TestMillWithoutRoom says why there is no set-up, and writes none.
func TestMillWithoutRoom(t *testing.T) {
	s := spec.Demo()
	s.Blank.Length, s.Blank.Width = 560, 60
	s.Rod.Width, s.Width.Nut = 30, 40
	n, err := neck.New(s)
	require.NoError(t, err)
	setup, files := millProducts(n)
	require.Nil(t, setup)
	require.Len(t, files, 3)
	for _, p := range files {
		require.ErrorContains(t, p.Missing, "pins", p.File)
		require.Nil(t, p.Write)
		require.NotEmpty(t, p.Why())
	}
	require.Error(t, WriteMill(io.Discard, nil, spec.Millimetre, ".nc", export.PaperFor(s)), "no such format")
}
