package scan

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/fit"
	"neckloft/neck/fit/lsq"
	"neckloft/neck/readings"
	"neckloft/neck/spec"
)

// Options says what a scan shows.
type Options struct {
	Millimetres float64 // in a unit of the scan; 0 is 1
	Unit        string  // its name, for messages
	Board       float64 // thickness of the board that the scan shows too; 0 for bare wood
	Frame       *Frame  // where the neck lies, in mm; nil to find it
	Nut         *float64
	Flip        bool // the nut is at the wide end
	Ends        bool // Flip is said, whichever it is; else a nut at the wide end is found only if the scan or a width tells

	From, To float64 // frets between which it is fitted; 0 is 1 and 12
}

// Result is a neck fitted to a scan.
type Result struct {
	*fit.Result
	Frame Frame
	Found []string // what was found, in words
	Width [2]float64

	// Stations are the slices, with the root mean square of the distances of
	// their points from the fitted surface.
	Stations []Station
}

// Station is a slice of a scan.
type Station struct {
	At     spec.Place
	Points int
	RMS    float64 // mm
	Mean   float64 // mm, positive where the scan lies outside
}

// slicePoints is the number of points of a slice that are fitted; a scan has
// more than tell anything new.
const slicePoints = 32

// poorScan is the root mean square distance in mm between the points of a scan
// and the fitted neck beyond which something else was taken for the neck:
// common practice, no published source; hand scanners are off by a tenth.
const poorScan = 0.3

// tallWall is the height in mm of a straight side that tells of a board on it:
// common practice, no published source; boards are 4 to 8 mm thick.
const tallWall = 4

// Scan fits a neck to a scan: a mesh with noise and holes, of a neck alone.
// The set gives what a scan cannot show, and may give more readings; the base
// is that of Fit. The board's thickness of bare wood is taken from them.
func Scan(m *mesh.Mesh, set *readings.Set, base *spec.Spec, scan Options, opts fit.Options) (*Result, error) {
	k := scan.Millimetres
	if k == 0 {
		k = 1
	}
	if k != 1 {
		scaled := &mesh.Mesh{Faces: m.Faces, Vertices: make([]mesh.Vec, len(m.Vertices))}
		for i, v := range m.Vertices {
			scaled.Vertices[i] = v.Scale(k)
		}
		m = scaled
	}
	if set.Scale == 0 && base == nil || set.Frets == 0 && base == nil {
		return nil, spec.Problems{{File: set.File, Message: "a scan does not show the frets: the scale length and the number of frets are wanted too"}}
	}
	out := &Result{}
	s := base
	if s == nil {
		s = spec.Defaults()
		s.Scale = spec.Scale{Length: set.Scale, Frets: set.Frets}
		if set.BoardEnd > 0 {
			s.Width.PastLastFret = set.BoardEnd - s.FretX(float64(set.Frets))
		}
	}
	var f *found
	var err error
	if scan.Frame != nil {
		f = &found{Frame: *scan.Frame}
		if err = f.measure(m); err != nil {
			return nil, err
		}
		out.Found = append(out.Found, "glue plane and axis as given")
	} else {
		if scan.Nut == nil && base != nil && base.Headstock != nil && scan.Board == 0 {
			shelf := base.Headstock.Shelf
			scan.Nut = &shelf
		}
		if f, err = findFrame(m, scan.Board, scan.Nut, scan.clues(set, s, base)); err != nil {
			return nil, err
		}
		out.Found = f.describe(set.Units, scan)
	}
	if scan.Board == 0 {
		if radius, ok := f.crowned(m); ok {
			return nil, fmt.Errorf("what was taken for the glue plane is crowned to a radius of about %s: the scan seems to show the board too, and bare wood is asked for; give --part both and the board's thickness with --board", set.Units.Rounded(radius))
		}
	}
	out.Frame = f.Frame

	whole := *set
	whole.Readings = slices.Clone(set.Readings)
	if scan.Board > 0 && whole.Count(readings.BoardAt) == 0 {
		whole.Readings = append(whole.Readings, readings.Reading{Kind: readings.BoardAt, Value: scan.Board, Sigma: readings.BoardAt.Sigma()})
	}
	if f.boardRadius != nil && whole.Count(readings.RadiusAt) == 0 {
		for _, fret := range []float64{1, 12} {
			if r := f.boardRadius(s.FretX(fret)); r > 0 {
				whole.Readings = append(whole.Readings, readings.Reading{Kind: readings.RadiusAt, At: spec.AtFret(fret), Placed: true, Value: math.Round(r), Sigma: readings.RadiusAt.Sigma()})
			}
		}
	}
	places := scanPlaces(s, scan)
	cuts := slice(m, f.Frame, s, places)
	taken := 0
	for i, pts := range cuts {
		for _, q := range pts {
			whole.Readings = append(whole.Readings, readings.Reading{Kind: readings.Point, At: places[i], Placed: true, Y: q.Y, Value: -q.Z, Sigma: 0.1})
			taken++
		}
	}
	if taken < 40 {
		return nil, errors.New("the scan shows next to nothing of the back between the frets asked for; look at --units, --from and --to, or give --origin, --along and --up")
	}
	opts.Pose = true
	opts.Width = [2]float64{math.Max(5, f.width(0)), math.Max(5, f.width(s.BoardEnd()))}
	if out.Result, err = fit.Fit(&whole, base, opts); err != nil {
		return nil, err
	}
	if f.doubt != "" {
		out.Notes = append(out.Notes, f.doubt)
	}
	if scan.Board == 0 && out.Spec.Wall > tallWall {
		out.Notes = slices.Insert(out.Notes, 0, fmt.Sprintf("the sides run straight down for %s, which hardly any bare neck has: does the scan show the board too? Do not carve by this spec before you know; give --part both and the board's thickness with --board if it does.",
			set.Units.Rounded(out.Spec.Wall)))
	}
	out.leftOut(taken)
	sum, points := 0.0, 0
	for _, at := range places {
		st := Station{At: at}
		for _, r := range out.Residuals {
			if r.Kind == readings.Point && r.At == at && !r.Dropped {
				st.Points++
				st.Mean += r.Off
				st.RMS += r.Off * r.Off
			}
		}
		sum, points = sum+st.RMS, points+st.Points
		if st.Points > 0 {
			st.Mean /= float64(st.Points)
			st.RMS = math.Sqrt(st.RMS / float64(st.Points))
		}
		out.Stations = append(out.Stations, st)
	}
	if rms := math.Sqrt(sum / float64(max(1, points))); rms > poorScan {
		out.Notes = slices.Insert(out.Notes, 0, fmt.Sprintf("the scan lies %s from the fitted neck in the mean, which is far: do not carve by this spec. Is the nut at the end that was taken for it (--flip, --nut)? Does the heel begin before the last fret (--to, or --spec with the heel)? Does the scan show the board too (--part both)?",
			set.Units.Rounded(rms)))
	}
	return out, nil
}

// leftOut says how many of the points of the slices do not belong to the fitted
// neck, and warns where there are too many of them, or too few that agree to
// tell a shape.
func (r *Result) leftOut(points int) {
	const many = 0.1
	out := 0
	at := make(map[spec.Place]int)
	var worst spec.Place
	for _, q := range r.Residuals {
		if q.Dropped && q.Kind == readings.Point && q.Line == 0 {
			out++
			at[q.At]++
			if at[q.At] > at[worst] {
				worst = q.At
			}
		}
	}
	open := false
	for _, g := range r.Ranges {
		open = open || g.Source == "default, not determined" && strings.HasPrefix(g.Key, "profile")
	}
	text := ""
	if out > 0 {
		text = fmt.Sprintf("%s of %d left out, which do not belong to the rest, most at %s.", readings.Count(out, "point"), points, r.Spec.Label(worst))
	}
	switch {
	case float64(out) > many*float64(points):
		r.Notes = slices.Insert(r.Notes, 0, text+" Do not carve by this spec: there is something beside the neck in the scan, or it is damaged. Cut it down to the neck alone.")
	case open:
		r.Notes = slices.Insert(r.Notes, 0, strings.TrimSpace(text+" Do not carve by this spec: a scan of a neck tells its shape, and this one does not. Is there something beside the neck in it, or is the back incomplete?"))
	case out > 0:
		r.Notes = append(r.Notes, text)
	}
}

// describe says what was found of the neck in a scan.
func (f *found) describe(u spec.Unit, scan Options) []string {
	out := []string{fmt.Sprintf("a flat %s long, from %s wide at the nut to %s at its other end", u.Rounded(f.flat), u.Rounded(f.width(0)), u.Rounded(f.width(f.flat)))}
	switch {
	case scan.Nut != nil:
		out = append(out, fmt.Sprintf("the nut's front is taken to be %s from where the flat begins", u.Rounded(*scan.Nut)))
	case f.headstock && scan.Board == 0:
		out = append(out, fmt.Sprintf("the nut's front is taken to be %s from where the flat begins, the usual shelf; give --nut if it is not", u.Rounded(defaultShelf)))
	default:
		out = append(out, "the nut's front is taken to be where the flat begins; give --nut if it is not")
	}
	// In the scan's unit, as --origin is read, to about a thousandth of a
	// millimetre.
	k := scan.Millimetres
	if k == 0 {
		k = 1
	}
	o := f.Origin.Scale(1 / k)
	decimals := 3 + int(math.Ceil(math.Log10(k)-1e-9))
	unit := scan.Unit
	if unit == "" {
		unit = "mm"
	}
	return append(out, fmt.Sprintf("--units %s --origin %.*f,%.*f,%.*f --along %.6f,%.6f,%.6f --up %.6f,%.6f,%.6f would say the same",
		unit, decimals, o.X, decimals, o.Y, decimals, o.Z, f.Along.X, f.Along.Y, f.Along.Z, f.Up.X, f.Up.Y, f.Up.Z))
}

// crowned reports whether the face that was taken for the glue plane is curved
// across, as that of a board is, and how: the least squares parabola
// z = c + a x + b y - k y²/2, whose radius is 1/k.
func (f *found) crowned(m *mesh.Mesh) (radius float64, ok bool) {
	const (
		band = 2.5  // mm about the plane
		most = 1500 // mm; flatter ones are taken for a flat
		min  = 100  // mm; no board is rounder
		rise = 0.25 // mm from edge to middle; less may be the scan's errors
	)
	var k float64
	var model [4]float64
	for pass := range 4 {
		var rows []float64 // four a point
		var zs []float64
		var spread [3]int // by thirds from the middle to the edge
		for _, v := range m.Vertices {
			p := f.to(v)
			half := f.width(p.X) / 2
			if p.X < 10 || p.X > 400 || !(math.Abs(p.Y) < 0.88*half) {
				continue
			}
			limit := band
			if pass > 0 {
				limit = 0.4
			}
			row := [4]float64{1, p.X / 100, p.Y, -p.Y * p.Y / 2}
			off := p.Z
			for i, c := range model {
				off -= c * row[i]
			}
			if math.Abs(off) > limit {
				continue
			}
			rows = append(rows, row[:]...)
			zs = append(zs, p.Z)
			spread[int(math.Abs(p.Y)/half/0.88*3)]++
		}
		if slices.Min(spread[:]) < 20 {
			return 0, false
		}
		c, ok := lsq.LinearFit(rows, zs)
		if !ok {
			return 0, false
		}
		copy(model[:], c)
		k = model[3]
	}
	half := f.width(200) / 2
	return 1 / k, k > 1.0/most && k < 1.0/min && k*half*half/2 > rise
}

// measure finds the taper of the sides in a frame that is given.
func (f *found) measure(m *mesh.Mesh) error {
	const bin = 6.0
	lo, hi := make(map[int]float64), make(map[int]float64)
	for _, v := range m.Vertices {
		p := f.to(v)
		if p.X < 0 || p.X > 300 || p.Z < -8 || p.Z > 1 || math.Abs(p.Y) > 150 {
			continue
		}
		k := int(p.X / bin)
		lo[k], hi[k] = math.Min(lo[k], p.Y), math.Max(hi[k], p.Y)
	}
	var x, w []float64
	for k := range 50 {
		if hi[k]-lo[k] > 5 {
			x, w = append(x, (float64(k)+0.5)*bin), append(w, hi[k]-lo[k])
		}
	}
	if len(x) < 5 {
		return errors.New("there is no neck in the scan at the place given by --origin, --along and --up, which are in the units of the scan")
	}
	a, b := robustLine(x, w)
	f.width = func(x float64) float64 { return a + b*x }
	return nil
}

// scanPlaces returns the stations at which a scan is sliced: every half fret.
func scanPlaces(s *spec.Spec, scan Options) []spec.Place {
	from, to := scan.From, scan.To
	if from == 0 && to == 0 {
		from, to = 1, math.Min(12, float64(s.Scale.Frets))
	}
	if h := s.Heel; h != nil && scan.To == 0 {
		to = math.Min(to, math.Floor(2*s.FretAt(s.X(h.Start)))/2)
	}
	var out []spec.Place
	for f := from; f <= to+1e-9; f += 0.5 {
		out = append(out, spec.AtFret(f))
	}
	return out
}

// slice cuts the mesh at the places and returns the points of the back, in the
// section's frame.
func slice(m *mesh.Mesh, frame Frame, s *spec.Spec, places []spec.Place) [][]neck.YZ {
	xs := make([]float64, len(places))
	for i, at := range places {
		xs[i] = s.X(at)
	}
	local := make([]mesh.Vec, len(m.Vertices))
	for i, v := range m.Vertices {
		local[i] = frame.to(v)
	}
	cut := make([][]neck.YZ, len(places))
	for _, t := range m.Faces {
		a, b, c := local[t[0]], local[t[1]], local[t[2]]
		lo := math.Min(a.X, math.Min(b.X, c.X))
		hi := math.Max(a.X, math.Max(b.X, c.X))
		i, _ := slices.BinarySearch(xs, lo)
		for ; i < len(xs) && xs[i] < hi; i++ {
			x := xs[i]
			// Each crossed edge is that of two triangles, so that one of the
			// two ends is enough: the one where the mesh goes upward.
			for _, e := range [3][2]mesh.Vec{{a, b}, {b, c}, {c, a}} {
				if e[0].X <= x && e[1].X > x {
					u := (x - e[0].X) / (e[1].X - e[0].X)
					cut[i] = append(cut[i], neck.YZ{Y: e[0].Y + u*(e[1].Y-e[0].Y), Z: e[0].Z + u*(e[1].Z-e[0].Z)})
				}
			}
		}
	}
	for i := range cut {
		cut[i] = outer(cut[i])
	}
	return cut
}

// outer returns the points of a slice that lie on the back, in order from bass
// to treble and no more than slicePoints: it leaves out the rod channel, the
// top, and specks far from the rest.
func outer(pts []neck.YZ) []neck.YZ {
	type polar struct {
		neck.YZ
		angle, r float64
	}
	const (
		bins  = 45
		depth = 2.0 // mm behind the outermost points that still is the back
	)
	var below []polar
	for _, q := range pts {
		if q.Z < -0.4 && math.Abs(q.Y) < 150 {
			below = append(below, polar{q, math.Atan2(-q.Z, -q.Y), math.Hypot(q.Y, q.Z)})
		}
	}
	slices.SortFunc(below, func(a, b polar) int {
		if a.angle < b.angle {
			return -1
		}
		return 1
	})
	var kept []neck.YZ
	for lo := 0; lo < len(below); {
		bin := int(below[lo].angle / math.Pi * bins)
		hi := lo
		var rs []float64
		for hi < len(below) && int(below[hi].angle/math.Pi*bins) == bin {
			rs = append(rs, below[hi].r)
			hi++
		}
		slices.Sort(rs)
		// The outermost radius that another point confirms.
		edge := rs[len(rs)-1]
		for k := len(rs) - 1; k > 0; k-- {
			if rs[k]-rs[k-1] < 0.8 {
				edge = rs[k]
				break
			}
		}
		for _, q := range below[lo:hi] {
			if q.r > edge-depth && q.r <= edge+1e-9 {
				kept = append(kept, q.YZ)
			}
		}
		lo = hi
	}
	if len(kept) <= slicePoints {
		return kept
	}
	out := make([]neck.YZ, slicePoints)
	for i := range out {
		out[i] = kept[i*(len(kept)-1)/(slicePoints-1)]
	}
	return out
}
