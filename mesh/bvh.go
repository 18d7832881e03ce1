package mesh

import "sync"

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
	bvhLeaf = 4  // most faces in a leaf, unless they cannot be parted
	bvhBins = 12 // bins of the surface area heuristic
	// bvhFair is the depth below which nodes are halved by count, so that no
	// input makes the tree deep.
	bvhFair = 40
	// bvhDepth bounds the depth: 2^32 faces halved after bvhFair levels.
	bvhDepth = bvhFair + 32
	// bvhTask is the number of faces from which on a subtree is worth a
	// goroutine.
	bvhTask = 4096
)

// newBVH builds the tree of the faces of m. Nodes are split where the surface
// area heuristic over bins of the centres finds it best, on the longest axis
// (I. Wald, "On fast construction of SAH-based bounding volume hierarchies",
// IEEE Symposium on Interactive Ray Tracing, 2007). The tree depends on the
// mesh alone.
func newBVH(m *Mesh) *bvh {
	n := len(m.Faces)
	t := &bvh{nodes: make([]bvhNode, max(2*n-1, 0)), items: make([]bvhItem, n)}
	if n == 0 {
		return t
	}
	bounds := emptyBox()
	for i := range m.Faces {
		b := triangleBox(m.Triangle(i))
		t.items[i] = bvhItem{b, int32(i)}
		bounds = bounds.join(&b)
	}
	var group sync.WaitGroup
	t.build(&group, 0, 0, n, 0)
	group.Wait()
	return t
}

// build makes node the root of items[lo:hi]. A subtree of n faces owns 2 n - 1
// nodes from its root on, some of which stay unused, so that subtrees can be
// built side by side and come out the same.
func (t *bvh) build(group *sync.WaitGroup, node, lo, hi, depth int) {
	items := t.items[lo:hi]
	bounds, centres := emptyBox(), emptyBox()
	for i := range items {
		b := &items[i].box
		bounds = bounds.join(b)
		for k := range 3 {
			c := b.centre(k)
			centres.lo[k] = min(centres.lo[k], c)
			centres.hi[k] = max(centres.hi[k], c)
		}
	}
	t.nodes[node].box = bounds
	if len(items) <= bvhLeaf {
		t.nodes[node].first, t.nodes[node].count = int32(lo), int32(len(items))
		return
	}
	mid := len(items) / 2
	if depth < bvhFair {
		mid = splitItems(items, &centres)
	}
	left, right := node+1, node+2*mid
	t.nodes[node].first = int32(right)
	if len(items) >= bvhTask {
		group.Go(func() { t.build(group, left, lo, lo+mid, depth+1) })
	} else {
		t.build(group, left, lo, lo+mid, depth+1)
	}
	t.build(group, right, lo+mid, hi, depth+1)
}

// centre returns twice the centre of the box along an axis.
func (b *box) centre(axis int) float32 { return b.lo[axis] + b.hi[axis] }

// splitItems orders the items by side and returns how many are on the first.
func splitItems(items []bvhItem, centres *box) int {
	axis := 0
	for k := 1; k < 3; k++ {
		if centres.hi[k]-centres.lo[k] > centres.hi[axis]-centres.lo[axis] {
			axis = k
		}
	}
	low := centres.lo[axis]
	scale := bvhBins / (centres.hi[axis] - low)
	half := len(items) / 2
	if !(scale > 0 && scale <= 1e30) {
		return half // all centres are the same, or not finite
	}
	bin := func(b *box) int { return min(int((b.centre(axis)-low)*scale), bvhBins-1) }

	var boxes [bvhBins]box
	var counts [bvhBins]int
	for k := range boxes {
		boxes[k] = emptyBox()
	}
	for i := range items {
		b := &items[i].box
		k := bin(b)
		boxes[k] = boxes[k].join(b)
		counts[k]++
	}

	best := cheapestSplit(&boxes, &counts, len(items))
	if best == 0 {
		return half
	}
	i, j := 0, len(items)
	for i < j {
		if bin(&items[i].box) < best {
			i++
		} else {
			j--
			items[i], items[j] = items[j], items[i]
		}
	}
	return i
}

// cheapestSplit returns the bin before which to part the items, so that the
// boxes of both sides, each by the number of its items, have the least surface;
// 0 if one side would be empty everywhere.
func cheapestSplit(boxes *[bvhBins]box, counts *[bvhBins]int, total int) int {
	// Cost of the items from bin k on, then of a split before each bin.
	var after [bvhBins]float32
	sum, n := emptyBox(), 0
	for k := bvhBins - 1; k > 0; k-- {
		if n += counts[k]; counts[k] > 0 {
			sum = sum.join(&boxes[k])
		}
		if n > 0 {
			after[k] = sum.halfArea() * float32(n)
		}
	}
	best, cost := 0, float32(0)
	sum, n = emptyBox(), 0
	for k := 1; k < bvhBins; k++ {
		if n += counts[k-1]; counts[k-1] > 0 {
			sum = sum.join(&boxes[k-1])
		}
		if n == 0 || n == total {
			continue
		}
		if c := sum.halfArea()*float32(n) + after[k]; best == 0 || c < cost {
			best, cost = k, c
		}
	}
	return best
}
