package spec

import "slices"

// A saidWord is a choice that may be left out: one of a few words, or "".
type saidWord struct {
	p     *string
	words []string
}

func (w saidWord) Get() int {
	if *w.p == "" {
		return -1
	}
	if i := slices.Index(w.words, *w.p); i >= 0 {
		return i
	}
	return len(w.words)
}

func (w saidWord) Set(n int) { *w.p = w.words[n] }

// said completes the field of a choice that may be left out.
func said[R any](f Field, at func(*R) *string) Field {
	f.Kind, f.Blank = KindChoice, true
	words := f.Choices
	f.At = func(row any) any { return saidWord{at(row.(*R)), words} }
	return f
}

// The limits of a bit, a sled and the rest are those that the plan has for the
// flags of the same names.
var toolsTable = &Table{
	Name: "tools", Title: "Tools", Help: "The machines of your shop, and how sheets are printed. They change nothing of the neck.",
	Rows:  Maybe(func(s *Spec) **Tools { return &s.Tools }),
	aside: true,
	Fields: []Field{
		said(Field{Key: "router", Label: "Router", Help: "how it is worked with", What: "a way to use a router", Absent: `"hand"`, Choices: []string{RouterHand, RouterTable}},
			func(t *Tools) *string { return &t.Router }),
		{Key: "router_mass", Kind: KindNumber, Label: "Router's mass", Unit: "kg", Help: "for the sag of a sled", Absent: "3.5 kg", Blank: true,
			Min: 0.1, Max: 50, From: 1, To: 8, At: in(func(t *Tools) *float64 { return &t.RouterMass })},
		{Key: "base_width", Kind: KindLength, Label: "Base plate", Help: "whole width of a hand router's base plate", Absent: "not looked at", Blank: true,
			Min: 10, Max: 1000, From: 60, To: 300, At: in(func(t *Tools) *float64 { return &t.BaseWidth })},
		{Key: "table_length", Kind: KindLength, Label: "Table, along", Help: "along the feed, the bit in its middle", Absent: "longer than the neck", Blank: true,
			Min: 50, Max: 5000, From: 300, To: 1500, At: in(func(t *Tools) *float64 { return &t.Table.Length })},
		{Key: "table_width", Kind: KindLength, Label: "Table, across", Help: "across the feed", Absent: "wide enough", Blank: true,
			Min: 50, Max: 5000, From: 200, To: 1000, At: in(func(t *Tools) *float64 { return &t.Table.Width })},
		said(Field{Key: "guide", Label: "Guide", Help: "what the bearing runs on", What: "a guide of the bearing", Absent: `"side"`, Choices: []string{GuideSide, GuideTemplate}},
			func(t *Tools) *string { return &t.Guide }),
		{Key: "template", Kind: KindLength, Label: "Template", Help: "thickness of the template", Absent: "12 mm", Blank: true,
			Min: 1, Max: 100, From: 3, To: 25, At: in(func(t *Tools) *float64 { return &t.Template })},
		{Key: "feed", Kind: KindLength, Label: "Feed", Help: "of the router in a minute, for an estimate of time", Absent: "none", Blank: true,
			Min: 10, Max: 20000, From: 200, To: 4000, Step: 50, At: in(func(t *Tools) *float64 { return &t.Feed })},
		{Key: "hand_rate", Kind: KindNumber, Label: "By hand", Unit: "cm³/min", Help: "wood taken off, for an estimate of time", Absent: "none", Blank: true,
			Min: 0.001, Max: 1000, From: 0.2, To: 20, At: in(func(t *Tools) *float64 { return &t.HandRate })},
		{Key: "kerf", Kind: KindLength, Label: "Saw kerf", Help: "what a saw cut takes", Absent: "3 mm", Blank: true,
			Min: 0.2, Max: 20, From: 0.5, To: 6, At: in(func(t *Tools) *float64 { return &t.Kerf })},
		{Key: "planing", Kind: KindLength, Label: "Planing", Help: "what planing takes off each sawn face", Absent: "1 mm", Blank: true,
			Min: 0.05, Max: 20, From: 0.2, To: 5, At: in(func(t *Tools) *float64 { return &t.Planing })},
		{Key: "trim", Kind: KindLength, Label: "Trim", Help: "what is cut off each end of a stick to square it", Absent: "10 mm", Blank: true,
			Min: 0.5, Max: 200, From: 2, To: 50, At: in(func(t *Tools) *float64 { return &t.Trim })},
		said(Field{Key: "paper", Label: "Paper", Help: "of the pages", What: "a paper", Absent: `"Letter" with inches, else "A4"`, Choices: []string{PaperA4, PaperLetter}},
			func(t *Tools) *string { return &t.Paper }),
		said(Field{Key: "print", Label: "Print in", Help: "unit of tables and pages", What: "a unit to print in", Absent: "the spec's units", Choices: []string{"mm", "in"}},
			func(t *Tools) *string { return &t.Print }),
	},
	Tables: []*Table{toolBitTable, toolSledTable, toolPrinterTable},
}

var toolBitTable = &Table{
	Name: "bit", Title: "Round-over bits", Item: "Bit",
	Help: "The bits that you have; the plan chooses among them. Of a bearing, its diameter or offset is given.",
	Rows: Several(func(t *Tools) *[]ToolBit { return &t.Bits }),
	Fields: []Field{
		{Key: "name", Kind: KindText, Label: "Name", Help: "what you call it", Blank: true, At: in(func(b *ToolBit) *string { return &b.Name })},
		{Key: "radius", Kind: KindLength, Label: "Radius", Help: "of its arc", What: "the radius of the bit's arc", Required: true,
			Min: 1, Max: 150, From: 3, To: 40, At: in(func(b *ToolBit) *float64 { return &b.Radius })},
		{Key: "offset", Kind: KindLength, Label: "Offset", Help: "how far the bearing holds the arc off the guide, outward", Absent: "0", Blank: true,
			Min: -20, Max: 20, From: -2, To: 5, At: in(func(b *ToolBit) *float64 { return &b.Offset })},
		{Key: "bearing", Kind: KindLength, Label: "Bearing", Help: "its diameter", Absent: "12.7 mm", Blank: true,
			Min: 1, Max: 100, From: 5, To: 30, At: in(func(b *ToolBit) *float64 { return &b.Bearing })},
		{Key: "bearing_height", Kind: KindLength, Label: "Bearing's height", Help: "below the arc: from its end to the foot of the bearing", Default: 5.0,
			Min: 0.5, Max: 50, From: 2, To: 15, At: in(func(b *ToolBit) *float64 { return &b.BearingHeight })},
		{Key: "straight", Kind: KindLength, Label: "Straight length", Help: "cutting edge above the arc", Default: 6.0,
			Min: 0, Max: 100, From: 0, To: 20, At: in(func(b *ToolBit) *float64 { return &b.Straight })},
		{Key: "diameter", Kind: KindLength, Label: "Diameter", Help: "the largest", Absent: "twice the radius and the bearing", Blank: true,
			Min: 2, Max: 400, From: 15, To: 100, At: in(func(b *ToolBit) *float64 { return &b.Diameter })},
	},
}

var toolSledTable = &Table{
	Name: "sled", Title: "Sled", Help: "For planing the back to its taper.",
	Rows: Maybe(func(t *Tools) **ToolSled { return &t.Sled }),
	Fields: []Field{
		{Key: "span", Kind: KindLength, Label: "Span", Help: "from its hinge to its shim", Absent: "the offset and the run", Blank: true,
			Min: 10, Max: 5000, From: 200, To: 1200, At: in(func(s *ToolSled) *float64 { return &s.Span })},
		{Key: "offset", Kind: KindLength, Label: "Offset", Help: "from its hinge to the near end of the run", Absent: "0", Blank: true,
			Min: -1000, Max: 5000, From: 0, To: 400, At: in(func(s *ToolSled) *float64 { return &s.Offset })},
		{Key: "thickness", Kind: KindLength, Label: "Thickness", Help: "of its plate", Absent: "18 mm", Blank: true,
			Min: 1, Max: 200, From: 6, To: 40, At: in(func(s *ToolSled) *float64 { return &s.Thickness })},
		{Key: "width", Kind: KindLength, Label: "Width", Help: "of its plate", Absent: "150 mm", Blank: true,
			Min: 10, Max: 2000, From: 60, To: 400, At: in(func(s *ToolSled) *float64 { return &s.Width })},
		{Key: "modulus", Kind: KindNumber, Label: "Modulus of elasticity", Unit: "MPa", Help: "of its plate", Absent: "9000 MPa, of birch plywood", Blank: true,
			Min: 100, Max: 300000, From: 2000, To: 80000, Step: 100, At: in(func(s *ToolSled) *float64 { return &s.Modulus })},
		{Key: "unsupported", Kind: KindLength, Label: "Unsupported", Help: "length without support, for the sag", Absent: "not asked for", Blank: true,
			Min: 10, Max: 5000, From: 100, To: 1000, At: in(func(s *ToolSled) *float64 { return &s.Unsupported })},
		said(Field{Key: "carries", Label: "Carries", Help: "what the plate carries", What: "what a plate carries", Absent: `"work"`, Choices: []string{CarriesWork, CarriesRouter}},
			func(s *ToolSled) *string { return &s.Carries }),
	},
}

var toolPrinterTable = &Table{
	Name: "printer", Title: "Printer", Help: "For gauges, or a cutter of such a bed.",
	Rows: Maybe(func(t *Tools) **ToolPrinter { return &t.Printer }),
	Fields: []Field{
		{Key: "bed_width", Kind: KindLength, Label: "Bed, width", Help: "with bed_depth", Absent: "220 mm", Blank: true,
			Min: 20, Max: 5000, From: 100, To: 500, At: in(func(p *ToolPrinter) *float64 { return &p.BedWidth })},
		{Key: "bed_depth", Kind: KindLength, Label: "Bed, depth", Help: "with bed_width", Absent: "220 mm", Blank: true,
			Min: 20, Max: 5000, From: 100, To: 500, At: in(func(p *ToolPrinter) *float64 { return &p.BedDepth })},
		{Key: "nozzle", Kind: KindLength, Label: "Nozzle", Help: "its diameter; bridges of letters are two lines wide", Absent: "0.4 mm", Blank: true,
			Min: 0.1, Max: 3, From: 0.2, To: 1.2, Step: 0.05, At: in(func(p *ToolPrinter) *float64 { return &p.Nozzle })},
	},
}
