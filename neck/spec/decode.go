package spec

import "fmt"

// What a spec has where its file says nothing. The starter spec states the
// same values in its comments.
const (
	defaultName         = "neck"
	defaultPastLastFret = 8.0
	defaultWall         = 1.0
	defaultShape        = "C"
	defaultShelf        = 5.0
	defaultCove         = 15.0
	defaultHeadCorner   = 2.0
	defaultHeelCorner   = 3.0
	defaultCover        = 3.0
	defaultSpecies      = "sugar maple"
)

// specKeys lists the keys of each table of a spec, "" being the top of the
// file, in the order of the starter.
var specKeys = []struct {
	table string
	keys  []string
}{
	{"", []string{"name", "units", "scale", "width", "board", "depth", "profile", "wall", "rod", "volute", "headstock", "heel", "blank", "limits", "wood", "strings"}},
	{"scale", []string{"length", "frets"}},
	{"width", []string{"nut", "end", "past_last_fret"}},
	{"board", []string{"thickness", "radius_nut", "radius_end", "species", "density", "modulus"}},
	{"depth", []string{"fret", "x", "total"}},
	{"profile", []string{"fret", "x", "shape", "bass", "treble", "apex"}},
	{"wall", []string{"height"}},
	{"rod", []string{"width", "depth", "from", "to", "floor"}},
	{"volute", []string{"rise", "centre", "length"}},
	{"headstock", []string{"angle", "thickness", "length", "width", "shelf", "step", "cove", "corner"}},
	{"heel", []string{"start", "full", "total", "width", "end", "corner"}},
	{"blank", []string{"thickness", "width", "length"}},
	{"limits", []string{"cover"}},
	{"wood", []string{"species", "density", "modulus"}},
	{"strings", []string{"height_nut", "height_12", "joint", "set"}},
}

func keysOf(table string) []string {
	for _, t := range specKeys {
		if t.table == table {
			return t.keys
		}
	}
	return nil
}

// decoder turns a TOML document into a Spec and collects what is wrong.
type decoder struct {
	spec     *Spec
	problems Problems
	dropped  int // problems beyond maxProblems
}

// decodeSpec reads the spec that a document holds.
func decodeSpec(doc *tomlDocument) (*Spec, Problems) {
	d := &decoder{spec: &Spec{Name: defaultName, Source: doc.source}}
	for _, p := range doc.problems {
		d.add(p)
	}
	s := d.spec
	top := section{d, "", doc.root}
	top.checkKeys(keysOf(""))
	top.text("name", &s.Name)
	s.Units = top.units()

	if t := top.section("scale", "with the scale length and the number of frets"); t.table != nil {
		t.length("length", &s.Scale.Length, "the scale length")
		t.whole("frets", &s.Scale.Frets, "the number of frets")
	}
	if t := top.section("width", "with the width at the nut and at the board's end"); t.table != nil {
		s.Width.PastLastFret = defaultPastLastFret
		t.length("nut", &s.Width.Nut, "the width at the nut")
		t.length("end", &s.Width.End, "the width at the board's end")
		t.length("past_last_fret", &s.Width.PastLastFret, "")
	}
	if t := top.section("board", "with the fretboard's thickness"); t.table != nil {
		t.length("thickness", &s.Board.Thickness, "the board's thickness on the centreline")
		t.length("radius_nut", &s.Board.RadiusNut, "")
		s.Board.RadiusEnd = s.Board.RadiusNut
		if t.has("radius_end") && !t.has("radius_nut") {
			t.missing("radius_nut", "with radius_end, the radius at the nut")
		}
		t.length("radius_end", &s.Board.RadiusEnd, "")
		t.wood(&s.Board.Wood)
	}
	for _, t := range top.list("depth", "with fret (or x) and total") {
		target := DepthTarget{At: t.stationPlace()}
		t.length("total", &target.Total, "the thickness at the deepest point, board included,")
		s.Depth = append(s.Depth, target)
	}
	for _, t := range top.list("profile", "") {
		s.Profile = append(s.Profile, t.profile())
	}
	if !top.has("profile") {
		n, _ := ShapeFullness(defaultShape)
		s.Profile = []ProfileStation{{At: AtFret(1), Shape: defaultShape, Bass: n, Treble: n}}
	}
	s.Wall = defaultWall
	if t := top.section("wall", ""); t.table != nil {
		t.length("height", &s.Wall, "the height of the straight side")
	}
	if t := top.section("rod", ""); t.table != nil {
		r := &Rod{}
		t.length("width", &r.Width, "the width of the channel")
		t.length("depth", &r.Depth, "the depth of the channel below the glue plane")
		t.place("from", &r.From, "the place where the channel begins")
		t.place("to", &r.To, "the place where the channel ends")
		r.Floor = t.floor()
		s.Rod = r
	}
	if t := top.section("volute", ""); t.table != nil {
		v := &Volute{}
		t.length("rise", &v.Rise, "the wood it adds at its crest")
		t.place("centre", &v.Centre, "the place of its crest")
		t.length("length", &v.Length, "its whole length along the neck")
		s.Volute = v
	}
	if t := top.section("headstock", ""); t.table != nil {
		h := &Headstock{Shelf: defaultShelf, Cove: defaultCove, Corner: defaultHeadCorner}
		t.angle("angle", &h.Angle)
		t.length("thickness", &h.Thickness, "its thickness, square to the face,")
		t.length("length", &h.Length, "its length along the face")
		t.length("width", &h.Width, "its width")
		t.length("shelf", &h.Shelf, "")
		t.length("step", &h.Step, "")
		t.length("cove", &h.Cove, "")
		t.length("corner", &h.Corner, "")
		s.Headstock = h
	}
	if t := top.section("heel", ""); t.table != nil {
		h := &Heel{Corner: defaultHeelCorner}
		t.place("start", &h.Start, "the place where the neck begins to leave its profile")
		t.place("full", &h.Full, "the place where it is the full block")
		t.length("total", &h.Total, "the thickness of the block, board included,")
		t.length("width", &h.Width, "the width of the block")
		t.place("end", &h.End, "the place where the wood ends")
		t.length("corner", &h.Corner, "")
		s.Heel = h
	}
	if t := top.section("blank", ""); t.table != nil {
		b := &Blank{}
		t.length("thickness", &b.Thickness, "the thickness of the blank")
		t.length("width", &b.Width, "the width of the blank")
		t.length("length", &b.Length, "the length of the blank")
		s.Blank = b
	}
	s.Limits.Cover = defaultCover
	if t := top.section("limits", ""); t.table != nil {
		t.length("cover", &s.Limits.Cover, "")
	}
	s.Wood.Species = defaultSpecies
	if t := top.section("wood", ""); t.table != nil {
		if t.has("density") && t.has("modulus") {
			s.Wood.Species = "" // unless named too
		}
		t.wood(&s.Wood)
	}
	if t := top.section("strings", ""); t.table != nil {
		s.Strings = t.strings()
	}
	d.problems.sort()
	if d.dropped > 0 {
		d.problems = append(d.problems, Problem{File: doc.source.File, Message: fmt.Sprintf("and %d more problems", d.dropped)})
	}
	return s, d.problems
}

func (d *decoder) add(p Problem) {
	if len(d.problems) >= maxProblems {
		d.dropped++
		return
	}
	d.problems = append(d.problems, p)
}
