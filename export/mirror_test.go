package export

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"neckloft/mesh"
	"neckloft/neck"
	"neckloft/neck/carve"
	"neckloft/neck/compare"
	"neckloft/neck/gauge"
	"neckloft/neck/spec"
)

// mirrorPlan returns the plan of the same neck for the other hand.
func mirrorPlan(t *testing.T, p *carve.Plan) *carve.Plan {
	t.Helper()
	n, err := p.Neck.Mirrored()
	require.NoError(t, err)
	q, err := carve.New(n, p.Options)
	require.NoError(t, err)
	return q
}

// TestMirroredPlan holds the plan of a left-handed neck against that of its
// mirror: what is told by bass and treble is the same, what is told in y has the
// other sign, and the router, whose bit turns no other way, travels along the
// other side.
func TestMirroredPlan(t *testing.T) {
	for name, p := range map[string]*carve.Plan{"far apex": crossedPlan(t), "bent": bentPlan(t), "demo": planOfFlats(t, 3)} {
		q := mirrorPlan(t, p)
		both := func(table func(*carve.Plan) *Table) (a, b []map[string]string) {
			return tableRows(t, table(p)), tableRows(t, table(q))
		}
		for _, table := range []func(*carve.Plan) *Table{PlanFlatTable, PlanPencilTable} {
			a, b := both(table)
			require.NotEmpty(t, a)
			sameRows(t, name, a, b)
		}
		a, b := both(PlanLineTable)
		for _, row := range b {
			row["y_mm"] = minus(row["y_mm"])
		}
		sameRows(t, name, a, b)

		a, b = both(PlanStopTable)
		for _, row := range b {
			row["side"] = map[string]string{"bass": "treble", "treble": "bass"}[row["side"]]
		}
		// Bass first in either.
		for i := range b {
			sameRows(t, name, a[i:i+1], b[(i+2)%4:(i+2)%4+1])
		}

		a, b = both(PlanStationTable)
		for _, row := range b {
			for key, v := range row {
				if strings.HasSuffix(key, "_y_mm") {
					row[key] = minus(v)
				}
			}
		}
		for i := range a {
			for key := range a[i] {
				if strings.HasSuffix(key, "_y_mm") && minus(a[i][key]) == b[i][key] {
					b[i][key] = a[i][key] // both sides alike: the one is named on either neck
				}
			}
		}
		sameRows(t, name, a, b)

		note := func(p *carve.Plan) string { return PlanStationTable(p).Note }
		if strings.Contains(note(p), "bass -") {
			assert.Contains(t, note(q), "treble -")
		}
	}
}

func minus(v string) string {
	if v == "" || strings.Trim(v, "0.") == "" {
		return v
	}
	if rest, ok := strings.CutPrefix(v, "-"); ok {
		return rest
	}
	return "-" + v
}

// sameRows holds tables against each other, numbers to their last digit.
func sameRows(t *testing.T, name string, a, b []map[string]string) {
	t.Helper()
	require.Len(t, b, len(a), name)
	for i := range a {
		for key, want := range a[i] {
			got := b[i][key]
			x, errx := strconv.ParseFloat(want, 64)
			y, erry := strconv.ParseFloat(got, 64)
			if errx == nil && erry == nil {
				require.InDelta(t, x, y, 0.0011, "%s, row %d: %s", name, i, key)
				continue
			}
			require.Equal(t, want, got, "%s, row %d: %s", name, i, key)
		}
	}
}

// TestMirroredStations reads the offsets by their sides.
func TestMirroredStations(t *testing.T) {
	n := crossedPlan(t).Neck
	m, err := n.Mirrored()
	require.NoError(t, err)
	table := func(n *neck.Neck, narrow bool) *Table {
		rows, err := n.Stations([]spec.Place{spec.AtFret(1), spec.AtFret(7)})
		require.NoError(t, err)
		return StationTable(rows, n.Spec().Hand, narrow)
	}
	a, b := tableRows(t, table(n, false)), tableRows(t, table(m, false))
	for i := range a {
		assert.Equal(t, a[i]["depth_y-15_mm"], b[i]["depth_y+15_mm"])
		assert.Equal(t, a[i]["depth_y+10_mm"], b[i]["depth_y-10_mm"])
		assert.NotEqual(t, a[i]["depth_y+10_mm"], b[i]["depth_y+10_mm"])
		assert.Equal(t, minus(a[i]["apex_y_mm"]), b[i]["apex_y_mm"])
	}
	text := render(t, table(m, true), "text", spec.Millimetre)
	assert.Regexp(t, `treble 10\s+bass 10`, text)
	assert.Contains(t, text, "treble -, bass +")
	assert.Contains(t, text, "so many mm to the treble and the bass side")
	assert.Regexp(t, `bass 10\s+treble 10`, render(t, table(n, true), "text", spec.Millimetre))
}

// TestMirroredGauges holds the gauges of a left-handed neck against those of its
// mirror, point by point, and their letters against the place where they stand.
func TestMirroredGauges(t *testing.T) {
	n := crossedPlan(t).Neck
	m, err := n.Mirrored()
	require.NoError(t, err)
	for _, half := range []gauge.Half{gauge.WholeGauge, gauge.BassHalfGauge, gauge.TrebleHalfGauge} {
		o := gauge.DefaultOptions()
		o.Half = half
		a, err := gauge.New(n, spec.AtFret(5), o)
		require.NoError(t, err)
		b, err := gauge.New(m, spec.AtFret(5), o)
		require.NoError(t, err)
		require.Len(t, b.Open, len(a.Open))
		for i, p := range a.Open {
			q := b.Open[len(b.Open)-1-i]
			assert.InDelta(t, p.X, -q.X, 1e-9)
			assert.InDelta(t, p.Y, q.Y, 1e-9)
		}
		assert.InDelta(t, a.Room[0].X, -b.Room[1].X, 1e-9)
		assert.InDelta(t, a.Room[1].X, -b.Room[0].X, 1e-9)
		assert.InDelta(t, a.Seat, b.Seat, 1e-12)
		assert.InDelta(t, outlined(a.Region), outlined(b.Region), 1e-9)

		// B is on the side of the bass leg: held on the neck seen from the body, u is
		// -y, so that on a left-handed neck bass is at u < 0.
		left, right := sideLetters(spec.LeftHand, half)
		assert.Equal(t, half != gauge.TrebleHalfGauge, left == "B", half)
		assert.Equal(t, half != gauge.BassHalfGauge, right == "T", half)
		if half == gauge.BassHalfGauge {
			assert.Negative(t, b.Room[0].X)
			assert.LessOrEqual(t, b.Room[1].X, 0.0)
			assert.InDelta(t, 0, b.Open[len(b.Open)-1].X, 1e-12)
			assert.Greater(t, m.Bass().Sign()*b.At(b.Open[0]).Y, 10.0)
		}
		l := layLabel(m.Spec(), spec.AtFret(5), o, 6, 200)
		assert.Equal(t, [2]string{left, right}, [2]string{l.left, l.right})
	}
}

// outlined is the area within a region's outer line.
func outlined(r mesh.Region) float64 {
	sum := 0.0
	for i, a := range r.Outer {
		b := r.Outer[(i+1)%len(r.Outer)]
		sum += a.X*b.Y - b.X*a.Y
	}
	return math.Abs(sum) / 2
}

// TestMirroredSheets turns the top view over, and names its sides.
func TestMirroredSheets(t *testing.T) {
	p := crossedPlan(t)
	q := mirrorPlan(t, p)
	a, b := gauge.TopView(p.Neck), gauge.TopView(q.Neck)
	at := func(s gauge.Sheet, name string) float64 {
		for _, l := range s.Labels {
			if l.Text == name {
				return l.At.Y
			}
		}
		t.Fatalf("no label %s", name)
		return 0
	}
	assert.Positive(t, at(a, "treble side"))
	assert.Positive(t, at(b, "bass side"))
	assert.Contains(t, b.Note, "bass side up; on the back it lies the other way round, treble side up")
	line := func(s gauge.Sheet) []mesh.Vec2 {
		for _, m := range s.Marks {
			if m.Name == "line of the apex" {
				return m.Points
			}
		}
		return nil
	}
	require.NotEmpty(t, line(a))
	assert.InDelta(t, line(a)[0].Y, -line(b)[0].Y, 1e-9)

	for _, sheets := range [][2][]Sheet{{MarkedSheets(&p.Flats), MarkedSheets(&q.Flats)}} {
		names := func(s []Sheet) (out []string) {
			for _, sheet := range s {
				for _, text := range sheet.Texts {
					out = append(out, text.Text)
				}
			}
			return out
		}
		assert.Contains(t, names(sheets[0]), "1B treble")
		assert.Contains(t, names(sheets[1]), "1B treble")
	}
}

// TestComparedWithItsMirror finds a neck and its mirror alike, bass by bass, and
// says that the second is turned.
func TestComparedWithItsMirror(t *testing.T) {
	n := crossedPlan(t).Neck
	m, err := n.Mirrored()
	require.NoError(t, err)
	c, err := compare.New([]*neck.Neck{m, n}, compare.Places([]*neck.Neck{m, n}))
	require.NoError(t, err)
	words := strings.Join(c.Words(spec.Millimetre), "\n")
	assert.Contains(t, words, "no difference that a hand would notice")
	assert.Contains(t, words, "turned to the hand of A")
	for _, row := range tableRows(t, ComparisonTable(c, false)) {
		assert.NotEmpty(t, row["shoulder_bass_mm"])
		for key, v := range row {
			if strings.Contains(key, "_diff") && v != "" {
				assert.Zero(t, strings.Trim(v, "-0."), "%s: %s", key, v)
			}
		}
	}

	fuller := *n.Spec()
	fuller.Profile = []spec.ProfileStation{{At: spec.AtFret(1), Bass: 2.2, Treble: 2.6, Apex: 8}}
	f, err := neck.New(&fuller)
	require.NoError(t, err)
	c, err = compare.New([]*neck.Neck{m, f}, compare.Places([]*neck.Neck{m, f}))
	require.NoError(t, err)
	words = strings.Join(c.Words(spec.Millimetre), "\n")
	assert.Contains(t, words, "fuller in the shoulder on the bass side")
	assert.Contains(t, words, "farther to the bass side in the apex")
}
