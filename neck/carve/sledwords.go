package carve

import (
	"fmt"
	"math"
	"neckloft/neck/spec"
)

// grain is the last digit, in mm, that Unit.Rounded prints.
func grain(u spec.Unit) float64 {
	if u == spec.Inch {
		return 0.001 * spec.MillimetresPerInch
	}
	return 0.01
}

// roundedUp prints a length like Unit.Rounded with its last digit rounded up:
// a height that a cutter keeps above the target, a piece that has to lift.
func roundedUp(u spec.Unit, mm float64) string {
	return u.Rounded(math.Ceil(mm/grain(u)-1e-6)*grain(u) + 0) // not -0
}

// roundedDown is roundedUp downwards: a reach that is there, a margin that is
// kept.
func roundedDown(u spec.Unit, mm float64) string {
	return u.Rounded(math.Floor(mm/grain(u)+1e-6) * grain(u))
}

// Words says what to set and measure on the sled, a sentence or two a line,
// lengths in unit u.
func (d SledDials) Words(u spec.Unit) []string {
	out := []string{d.shimWords(u)}
	if !d.Shim.Possible {
		return out
	}
	out = append(out, d.heightWords(u))
	if d.HasSag {
		out = append(out, d.sagWords(u))
		out = append(out, d.packingWords(u)...)
	}
	return out
}

func (d SledDials) shimWords(u spec.Unit) string {
	s := d.Shim
	face := "glue face"
	if d.Build.Board {
		face = "board"
	}
	lies := "Neck " + face + " down on the bed, the bed hinged"
	if d.Build.Tilts == TiltCarriage {
		lies = "Neck level and " + face + " down on the bed, the carriage over it hinged"
	}
	switch {
	case !s.Possible:
		return "No shim: " + s.Why + "."
	case s.Height == 0 && s.Wanted < noShim:
		return "The flat is parallel to the glue plane: no shim."
	}
	stack := u.Rounded(s.Height)
	if s.Stack.Pieces() > 0 {
		stack += " (" + s.Stack.Words(u) + ")"
	}
	line := fmt.Sprintf("%s at the %s, shim of %s at the %s, %s from the hinge along the bench", lies, d.HingeAt, stack, d.ShimAt, u.Rounded(s.At))
	if math.Abs(s.FarError) < noShim {
		if !d.Build.Fixed {
			return line + ": there it gives the slope exactly."
		}
		return line + "."
	}
	// Zeroed where the cut would be too deep, the error stays as wood at the
	// other end.
	zero, stays := d.HingeAt, d.ShimAt
	if s.ZeroFar() {
		zero, stays = stays, zero
	}
	return fmt.Sprintf("%s. It cannot stand where it fits, %s: zero the cutter at the %s, and %s stays at the %s.", line,
		u.Rounded(s.Height/s.Wanted*s.Span), zero, roundedUp(u, math.Abs(s.FarError)), stays)
}

func (d SledDials) heightWords(u spec.Unit) string {
	at := func(e SledEnd, end string) string {
		return fmt.Sprintf("at the %s of the run (x = %s) %s above the bed and %s above the bench", end, u.Rounded(e.X), roundedUp(u, e.OverBed), roundedUp(u, e.OverBench))
	}
	line := fmt.Sprintf("Height of the cutter: %s; %s.", at(d.Near, d.HingeAt), at(d.Far, d.ShimAt))
	if t := d.Build.Template; t > 0 {
		what := "template's"
		if d.Build.Board {
			what = "fretboard's"
		}
		line += fmt.Sprintf(" The %s %s on the glue face is in them.", what, u.Rounded(t))
	}
	return line
}

func (d SledDials) sagWords(u spec.Unit) string {
	s := d.Sag
	place := fmt.Sprintf("%s from the hinge, at x = %s", u.Rounded(s.MostAt), u.Rounded(s.MostX))
	if s.Deeper {
		return fmt.Sprintf("The carriage sags most under the router %s: by %s, towards the wood. Set the cutter that much higher, and up to %s stays.", place, roundedUp(u, s.Most), roundedUp(u, s.Stays))
	}
	line := fmt.Sprintf("The bed sags most under the router %s: by %s, away from the cutter, and that much wood stays.", place, roundedUp(u, s.Most))
	if s.Touches {
		line += " It comes down on the bench before that."
	}
	return line
}

func (d SledDials) packingWords(u spec.Unit) []string {
	if d.PackWhy != "" {
		return []string{"No packing: " + d.PackWhy + "."}
	}
	if len(d.Packings) == 0 {
		return nil
	}
	where := "under the bed"
	if d.Build.Carries == CarriesRouter {
		where = "under the carriage, on both sides of the neck,"
	}
	var out []string
	for _, p := range d.Packings {
		made := u.Rounded(p.Height)
		if p.Stack.Pieces() > 0 {
			made = fmt.Sprintf("%s (%s)", u.Rounded(p.Height+p.Error), p.Stack.Words(u))
		}
		line := fmt.Sprintf("Packing of %s %s %s from the hinge, at x = %s.", made, where, u.Rounded(p.At), u.Rounded(p.X))
		if math.Abs(p.Error) >= noShim {
			line += fmt.Sprintf(" The gap there is %s.", u.Rounded(p.Height))
		}
		out = append(out, line)
	}
	last := fmt.Sprintf("With it the sag is %s at most.", roundedUp(u, d.PackedSag.Most))
	if d.PackedSag.Most > d.Build.Allowed {
		last = fmt.Sprintf("With it the sag is still %s: take a stiffer plate.", roundedUp(u, d.PackedSag.Most))
	}
	out[len(out)-1] += " " + last
	return out
}
