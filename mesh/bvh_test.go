package mesh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// requireTree checks that the boxes hold what is under them, that every face is
// in one leaf, and that the tree is no deeper than the searches allow for.
func requireTree(t *testing.T, m *Mesh) {
	tree := newBVH(m)
	var faces []int32
	var walk func(i int32, depth int) box
	walk = func(i int32, depth int) box {
		require.Less(t, depth, bvhDepth)
		node := tree.nodes[i]
		sum := emptyBox()
		if node.count > 0 {
			for _, item := range tree.items[node.first : node.first+node.count] {
				faces = append(faces, item.face)
				require.Equal(t, triangleBox(m.Triangle(int(item.face))), item.box)
				sum = sum.join(&item.box)
			}
		} else {
			l, r := walk(i+1, depth+1), walk(node.first, depth+1)
			sum = l.join(&r)
		}
		require.Equal(t, sum, node.box)
		return sum
	}
	if len(m.Faces) > 0 {
		walk(0, 0)
	}
	slices.Sort(faces)
	require.Len(t, faces, len(m.Faces))
	for i, f := range faces {
		require.EqualValues(t, i, f)
	}
}

func TestBVH(t *testing.T) {
	requireTree(t, &Mesh{})
	requireTree(t, solidTetrahedron())
	requireTree(t, solidBar(60, 60))
	requireTree(t, solidSphere(Vec{}, 3, 4))
	requireTree(t, soup(rand.New(rand.NewPCG(1, 1)), 5000, 0.1))

	// All in one place.
	same := &Mesh{Vertices: []Vec{{0, 0, 0}, {1, 0, 0}, {0, 1, 0}}}
	for range 1000 {
		same.Faces = append(same.Faces, Face{0, 1, 2})
	}
	requireTree(t, same)

	// Each face far smaller than all that follow.
	nested := &Mesh{}
	for i := range 500 {
		s := math.Pow(1.5, float64(i)/3)
		k := uint32(len(nested.Vertices))
		nested.Vertices = append(nested.Vertices, Vec{s, 0, 0}, Vec{s, s, 0}, Vec{s, 0, s})
		nested.Faces = append(nested.Faces, Face{k, k + 1, k + 2})
	}
	requireTree(t, nested)
}

func TestSortByHigh(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for _, n := range []int{1, 2, 100, 3000, 20000} {
		keys := make([]uint64, n)
		for i := range keys {
			keys[i] = uint64(r.Uint32()>>(r.IntN(30)))<<32 | uint64(i)
		}
		want := slices.Sorted(slices.Values(keys))
		require.Equal(t, want, sortByHigh(keys))
	}
}

func TestBVHIsDeterministic(t *testing.T) {
	m := soup(rand.New(rand.NewPCG(2, 2)), 20000, 0.1)
	a, b := newBVH(m), newBVH(m)
	assert.Equal(t, a.items, b.items)
	assert.Equal(t, a.nodes, b.nodes)
}

func TestBoxRoundsOutward(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 3))
	for range 1000 {
		x := math.Ldexp(r.NormFloat64(), r.IntN(200)-160)
		lo, hi := float64(roundDown(x)), float64(roundUp(x))
		require.LessOrEqual(t, lo, x)
		require.GreaterOrEqual(t, hi, x)
		if f := float64(float32(x)); f == x {
			require.Equal(t, lo, hi)
		} else {
			require.Equal(t, hi, float64(math.Nextafter32(float32(lo), float32(math.Inf(1)))))
		}
	}
}

func BenchmarkBVH(b *testing.B) {
	for _, m := range []*Mesh{solidBar(100, 60), solidBar(500, 200), soup(rand.New(rand.NewPCG(1, 1)), 200000, 0.01)} {
		b.Run(fmt.Sprint(len(m.Faces)), func(b *testing.B) {
			for b.Loop() {
				newBVH(m)
			}
		})
	}
}
