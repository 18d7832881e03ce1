package export

import (
	"bufio"
	"io"

	"github.com/hschendel/stl"

	"neckloft/mesh"
)

// encodeASCII writes a mesh as ASCII STL, without validating it. Each number is
// the shortest that reads back as the same float32.
func encodeASCII(w io.Writer, m *mesh.Mesh, name string) error {
	solid := stl.Solid{
		Name:      solidName(name),
		IsAscii:   true,
		Triangles: make([]stl.Triangle, len(m.Faces)),
	}
	for i := range m.Faces {
		t := corners(m, i)
		solid.Triangles[i] = stl.Triangle{
			Normal:   normal(&t),
			Vertices: [3]stl.Vec3{t[0], t[1], t[2]},
		}
	}
	b := bufio.NewWriterSize(w, bufferSize)
	if err := solid.WriteAll(b); err != nil {
		return err
	}
	return b.Flush()
}
