package neck

import (
	"fmt"
	"math"

	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// Throat is the place between the nut and the plane of the headstock's back
// where the wood on the centreline is thinnest for what it should be. The nearer
// the back comes to its plane at once, the thicker it is: a long way there cuts
// the corner between the neck's back and the headstock's.
type Throat struct {
	X, U float64 // station, and along the face from the nut
	// Thickness is what is there, square to the face, and straight down under the
	// shelf. Wanted is the headstock's thickness, or the depth at the nut where
	// the neck is thinner.
	Thickness, Wanted float64
}

// throatSteps are the places that are looked at for the thinnest.
const throatSteps = 32

// Throat returns the thinnest place of the throat. The neck must have a
// headstock.
func (n *Neck) Throat() Throat {
	nut := n.centreDepth(0)
	at := func(u float64) Throat {
		t := Throat{X: n.HeadX(u), U: u, Wanted: math.Min(nut, n.spec.HeadThicknessAt(math.Max(u, n.spec.Break())))}
		if u <= n.spec.Break() {
			t.Thickness = n.centreDepth(-u)
		} else {
			t.Thickness = n.SquareThickness(u, 0)
		}
		return t
	}
	// The face's own edge divides the two ways to measure.
	to := math.Min(n.HeadFull(), n.HeadU(n.start)-0.01)
	thinnest := at(0)
	for _, part := range [][2]float64{{0, n.spec.Break()}, {n.spec.Break() + 1e-6, to}} {
		if part[0] >= part[1] {
			continue
		}
		_, u := numeric.Climb(func(u float64) float64 { t := at(u); return -t.Thickness / t.Wanted }, part[0], part[1], throatSteps)
		if t := at(u); t.Thickness/t.Wanted < thinnest.Thickness/thinnest.Wanted {
			thinnest = t
		}
	}
	return thinnest
}

// centreDepth returns the depth of the wood on the centreline at x.
func (n *Neck) centreDepth(x float64) float64 {
	sec := n.Section(x)
	d, _ := sec.DepthAt(0) // there is wood at the centreline of every section
	return d
}

// A throat is called thin where it has less than thinThroat of what it should
// have: as strong against bending as the square of it, not two thirds. Common
// practice, no published source. A place of the back's plane is told that leaves
// goodThroat.
const (
	thinThroat = 0.8
	goodThroat = 0.95
)

// checkThroat warns of a throat that is much thinner than the spec makes one
// expect, and tells what mends it.
func (n *Neck) checkThroat() spec.Problems {
	s, h := n.spec, n.spec.Headstock
	if h == nil {
		return nil
	}
	t := n.Throat()
	if t.Thickness >= thinThroat*t.Wanted {
		return nil
	}
	key, square, should := "headstock.thickness", ", square to the face", "the headstock's thickness"
	if h.BackFrom != 0 {
		key = "headstock.back_from"
	}
	if t.U <= n.spec.Break() {
		square = ""
	}
	if t.Wanted < n.spec.HeadThicknessAt(math.Max(t.U, n.spec.Break())) {
		should = "the wood's at the nut"
	}
	return spec.Problems{s.Warning(key, "between the nut and the plane of the headstock's back the wood is %s thick%s, at u = %s along the face (x = %s), where %s, %s, is expected: %s",
		n.Rounded(t.Thickness), square, n.Rounded(t.U), n.Rounded(t.X), n.Rounded(t.Wanted), should, n.mendThroat())}
}

// mendThroat says what makes the throat thicker.
func (n *Neck) mendThroat() string {
	s, h := n.spec, n.spec.Headstock
	volute := "add a volute"
	if s.Volute != nil {
		volute = "give the volute more rise or length"
	}
	// A place of the back's plane that a rule has.
	grain := 1.0
	if s.Units == spec.Inch {
		grain = spec.MillimetresPerInch / 20
	}
	with := func(from float64) (Throat, bool) {
		head, other := *h, *s
		head.BackFrom = from
		other.Headstock = &head
		m, err := build(&other)
		if err != nil {
			return Throat{}, false
		}
		return m.Throat(), true
	}
	lo := math.Ceil(h.LeastBackFrom()/grain-1e-9) * grain
	now := n.HeadU(-n.headDepth) + h.Thickness*math.Tan(h.Angle)
	hi := math.Ceil(now/grain-1) * grain // the last before the present one
	best, ok := with(lo)
	if lo >= hi || !ok || best.Thickness < thinThroat*best.Wanted {
		return volute + ", or make neck and headstock thicker"
	}
	for hi-lo > grain/2 {
		mid := math.Round((lo+hi)/2/grain) * grain
		if mid >= hi-grain/2 || mid <= lo+grain/2 {
			break
		}
		if t, ok := with(mid); ok && t.Thickness >= goodThroat*t.Wanted {
			lo, best = mid, t
		} else {
			hi = mid
		}
	}
	return fmt.Sprintf("let the back become plane sooner, at headstock.back_from = %s in place of %s, which leaves %s at the thinnest, or %s",
		s.Length(lo), n.Rounded(now), n.Rounded(best.Thickness), volute)
}
