package neck

import "math"

// BackPlane returns u along the headstock's face from where on the line of its
// back is straight on the centreline: back_from of the spec where that is given.
// A volute does not count. The section may leave the profile later: see HeadFull.
func (n *Neck) BackPlane() float64 {
	x := -math.Max(n.headDepth, n.head.far+n.coveRun)
	if n.head.sin == 0 {
		x = math.Min(x, -n.headHang)
	}
	// A line square to the face from its back comes out nearer to the tip.
	return n.HeadU(x) + n.spec.Headstock.Thickness*n.head.sin/n.head.cos
}

// VeneeredThickness returns the thickness of the headstock at u along its face
// on the centreline, square to the face, with its veneers: that of the face is
// planed level with the glue plane towards the break, and that of the back is
// drawn out towards the neck.
func (n *Neck) VeneeredThickness(u float64) float64 {
	return n.veneered().HeadThickness(n.HeadX(u)) + n.VeneerOver(u)
}
