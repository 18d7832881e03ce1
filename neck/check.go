package neck

import (
	"math"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
	"sort"
)

const (
	// leastCurve is the least height, in mm, that the back's curve may have
	// below the walls, and leastWood the least thickness of wood anywhere: less
	// cannot be meshed in float32, let alone carved.
	leastCurve = 0.3
	leastWood  = 0.5

	// leastChannelWood is the least wood between channel and back, in mm, for
	// the two surfaces to be told apart.
	leastChannelWood = 0.1

	// thinWood is where a neck is called thin: common practice, no published
	// source. Wood depth under the board below 9 mm asks for a stiffer wood or
	// reinforcement, on a scale of thinScale and above. On a shorter one the
	// strings bend the neck less, and it may be thinner in proportion.
	thinWood, thinScale = 9.0, 600.0
)

// thinBelow returns the depth of bare wood below which a neck of a scale is
// called thin.
func thinBelow(scale float64) float64 { return thinWood * math.Min(1, scale/thinScale) }

// Check judges a spec: all that Validate says, and what only the surface can
// tell. The neck is nil if there are errors.
func Check(s *spec.Spec) (*Neck, spec.Problems) {
	problems := s.Validate()
	if len(problems.Errors()) > 0 {
		return nil, problems
	}
	n, err := build(s)
	if err != nil {
		return nil, append(problems, s.Problem("depth", "%v", err))
	}
	problems = append(problems, n.checkSections()...)
	if len(problems.Errors()) > 0 {
		return nil, problems
	}
	problems = append(problems, n.checkChannels()...)
	if len(problems.Errors()) > 0 {
		return nil, problems
	}
	problems = append(problems, n.checkCover()...)
	problems = append(problems, n.checkThin()...)
	problems = append(problems, n.checkThroat()...)
	problems = append(problems, n.checkHead()...)
	problems = append(problems, n.checkBlank()...)
	problems = append(problems, n.checkJoint()...)
	problems = append(problems, n.checkSticks()...)
	sort.SliceStable(problems, func(i, j int) bool { return !problems[i].Warning && problems[j].Warning })
	if len(problems.Errors()) > 0 {
		return nil, problems
	}
	return n, problems
}

// whereIn names a station for a message: by fret along the strings, by distance
// elsewhere.
func (n *Neck) whereIn(u spec.Unit, x float64) string {
	s := n.spec
	if f := s.FretAt(x); f >= 0 && f <= float64(s.LastNamed())+0.5 {
		at := "fret " + spec.Number(f, 1)
		if f < 0.05 {
			at = "the nut"
		}
		return at + " (x = " + u.Format(x) + ")"
	}
	return "x = " + u.Format(x)
}

// Where names the station at x in words, in the spec's unit: "fret 3.5
// (x = 116.4 mm)", "the nut (x = 0 mm)", or the distance alone off the frets.
func (n *Neck) Where(x float64) string { return n.WhereIn(n.spec.Units, x) }

// WhereIn is Where in the given unit.
func (n *Neck) WhereIn(u spec.Unit, x float64) string {
	round := 10.0
	if u == spec.Inch {
		round = 10 / 0.254 // thousandths of an inch
	}
	return n.whereIn(u, math.Round(x*round)/round)
}

// probes returns stations to judge the surface at: the landmarks and enough
// between them to see every bend.
func (n *Neck) probes() []float64 {
	marks := n.Landmarks()
	sort.Float64s(marks)
	var xs []float64
	for i := 0; i+1 < len(marks); i++ {
		for j := range 10 {
			if x := numeric.Lerp(marks[i], marks[i+1], float64(j)/10); x <= n.end {
				xs = append(xs, x)
			}
		}
	}
	return append(xs, n.end)
}

// checkSections makes sure that every section is a shape that can be cut: the
// loft relies on it.
func (n *Neck) checkSections() spec.Problems {
	s := n.spec
	for _, x := range n.probes() {
		sec := n.Section(x)
		a, d := sec.HalfWidth, sec.Depth
		onBoard := numeric.Clamp(x, 0, n.boardEnd)
		board := n.BoardHalfWidth(onBoard)
		key := "depth"
		switch {
		case x >= n.heelStart && s.Heel != nil:
			key = "heel"
		case x < 0:
			key = "headstock"
		}
		switch {
		case !(d+sec.Top >= leastWood):
			return spec.Problems{s.Problem(key, "at %s there are %s of wood; allowed: %s or more",
				n.Where(x), s.Length(d+sec.Top), s.Length(leastWood))}
		case !(a >= 1):
			return spec.Problems{s.Problem("width", "at %s the wood is %s wide; allowed: %s or more",
				n.Where(x), s.Length(2*a), s.Length(2))}
		case sec.blend < 1 && !(d+sec.hang-s.Wall >= leastCurve):
			return spec.Problems{s.Problem(key, "at %s the wall of %s leaves %s for the curve of a back %s deep; allowed: %s or more",
				n.Where(x), s.Length(s.Wall), s.Length(d+sec.hang-s.Wall), s.Length(d), s.Length(leastCurve))}
		case sec.blend < 1 && !(math.Abs(sec.Apex-sec.middle) <= 0.9*a):
			return spec.Problems{s.Problem("profile", "at %s the apex lies %s off the centreline of a neck %s wide; allowed: up to 0.9 of half the width, %s",
				n.Where(x), s.Length(math.Abs(sec.Apex)), s.Length(2*a), s.Length(0.9*a))}
		case sec.blend > 0 && !(sec.corner < math.Min(a, d+sec.Top)):
			return spec.Problems{s.Problem(key+".corner", "a corner radius of %s does not fit the wood at %s, %s wide and %s thick",
				s.Length(sec.corner), n.Where(x), s.Length(2*a), s.Length(d+sec.Top))}
		case sec.lean.ok && !(sec.lean.centre > 0):
			return spec.Problems{s.Problem("heel.cheeks", "at %s the cheeks would meet before the heel's line, %s deep; allowed: less flare or sweep, or a wider cap",
				n.Where(x), s.Length(d))}
		case !(sec.hang <= sec.Top+1e-9) || !(sec.CurveStart() <= sec.Top+1e-9):
			return spec.Problems{s.Problem("headstock", "at %s the headstock's face drops below the start of the back's curve; allowed: a smaller angle or step, a longer shelf, or a higher [wall]",
				n.Where(x))}
		case s.Rod != nil && !(s.Rod.Width/2+leastChannelWood <= math.Min(a, board)):
			what, at, half := "neck", x, a
			if board < a {
				what, at, half = "board", onBoard, board
			}
			return spec.Problems{s.Problem("rod.width", "the channel, %s wide, leaves no wood beside it at %s, where the %s is %s wide; allowed: up to %s there",
				s.Length(s.Rod.Width), n.Where(at), what, s.Length(2*half), s.Units.Limit(2*(half-leastChannelWood), math.Floor))}
		}
	}
	return nil
}

// Rounded prints a computed length with two decimals of a millimetre, or three
// of an inch.
func (n *Neck) Rounded(mm float64) string { return n.spec.Units.Rounded(mm) }

// checkThin warns where the wood alone is thin.
func (n *Neck) checkThin() spec.Problems {
	s := n.spec
	least, at := math.Inf(1), 0.0
	for _, x := range n.probes() {
		sec := n.Section(x)
		t := sec.Depth + sec.Top
		if square := n.HeadThickness(x); square > 0 {
			t = square // as it is measured there
		}
		if t < least {
			least, at = t, x
		}
	}
	thin := thinBelow(s.Scale.Length)
	if least >= thin {
		return nil
	}
	key := "depth"
	if at < 0 {
		key = "headstock"
	}
	return spec.Problems{s.Warning(key, "the wood is only %s thick at %s; a neck under %s of bare wood there is apt to bend or break (common practice)",
		n.Rounded(least), n.Where(at), s.Length(math.Round(10*thin)/10))}
}

// checkBlank warns where the neck does not fit the blank.
func (n *Neck) checkBlank() spec.Problems {
	s := n.spec
	b := s.Blank
	if b == nil {
		return nil
	}
	out := n.checkStickLength()
	var width, neckDepth, deepest float64
	var at float64
	first := n.start // of what the stick alone has to be deep enough for
	if s.Headstock != nil {
		first = -n.head.far
	}
	if j, ok := n.Scarf(); ok {
		first = math.Max(first, j.To)
	}
	for _, x := range n.probes() {
		sec := n.Section(x)
		// Ears are among the pieces of a neck that is glued up.
		if !s.GluedUp() || x >= first {
			width = math.Max(width, 2*sec.HalfWidth)
		}
		deepest = math.Max(deepest, sec.Depth)
		if x >= first && sec.Depth > neckDepth {
			neckDepth, at = sec.Depth, x
		}
	}
	if width > b.Width {
		out = append(out, s.Warning("blank.width", "the neck is %s wide at its widest, the blank %s: glue on ears for the headstock, or take a wider blank",
			n.Rounded(width), s.Length(b.Width)))
	}
	switch {
	case s.Stacked(): // the block makes up for what the blank lacks
	case neckDepth > b.Thickness:
		out = append(out, s.Warning("blank.thickness", "the neck needs %s of wood at %s, the blank has %s",
			n.Rounded(neckDepth), n.Where(at), s.Length(b.Thickness)))
	case deepest > b.Thickness && s.Scarfed(): // so does the scarf
	case deepest > b.Thickness && s.Headstock.Angle != 0:
		out = append(out, s.Warning("blank.thickness", "in one piece the angled headstock needs a blank %s thick, and this one has %s: plan a scarf joint",
			n.Rounded(deepest), s.Length(b.Thickness)))
	case deepest > b.Thickness:
		out = append(out, s.Warning("blank.thickness", "the stepped headstock needs %s of wood below the glue plane, the blank has %s",
			n.Rounded(deepest), s.Length(b.Thickness)))
	}
	return out
}
