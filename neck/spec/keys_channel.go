package spec

import "math"

// These say where the keys of a curve, a strip and a pocket work.
func curved(row any) bool   { return row.(*Channel).Curve != CurveStraight }
func stripped(row any) bool { return row.(*Channel).Top == TopStrip }
func closed(row any) bool   { return row.(*Channel).Top != TopOpen }
func pocketed(row any) bool { return row.(*Channel).Pocket.At != PocketNone }

var channelTable = &Table{
	Name: "channel", Title: "Channels", Item: "Channel",
	Help: "Further channels in the glue face, for rods and bars, each with its own place; [rod] is one of them too.",
	Rows: Several(func(s *Spec) *[]Channel { return &s.Channels }),
	Fields: []Field{
		{Key: "name", Kind: KindText, Label: "Name", Help: "what you call it", Absent: "its number", Blank: true,
			At: in(func(c *Channel) *string { return &c.Name })},
		{Key: "width", Kind: KindLength, Label: "Width", Help: "across", What: "the width of the channel", Required: true,
			Min: 0.5, Max: 50, From: 2, To: 14, At: in(func(c *Channel) *float64 { return &c.Width })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "below the glue plane, where it begins", What: "the depth of the channel below the glue plane", Required: true,
			Min: 0.5, Max: 100, From: 3, To: 18, At: in(func(c *Channel) *float64 { return &c.Depth })},
		{Key: "depth_end", Kind: KindLength, Label: "Depth at the end", Help: "a straight slope between, or a curve", Follows: "depth", Absent: "as where it begins",
			Min: 0.5, Max: 100, From: 3, To: 18, At: in(func(c *Channel) *float64 { return &c.DepthEnd })},
		{Key: "curve", Kind: KindChoice, Label: "Curve", Help: "of its floor", What: "a curve of the channel's floor", Default: "straight", Choices: []string{"straight", "circle", "parabola"},
			At: pick(func(c *Channel) *Curve { return &c.Curve })},
		{Key: "depth_middle", Kind: KindLength, Label: "Depth in the middle", Help: "of a curve, half way along it; more than at its ends", Blank: true, Only: curved,
			Min: 0.5, Max: 100, From: 3, To: 18, At: in(func(c *Channel) *float64 { return &c.DepthMiddle })},
		{Key: "floor", Kind: KindChoice, Label: "Floor", Help: "round as a ball-nose cutter leaves it", What: "a shape of the channel's floor", Default: "flat", Choices: []string{"flat", "round"},
			At: pick(func(c *Channel) *Floor { return &c.Floor })},
		{Key: "from", Kind: KindPlace, Label: "Begins", Help: "where it begins; off the wood it runs out through the end", What: "the place where the channel begins", Required: true,
			At: in(func(c *Channel) *Place { return &c.From })},
		{Key: "to", Kind: KindPlace, Label: "Ends", Help: "where it ends; off the wood it runs out through the end", What: "the place where the channel ends", Required: true,
			At: in(func(c *Channel) *Place { return &c.To })},
		{Key: "offset", Kind: KindLength, Label: "Offset", Help: "where it begins, to the bass (-) or treble (+)", Default: 0.0,
			Min: -150, Max: 150, From: -25, To: 25, At: in(func(c *Channel) *float64 { return &c.Offset })},
		{Key: "angle", Kind: KindAngle, Label: "Angle", Help: "top view; turned to bass (-) or treble (+)", Default: 0.0,
			Min: -15 * math.Pi / 180, Max: 15 * math.Pi / 180, From: -3 * math.Pi / 180, To: 3 * math.Pi / 180, At: in(func(c *Channel) *float64 { return &c.Angle })},
		{Key: "top", Kind: KindChoice, Label: "Closed by", Help: "what closes it under the board", What: "a way to close a channel", Default: "open", Choices: []string{"open", "strip", "filled"},
			At: pick(func(c *Channel) *Top { return &c.Top })},
		{Key: "strip_thickness", Kind: KindLength, Label: "Strip's thickness", Help: "where the channel begins; its underside follows the floor", Blank: true, Only: stripped,
			Min: 0.3, Max: 50, From: 1, To: 10, At: in(func(c *Channel) *float64 { return &c.StripThickness })},
		{Key: "strip_species", Kind: KindSpecies, Label: "Strip's species", Help: "of strip or filling", Absent: "the neck's wood", Blank: true, Only: closed,
			At: in(func(c *Channel) *string { return &c.StripWood.Species })},
		{Key: "strip_density", Kind: KindNumber, Label: "Strip's density", Help: "goes before the species", Unit: "kg/m³", Blank: true, Only: closed,
			Min: 100, Max: 1500, From: 300, To: 1200, Step: 5, At: in(func(c *Channel) *float64 { return &c.StripWood.Density })},
		{Key: "strip_modulus", Kind: KindNumber, Label: "Strip's modulus of elasticity", Help: "along the grain; goes before the species", Unit: "MPa", Blank: true, Only: closed,
			Min: 1000, Max: 40000, From: 5000, To: 22000, Step: 100, At: in(func(c *Channel) *float64 { return &c.StripWood.Modulus })},
		{Key: "bar_width", Kind: KindLength, Label: "Bar's width", Help: "of a bar glued in, as long as the channel", Absent: "no bar", Blank: true,
			Min: 0.5, Max: 50, From: 2, To: 12, At: in(func(c *Channel) *float64 { return &c.Bar.Width })},
		{Key: "bar_height", Kind: KindLength, Label: "Bar's height", Help: "square to the glue plane", Blank: true,
			Min: 0.5, Max: 100, From: 3, To: 15, At: in(func(c *Channel) *float64 { return &c.Bar.Height })},
		{Key: "bar_below", Kind: KindLength, Label: "Bar's top", Help: "below the glue plane; 0 is flush", Default: 0.0,
			Min: 0, Max: 100, From: 0, To: 10, At: in(func(c *Channel) *float64 { return &c.Bar.Below })},
		{Key: "bar_modulus", Kind: KindNumber, Label: "Bar's modulus of elasticity", Help: "as its maker states it", Unit: "MPa", Blank: true,
			Min: 500, Max: 1000000, From: 10000, To: 250000, Step: 1000, At: in(func(c *Channel) *float64 { return &c.Bar.Modulus })},
		{Key: "bar_density", Kind: KindNumber, Label: "Bar's density", Help: "as its maker states it", Unit: "kg/m³", Blank: true,
			Min: 100, Max: 25000, From: 500, To: 8000, Step: 10, At: in(func(c *Channel) *float64 { return &c.Bar.Density })},
		{Key: "pocket", Kind: KindChoice, Label: "Access pocket", Help: "from the channel's end outward", What: "an end of the channel", Default: "none", Choices: []string{"none", "nut", "heel"},
			At: pick(func(c *Channel) *PocketAt { return &c.Pocket.At })},
		{Key: "pocket_width", Kind: KindLength, Label: "Pocket's width", Help: "across", Blank: true, Only: pocketed,
			Min: 0.5, Max: 150, From: 5, To: 30, At: in(func(c *Channel) *float64 { return &c.Pocket.Width })},
		{Key: "pocket_length", Kind: KindLength, Label: "Pocket's length", Help: "along the face that it is routed into, from the channel's end", Blank: true, Only: pocketed,
			Min: 1, Max: 300, From: 5, To: 60, At: in(func(c *Channel) *float64 { return &c.Pocket.Length })},
		{Key: "pocket_depth", Kind: KindLength, Label: "Pocket's depth", Help: "from that face of the wood, without veneer, or the glue plane", Blank: true, Only: pocketed,
			Min: 0.5, Max: 100, From: 3, To: 20, At: in(func(c *Channel) *float64 { return &c.Pocket.Depth })},
	},
}
