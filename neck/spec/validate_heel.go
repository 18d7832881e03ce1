package spec

import "math"

const (
	leastShoulder = 0.5 // mm of wood beside or under a tenon
	leastRim      = 1.0 // mm of wood round a hole
)

// heelKind checks what the kinds of heel ask for beyond the plain block.
func (c *checker) heelKind() {
	h := c.s.Heel
	if h == nil {
		return
	}
	c.capOnly("heel.cap_width", h.CapWidth)
	c.capOnly("heel.sweep", h.Sweep)
	c.capOnly("heel.cheeks", h.Cheeks)
	c.cap()
	if h.Through() {
		c.throughOnly()
		return
	}
	c.face()
	for i := range h.Bolts {
		c.bolt(indexKey("heel.bolt", i+1), &h.Bolts[i])
	}
}

// capOnly refuses a key that only a heel with a cap has.
func (c *checker) capOnly(key string, v float64) {
	if v != 0 && !c.s.Heel.Capped() {
		c.errorf(key, "only a heel with a cap has this; leave it out, or write kind = %q under [heel]", HeelCap)
	}
}

// cap checks the cap against the heel's top.
func (c *checker) cap() {
	s, h := c.s, c.s.Heel
	if !h.Capped() || !c.ok("heel.kind", "heel.cap_width", "heel.width", "heel.corner", "heel.total", "board.thickness", "wall.height") {
		return
	}
	if h.CapWidth == 0 {
		c.errorf("heel.cap_width", "missing; a heel with a cap needs the width of the cap")
		return
	}
	if h.CapWidth > h.Width {
		c.errorf("heel.cap_width", "a cap %s wide is wider than the heel at its top, %s; allowed: up to %s", c.mm(h.CapWidth), c.mm(h.Width), c.most(h.Width))
		return
	}
	lean := h.Lean(s.Board.Thickness, s.Wall)
	if least := 2 * h.Corner * (1 - math.Sin(lean)) / math.Cos(lean); h.CapWidth <= least {
		c.errorf("heel.corner", "corners of radius %s leave nothing of a cap %s wide; allowed: less than %s", c.mm(h.Corner), c.mm(h.CapWidth), c.most(h.Corner*h.CapWidth/least))
	}
}

// Lean returns the angle between the cheeks of a heel with a cap and the plane
// along the neck and square to the glue plane: the cheeks are planes from
// the foot of the wall to the edges of the cap.
func (h *Heel) Lean(board, wall float64) float64 {
	return math.Atan((h.Width - h.CapWidth) / 2 / (h.Total - board - wall))
}

// throughOnly refuses what a neck that goes on to the tail cannot have.
func (c *checker) throughOnly() {
	s, h := c.s, c.s.Heel
	if h.Rake != 0 {
		c.errorf("heel.rake", "a neck-through has no heel's face; leave rake out")
	}
	if h.EndCorner != 0 {
		c.errorf("heel.end_corner", "a neck-through runs out at the tail; leave end_corner out")
	}
	if len(h.Bolts) > 0 {
		c.errorf("heel.bolt[1]", "a neck-through has no bolts; leave [[heel.bolt]] out")
	}
	if s.Joint != nil {
		c.errorf("joint", "a neck-through has no joint; leave [joint] out")
	}
}

// face checks the rake of the heel's face and the corners of its end.
func (c *checker) face() {
	s, h := c.s, c.s.Heel
	if !c.ok("heel.full", "heel.end", "heel.rake", "heel.end_corner", "heel.total", "heel.width", "board.thickness") {
		return
	}
	long := s.X(h.End) - s.X(h.Full)
	if cut := (h.Total - s.Board.Thickness) * math.Tan(h.Rake); h.Rake != 0 && long-cut < minRun {
		c.errorf("heel.rake", "a rake of %s takes %s off the lower end of a block %s long; allowed: what leaves %s", plainAngle(h.Rake), c.mm(cut), c.mm(long), c.mm(minRun))
		return
	} else if j := s.Joint; j.Tenoned() && c.ok("joint.length") && -cut > j.Length-minRun {
		c.errorf("heel.rake", "a rake of %s leans the lower end of the face %s over the body, and the %s is %s long; allowed: a smaller angle, or a longer %s", plainAngle(h.Rake), c.mm(-cut), j.Kind, c.mm(j.Length), j.Kind)
		return
	}
	if h.EndCorner == 0 {
		return
	}
	if most := min(h.Width/2, long) - minRun; h.EndCorner > most {
		c.errorf("heel.end_corner", "corners of radius %s do not fit a block %s wide and %s long; allowed: up to %s", c.mm(h.EndCorner), c.mm(h.Width), c.mm(long), c.most(most))
	}
	if h.Capped() || h.Rake != 0 || s.Joint.Tenoned() {
		c.errorf("heel.end_corner", "the end of a heel with a cap, a raked face or a tenon lies flat against the body; leave end_corner out")
	}
}

// bolt checks a bolt against the block.
func (c *checker) bolt(key string, b *Bolt) {
	s, h := c.s, c.s.Heel
	place := stationKey(key, b.At)
	if (b.Counterbore == 0) != (b.CounterboreDepth == 0) {
		lack := key + ".counterbore"
		if b.Counterbore != 0 {
			lack = key + ".counterbore_depth"
		}
		c.errorf(lack, "missing; counterbore and counterbore_depth are given together")
		return
	}
	if !c.ok(place, key+".offset", key+".apart", key+".diameter", key+".depth", key+".counterbore", key+".counterbore_depth", "heel.full", "heel.end", "heel.width", "heel.total", "board.thickness") {
		return
	}
	c.boltHole(key, b)
	wide := max(b.Diameter, b.Counterbore)/2 + leastRim
	x, from, to := s.X(b.At), s.X(h.Full)+wide, s.X(h.End)-wide-(h.Total-s.Board.Thickness)*max(0, math.Tan(h.Rake))
	if x < from || x > to {
		c.errorf(place, "a hole at %s is not in the full block with %s of wood round it; allowed: x = %s to %s", c.place(b.At), c.mm(leastRim), c.least(from), c.most(to))
	}
	half := h.Width/2 - h.Corner
	if h.Capped() {
		half = h.CapWidth/2 - h.Corner
	}
	for _, y := range b.Holes() {
		if math.Abs(y) > half-wide {
			c.errorf(key+".offset", "a hole %s off the centreline comes within %s of the edge of the block's back; allowed: up to %s", c.mm(math.Abs(y)), c.mm(leastRim), c.most(max(0, half-wide)))
			break
		}
	}
}

// boltHole checks the widths and the depths of a bolt's hole.
func (c *checker) boltHole(key string, b *Bolt) {
	s, h := c.s, c.s.Heel
	if b.Counterbore != 0 && b.Counterbore <= b.Diameter {
		c.errorf(key+".counterbore", "a counterbore of %s is no wider than its hole of %s; allowed: more than that", c.mm(b.Counterbore), c.mm(b.Diameter))
	}
	if b.Apart != 0 && b.Apart < max(b.Diameter, b.Counterbore)+leastRim {
		c.errorf(key+".apart", "holes %s apart run into each other; allowed: %s or more", c.mm(b.Apart), c.least(max(b.Diameter, b.Counterbore)+leastRim))
	}
	wood := h.Total - s.Board.Thickness
	if b.Depth > wood-leastRim {
		c.errorf(key+".depth", "a hole %s deep leaves less than %s under the board; allowed: up to %s, or leave depth out for a hole through to the glue plane", c.mm(b.Depth), c.mm(leastRim), c.most(wood-leastRim))
	}
	if deep := b.CounterboreDepth; deep != 0 && (deep > wood-leastRim || b.Depth != 0 && deep >= b.Depth) {
		c.errorf(key+".counterbore_depth", "a counterbore %s deep is no shallower than its hole; allowed: less than the hole, and up to %s", c.mm(deep), c.most(wood-leastRim))
	}
}

// joint checks the joint against the heel.
func (c *checker) joint() {
	s, j := c.s, c.s.Joint
	h := s.Heel
	switch {
	case j == nil:
		return
	case h == nil:
		c.errorf("joint", "a joint needs a heel; add [heel] or leave [joint] out")
		return
	case h.Through():
		return // said already
	}
	c.jointOnly()
	if h.Capped() && j.Pocketed() {
		c.errorf("joint.kind", "a heel with a cap does not lie in a pocket; allowed: %s", orList([]string{JointButt, JointTenon, JointDovetail}))
	}
	if h.BoltOn() && !j.Pocketed() {
		c.errorf("joint.kind", "a bolt-on block lies in a pocket; allowed: %q, or another kind of heel", JointPocket)
	}
	if j.Tenoned() {
		c.tenon()
	}
	for i := range j.Inserts {
		c.insert(indexKey("joint.insert", i+1), &j.Inserts[i])
	}
}

// jointOnly refuses keys that the kind of joint does not have.
func (c *checker) jointOnly() {
	j := c.s.Joint
	tenon := j.Tenoned()
	for _, only := range []struct {
		key  string
		v    float64
		kind string
		has  bool
	}{
		{"width", j.Width, JointTenon, tenon}, {"length", j.Length, JointTenon, tenon},
		{"depth", j.Depth, JointTenon, tenon}, {"end_corner", j.Corner, JointTenon, tenon},
		{"flare", j.Flare, JointDovetail, j.Kind == JointDovetail}, {"taper", j.Taper, JointDovetail, j.Kind == JointDovetail},
	} {
		if only.v != 0 && !only.has {
			c.errorf("joint."+only.key, "this joint has no such thing; leave it out, or write kind = %q under [joint]", only.kind)
		}
	}
}

// tenon checks a tenon or dovetail, which is cut from the block carried on.
func (c *checker) tenon() {
	s, h, j := c.s, c.s.Heel, c.s.Joint
	for _, need := range []struct {
		key, what string
		v         float64
	}{{"joint.width", "width", j.Width}, {"joint.length", "length", j.Length}} {
		if need.v == 0 {
			c.errorf(need.key, "missing; a %s needs its %s", j.Kind, need.what)
		}
	}
	if j.Kind == JointDovetail && j.Flare == 0 {
		c.errorf("joint.flare", "missing; a dovetail needs the flare of its sides")
	}
	if !c.ok("joint.width", "joint.length", "joint.depth", "joint.flare", "joint.taper", "joint.end_corner", "heel.width", "heel.total", "board.thickness", "heel.corner", "heel.cap_width", "wall.height") {
		return
	}
	wood := h.Total - s.Board.Thickness
	if j.Depth > wood-leastShoulder {
		c.errorf("joint.depth", "a tenon %s deep leaves no shoulder under it in a heel %s deep; allowed: up to %s, or leave depth out for the heel's whole depth", c.mm(j.Depth), c.mm(wood), c.most(wood-leastShoulder))
		return
	}
	deep := j.TenonDepth(wood)
	widest := j.Width + 2*j.Length*math.Tan(j.Flare)
	if most := h.Width - 2*leastShoulder; widest > most {
		c.errorf("joint.width", "the tenon would be %s wide at its end, which leaves less than %s of shoulder on each side of a heel %s wide; allowed: up to %s there", c.mm(widest), c.mm(leastShoulder), c.mm(h.Width), c.most(most))
		return
	}
	bottom := widest - 2*deep*math.Tan(j.Taper)
	if root := j.Width - 2*deep*math.Tan(j.Taper); root < 2*minRun {
		c.errorf("joint.taper", "the dovetail would be %s wide at its lower end; allowed: %s or more there", c.mm(root), c.mm(2*minRun))
		return
	}
	c.tenonBelow(deep, bottom)
}

// tenonBelow checks the lower edge of a tenon, so deep and so wide there, against
// the block's sides and its rounded corners, and the corners of its end.
func (c *checker) tenonBelow(deep, bottom float64) {
	s, h, j := c.s, c.s.Heel, c.s.Joint
	wood := h.Total - s.Board.Thickness
	most := h.Width - 2*leastShoulder
	if h.Capped() {
		most -= 2 * math.Tan(h.Lean(s.Board.Thickness, s.Wall)) * max(0, deep-s.Wall)
	}
	if deep > wood-h.Corner {
		most -= 2 * h.Corner
	}
	if bottom > most {
		c.errorf("joint.width", "the tenon would be %s wide at its lower edge, %s deep, where the heel leaves room for %s; allowed: a narrower or shallower tenon", c.mm(bottom), c.mm(deep), c.mm(most))
	}
	if most := min(j.Width/2, j.Length) - 2*minRun; j.Corner > most {
		c.errorf("joint.end_corner", "corners of radius %s do not fit a tenon %s wide and %s long; allowed: up to %s", c.mm(j.Corner), c.mm(j.Width), c.mm(j.Length), c.most(max(0, most)))
	}
	if j.Corner != 0 && j.Kind == JointDovetail {
		c.errorf("joint.end_corner", "a dovetail's sides are planes to its end; leave end_corner out")
	}
}

// TenonDepth returns the depth of the tenon below the glue plane in a heel
// whose wood is as deep as given.
func (j *Joint) TenonDepth(wood float64) float64 {
	if j.Depth == 0 {
		return wood
	}
	return j.Depth
}

// insert checks a hole in the end against the body.
func (c *checker) insert(key string, in *Insert) {
	s, h, j := c.s, c.s.Heel, c.s.Joint
	if j.Pocketed() {
		c.errorf(key, "inserts are in the end of a butt joint, a tenon or a dovetail; bolts into a pocket are given by [[heel.bolt]]")
		return
	}
	if !c.ok(key+".down", key+".offset", key+".apart", key+".diameter", key+".depth", "heel.width", "heel.total", "heel.full", "heel.end", "board.thickness", "joint.width", "joint.depth", "joint.length") {
		return
	}
	rim := in.Diameter/2 + leastRim
	deep, half := h.Total-s.Board.Thickness, h.Width/2
	if h.Capped() {
		half -= math.Tan(h.Lean(s.Board.Thickness, s.Wall)) * max(0, in.Down+rim-s.Wall)
	}
	if j.Tenoned() {
		deep = j.TenonDepth(deep)
		half = j.Width/2 + j.Length*math.Tan(j.Flare) - (in.Down+rim)*math.Tan(j.Taper)
	}
	switch most := deep - rim - h.Corner; {
	case most < rim:
		c.errorf(key+".diameter", "a hole of %s does not keep %s of wood round it in an end %s deep; allowed: a narrower one", c.mm(in.Diameter), c.mm(leastRim), c.mm(deep))
	case in.Down < rim || in.Down > most:
		c.errorf(key+".down", "a hole %s below the glue plane does not keep %s of wood round it; allowed: %s to %s", c.mm(in.Down), c.mm(leastRim), c.least(rim), c.most(most))
	}
	for _, y := range in.Holes() {
		if math.Abs(y) > half-rim {
			c.errorf(key+".offset", "a hole %s off the centreline does not keep %s of wood beside it; allowed: up to %s", c.mm(math.Abs(y)), c.mm(leastRim), c.most(max(0, half-rim)))
			break
		}
	}
	if in.Apart != 0 && in.Apart < in.Diameter+leastRim {
		c.errorf(key+".apart", "holes %s apart run into each other; allowed: %s or more", c.mm(in.Apart), c.least(in.Diameter+leastRim))
	}
	// How deep it may go is for the surface to say: neck.Check.
}
