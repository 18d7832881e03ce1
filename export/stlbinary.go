package export

import (
	"encoding/binary"
	"fmt"
	"io"
	"math"

	"neckloft/mesh"
)

// Layout of a binary STL file: a header of 80 bytes, a little-endian uint32
// count, then 50 bytes a facet, which are the normal, three corners
// counter-clockwise from outside, twelve little-endian float32 in all, and a
// uint16 of attributes (source: "binary STL", rpdrc.ic.polyu.edu.hk).
const (
	headerSize = 80
	facetSize  = 50
)

// encodeBinary writes a mesh as binary STL, without validating it.
//
// It is written out here because the STL library, which reads the file back in
// the tests, wants a second copy of all facets and then makes a buffer and a
// call to w for each.
func encodeBinary(w io.Writer, m *mesh.Mesh, name string) error {
	if int64(len(m.Faces)) > math.MaxUint32 {
		return fmt.Errorf("%d facets are more than binary STL can count; allowed: %d", len(m.Faces), uint32(math.MaxUint32))
	}
	head := make([]byte, headerSize+4)
	copy(head[:headerSize], solidName(name))
	binary.LittleEndian.PutUint32(head[headerSize:], uint32(len(m.Faces)))
	if _, err := w.Write(head); err != nil {
		return err
	}
	block := make([]byte, 0, bufferSize/facetSize*facetSize)
	for i := range m.Faces {
		if len(block) == cap(block) {
			if _, err := w.Write(block); err != nil {
				return err
			}
			block = block[:0]
		}
		block = block[:len(block)+facetSize]
		putFacet(block[len(block)-facetSize:], corners(m, i))
	}
	_, err := w.Write(block)
	return err
}

// putFacet writes one facet to b.
func putFacet(b []byte, t [3][3]float32) {
	_ = b[facetSize-1] // one bounds check for all
	n := normal(&t)
	for i, v := range [4][3]float32{n, t[0], t[1], t[2]} {
		binary.LittleEndian.PutUint32(b[12*i:], math.Float32bits(v[0]))
		binary.LittleEndian.PutUint32(b[12*i+4:], math.Float32bits(v[1]))
		binary.LittleEndian.PutUint32(b[12*i+8:], math.Float32bits(v[2]))
	}
	b[48], b[49] = 0, 0
}
