package neck

import "math"

// WithCorners returns the neck with the veneer of its headstock's back as wood, as solids
// have it, and with no corner of headstock and heel sharper than a radius of r, in mm,
// since smooth surfaces need one: it takes 0.42 r off a sharp edge at most.
func (n *Neck) WithCorners(r float64) (*Neck, error) {
	out, err := build(n.veneered().spec)
	if err != nil {
		return nil, err
	}
	out.edge = r
	return out, nil
}

// Loft returns the section at x of what the wood is cut from: with the blocks of
// headstock and heel carried on.
func (n *Neck) Loft(x float64) Section { return n.uncut(x) }

// LoftEnds returns where that begins and ends along the neck.
func (n *Neck) LoftEnds() (from, to float64) {
	from, to = n.loftStart(), n.loftEnd()
	if n.head.edge != nil {
		from -= 2 + math.Abs(n.faceVeneer()*n.head.sin)
	}
	return from, to
}
