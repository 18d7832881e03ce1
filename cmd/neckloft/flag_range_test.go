package main

import (
	"io"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A length out of its range is blamed on the flag that gave it, also where another
// package judges it by a name of its own; one from the spec is not.
func TestFlagRange(t *testing.T) {
	inFolder(t)
	for _, c := range []struct{ args, want string }{
		{"jigs --lining -1mm", "--lining: -1 mm; allowed: 0 mm to 10 mm"},
		{"jigs --fit 3mm", "--fit: 3 mm; allowed: 0 mm to 1 mm"},
		{"jigs --length 1000", "--length: 1000 mm; allowed: 10 mm to 200 mm"},
		{"mill --ball 0", "--ball: 0 mm; allowed: 0.5 mm to 60 mm"},
		{"mill --tabs -1", "--tabs: -1; allowed: 0 to 12"},
		{"plan --allowance 20mm", "--allowance: 20 mm; allowed: 0 mm to 10 mm"},
		{"plan --bit-radius 16in", "--bit-radius: 406.4 mm; allowed: 1 mm to 150 mm"},
		{"plan --sled-width 1mm", "--sled-width: 1 mm; allowed: 10 mm to 2000 mm"},
		{"plan --sled-modulus 1", "--sled-modulus: 1 MPa; allowed: 100 to 300000 MPa"},
		{"plan --height 900mm", "--height: 900 mm; allowed: more than -200 mm and less than 500 mm"},
		{"plan --hand-rate 1e9", "--hand-rate: 1e+09 cm3 a minute; allowed: 0.001 to 1000"},
		{"plan --router table --table-size 1mm", "--table-size: the table's reach from the bit's axis is 0.5 mm; allowed: 20 mm to 3000 mm"},
		{"gauges --thickness 900mm", "--thickness: 900 mm; allowed: 0.2 mm to 30 mm"},
	} {
		r := call("", strings.Fields(c.args)...)
		assert.Equal(t, exitUsage, r.code, c.args)
		assert.Contains(t, r.err, "neckloft: "+c.want+"\n", c.args)
	}
}

// Every flag that is blamed for a length is one.
func TestRangedFlagsExist(t *testing.T) {
	p := program{err: io.Discard}
	there := map[string]bool{}
	for _, verb := range p.verbs() {
		for _, flag := range rangedFlags {
			there[flag] = there[flag] || verb.Flags().Lookup(flag) != nil
		}
	}
	for name, flag := range rangedFlags {
		assert.True(t, there[flag], "%s: --%s", name, flag)
	}
}
