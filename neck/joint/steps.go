package joint

import (
	"fmt"
	"math"
	"strings"

	"neckloft/neck"
	"neckloft/neck/spec"
)

// Work is the work on heel and joint in the order of a carving plan: it is done
// while the blank is square, before the back is tapered.
type Work struct {
	Title    string
	Do       []string // one a line
	Cautions []string
}

// Cautions of the joint: common practice, no published source.
const (
	cautionDepth = "Set a depth stop and drill a scrap of the block's thickness first: the drill's point comes out before its rim."
	cautionFit   = "Fit the joint dry and check angle, height and centreline with a straightedge before any glue; a joint that needs a hammer splits the block."
	cautionPare  = "Pare towards the middle of a shoulder, and from both edges: its rim alone is seen."
)

// WorkOn returns the work on a neck's heel and joint, and false where the spec
// says no more of them than a plain block.
func WorkOn(n *neck.Neck, u spec.Unit) (Work, bool) {
	s := n.Spec()
	h := s.Heel
	if h == nil || (h.Kind == "" || h.Kind == spec.HeelBlock) && s.Joint == nil && h.Rake == 0 && h.EndCorner == 0 && len(h.Bolts) == 0 {
		return Work{}, false
	}
	w := Work{Title: "Cut the joint while the blank is square"}
	if h.Through() {
		w.Title = "Leave the wood for the body"
		w.Do = []string{fmt.Sprintf("The wood goes on to x = %s at the tail, %s wide and %s deep from x = %s on: glue the wings to it, and carve towards them afterwards.",
			u.Rounded(n.End()), u.Rounded(h.Width), u.Rounded(n.HeelDepth()), u.Rounded(n.HeelFull()))}
		return w, true
	}
	w.face(n, u)
	w.tenon(n, u)
	w.holes(n, u)
	if h.Capped() {
		w.cheeks(n, u)
	}
	if InPocket(s) {
		w.Do = append(w.Do, fmt.Sprintf("The pocket is %s deep under the body's top: rout it to its template before the neck's sides are finished, and fit the block to it.", u.Rounded(n.HeelDepth()-Of(s).Stand)))
	}
	if s.Bridge != nil {
		w.Do = append(w.Do, strings.Join(SettingOf(n, HeightsOf(n).Angle()).Short(n, u), " "))
	}
	w.Cautions = append(w.Cautions, cautionFit)
	return w, true
}

// face is the end of the heel.
func (w *Work) face(n *neck.Neck, u spec.Unit) {
	h := n.Spec().Heel
	switch {
	case h.Rake != 0:
		way := "nearer to the nut"
		if h.Rake < 0 {
			way = "farther from the nut"
		}
		w.Do = append(w.Do, fmt.Sprintf("Mark the heel's face across the glue face at x = %s, and down both sides %s° out of square: at the cap, %s below, it lies %s %s.",
			u.Rounded(n.End()), spec.Number(math.Abs(h.Rake)*180/math.Pi, 2), u.Rounded(n.HeelDepth()), u.Rounded(math.Abs(n.HeelDepth()*math.Tan(h.Rake))), way))
	case h.EndCorner != 0:
		w.Do = append(w.Do, fmt.Sprintf("End of the block at x = %s, its corners rounded by %s in the top view.", u.Rounded(n.End()), u.Rounded(h.EndCorner)))
	default:
		w.Do = append(w.Do, fmt.Sprintf("End of the block at x = %s, square to the glue face.", u.Rounded(n.End())))
	}
}

// tenon is what goes on past the face.
func (w *Work) tenon(n *neck.Neck, u spec.Unit) {
	j := n.Spec().Joint
	if !j.Tenoned() {
		return
	}
	d := n.TenonDepth()
	line := fmt.Sprintf("Leave the %s past the face: %s long, to x = %s, %s deep, ", j.Kind, u.Rounded(j.Length), u.Rounded(n.Tip()), u.Rounded(d))
	switch {
	case j.Kind == spec.JointTenon:
		line += u.Rounded(j.Width) + " wide."
	default:
		line += fmt.Sprintf("at the glue face %s wide at the heel and %s at its end", u.Rounded(n.TenonWidth(n.End(), 0)), u.Rounded(n.TenonWidth(n.Tip(), 0)))
		if j.Taper != 0 {
			line += fmt.Sprintf(", at its lower edge %s and %s", u.Rounded(n.TenonWidth(n.End(), d)), u.Rounded(n.TenonWidth(n.Tip(), d)))
		}
		line += "."
	}
	w.Do = append(w.Do, line, "Saw the shoulders a little proud, then pare the rim to the line and hollow the rest.")
	w.Cautions = append(w.Cautions, cautionPare)
}

// holes are those of bolts and inserts.
func (w *Work) holes(n *neck.Neck, u spec.Unit) {
	s := n.Spec()
	for i := range s.Heel.Bolts {
		b := &s.Heel.Bolts[i]
		line := fmt.Sprintf("Bolt %d at x = %s, %s: drill %s", i+1, u.Rounded(s.X(b.At)), across(b.Holes(), u), u.Rounded(b.Diameter))
		if b.Depth == 0 {
			line += " through to the glue face, from both faces."
		} else {
			line += fmt.Sprintf(", %s deep from the back.", u.Rounded(b.Depth))
		}
		if b.Counterbore != 0 {
			line += fmt.Sprintf(" Counterbore %s, %s deep, first.", u.Rounded(b.Counterbore), u.Rounded(b.CounterboreDepth))
		}
		w.Do = append(w.Do, line)
	}
	if s.Joint != nil {
		for i := range s.Joint.Inserts {
			in := &s.Joint.Inserts[i]
			w.Do = append(w.Do, fmt.Sprintf("Insert %d in the end, %s below the glue face, %s: drill %s, %s deep, square to that end.",
				i+1, u.Rounded(in.Down), across(in.Holes(), u), u.Rounded(in.Diameter), u.Rounded(in.Depth)))
		}
	}
	if len(n.BoltHoles())+len(n.InsertHoles()) > 0 {
		w.Cautions = append(w.Cautions, cautionDepth)
	}
}

// across says where holes lie across.
func across(ys []float64, u spec.Unit) string {
	side := func(y float64) string {
		switch {
		case y < 0:
			return u.Rounded(-y) + " to the bass side"
		case y > 0:
			return u.Rounded(y) + " to the treble side"
		}
		return "on the centreline"
	}
	if len(ys) == 2 && ys[0] == -ys[1] {
		return u.Rounded(ys[1]) + " to either side"
	}
	if len(ys) == 2 {
		return side(ys[0]) + " and " + side(ys[1])
	}
	return side(ys[0])
}

// cheeks are those of a heel with a cap, after the joint.
func (w *Work) cheeks(n *neck.Neck, u spec.Unit) {
	h := n.Spec().Heel
	lean := h.Lean(n.Spec().Board.Thickness, n.Spec().Wall) * 180 / math.Pi
	w.Do = append(w.Do,
		fmt.Sprintf("The cap is %s wide and %s long, from x = %s, %s below the glue face: saw the heel line down to it from x = %s on.",
			u.Rounded(h.CapWidth), u.Rounded(n.CapLength()), u.Rounded(n.HeelFull()), u.Rounded(n.HeelDepth()), u.Rounded(n.HeelStart())),
		fmt.Sprintf("The cheeks lean in by %.1f° from the board's edge to the cap's: cut them after the joint fits, the face's rim last.", lean))
}
