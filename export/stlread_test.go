package export

import (
	"bytes"
	"encoding/binary"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/hschendel/stl"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
)

const oneFacet = `facet normal 0 0 1
  outer loop
    vertex 0 0 0
    vertex 1 0 0
    vertex 0 2.5e0 -0
  endloop
endfacet
`

// Forms of the text that other programs write, and what they hold.
func TestReadASCIIForms(t *testing.T) {
	want := []mesh.Vec{{X: 0, Y: 0, Z: 0}, {X: 1, Y: 0, Z: 0}, {X: 0, Y: 2.5, Z: 0}}
	for name, text := range map[string]string{
		"plain":          "solid a\n" + oneFacet + "endsolid a\n",
		"no name":        "solid\n" + oneFacet + "endsolid",
		"capitals":       strings.ToUpper("solid a\n" + oneFacet + "endsolid a\n"),
		"CR LF":          strings.ReplaceAll("solid a\n"+oneFacet+"endsolid a\n", "\n", "\r\n"),
		"keyword name":   "solid facet normal\n" + oneFacet + "endsolid facet normal\n",
		"one line":       "solid a\n" + strings.ReplaceAll(oneFacet, "\n", " ") + "\nendsolid a\n",
		"tabs":           "solid a\n" + strings.ReplaceAll(oneFacet, " ", "\t") + "endsolid a\n",
		"leading space":  "\n  solid a\n" + oneFacet + "  endsolid a\n",
		"many blanks":    "solid a\n" + strings.Repeat("\n", 500_000) + oneFacet + "endsolid a\n",
		"zero area left": "solid a\n" + strings.Replace(oneFacet, "1 0 0", "0 0 0", 1) + oneFacet + "endsolid a\n",
	} {
		m, err := ReadSTL(strings.NewReader(text))
		require.NoError(t, err, name)
		assert.Equal(t, want, m.Vertices, name)
		assert.Equal(t, []mesh.Face{{0, 1, 2}}, m.Faces, name)
	}
}

// A second solid is not lost, and shares the vertices of the first.
func TestReadSeveralSolids(t *testing.T) {
	one := "solid a\n" + oneFacet + "endsolid a\n"
	other := strings.Replace(one, "1 0 0", "5 0 0", 1)
	m, err := ReadSTL(strings.NewReader(one + "\n" + other))
	require.NoError(t, err)
	require.Equal(t, []mesh.Face{{0, 1, 2}, {0, 3, 2}}, m.Faces)
}

// The library's own reader is the reference where it can read.
func TestReadASCIIAgreesWithLibrary(t *testing.T) {
	data := written(t, func(b *bytes.Buffer) error {
		return encodeASCII(b, sphere(mesh.Vec{X: -3}, 0.7, 9, 11), "")
	})
	want, err := stl.ReadAll(bytes.NewReader(data))
	require.NoError(t, err)
	var got []stl.Triangle
	require.NoError(t, readASCII(bytes.NewReader(data), func(f stl.Triangle) { got = append(got, f) }))
	require.Equal(t, want.Triangles, got)
}

func TestReadSTLWelds(t *testing.T) {
	m := sphere(mesh.Vec{}, 5, 30, 40)
	data := written(t, func(b *bytes.Buffer) error { return encodeBinary(b, m, "") })
	got, err := ReadSTL(bytes.NewReader(data))
	require.NoError(t, err)
	require.Len(t, got.Vertices, 2+29*40)
	requireClosed(t, got)
	require.InDelta(t, volume(m), volume(got), 1e-9)
}

func TestReadSTLIgnoresAttributesAndHeader(t *testing.T) {
	data := written(t, func(b *bytes.Buffer) error { return encodeBinary(b, tetrahedron(), "") })
	copy(data, "solid") // many binary files begin so
	for i := 84; i < len(data); i += 50 {
		copy(data[i:], bytes.Repeat([]byte{0xff}, 12)) // a normal of NaN
		data[i+48], data[i+49] = 0xab, 0xcd
	}
	m, err := ReadSTL(bytes.NewReader(data))
	require.NoError(t, err)
	require.Equal(t, triangles(tetrahedron()), triangles(m))
}

func TestReadSTLErrors(t *testing.T) {
	whole := written(t, func(b *bytes.Buffer) error { return encodeBinary(b, tetrahedron(), "") })
	nan := bytes.Clone(whole)
	copy(nan[84+50+12:], []byte{0, 0, 0xc0, 0x7f})
	head := "solid a\n"
	for name, c := range map[string]struct{ data, want string }{
		"empty":          {"", "no STL file"},
		"other file":     {"%PDF-1.4", "no STL file"},
		"short binary":   {string(whole[:200]), "the file is cut off: a binary STL with 4 facets has 284 bytes, and there are 200"},
		"long binary":    {string(whole) + "x", "a binary one with 4 facets has 284 bytes, not 285"},
		"not finite":     {string(nan), "facet 2 has the coordinate NaN"},
		"no facets":      {head + "endsolid a\n", "holds no facet"},
		"zero facets":    {string(make([]byte, 84)), "holds no facet"},
		"text NaN":       {head + strings.Replace(oneFacet, "1 0 0", "1 nan 0", 1) + "endsolid", "facet 1 has the coordinate NaN"},
		"text too large": {head + strings.Replace(oneFacet, "1 0 0", "1 1e39 0", 1) + "endsolid", `line 5: "1e39" stands where a number is wanted`},
		"text cut":       {head + oneFacet, `line 8: the file ends before "endsolid"`},
		"facet cut":      {head + oneFacet[:strings.Index(oneFacet, " 0 0 0")], `line 4: the file ends before "endsolid"`},
		"no number":      {head + strings.Replace(oneFacet, "1 0 0", "1 zero 0", 1) + "endsolid", `line 5: "zero" stands where a number is wanted`},
		"two numbers":    {head + strings.Replace(oneFacet, "1 0 0", "1 0", 1) + "endsolid", `line 6: "vertex" stands where a number is wanted`},
		"four corners":   {head + strings.Replace(oneFacet, "  endloop", "vertex 1 1 1\nendloop", 1) + "endsolid", `line 7: "vertex" stands where "endloop" is wanted`},
		"after the end":  {head + oneFacet + "endsolid\n" + oneFacet, `line 10: "facet" stands outside a solid`},
		"long word":      {head + strings.Repeat("x", 1000), `"` + strings.Repeat("x", 40) + `"… stands where "facet"`},
		"long line":      {head + strings.Repeat("x", 2<<20), "too long"},
	} {
		_, err := ReadSTL(strings.NewReader(c.data))
		require.ErrorContains(t, err, c.want, name)
		assert.NotContains(t, err.Error(), "\n", name)
	}
}

func TestReadSTLFile(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "corner.stl")
	require.NoError(t, File(path, func(w io.Writer) error { return WriteSTL(w, tetrahedron(), STLOptions{}) }))
	m, err := ReadSTLFile(path)
	require.NoError(t, err)
	require.Equal(t, triangles(tetrahedron()), triangles(m))

	_, err = ReadSTLFile(dir)
	require.EqualError(t, err, "cannot read "+dir+": it is a folder, not a regular file")
	_, err = ReadSTLFile(filepath.Join(dir, "none.stl"))
	require.ErrorIs(t, err, os.ErrNotExist)
	require.ErrorContains(t, err, "cannot read "+filepath.Join(dir, "none.stl")+": ")
	bad := filepath.Join(dir, "bad.stl")
	require.NoError(t, File(bad, write("solid a\nfacette")))
	_, err = ReadSTLFile(bad)
	require.EqualError(t, err, "cannot read "+bad+`: line 2: "facette" stands where "facet" is wanted`)
}

// Whatever is read can be written and comes back the same.
func FuzzReadSTL(f *testing.F) {
	f.Add([]byte("solid a\n" + oneFacet + "endsolid a\n"))
	var b bytes.Buffer
	encodeBinary(&b, tetrahedron(), "")
	f.Add(b.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		m, err := ReadSTL(bytes.NewReader(data))
		if err != nil {
			return
		}
		for _, encode := range []func(io.Writer, *mesh.Mesh, string) error{encodeBinary, encodeASCII} {
			var b bytes.Buffer
			require.NoError(t, encode(&b, m, ""))
			again, err := ReadSTL(bytes.NewReader(b.Bytes()))
			require.NoError(t, err)
			require.Equal(t, triangles(m), triangles(again))
		}
	})
}

func BenchmarkReadSTL(b *testing.B) {
	m := bigSphere()
	for name, encode := range map[string]func(io.Writer, *mesh.Mesh, string) error{"binary": encodeBinary, "ascii": encodeASCII} {
		b.Run(name, func(b *testing.B) {
			var data bytes.Buffer
			require.NoError(b, encode(&data, m, ""))
			b.SetBytes(int64(data.Len()))
			for b.Loop() {
				if _, err := ReadSTL(bytes.NewReader(data.Bytes())); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// TestReadCutOffSTL checks that a binary file that begins with "solid", as some
// scanners write them, is told to be cut off and is not read as a text.
func TestReadCutOffSTL(t *testing.T) {
	var data bytes.Buffer
	data.WriteString("solid scan" + strings.Repeat(" ", 70))
	binary.Write(&data, binary.LittleEndian, uint32(40))
	for i := range 20 * 12 {
		binary.Write(&data, binary.LittleEndian, float32(i)*1.37)
		if i%12 == 11 {
			data.Write([]byte{0, 0})
		}
	}
	path := filepath.Join(t.TempDir(), "cut.stl")
	require.NoError(t, os.WriteFile(path, data.Bytes(), 0o666))
	_, err := ReadSTLFile(path)
	assert.ErrorContains(t, err, "the file is cut off: a binary STL with 40 facets has 2084 bytes, and there are 1084")
}
