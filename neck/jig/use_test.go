package jig

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"neckloft/neck/necktest"
)

// Nothing is said of a lining where there is none, nor of pieces where there is one.
func TestUseFitsOptions(t *testing.T) {
	n := necktest.Demo(t)
	first := func(o Options, name string) string { return one(t, n, o, name).Use[0] }
	o := DefaultOptions()
	assert.Equal(t, "Glue the lining into the hollow, join the pieces with dowels, and lay waxed paper on the board.", first(o, "caul"))
	assert.Equal(t, "Join the pieces with dowels on a flat bench and lay waxed paper on the board.", first(o, "flat-caul"))
	assert.Equal(t, "Glue the lining into the hollow, and clamp or screw the foot to the bench.", first(o, "rest"))
	assert.Contains(t, one(t, n, o, "cradle").Gaps, "2.2 mm off the finished back, square to it: 2 mm for the lining and 0.2 mm clearance.")
	o.Lining, o.Pins = 0, true
	assert.Equal(t, "Join the pieces with the printed pins and lay waxed paper on the board.", first(o, "caul"))
	assert.Equal(t, "Clamp or screw the foot to the bench.", first(o, "rest"))
	assert.Equal(t, "Set each segment on a flat bench or in the vice under the station that is cut into it, its words reading from the nut.", first(o, "cradle"))
	assert.Contains(t, one(t, n, o, "cradle").Gaps, "0.2 mm off the finished back, square to it, without a lining.")
	o.Along = 600
	assert.Equal(t, "Lay waxed paper on the board.", first(o, "caul"))
	assert.Equal(t, "Lay waxed paper on the board.", first(o, "flat-caul"))
	o.Lining = 1
	assert.Equal(t, "Glue the lining into the hollow and lay waxed paper on the board.", first(o, "caul"))
}
