package live

import (
	"encoding/binary"
	"math"

	"neckloft/mesh"
)

// crease is the angle in radians from which an edge between faces is drawn
// sharp: between what a curve's facets turn at the coarsest tolerance and what
// a builder would call an edge.
const crease = 35 * math.Pi / 180

// buffers is a mesh as a graphics card takes it: a vertex for each different
// normal at a point.
type buffers struct {
	positions []float32
	normals   []int8 // four a vertex, the last one unused
	indices   []uint32
	thickness []float32 // at the vertices, or how they lean, where it was asked for
}

// newBuffers returns the buffers of a mesh.
func newBuffers(m *mesh.Mesh) *buffers {
	room := len(m.Vertices) * 5 / 4
	b := &buffers{
		positions: make([]float32, 0, 3*room),
		normals:   make([]int8, 0, 4*room),
		indices:   make([]uint32, 0, 3*len(m.Faces)),
	}
	normals := m.CornerNormals(crease)
	// The vertices of the buffers at a point of the mesh are a chain: the first, and
	// after each the next. Numbers count from 1, and 0 is none.
	first := make([]uint32, len(m.Vertices))
	next := make([]uint32, 1, 1+room)
	for i, f := range m.Faces {
		for k, v := range f {
			n := normals[i][k]
			x, y, z := snorm(n.X), snorm(n.Y), snorm(n.Z)
			at := first[v]
			for at != 0 && (b.normals[4*at-4] != x || b.normals[4*at-3] != y || b.normals[4*at-2] != z) {
				at = next[at]
			}
			if at == 0 {
				at = uint32(len(next))
				next = append(next, first[v])
				first[v] = at
				p := m.Vertices[v]
				b.positions = append(b.positions, float32(p.X), float32(p.Y), float32(p.Z))
				b.normals = append(b.normals, x, y, z, 0)
			}
			b.indices = append(b.indices, at-1)
		}
	}
	return b
}

// snorm is a number from -1 to 1 as a signed byte.
func snorm(v float64) int8 { return int8(math.Round(127 * math.Max(-1, math.Min(1, v)))) }

// meshInfo tells the page where the buffers of a mesh stand in a frame.
type meshInfo struct {
	Part     string `json:"part"`
	Vertices int    `json:"vertices"`
	Indices  int    `json:"indices"`

	// Thickness says that after the indices comes a number for each vertex.
	Thickness bool `json:"thickness,omitempty"`

	// Lean says that this number is how the surface leans along the neck.
	Lean bool `json:"lean,omitempty"`
}

// frameMagic begins every binary answer.
const frameMagic = "NLF1"

// mostShort is how many vertices a mesh has at most whose indices are short.
const mostShort = 1 << 16

// frame writes an answer: the magic, the length of the JSON, the JSON padded
// with spaces to a multiple of four bytes, then for each mesh its positions,
// normals, indices and, where it has them, thicknesses, all little-endian. Indices
// are of two bytes where the vertices are few enough, padded with zeros to a
// multiple of four bytes, or else of four.
func frame(head []byte, meshes []*buffers) []byte {
	size := 8 + (len(head)+3)/4*4
	for _, m := range meshes {
		size += 4*len(m.positions) + len(m.normals) + m.indexSize() + 4*len(m.thickness)
	}
	out := make([]byte, size, size+8) // with room for what a socket appends
	copy(out, frameMagic)
	binary.LittleEndian.PutUint32(out[4:], uint32((len(head)+3)/4*4))
	at := 8 + copy(out[8:], head)
	for ; at%4 != 0; at++ {
		out[at] = ' '
	}
	put := func(v uint32) {
		binary.LittleEndian.PutUint32(out[at:], v)
		at += 4
	}
	for _, m := range meshes {
		for _, v := range m.positions {
			put(math.Float32bits(v))
		}
		for _, v := range m.normals {
			out[at] = byte(v)
			at++
		}
		if m.short() {
			for i, v := range m.indices {
				binary.LittleEndian.PutUint16(out[at+2*i:], uint16(v))
			}
			at += m.indexSize()
		} else {
			for _, v := range m.indices {
				put(v)
			}
		}
		for _, v := range m.thickness {
			put(math.Float32bits(v))
		}
	}
	return out
}

// short reports whether the indices are of two bytes.
func (b *buffers) short() bool { return len(b.positions) <= 3*mostShort }

// indexSize returns how many bytes the indices take.
func (b *buffers) indexSize() int {
	if b.short() {
		return (2*len(b.indices) + 3) / 4 * 4
	}
	return 4 * len(b.indices)
}
