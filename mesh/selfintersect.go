package mesh

import (
	"math"
	"runtime"
	"sync"
	"sync/atomic"
)

// SelfIntersection looks for two faces that have more in common than the
// corners they share: faces that cross, touch, overlap in one plane or are
// folded onto each other. It returns the first such pair, i < j, in the order
// of i, then j, and whether there is one. Corners are shared when they have
// the same index.
//
// The answer is exact for the coordinates as they stand. Indices must be in
// range, coordinates finite and faces not degenerate; see Validate.
func (m *Mesh) SelfIntersection() (i, j int, found bool) {
	return selfIntersection(m, newBVH(m), nil)
}

// selfIntersection looks for it in the pairs of faces that are not of one
// sheet, if sheets are given.
func selfIntersection(m *Mesh, tree *bvh, sheets []int32) (i, j int, found bool) {
	if len(m.Faces) < 2 {
		return 0, 0, false
	}
	s := pairSearch{mesh: m, tree: tree, sheets: sheets}
	if sheets != nil {
		s.nodes = make([]int32, len(tree.nodes))
		s.gather(0)
	}
	s.best.Store(math.MaxUint64)

	tasks := s.tasks()
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), len(tasks)) {
		group.Go(func() {
			for {
				k := int(next.Add(1)) - 1
				if k >= len(tasks) {
					return
				}
				s.pairs(tasks[k][0], tasks[k][1])
			}
		})
	}
	group.Wait()
	best := s.best.Load()
	if best == math.MaxUint64 {
		return 0, 0, false
	}
	return int(best >> 32), int(best & math.MaxUint32), true
}

// pairSearch is a search for the first pair of faces that collide. A pair is
// skipped only when it comes after one that does, so that the result does not
// depend on the order of the work.
type pairSearch struct {
	mesh   *Mesh
	tree   *bvh
	sheets []int32       // by face, 0 for those that belong to none
	nodes  []int32       // by node, the sheet of all of its faces, or 0
	best   atomic.Uint64 // i << 32 | j
}

// gather fills in the sheet of a node.
func (s *pairSearch) gather(node int32) int32 {
	n := &s.tree.nodes[node]
	if n.count == 0 {
		left, right := s.gather(node+1), s.gather(n.first)
		if left == right {
			s.nodes[node] = left
		}
		return s.nodes[node]
	}
	sheet := s.sheets[s.tree.items[n.first].face]
	for _, item := range s.tree.items[n.first : n.first+n.count] {
		if s.sheets[item.face] != sheet {
			return 0
		}
	}
	s.nodes[node] = sheet
	return sheet
}

// settled reports whether all faces of two nodes are of one sheet.
func (s *pairSearch) settled(a, b int32) bool {
	return s.nodes != nil && s.nodes[a] != 0 && s.nodes[a] == s.nodes[b]
}

// tasks divides the search into pairs of nodes to compare; a node paired with
// itself stands for all pairs within.
func (s *pairSearch) tasks() [][2]int32 {
	const enough = 256
	open := [][2]int32{{0, 0}}
	var done [][2]int32
	for len(open) > 0 && len(open)+len(done) < enough {
		p := open[0]
		open = open[1:]
		a, b := p[0], p[1]
		if a != b {
			done = append(done, p)
			continue
		}
		if s.tree.nodes[a].count > 0 {
			done = append(done, p)
			continue
		}
		l, r := a+1, s.tree.nodes[a].first
		open = append(open, [2]int32{l, l}, [2]int32{l, r}, [2]int32{r, r})
	}
	return append(done, open...)
}

// pairs compares every face under node a with every one under node b.
func (s *pairSearch) pairs(a, b int32) {
	na, nb := &s.tree.nodes[a], &s.tree.nodes[b]
	switch {
	case s.settled(a, b):
	case a == b && na.count > 0:
		items := s.tree.items[na.first : na.first+na.count]
		for i := range items {
			for j := range i {
				s.compare(&items[i], &items[j])
			}
		}
	case a == b:
		s.pairs(a+1, a+1)
		s.pairs(na.first, na.first)
		s.pairs(a+1, na.first)
	case !na.box.meets(&nb.box):
	case na.count > 0 && nb.count > 0:
		for i := na.first; i < na.first+na.count; i++ {
			item := &s.tree.items[i]
			if !item.box.meets(&nb.box) {
				continue
			}
			for j := nb.first; j < nb.first+nb.count; j++ {
				s.compare(item, &s.tree.items[j])
			}
		}
	case nb.count > 0 || na.count == 0 && na.box.halfArea() >= nb.box.halfArea():
		s.pairs(a+1, b)
		s.pairs(na.first, b)
	default:
		s.pairs(a, b+1)
		s.pairs(a, nb.first)
	}
}

func (s *pairSearch) compare(a, b *bvhItem) {
	if !a.box.meets(&b.box) {
		return
	}
	i, j := uint32(a.face), uint32(b.face)
	if s.sheets != nil && s.sheets[i] != 0 && s.sheets[i] == s.sheets[j] {
		return
	}
	if i > j {
		i, j = j, i
	}
	pair := uint64(i)<<32 | uint64(j)
	best := s.best.Load()
	if pair >= best || !facesCollide(s.mesh.Vertices, s.mesh.Faces[i], s.mesh.Faces[j]) {
		return
	}
	for pair < best && !s.best.CompareAndSwap(best, pair) {
		best = s.best.Load()
	}
}
