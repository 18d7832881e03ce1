package main

import (
	"strconv"
	"strings"

	"github.com/spf13/pflag"

	"neckloft/mesh"
)

// vectorFlag is a point or a direction of a scan: x,y,z.
type vectorFlag struct {
	name, text string
	mesh.Vec
}

// addVector defines a flag that is three numbers.
func addVector(fs *pflag.FlagSet, f *vectorFlag, name, usage string) {
	f.name = name
	fs.Var(f, name, usage)
}

func (f *vectorFlag) String() string { return f.text }
func (f *vectorFlag) Type() string   { return "x,y,z" }

func (f *vectorFlag) Set(text string) error {
	var v [3]float64
	parts := strings.Split(text, ",")
	ok := len(parts) == len(v)
	for i := 0; ok && i < len(v); i++ {
		var err error
		v[i], err = strconv.ParseFloat(strings.TrimSpace(parts[i]), 64)
		ok = err == nil && v[i]-v[i] == 0 // neither infinite nor no number
	}
	if !ok {
		return wrong("--%s: %q is not understood; allowed: three numbers such as 0,0,1", f.name, text)
	}
	f.text, f.Vec = text, mesh.Vec{X: v[0], Y: v[1], Z: v[2]}
	return nil
}

// given reports whether there is a vector.
func (f *vectorFlag) given() bool { return f.text != "" }
