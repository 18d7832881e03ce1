package carve

import "neckloft/neck/spec"

// DefaultTemplate is the thickness in mm of a template unless something else is
// said: common practice, no published source.
const DefaultTemplate = 12.0

// OptionsFor returns the options that a spec's plan begins with: those of its
// tools, and DefaultOptions for what they do not say, in the unit that it is
// printed in.
func OptionsFor(s *spec.Spec) Options {
	o, shop := DefaultOptions(s.PrintUnit()), s.Shop()
	o.Template = DefaultTemplate
	for _, b := range shop.Bits {
		o.Owned = append(o.Owned, BitOf(b))
	}
	if shop.Guide == spec.GuideTemplate {
		o.Guide = GuideTemplate
	}
	said(&o.Template, shop.Template)
	if b := s.Blank; b != nil && b.Template > 0 {
		o.Guide, o.Template = GuideTemplate, b.Template
	}
	if shop.Router == spec.RouterTable {
		o.Mode, o.Setup.Half = ModeTable, shop.Table.Length/2
	} else {
		said(&o.Base, shop.BaseWidth/2)
	}
	said(&o.Feed, shop.Feed)
	said(&o.HandRate, shop.HandRate*1e3)
	said(&o.Sled.RouterMass, shop.RouterMass)
	if sled := shop.Sled; sled != nil {
		said(&o.Sled.Span, sled.Span)
		said(&o.Sled.Offset, sled.Offset)
		said(&o.Sled.Thickness, sled.Thickness)
		said(&o.Sled.Width, sled.Width)
		said(&o.Sled.Modulus, sled.Modulus)
		said(&o.Sled.Unsupported, sled.Unsupported)
		if sled.Carries == spec.CarriesRouter {
			o.Sled.Carries = CarriesRouter
		}
	}
	return o
}

// said takes a value of the tools over, unless it is 0 for one that is not said.
func said(into *float64, v float64) {
	if v != 0 {
		*into = v
	}
}

// BitOf returns the bit that a shop's is for the plan.
func BitOf(b spec.ToolBit) Bit {
	out := DefaultBit(b.Radius)
	out.Called, out.Offset, out.Diameter = b.Name, b.Hold(), b.Widest()
	out.Straight = b.Straight
	said(&out.BearingHeight, b.BearingHeight)
	return out
}

// OwnedAs returns the bit of the shop with that radius, if it has one.
func (r *Router) OwnedAs(radius float64) (Bit, bool) {
	for _, b := range r.Owned {
		if d := b.Radius - radius; d > -sameSize && d < sameSize {
			return b, true
		}
	}
	return Bit{}, false
}
