package mesh

import (
	"math"
	"math/bits"
	"slices"
	"sort"
)

// bvh is a bounding volume hierarchy over the faces of a mesh: a binary tree
// of boxes in one array. The left child of node i is i + 1.
type bvh struct {
	nodes []bvhNode
	items []bvhItem // the faces, in the order of the leaves
}

// bvhNode is a leaf when count > 0, of items[first : first+count]; otherwise
// first is its right child.
type bvhNode struct {
	box          box
	first, count int32
}

// bvhItem is a face and its box.
type bvhItem struct {
	box  box
	face int32
}

const (
	bvhLeaf = 4 // most faces in a leaf
	// codeBits is the number of bits along an axis that a code has.
	codeBits = 10
	// bvhDepth bounds the depth: a level for each bit of the codes, and 2^32
	// faces of one code halved.
	bvhDepth = 3*codeBits + 32
)

// newBVH builds the tree of the faces of m. It sorts the faces by the bits of
// the places of their centres, taken in turn from the three axes, and parts
// them where the highest bit changes (C. Lauterbach and others, "Fast BVH
// Construction on GPUs", Computer Graphics Forum 28 (2009) 375-384). The tree
// depends on the mesh alone.
func newBVH(m *Mesh) *bvh {
	n := len(m.Faces)
	t := &bvh{nodes: make([]bvhNode, max(2*n-1, 0)), items: make([]bvhItem, n)}
	if n == 0 {
		return t
	}
	boxes := make([]box, n)
	centres := emptyBox()
	for i := range boxes {
		boxes[i] = triangleBox(m.Triangle(i))
		for k := range 3 {
			c := boxes[i].centre(k)
			centres.lo[k] = min(centres.lo[k], c)
			centres.hi[k] = max(centres.hi[k], c)
		}
	}
	codes := make([]uint64, n) // the code, and the face in the lower half
	for i := range boxes {
		codes[i] = boxes[i].code(&centres)<<32 | uint64(i)
	}
	codes = sortByHigh(codes)
	for i, c := range codes {
		f := int32(c & math.MaxUint32)
		t.items[i] = bvhItem{boxes[f], f}
	}
	t.part(codes, 0, 0, n)
	return t
}

// centre returns twice the centre of the box along an axis.
func (b *box) centre(axis int) float32 { return b.lo[axis] + b.hi[axis] }

// code mixes the bits of the place of the box's centre among all centres.
func (b *box) code(centres *box) uint64 {
	extent := float32(0)
	for k := range 3 {
		extent = max(extent, centres.hi[k]-centres.lo[k])
	}
	const cells = 1 << codeBits
	code := uint32(0)
	for k := range 3 {
		// Written so that what is not a number, as of overflow, is 0.
		c := (b.centre(k) - centres.lo[k]) / extent * cells
		if c > 0 {
			code |= spreadBits(uint32(min(c, cells-1))) << k
		}
	}
	return uint64(code)
}

// spreadBits puts two zeros before each of the lowest ten bits.
func spreadBits(v uint32) uint32 {
	v = (v | v<<16) & 0x030000ff
	v = (v | v<<8) & 0x0300f00f
	v = (v | v<<4) & 0x030c30c3
	return (v | v<<2) & 0x09249249
}

// part makes node the root of items[lo:hi]. A subtree of n faces owns 2 n - 1
// nodes from its root on, some of which stay unused.
func (t *bvh) part(codes []uint64, node, lo, hi int) {
	n := &t.nodes[node]
	if hi-lo <= bvhLeaf {
		n.box = t.items[lo].box
		for i := lo + 1; i < hi; i++ {
			n.box = n.box.join(&t.items[i].box)
		}
		n.first, n.count = int32(lo), int32(hi-lo)
		return
	}
	first, last := codes[lo]>>32, codes[hi-1]>>32
	mid := (lo + hi) / 2
	if first != last {
		bit := uint64(1) << (bits.Len64(first^last) - 1)
		limit := last &^ (bit - 1) << 32
		mid = lo + sort.Search(hi-lo, func(i int) bool { return codes[lo+i] >= limit })
	}
	left, right := node+1, node+2*(mid-lo)
	n.first = int32(right)
	t.part(codes, left, lo, mid)
	t.part(codes, right, mid, hi)
	n.box = t.nodes[left].box.join(&t.nodes[right].box)
}

// sortByHigh returns the keys by their upper 32 bits, those alike by the lower
// ones, by which they must be in order. It uses the room of keys.
func sortByHigh(keys []uint64) []uint64 {
	const digit, mask = 11, 1<<11 - 1
	if len(keys) < mask {
		slices.Sort(keys)
		return keys
	}
	other := make([]uint64, len(keys))
	for shift := 32; shift < 64; shift += digit {
		var start [mask + 2]int
		for _, k := range keys {
			start[k>>shift&mask+1]++
		}
		for i := range mask {
			start[i+1] += start[i]
		}
		for _, k := range keys {
			d := k >> shift & mask
			other[start[d]] = k
			start[d]++
		}
		keys, other = other, keys
	}
	return keys
}
