package exact

import (
	"errors"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/mesh/brep"
)

// Round numbers of a spec often make two cuts end in the same plane, or one run along
// an edge of the wood: a pocket as wide as its channel, a bore as wide as the channel
// it ends in. There is no telling then on which side a face lies. Such a cutter is
// moved aside, each by another vector, by far less than what is promised.

// asides are the lengths of the ways that a cutter is moved aside, in mm, one after the
// other until it can be taken out. Planes are apart after the least; a cylinder that
// touches a plane wants more. All are below Promised.
var asides = [...]float64{0.0008, 0.0018, 0.0035, 0.0035, 0.0048, 0.0048}

// aside returns the vector of a try for the k-th cutter. It goes along no axis, nor in
// a plane of two.
func aside(k, try int) mesh.Vec {
	// By multiples of the golden ratio no two cutters have the same.
	_, turn := math.Modf(float64(k+1) * (math.Sqrt(5) - 1) / 2)
	way := mesh.Vec{X: 1 + turn/2, Y: 1.2 - turn/3, Z: 0.8 + turn/4}
	// The tries look different ways.
	signs := [...]mesh.Vec{{X: -1, Y: 1, Z: -1}, {X: 1, Y: -1, Z: 1}, {X: -1, Y: -1, Z: -1}, {X: 1, Y: 1, Z: 1}, {X: -1, Y: 1, Z: 1}, {X: 1, Y: -1, Z: -1}}
	s := signs[try%len(signs)]
	way = mesh.Vec{X: s.X * way.X, Y: s.Y * way.Y, Z: s.Z * way.Z}
	return way.Unit().Scale(asides[try])
}

// subtract takes cutters from a solid, those that touch what is there from a little
// aside.
func subtract(s *brep.Solid, cutters []*brep.Solid) (*brep.Solid, error) {
	list := slices.Clone(cutters)
	tries := map[int]int{}
	first := map[int]error{}
	for {
		out, err := brep.Subtract(s, list...)
		if err == nil {
			out = out.Shrunk()
			return out, out.Check()
		}
		var of *brep.CutError
		if !errors.As(err, &of) || !errors.Is(err, brep.ErrTouch) {
			return nil, &Uncut{err}
		}
		k := of.Cutter
		if first[k] == nil {
			first[k] = err
		}
		if tries[k] == len(asides) {
			return nil, &Uncut{first[k]}
		}
		list[k] = cutters[k].Moved(aside(k, tries[k]))
		tries[k]++
	}
}
