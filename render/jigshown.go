package render

import (
	"neckloft/export"
	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/jig"
)

// shownPart is a part in a picture, with the frame that takes it to its place there.
type shownPart struct {
	jig.Part
	at jig.Frame
}

// jigShow is what is gathered for a picture of parts: solids, the words on them, the
// lines along their edges, and dowels.
type jigShow struct {
	parts, words, dowels *mesh.Mesh
	lines                [][2]mesh.Vec
	sights               []sight // how the words are seen
}

// sight is the direction that words are read from, and which way is up on them.
type sight struct{ from, up mesh.Vec }

// show gathers parts for a picture.
func show(n *neck.Neck, parts []shownPart) (*jigShow, error) {
	out := &jigShow{parts: &mesh.Mesh{}, words: &mesh.Mesh{}, dowels: &mesh.Mesh{}}
	letters := export.LettersFor(n.Spec())
	for _, p := range parts {
		solid, err := export.JigSolid(p.Part, letters)
		if err != nil {
			return nil, err
		}
		out.parts.Append(moved(solid, p.at))
		plain := p.Mesh
		if p.Flat() {
			if plain, err = mesh.Extrude(p.Region, 0, p.Thick); err != nil {
				return nil, err
			}
		}
		out.lines = append(out.lines, sharpEdges(moved(plain, p.at), jigCrease)...)
		words, err := export.JigInk(p.Part, letters)
		if err != nil {
			return nil, err
		}
		if words != nil {
			out.words.Append(moved(words, p.at))
			l := &p.Label
			out.sights = append(out.sights, sight{p.at.Turn(l.Along.Cross(l.Up)), p.at.Turn(l.Up)})
		}
		for _, d := range p.Dowels {
			from, along := p.at.Out(d.At), p.at.Turn(d.Out)
			const inside, sides = 1.0, 32
			out.dowels.Append(mesh.Rod(from.Sub(along.Scale(inside)), from.Add(along.Scale(jigGap+inside)), d.Diameter/2, sides, 0))
		}
	}
	return out, nil
}

// moved returns a mesh in another frame.
func moved(m *mesh.Mesh, to jig.Frame) *mesh.Mesh {
	out := &mesh.Mesh{Faces: m.Faces}
	for _, v := range m.Vertices {
		out.Vertices = append(out.Vertices, to.Out(v))
	}
	return out
}

// seen returns how well a camera sees words: the more, the more squarely it looks at
// words that are upright for it.
func (s *jigShow) seen(c camera) float64 {
	sum := 0.0
	for _, w := range s.sights {
		if d := w.from.Dot(c.back); d > 0.1 && w.up.Dot(c.up) > 0 {
			sum += d
		}
	}
	return sum
}

// addTo adds what is gathered to a scene.
func (s *jigShow) addTo(to *scene) {
	add := func(m *mesh.Mesh, material int) {
		if len(m.Faces) > 0 {
			to.board = append(to.board, to.triangles(m, func(int) int { return material })...)
		}
	}
	add(s.parts, board)
	add(s.words, ink)
	add(s.dowels, wood)
}
