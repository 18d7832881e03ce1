package spec

// heelKindFields are the keys of a heel beyond those of the plain block.
var heelKindFields = []Field{
	said(Field{Key: "kind", Label: "Kind", Help: "kind", What: "a kind of heel", Absent: `"block"`, Choices: []string{HeelBlock, HeelCap, HeelBoltOn, HeelThrough}},
		func(h *Heel) *string { return &h.Kind }),
	{Key: "cap_width", Kind: KindLength, Label: "Width of the cap", Help: "with a cap, and needed there: across it; the cheeks lean in to it", What: "the width of the cap", Blank: true,
		Min: 2, Max: 300, From: 10, To: 70, At: in(func(h *Heel) *float64 { return &h.CapWidth })},
	{Key: "sweep", Kind: KindNumber, Label: "Sweep of the heel line", Help: "with a cap: of the heel line, more drops later", Absent: "2.5", Blank: true,
		Min: 2, Max: 6, From: 2, To: 5, Step: 0.05, At: in(func(h *Heel) *float64 { return &h.Sweep })},
	{Key: "cheeks", Kind: KindNumber, Label: "Flare of the cheeks", Help: "with a cap: their flare, more widens later", Absent: "1", Blank: true,
		Min: 1, Max: 4, From: 1, To: 3, Step: 0.05, At: in(func(h *Heel) *float64 { return &h.Cheeks })},
	{Key: "rake", Kind: KindAngle, Label: "Rake of the face", Help: "of the heel's face from square; + the cap nearer to the nut", Blank: true,
		Min: radians(-15), Max: radians(15), From: radians(-6), To: radians(6), Step: 0.05, At: in(func(h *Heel) *float64 { return &h.Rake })},
	{Key: "end_corner", Kind: KindLength, Label: "Corners of the end", Help: "radius of the end's corners in the top view", Blank: true,
		Min: 0, Max: 150, From: 0, To: 20, At: in(func(h *Heel) *float64 { return &h.EndCorner })},
}

var boltTable = &Table{
	Name: "bolt", Title: "Bolts", Item: "Bolt",
	Help: "Bolts or screws from the heel's back, one row for each pair. Holes are square to the glue plane.",
	Rows: Several(func(h *Heel) *[]Bolt { return &h.Bolts }),
	Fields: []Field{
		{Kind: KindStation, Label: "Place", Help: "in the full block", At: in(func(b *Bolt) *Place { return &b.At })},
		{Key: "offset", Kind: KindLength, Label: "Offset", Help: "off the centreline, towards the bass (-) or treble (+)", Blank: true,
			Min: -100, Max: 100, From: -20, To: 20, At: in(func(b *Bolt) *float64 { return &b.Offset })},
		{Key: "apart", Kind: KindLength, Label: "Apart", Help: "between the two of a pair, centre to centre", Absent: "one alone", Blank: true,
			Min: 0, Max: 200, From: 0, To: 50, At: in(func(b *Bolt) *float64 { return &b.Apart })},
		{Key: "diameter", Kind: KindLength, Label: "Hole", Help: "diameter of the hole in the heel", What: "the diameter of the hole", Required: true,
			Min: 0.5, Max: 30, From: 1.5, To: 12, At: in(func(b *Bolt) *float64 { return &b.Diameter })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "of the hole, from the heel's back", Absent: "through to the board", Blank: true,
			Min: 0.5, Max: 200, From: 5, To: 40, At: in(func(b *Bolt) *float64 { return &b.Depth })},
		{Key: "counterbore", Kind: KindLength, Label: "Counterbore", Help: "diameter of a wider bore at the back", Absent: "none", Blank: true,
			Min: 0.5, Max: 60, From: 4, To: 20, At: in(func(b *Bolt) *float64 { return &b.Counterbore })},
		{Key: "counterbore_depth", Kind: KindLength, Label: "Counterbore's depth", Help: "from the heel's back", Blank: true,
			Min: 0.2, Max: 100, From: 1, To: 15, At: in(func(b *Bolt) *float64 { return &b.CounterboreDepth })},
		{Key: "screw", Kind: KindLength, Label: "Screw", Help: "length of the screw under its head", Absent: "not looked at", Blank: true,
			Min: 1, Max: 300, From: 20, To: 70, At: in(func(b *Bolt) *float64 { return &b.Screw })},
		{Key: "through", Kind: KindLength, Label: "Through", Help: "body and plate that the screw passes before the heel", Blank: true,
			Min: 0, Max: 300, From: 0, To: 60, At: in(func(b *Bolt) *float64 { return &b.Through })},
	},
}

var jointTable = &Table{
	Name: "joint", Title: "Joint", Help: "How the heel is joined to the body, and the pocket or mortise that takes it.",
	Rows: Maybe(func(s *Spec) **Joint { return &s.Joint }),
	Fields: []Field{
		said(Field{Key: "kind", Label: "Kind", Help: "how", What: "a kind of joint", Absent: `"pocket"`, Choices: []string{JointPocket, JointButt, JointTenon, JointDovetail}},
			func(j *Joint) *string { return &j.Kind }),
		{Key: "at", Kind: KindPlace, Label: "Body begins", Help: "where the body begins under the strings", Blank: true, Absent: "the face, or the full block",
			At: in(func(j *Joint) **Place { return &j.At })},
		{Key: "stand", Kind: KindLength, Label: "Stand", Help: "how far the glue plane stands over the body's top", Blank: true,
			Min: 0, Max: 60, From: 0, To: 15, At: in(func(j *Joint) *float64 { return &j.Stand })},
		{Key: "body", Kind: KindLength, Label: "Body", Help: "its thickness there", Absent: "not looked at", Blank: true,
			Min: 1, Max: 300, From: 25, To: 120, At: in(func(j *Joint) *float64 { return &j.Body })},
		{Key: "width", Kind: KindLength, Label: "Tenon's width", Help: "of the tenon at the heel's face and the glue plane", What: "the width of the tenon", Blank: true,
			Min: 2, Max: 300, From: 15, To: 70, At: in(func(j *Joint) *float64 { return &j.Width })},
		{Key: "length", Kind: KindLength, Label: "Tenon's length", Help: "of the tenon past the heel's face", What: "the length of the tenon", Blank: true,
			Min: 2, Max: 500, From: 10, To: 120, At: in(func(j *Joint) *float64 { return &j.Length })},
		{Key: "depth", Kind: KindLength, Label: "Tenon's depth", Help: "of the tenon below the glue plane", What: "the depth of the tenon", Absent: "the heel's whole depth", Blank: true,
			Min: 2, Max: 200, From: 10, To: 100, At: in(func(j *Joint) *float64 { return &j.Depth })},
		{Key: "flare", Kind: KindAngle, Label: "Dovetail's flare", Help: "of each side in the top view, wider towards its end", What: "the dovetail's flare", Blank: true,
			Min: 0, Max: radians(30), From: 0, To: radians(20), Step: 0.5, At: in(func(j *Joint) *float64 { return &j.Flare })},
		{Key: "taper", Kind: KindAngle, Label: "Dovetail's taper", Help: "of each side seen from the end, narrower towards the cap", Blank: true,
			Min: 0, Max: radians(20), From: 0, To: radians(10), Step: 0.5, At: in(func(j *Joint) *float64 { return &j.Taper })},
		{Key: "end_corner", Kind: KindLength, Label: "Tenon's corners", Help: "radius at the tenon's end in the top view", Blank: true,
			Min: 0, Max: 100, From: 0, To: 15, At: in(func(j *Joint) *float64 { return &j.Corner })},
		{Key: "clearance", Kind: KindLength, Label: "Clearance", Help: "between neck and body on each side, for the template", Blank: true,
			Min: 0, Max: 3, From: 0, To: 0.5, Step: 0.01, At: in(func(j *Joint) *float64 { return &j.Clearance })},
		{Key: "cutter", Kind: KindLength, Label: "Cutter", Help: "diameter of the bit for the pocket or mortise", Absent: "none", Blank: true,
			Min: 0.5, Max: 60, From: 3, To: 30, At: in(func(j *Joint) *float64 { return &j.Cutter })},
	},
	Tables: []*Table{insertTable},
}

var insertTable = &Table{
	Name: "insert", Title: "Inserts", Item: "Insert",
	Help: "Holes for threaded inserts or hanger bolts, in the end that lies against the body and square to it.",
	Rows: Several(func(j *Joint) *[]Insert { return &j.Inserts }),
	Fields: []Field{
		{Key: "down", Kind: KindLength, Label: "Down", Help: "below the glue plane", What: "how far below the glue plane it lies", Required: true,
			Min: 1, Max: 200, From: 5, To: 90, At: in(func(i *Insert) *float64 { return &i.Down })},
		{Key: "offset", Kind: KindLength, Label: "Offset", Help: "off the centreline, towards the bass (-) or treble (+)", Blank: true,
			Min: -100, Max: 100, From: -20, To: 20, At: in(func(i *Insert) *float64 { return &i.Offset })},
		{Key: "apart", Kind: KindLength, Label: "Apart", Help: "between the two of a pair, centre to centre", Absent: "one alone", Blank: true,
			Min: 0, Max: 200, From: 0, To: 40, At: in(func(i *Insert) *float64 { return &i.Apart })},
		{Key: "diameter", Kind: KindLength, Label: "Hole", Help: "diameter", What: "the diameter of the hole", Required: true,
			Min: 0.5, Max: 30, From: 3, To: 15, At: in(func(i *Insert) *float64 { return &i.Diameter })},
		{Key: "depth", Kind: KindLength, Label: "Depth", Help: "of the hole, from that end", What: "the depth of the hole", Required: true,
			Min: 0.5, Max: 200, From: 5, To: 40, At: in(func(i *Insert) *float64 { return &i.Depth })},
	},
}

// The heights are those of common practice, no published source.
var bridgeTable = &Table{
	Name: "bridge", Title: "Bridge", Help: "For the angle of the neck to the body's top.",
	Rows: Maybe(func(s *Spec) **Bridge { return &s.Bridge }),
	Fields: []Field{
		{Key: "height", Kind: KindLength, Label: "Height", Help: "of the bridge over the body's top", What: "the height of the bridge", Required: true,
			Min: 0, Max: 100, From: 0, To: 40, At: in(func(b *Bridge) *float64 { return &b.Height })},
		{Key: "gap", Kind: KindLength, Label: "Gap", Help: "of a straightedge on the frets over the bridge", Blank: true,
			Min: -20, Max: 50, From: -2, To: 6, At: in(func(b *Bridge) *float64 { return &b.Gap })},
		{Key: "dome", Kind: KindLength, Label: "Doming", Help: "how far the body's top has risen at the bridge", Blank: true,
			Min: -50, Max: 50, From: -3, To: 20, At: in(func(b *Bridge) *float64 { return &b.Dome })},
		{Key: "compensation", Kind: KindLength, Label: "Compensation", Help: "what the saddle lies past the scale length", Blank: true,
			Min: 0, Max: 30, From: 0, To: 8, At: in(func(b *Bridge) *float64 { return &b.Compensation })},
		{Key: "fret_height", Kind: KindLength, Label: "Fret height", Help: "of the frets over the board", Default: 1.0,
			Min: 0, Max: 5, From: 0, To: 2, Step: 0.05, At: in(func(b *Bridge) *float64 { return &b.FretHeight })},
	},
}
