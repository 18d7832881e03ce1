package scan

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"neckloft/mesh"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/spec"
)

// describe says what was found of the neck in a scan.
func (f *found) describe(u spec.Unit, scan Options) []string {
	out := []string{fmt.Sprintf("a flat %s long, from %s wide at the nut to %s at its other end", u.Rounded(f.flat), u.Rounded(f.width(0)), u.Rounded(f.width(f.flat)))}
	switch {
	case scan.Nut != nil:
		out = append(out, fmt.Sprintf("the nut's front is taken to be %s from where the flat begins", u.Rounded(*scan.Nut)))
	case f.headstock && scan.Board == 0:
		out = append(out, fmt.Sprintf("the nut's front is taken to be %s from where the flat begins, the usual shelf; give --nut if it is not", u.Rounded(defaultShelf)))
	default:
		out = append(out, "the nut's front is taken to be where the flat begins; give --nut if it is not")
	}
	// In the scan's unit, as --origin is read, to about a thousandth of a
	// millimetre.
	k := scan.Millimetres
	if k == 0 {
		k = 1
	}
	o := f.Origin.Scale(1 / k)
	decimals := 3 + int(math.Ceil(math.Log10(k)-1e-9))
	unit := scan.Unit
	if unit == "" {
		unit = "mm"
	}
	return append(out, fmt.Sprintf("--units %s --origin %.*f,%.*f,%.*f --along %.6f,%.6f,%.6f --up %.6f,%.6f,%.6f would say the same",
		unit, decimals, o.X, decimals, o.Y, decimals, o.Z, f.Along.X, f.Along.Y, f.Along.Z, f.Up.X, f.Up.Y, f.Up.Z))
}

// crowned reports whether the face that was taken for the glue plane is curved
// across, as that of a board is, and how: the least squares parabola
// z = c + a x + b y - k y²/2, whose radius is 1/k.
func (f *found) crowned(m *mesh.Mesh) (radius float64, ok bool) {
	const (
		band = 2.5  // mm about the plane
		most = 1500 // mm; flatter ones are taken for a flat
		min  = 100  // mm; no board is rounder
		rise = 0.25 // mm from edge to middle; less may be the scan's errors
	)
	var k float64
	var model [4]float64
	for pass := range 4 {
		var rows []float64 // four a point
		var zs []float64
		var spread [3]int // by thirds from the middle to the edge
		for _, v := range m.Vertices {
			p := f.to(v)
			half := f.width(p.X) / 2
			if p.X < 10 || p.X > 400 || !(math.Abs(p.Y) < 0.88*half) {
				continue
			}
			limit := band
			if pass > 0 {
				limit = 0.4
			}
			row := [4]float64{1, p.X / 100, p.Y, -p.Y * p.Y / 2}
			off := p.Z
			for i, c := range model {
				off -= c * row[i]
			}
			if math.Abs(off) > limit {
				continue
			}
			rows = append(rows, row[:]...)
			zs = append(zs, p.Z)
			spread[int(math.Abs(p.Y)/half/0.88*3)]++
		}
		if slices.Min(spread[:]) < 20 {
			return 0, false
		}
		c, ok := lsq.LinearFit(rows, zs)
		if !ok {
			return 0, false
		}
		copy(model[:], c)
		k = model[3]
	}
	half := f.width(200) / 2
	return 1 / k, k > 1.0/most && k < 1.0/min && k*half*half/2 > rise
}

// measure finds the taper of the sides in a frame that is given.
func (f *found) measure(m *mesh.Mesh) error {
	const bin = 6.0
	lo, hi := make(map[int]float64), make(map[int]float64)
	for _, v := range m.Vertices {
		p := f.to(v)
		if p.X < 0 || p.X > 300 || p.Z < -8 || p.Z > 1 || math.Abs(p.Y) > 150 {
			continue
		}
		k := int(p.X / bin)
		lo[k], hi[k] = math.Min(lo[k], p.Y), math.Max(hi[k], p.Y)
	}
	var x, w []float64
	for k := range 50 {
		if hi[k]-lo[k] > 5 {
			x, w = append(x, (float64(k)+0.5)*bin), append(w, hi[k]-lo[k])
		}
	}
	if len(x) < 5 {
		return errors.New("there is no neck in the scan at the place given by --origin, --along and --up, which are in the units of the scan")
	}
	a, b := robustLine(x, w)
	f.width = func(x float64) float64 { return a + b*x }
	return nil
}
