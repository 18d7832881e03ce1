package drawing

import (
	"image"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"

	"neckloft/neck/numeric"
)

// steady is a canvas that writes coordinates as text. It rounds them itself first,
// to a thousandth of a point, so that one that lies halfway between two, or a circle
// whose middle does, is written alike by all processors.
type steady struct{ vg.CanvasSizer }

func steadyLength(v vg.Length) vg.Length {
	return vg.Length(numeric.Round(float64(v), 1e-3))
}

func steadyPoint(p vg.Point) vg.Point { return Pt(steadyLength(p.X), steadyLength(p.Y)) }

func steadyPath(p vg.Path) vg.Path {
	out := make(vg.Path, len(p))
	for i, c := range p {
		c.Pos, c.Radius = steadyPoint(c.Pos), steadyLength(c.Radius)
		if c.Control != nil {
			control := make([]vg.Point, len(c.Control))
			for k, q := range c.Control {
				control[k] = steadyPoint(q)
			}
			c.Control = control
		}
		out[i] = c
	}
	return out
}

func (s steady) Stroke(p vg.Path)         { s.CanvasSizer.Stroke(steadyPath(p)) }
func (s steady) Fill(p vg.Path)           { s.CanvasSizer.Fill(steadyPath(p)) }
func (s steady) SetLineWidth(w vg.Length) { s.CanvasSizer.SetLineWidth(steadyLength(w)) }
func (s steady) FillString(f font.Face, at vg.Point, text string) {
	s.CanvasSizer.FillString(f, steadyPoint(at), text)
}
func (s steady) DrawImage(r vg.Rectangle, img image.Image) {
	s.CanvasSizer.DrawImage(vg.Rectangle{Min: steadyPoint(r.Min), Max: steadyPoint(r.Max)}, img)
}
