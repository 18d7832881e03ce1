package neck

import (
	"math"

	"neckloft/mesh"
	"neckloft/neck/numeric"
	"neckloft/neck/spec"
)

// StringRun is the way of a string from the nut to its post.
type StringRun struct {
	String, Tuner int // their numbers, from 1

	Nut, Post mesh.Vec // the string's middle at the nut's front and where it meets the post

	// On the face: u along it and y across, of both points, and their heights
	// over the face of the wood.
	NutFace, PostFace     mesh.Vec2
	NutHeight, PostHeight float64

	Angle   float64 // to the centreline in the top view, radians, towards the treble side positive
	Break   float64 // between the string on the neck and before the nut, in space, radians
	Down    float64 // the same as seen from the side
	Gauge   float64 // 0 where it is not known
	Tension float64 // N
	Force   float64 // N, on the nut: 2 T sin(break/2)
}

// StringRuns returns the ways of the strings to their posts, in the order of the
// tuners: none without strings or tuners.
//
// On the neck each string runs from the bridge, where [spacing] tells its place
// there, or else along the centreline, which turns the break by less than a
// degree.
func (n *Neck) StringRuns() []StringRun {
	s := n.spec
	if s.Strings == nil {
		return nil
	}
	var out []StringRun
	for i := range s.Tuners {
		out = append(out, n.stringRun(i))
	}
	return out
}

// stringRun returns the way of the string of tuner i.
func (n *Neck) stringRun(i int) StringRun {
	s, t, f := n.spec, n.head.tuners[i], &n.head
	number := s.StringOf(i)
	set := s.Strings.Set[number-1]
	r := StringRun{String: number, Tuner: i + 1, Gauge: set.Gauge}
	at := s.NutY(number - 1)
	r.Nut = mesh.Vec{X: s.FretSlope(0) * at, Y: n.Y(at), Z: s.StringLine(0)}
	u, w := f.frame(r.Nut.X, r.Nut.Z)
	r.NutFace, r.NutHeight = mesh.Vec2{X: u, Y: r.Nut.Y}, w
	radius := (t.Post + set.Gauge) / 2
	if t.Across() {
		// Over the post, seen along it.
		p := tangent(mesh.Vec2{X: u, Y: w}, mesh.Vec2{X: t.U, Y: -t.Below}, radius, true)
		r.PostFace, r.PostHeight = mesh.Vec2{X: p.X, Y: t.Y}, p.Y
	} else {
		c := mesh.Vec2{X: t.U, Y: t.Y}
		above := r.Nut.Y > t.Y // the side of the post that faces the slot in the nut
		if r.Nut.Y == t.Y {
			above = t.Y < 0
		}
		if t.Wrap == spec.WrapOuter {
			above = !above
		}
		r.PostFace, r.PostHeight = tangent(r.NutFace, c, radius, above), s.Headstock.FaceVeneer+t.Height
	}
	r.Post = f.onFace(r.PostFace.X, r.PostFace.Y, r.PostHeight)
	after := r.Post.Sub(r.Nut)
	slope := (s.StringLine(1) - s.StringLine(0)) / 1
	before := mesh.Vec{X: -1, Y: -n.Y(s.Spread(number - 1)), Z: -slope}
	r.Angle = n.Y(math.Atan2(after.Y, -after.X))
	r.Break = math.Atan2(before.Cross(after).Norm(), before.Dot(after))
	r.Down = math.Atan2(-after.Z, -after.X) - math.Atan(slope)
	r.Tension, _ = set.Newtons(s.OwnLength(number - 1)) // Validate has seen to it
	r.Force = 2 * r.Tension * math.Sin(r.Break/2)
	return r
}

// tangent returns where the line from p touches the circle of the given radius
// about c: the touching point with the greater Y, or the smaller.
func tangent(p, c mesh.Vec2, radius float64, greater bool) mesh.Vec2 {
	d := c.Sub(p)
	l := d.Norm()
	if l <= radius {
		return c // the post stands on the nut
	}
	way := math.Sqrt(l*l - radius*radius)
	turn := math.Asin(radius / l)
	if !greater {
		turn = -turn
	}
	sin, cos := math.Sincos(math.Atan2(d.Y, d.X) + turn)
	return p.Add(mesh.Vec2{X: way * cos, Y: way * sin})
}

// Touch is a place where a string touches what it should not.
type Touch struct {
	Run  StringRun
	What string // "the post of tuner 3", "string 2", "the face"
	U, Y float64
	Room float64 // between the two, below 0 where they touch

	Crosses bool // two strings that change sides, seen square to the face; Room may be more than 0
}

// Touches returns where strings on their way to the posts touch another post,
// another string or the face, or cross another string.
func (n *Neck) Touches() []Touch {
	runs := n.StringRuns()
	var out []Touch
	for i, r := range runs {
		for j, o := range runs {
			if i == j {
				continue
			}
			if t, ok := n.touchesPost(r, o.Tuner); ok {
				out = append(out, t)
			}
			if j > i {
				continue
			}
			room, a, _ := segmentsApart(r.Nut, r.Post, o.Nut, o.Post)
			room -= (r.Gauge + o.Gauge) / 2
			name := "string " + spec.Number(float64(o.String), 0)
			if p, ok := r.crossesRun(&o); ok {
				out = append(out, Touch{Run: r, What: name, U: p.X, Y: p.Y, Room: room, Crosses: true})
			} else if room < 0 {
				u, _ := n.head.frame(a.X, a.Z)
				out = append(out, Touch{Run: r, What: name, U: u, Y: a.Y, Room: room})
			}
		}
		if t, ok := n.touchesFace(r); ok {
			out = append(out, t)
		}
	}
	return out
}

// crossesRun returns where the ways of two strings cross, seen square to the
// face, and false where they do not: the one then lies over the other.
func (r *StringRun) crossesRun(o *StringRun) (mesh.Vec2, bool) {
	p, ok := crossing(r.NutFace, r.PostFace, o.NutFace, o.PostFace)
	return p, ok && r.String != o.String
}

// touchesPost looks whether a string touches the post of another tuner, which is
// taken to be at least as high as the string.
func (n *Neck) touchesPost(r StringRun, tuner int) (Touch, bool) {
	t := n.head.tuners[tuner-1]
	touch := Touch{Run: r, What: "the post of tuner " + spec.Number(float64(tuner), 0)}
	var at mesh.Vec
	if t.Across() {
		s, _ := spec.SlotAt(n.head.slots, t.U, t.Y)
		a, b := n.head.onFace(t.U, s.Y-s.Width/2, -t.Below), n.head.onFace(t.U, s.Y+s.Width/2, -t.Below)
		touch.Room, at, _ = segmentsApart(r.Nut, r.Post, a, b)
		touch.U, _ = n.head.frame(at.X, at.Z)
	} else {
		flat := func(p mesh.Vec2) mesh.Vec { return mesh.Vec{X: p.X, Y: p.Y} }
		c := mesh.Vec{X: t.U, Y: t.Y}
		touch.Room, at, _ = segmentsApart(flat(r.NutFace), flat(r.PostFace), c, c)
		touch.U = at.X
	}
	touch.Y = at.Y
	touch.Room -= (t.Post + r.Gauge) / 2
	return touch, touch.Room < 0
}

// touchesFace looks whether a string touches the finished face, beside the slots,
// and where it lies deepest in it.
func (n *Neck) touchesFace(r StringRun) (Touch, bool) {
	h := n.spec.Headstock
	const steps = 400
	worst := Touch{Run: r, What: "the face"}
	for i := range steps {
		t := float64(i) / steps
		u, y := numeric.Lerp(r.NutFace.X, r.PostFace.X, t), numeric.Lerp(r.NutFace.Y, r.PostFace.Y, t)
		if _, open := spec.SlotAt(n.head.slots, u, y); open || n.onShelf(u, y) {
			continue
		}
		if room := numeric.Lerp(r.NutHeight, r.PostHeight, t) - h.FaceVeneer - r.Gauge/2; room < worst.Room {
			worst.U, worst.Y, worst.Room = u, y, room
		}
	}
	return worst, worst.Room < 0
}

// segmentsApart returns the least distance between two straight lines in space,
// from a to b and from c to d, and their points that are so near.
func segmentsApart(a, b, c, d mesh.Vec) (float64, mesh.Vec, mesh.Vec) {
	u, v, w := b.Sub(a), d.Sub(c), a.Sub(c)
	uu, uv, vv, uw, vw := u.Dot(u), u.Dot(v), v.Dot(v), u.Dot(w), v.Dot(w)
	clamp := func(x float64) float64 { return numeric.Clamp(x, 0, 1) }
	ratio := func(p, q float64) float64 {
		if q == 0 {
			return 0
		}
		return p / q
	}
	best, at, to := math.Inf(1), a, c
	try := func(s, t float64) {
		p, q := a.Add(u.Scale(s)), c.Add(v.Scale(t))
		if l := p.Sub(q).Norm(); l < best {
			best, at, to = l, p, q
		}
	}
	if den := uu*vv - uv*uv; den > 1e-12*uu*vv {
		if s, t := (uv*vw-vv*uw)/den, (uu*vw-uv*uw)/den; s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			try(s, t)
		}
	}
	// Otherwise one of the points is an end.
	for _, end := range []float64{0, 1} {
		try(end, clamp(ratio(vw+end*uv, vv)))
		try(clamp(ratio(end*uv-uw, uu)), end)
	}
	return best, at, to
}
