package export

import (
	"fmt"
	"io"
	"math"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/jig"
	"neckloft/neck/numeric"
)

// Sizes of letters that are cut into a solid, in mm: how deep they are, and how far
// their cutters stand out of it.
const (
	engraved = 0.6
	letterUp = 0.4
)

// jigWords returns the words of a part's label that have room, and the height of
// their letters, which are no lower than those of the least stencil; no words where
// there is no room for any.
func jigWords(l *jig.Label, letters float64) (words string, height float64) {
	height = math.Min(letters, l.Height)
	if height < MinStencilHeight-1e-9 {
		return "", 0
	}
	for _, w := range l.Words {
		if StencilLength(w, height) <= l.Width {
			return w, height
		}
	}
	return "", 0
}

// jigOpenings returns the letters of a part's label in its own plane, from its
// corner, in the middle of its room.
func jigOpenings(l *jig.Label, letters float64) [][]mesh.Vec2 {
	words, height := jigWords(l, letters)
	if words == "" {
		return nil
	}
	openings, long := Stencil(words, height)
	by := mesh.Vec2{X: (l.Width - long) / 2, Y: (l.Height - height) / 2}
	for i := range openings {
		openings[i] = mesh.Region{Outer: openings[i]}.Translate(by).Outer
	}
	return openings
}

// through reports whether a part's label lies in the plane of a plate.
func through(p *jig.Part) bool {
	return p.Flat() && p.Label.Along.Z == 0 && p.Label.Up.Z == 0
}

// JigRegion returns a plate's area to cut, its label in it.
func JigRegion(p jig.Part, letters float64) mesh.Region {
	r := p.Region
	if !through(&p) {
		return r
	}
	holes := append([][]mesh.Vec2{}, r.Holes...)
	for _, o := range jigOpenings(&p.Label, letters) {
		holes = append(holes, mesh.Region{Outer: o}.Translate(mesh.Vec2{X: p.Label.At.X, Y: p.Label.At.Y}).Outer)
	}
	r.Holes = holes
	return r
}

// JigSolid returns a part of a jig with its label cut in, as it lies on the bed.
// Letters are so high, or lower where the part has less room. Those who write files
// validate it.
func JigSolid(p jig.Part, letters float64) (*mesh.Mesh, error) {
	m := p.Mesh
	if p.Flat() {
		var err error
		if m, err = mesh.Extrude(JigRegion(p, letters), 0, p.Thick); err != nil {
			return nil, fmt.Errorf("%s: %w", p.Name, err)
		}
	}
	if !through(&p) {
		cut, err := jigLetters(&p.Label, letters)
		if err != nil {
			return nil, fmt.Errorf("%s: its label: %w", p.Name, err)
		}
		if cut != nil {
			if m, err = mesh.Subtract(m, cut); err != nil {
				return nil, fmt.Errorf("%s: its label: %w", p.Name, err)
			}
		}
	}
	return m, nil
}

// jigLetters returns what letters take out of a solid, nil for none.
func jigLetters(l *jig.Label, letters float64) (*mesh.Mesh, error) {
	deep := engraved
	if l.Deep > 0 {
		deep = l.Deep
	}
	return jigLettering(l, letters, -deep, letterUp)
}

// jigLettering returns letters as solids, from one height over the surface that they
// are read on to another; nil for none.
func jigLettering(l *jig.Label, letters, from, to float64) (*mesh.Mesh, error) {
	openings := jigOpenings(l, letters)
	if openings == nil {
		return nil, nil
	}
	out := l.Along.Cross(l.Up)
	all := &mesh.Mesh{}
	for _, o := range openings {
		m, err := mesh.Extrude(mesh.Region{Outer: o}, from, to)
		if err != nil {
			return nil, err
		}
		for i, v := range m.Vertices {
			m.Vertices[i] = l.At.Add(l.Along.Scale(v.X)).Add(l.Up.Scale(v.Y)).Add(out.Scale(v.Z))
		}
		all.Append(m)
	}
	return all, nil
}

// How deep under the surface the ink in cut letters begins and ends in pictures, mm.
const inkFrom, inkTo = 0.15, 0.4

// JigInk returns what fills the letters of a part a little under its surface, so that
// they are read in a picture; nil for a part without words.
func JigInk(p jig.Part, letters float64) (*mesh.Mesh, error) {
	l := p.Label
	if through(&p) {
		l.At.Z = p.Thick
	}
	return jigLettering(&l, letters, -inkTo, -inkFrom)
}

// JigBed is a bed with parts of jigs in their places on it.
type JigBed struct {
	Bed     Bed
	Objects []Object
	Parts   []jig.Part  // that lie there, in the same order
	Places  []jig.Frame // from the frame of each to that of the bed
}

// Solid returns all parts on the bed as one mesh of several bodies.
func (b JigBed) Solid() *mesh.Mesh {
	out := &mesh.Mesh{}
	for _, o := range b.Objects {
		out.Append(o.Mesh)
	}
	return out
}

// JigParts returns all parts of jigs, named with their jigs.
func JigParts(jigs []jig.Jig) []jig.Part {
	var out []jig.Part
	for _, j := range jigs {
		out = append(out, j.Parts...)
	}
	return out
}

// LayJigs puts the parts of jigs on beds, with their labels cut in.
func LayJigs(n *neck.Neck, parts []jig.Part, bed Bed) ([]JigBed, error) {
	letters := LettersFor(n.Spec())
	solids, named := map[string]*mesh.Mesh{}, map[string]jig.Part{}
	var pieces []Piece
	made, faults := make([]*mesh.Mesh, len(parts)), make([]error, len(parts))
	numeric.EachAtOnce(len(parts), func(i int) { made[i], faults[i] = JigSolid(parts[i], letters) })
	for i, p := range parts {
		m, err := made[i], faults[i]
		if err != nil {
			return nil, err
		}
		if _, twice := solids[p.Name]; twice {
			return nil, fmt.Errorf("two parts are called %s", p.Name)
		}
		solids[p.Name], named[p.Name] = m, p
		lo, hi := m.Bounds()
		pieces = append(pieces, Piece{
			Name:   p.Name,
			Region: mesh.Region{Outer: []mesh.Vec2{{X: lo.X, Y: lo.Y}, {X: hi.X, Y: lo.Y}, {X: hi.X, Y: hi.Y}, {X: lo.X, Y: hi.Y}}},
			// Where the part's own axes come to lie.
			Marks: [][]mesh.Vec2{{{}, {X: 1}}},
		})
	}
	plates, err := bed.Lay(pieces)
	if err != nil {
		return nil, err
	}
	var out []JigBed
	for _, plate := range plates {
		b := JigBed{Bed: plate.Bed}
		for _, p := range plate.Pieces {
			origin, x := p.Marks[0][0], p.Marks[0][1].Sub(p.Marks[0][0])
			m := &mesh.Mesh{Faces: solids[p.Name].Faces}
			for _, v := range solids[p.Name].Vertices {
				q := origin.Add(x.Scale(v.X)).Add(mesh.Vec2{X: -x.Y, Y: x.X}.Scale(v.Y))
				m.Vertices = append(m.Vertices, mesh.Vec{X: q.X, Y: q.Y, Z: v.Z}.Settle())
			}
			b.Objects = append(b.Objects, Object{Name: p.Name, Mesh: m})
			b.Parts = append(b.Parts, named[p.Name])
			b.Places = append(b.Places, jig.Frame{
				Origin: mesh.Vec{X: origin.X, Y: origin.Y},
				X:      mesh.Vec{X: x.X, Y: x.Y}, Y: mesh.Vec{X: -x.Y, Y: x.X}, Z: mesh.Vec{Z: 1},
			})
		}
		out = append(out, b)
	}
	return out, nil
}

// JigPieces returns the parts that are plates as pieces to cut from a sheet.
func JigPieces(n *neck.Neck, parts []jig.Part) []Piece {
	var out []Piece
	for _, p := range parts {
		if p.Flat() {
			out = append(out, Piece{
				Name: p.Name, Region: JigRegion(p, LettersFor(n.Spec())), Thick: p.Thick,
				Writing: jigWriting(&p), unit: n.Spec().PrintUnit(),
			})
		}
	}
	return out
}

// WriteJigIndex writes the page that says how jigs are used, what each must not be
// used for, and which files hold it.
func WriteJigIndex(w io.Writer, n *neck.Neck, jigs []jig.Jig, files map[string][]string) error {
	b := &errWriter{w: w}
	u := n.Spec().PrintUnit()
	b.printf("# %s: jigs\n\nMade by neckloft from the spec with hash %.16s. Printed parts near a cutter are guides, not guards. Print solid, of a stiff plastic, and check each part against the neck before it is used.\n", n.Spec().Name, n.Spec().Hash())
	for _, j := range jigs {
		b.printf("\n## %s: %s\n\n", j.Name, j.Title)
		for i, line := range j.Use {
			b.printf("%d. %s\n", i+1, line)
		}
		b.printf("\n%s\n\n**%s**\n\n", j.Gaps, j.Never)
		for _, f := range files[j.Name] {
			b.printf("- [%s](%s)\n", f, f)
		}
		for _, p := range j.Parts {
			b.printf("- %s: %s\n", p.Name, jigSize(p, u.Rounded))
		}
	}
	b.printf("\n## Before you cut\n\n")
	for _, c := range Cautions {
		b.printf("- %s\n", c)
	}
	return b.err
}

// jigSize tells the size of a part.
func jigSize(p jig.Part, length func(float64) string) string {
	if p.Flat() {
		lo, hi := p.Region.Bounds()
		return fmt.Sprintf("%s x %s, from a sheet of %s", length(hi.X-lo.X), length(hi.Y-lo.Y), length(p.Thick))
	}
	lo, hi := p.Mesh.Bounds()
	return fmt.Sprintf("%s x %s x %s", length(hi.X-lo.X), length(hi.Y-lo.Y), length(hi.Z-lo.Z))
}

// errWriter prints until the first error.
type errWriter struct {
	w   io.Writer
	err error
}

func (b *errWriter) printf(format string, args ...any) {
	if b.err == nil {
		_, b.err = fmt.Fprintf(b.w, format, args...)
	}
}
