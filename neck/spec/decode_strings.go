package spec

// What [strings] has where the file says nothing: centres of the strings above
// the board, fret height and clearance together. Common practice, no published
// source.
const (
	defaultHeightNut = 1.6
	defaultHeight12  = 3.0
)

// stringKeys lists the keys of one string.
var stringKeys = []string{"pitch", "frequency", "gauge", "core", "density", "wrap_density", "mass", "tension"}

// wood reads the keys of a material, where they are there.
func (s section) wood(dst *Wood) {
	s.text("species", &dst.Species)
	s.number("density", &dst.Density, "")
	s.number("modulus", &dst.Modulus, "")
}

// strings reads the table of that name.
func (s section) strings() *Strings {
	g := &Strings{HeightNut: defaultHeightNut, Height12: defaultHeight12}
	s.length("height_nut", &g.HeightNut, "")
	s.length("height_12", &g.Height12, "")
	if s.has("joint") {
		g.Joint = new(Place)
		s.place("joint", g.Joint, "")
	}
	v := s.get("set", "the list of strings")
	if v == nil {
		return g
	}
	if v.tables == nil || v.mixed {
		s.wrongType("set", v, `a list of strings, such as [ { pitch = "E4", gauge = 0.25 }, { pitch = "B3", gauge = 0.33 } ],`)
		return g
	}
	for i, table := range v.tables {
		t := section{s.d, indexKey(joinKey(s.at, "set"), i+1), table}
		t.checkKeys(stringKeys)
		var str String
		t.text("pitch", &str.Pitch)
		t.number("frequency", &str.Frequency, "")
		t.length("gauge", &str.Gauge, "")
		t.length("core", &str.Core, "")
		t.number("density", &str.Density, "")
		t.number("wrap_density", &str.WrapDensity, "")
		t.number("mass", &str.Mass, "")
		t.number("tension", &str.Tension, "")
		g.Set = append(g.Set, str)
	}
	return g
}

// strings writes the table of that name.
func (t *tomlWriter) strings(g *Strings) {
	t.header("[strings]")
	t.length("height_nut", g.HeightNut)
	t.length("height_12", g.Height12)
	if g.Joint != nil {
		t.inlinePlace("joint", *g.Joint)
	}
	for _, s := range g.Set {
		t.header("[[strings.set]]")
		if s.Pitch != "" {
			t.line("pitch", TOMLText(s.Pitch))
		}
		for _, v := range []struct {
			key    string
			value  float64
			length bool
		}{
			{"frequency", s.Frequency, false}, {"gauge", s.Gauge, true}, {"core", s.Core, true},
			{"density", s.Density, false}, {"wrap_density", s.WrapDensity, false},
			{"mass", s.Mass, false}, {"tension", s.Tension, false},
		} {
			switch {
			case v.value == 0:
			case v.length:
				t.length(v.key, v.value)
			default:
				t.line(v.key, t.plain(v.value))
			}
		}
	}
}
