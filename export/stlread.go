package export

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math"

	"github.com/hschendel/stl"

	"neckloft/mesh"
)

// ReadSTL reads a mesh from STL, binary or ASCII. Corners with equal
// coordinates become one vertex, in the order in which they first appear. A
// facet that has two equal corners has no area and is left out. The normals and
// the attributes of the file do not matter. The mesh need not be valid: see
// mesh.Validate.
//
// A file that is neither, that ends too early, or that holds no facet or a
// coordinate that is no finite number is an error.
func ReadSTL(r io.ReadSeeker) (*mesh.Mesh, error) {
	binary, err := isBinarySTL(r)
	if err != nil {
		return nil, err
	}
	var facets welder
	if binary {
		err = stl.CopyAll(r, &facets)
	} else {
		err = readASCII(r, facets.AppendTriangle)
	}
	if err != nil {
		return nil, err
	}
	return facets.mesh()
}

// ReadSTLFile reads a mesh from the STL file at path, see ReadSTL.
func ReadSTLFile(path string) (*mesh.Mesh, error) {
	f, err := openPlain(path)
	if err != nil {
		var pathErr *fs.PathError
		if errors.As(err, &pathErr) {
			err = pathErr.Err
		}
		return nil, fmt.Errorf("cannot read %s: %w", path, err)
	}
	defer f.Close()
	m, err := ReadSTL(f)
	if err != nil {
		return nil, fmt.Errorf("cannot read %s: %w", path, err)
	}
	return m, nil
}

// isBinarySTL tells the two forms apart by the size that the count in a binary
// file demands, since binary files that begin with "solid" are about. It leaves
// r at the start.
func isBinarySTL(r io.ReadSeeker) (bool, error) {
	size, err := r.Seek(0, io.SeekEnd)
	if err != nil {
		return false, err
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return false, err
	}
	head := make([]byte, headerSize+4+4*facetSize)
	n, err := io.ReadFull(r, head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return false, err
	}
	if _, err := r.Seek(0, io.SeekStart); err != nil {
		return false, err
	}
	text := bytes.HasPrefix(bytes.ToLower(bytes.TrimSpace(head[:n])), []byte("solid"))
	// No text holds a zero byte, and a binary file is full of them.
	text = text && bytes.IndexByte(head[:n], 0) < 0
	if n < headerSize+4 {
		if !text {
			return false, fmt.Errorf("this is no STL file: it has %d bytes and does not begin with \"solid\"", size)
		}
		return false, nil
	}
	count := binary.LittleEndian.Uint32(head[headerSize:])
	want := headerSize + 4 + facetSize*int64(count)
	if size != want && !text {
		if size < want && count < 1<<26 {
			return false, fmt.Errorf("the file is cut off: a binary STL with %d facets has %d bytes, and there are %d", count, want, size)
		}
		return false, fmt.Errorf("this is no whole STL file: a binary one with %d facets has %d bytes, not %d, and a text begins with \"solid\"",
			count, want, size)
	}
	return size == want, nil
}

// welder collects facets and joins corners with equal coordinates. It is what
// the STL library writes to.
type welder struct {
	m     mesh.Mesh
	index map[stl.Vec3]uint32
	count int // of the facets seen
	err   error
}

func (b *welder) SetName(string)          {}
func (b *welder) SetBinaryHeader([]byte)  {}
func (b *welder) SetASCII(bool)           {}
func (b *welder) SetTriangleCount(uint32) {}

func (b *welder) AppendTriangle(t stl.Triangle) {
	b.count++
	for i := range t.Vertices {
		v := &t.Vertices[i]
		for j := range v {
			if x := float64(v[j]); (math.IsNaN(x) || math.IsInf(x, 0)) && b.err == nil {
				b.err = fmt.Errorf("facet %d has the coordinate %g; allowed: finite numbers", b.count, x)
			}
			v[j] += 0 // negative zero is zero
		}
	}
	p, q, r := t.Vertices[0], t.Vertices[1], t.Vertices[2]
	if b.err != nil || p == q || q == r || r == p {
		return
	}
	b.m.Faces = append(b.m.Faces, mesh.Face{b.vertex(p), b.vertex(q), b.vertex(r)})
}

// vertex returns the index of the vertex at v.
func (b *welder) vertex(v stl.Vec3) uint32 {
	if i, ok := b.index[v]; ok {
		return i
	}
	if b.index == nil {
		b.index = make(map[stl.Vec3]uint32)
	}
	i := uint32(len(b.m.Vertices))
	b.m.Vertices = append(b.m.Vertices, mesh.Vec{X: float64(v[0]), Y: float64(v[1]), Z: float64(v[2])})
	b.index[v] = i
	return i
}

// mesh returns what has been collected.
func (b *welder) mesh() (*mesh.Mesh, error) {
	switch {
	case b.err != nil:
		return nil, b.err
	case len(b.m.Faces) == 0:
		return nil, errors.New("the STL file holds no facet with an area")
	}
	return &b.m, nil
}
