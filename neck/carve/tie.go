package carve

import (
	"math"

	"neckloft/neck"
)

// tieBand is how close two remainders are taken as the same: half of the last
// digit that is printed.
const tieBand = 0.005

// leftover is the wood over the target at one place of a section.
type leftover struct {
	most float64
	at   neck.YZ
}

// mostOf returns the most of what is left, and where.
//
// On a neck of like sides the same is left in two places, and rounding would
// choose between them anew at each station and on each processor. So of those
// within the tie band of the most the place on the bass side is named, and there
// the one farthest from the centreline.
func mostOf(places []leftover, bass neck.Side) (most float64, at neck.YZ) {
	most = math.Inf(-1)
	for _, p := range places {
		most = math.Max(most, p.most)
	}
	found := false
	for _, p := range places {
		if p.most >= most-tieBand && (!found || bass.Sign()*p.at.Y > bass.Sign()*at.Y) {
			at, found = p.at, true
		}
	}
	return most, at
}
