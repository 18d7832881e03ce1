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
	if base == nil && (set.Scale == 0 || set.Frets == 0 && !set.Fretless) {
		return nil, spec.Problems{{File: set.File, Message: "a scan does not show the frets: the scale length and the number of frets are wanted too"}}
	}
	m = refined(scan.millimetres(m))
	s := known(set, base)
	f, words, err := locate(m, set, s, base, scan)
	if err != nil {
		return nil, err
	}
	out := &Result{Frame: f.Frame, Found: words}
	whole := f.withFacts(set, s, scan)
	places := scanPlaces(s, scan)
	taken := addSlices(whole, slice(m, f.Frame, s, places), places)
	if taken < 40 {
		return nil, errors.New("the scan shows next to nothing of the back between the frets asked for; look at --units, --from and --to, or give --origin, --along and --up")
	}
	opts.Pose = true
	opts.Width = [2]float64{math.Max(5, f.width(0)), math.Max(5, f.width(s.BoardEnd()))}
	if out.Result, err = fit.Fit(whole, base, opts); err != nil {
		return nil, err
	}
	if f.doubt != "" {
		out.Notes = append(out.Notes, f.doubt)
	}
	if scan.Board == 0 && out.Spec.Wall > tallWall {
		out.first("the sides run straight down for %s, which hardly any bare neck has: does the scan show the board too? Do not carve by this spec before you know; give --part both and the board's thickness with --board if it does.",
			set.Units.Rounded(out.Spec.Wall))
	}
	out.leftOut(taken)
	const ask = "which is far: do not carve by this spec. Is the nut at the end that was taken for it (--flip, --nut)? Does the heel begin before the last fret (--to, or --spec with the heel)? Does the scan show the board too (--part both)?"
	rms := out.measure(places)
	worst, poor := out.poorest()
	switch {
	case rms > poorScan:
		out.first("the scan lies %s from the fitted neck in the mean, "+ask, set.Units.Rounded(rms))
	case poor:
		out.first("the scan lies %s from the fitted neck at %s, most of its points there left out, "+ask, set.Units.Rounded(worst.RMS), out.Spec.Label(worst.At))
	}
	return out, nil
}

// millimetres returns the scan in millimetres.
func (o Options) millimetres(m *mesh.Mesh) *mesh.Mesh {
	if o.Millimetres == 0 || o.Millimetres == 1 {
		return m
	}
	scaled := &mesh.Mesh{Faces: m.Faces, Vertices: make([]mesh.Vec, len(m.Vertices))}
	for i, v := range m.Vertices {
		scaled.Vertices[i] = v.Scale(o.Millimetres)
	}
	return scaled
}

// known returns the base, or else a spec with the scale that the set gives.
func known(set *readings.Set, base *spec.Spec) *spec.Spec {
	if base != nil {
		return base
	}
	s := spec.Defaults()
	s.Scale = spec.Scale{Length: set.Scale, Frets: set.Frets}
	if set.BoardEnd > 0 {
		s.SetBoardEnd(set.BoardEnd)
	}
	return s
}

// locate finds where the neck lies, or takes it as given, and says so in words.
func locate(m *mesh.Mesh, set *readings.Set, s, base *spec.Spec, scan Options) (*found, []string, error) {
	var f *found
	var words []string
	if scan.Frame != nil {
		f = &found{Frame: *scan.Frame}
		if err := f.measure(m); err != nil {
			return nil, nil, err
		}
		words = append(words, "glue plane and axis as given")
	} else {
		if scan.Nut == nil && base != nil && base.Headstock != nil && scan.Board == 0 {
			shelf := base.Headstock.Shelf
			scan.Nut = &shelf
		}
		var err error
		if f, err = findFrame(m, scan.Board, scan.Nut, scan.clues(set, s, base)); err != nil {
			return nil, nil, err
		}
		words = f.describe(set.Units, scan)
	}
	if scan.Board == 0 {
		if radius, ok := f.crowned(m); ok {
			return nil, nil, fmt.Errorf("what was taken for the glue plane is crowned to a radius of about %s: the scan seems to show the board too, and bare wood is asked for; give --part both and the board's thickness with --board", set.Units.Rounded(radius))
		}
	}
	return f, words, nil
}

// withFacts returns the set with what is known of the board besides.
func (f *found) withFacts(set *readings.Set, s *spec.Spec, scan Options) *readings.Set {
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
	return &whole
}

// addSlices adds the points of the slices to a set, and returns their number.
func addSlices(set *readings.Set, cuts [][]neck.YZ, places []spec.Place) int {
	taken := 0
	for i, pts := range cuts {
		for _, q := range pts {
			set.Readings = append(set.Readings, readings.Reading{Kind: readings.Point, At: places[i], Placed: true, Y: q.Y, Value: -q.Z, Sigma: 0.1})
			taken++
		}
	}
	return taken
}

// first puts a note before all others.
func (r *Result) first(format string, args ...any) {
	r.Notes = slices.Insert(r.Notes, 0, fmt.Sprintf(format, args...))
}

// measure adds the slices with how far their points lie off the fitted surface,
// and returns the root mean square of all.
func (r *Result) measure(places []spec.Place) float64 {
	sum, points := 0.0, 0
	for _, at := range places {
		st := Station{At: at}
		for _, q := range r.Residuals {
			if q.Kind == readings.Point && q.At == at && !q.Dropped {
				st.Points++
				st.Mean += q.Off
				st.RMS += q.Off * q.Off
			}
		}
		sum, points = sum+st.RMS, points+st.Points
		if st.Points > 0 {
			st.Mean /= float64(st.Points)
			st.RMS = math.Sqrt(st.RMS / float64(st.Points))
		}
		r.Stations = append(r.Stations, st)
	}
	return math.Sqrt(sum / float64(max(1, points)))
}

// poorest returns the worst of the slices of which most points were left out
// while the rest lie far off, and whether there are several: where one piece of
// a scan is no neck, the fit may yet be good in the mean.
func (r *Result) poorest() (worst Station, several bool) {
	out := make(map[spec.Place]int)
	for _, q := range r.Residuals {
		if q.Dropped && q.Kind == readings.Point {
			out[q.At]++
		}
	}
	count := 0
	for _, st := range r.Stations {
		if out[st.At] > st.Points && st.RMS > poorScan {
			count++
			if st.RMS > worst.RMS {
				worst = st
			}
		}
	}
	return worst, count > 1
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
