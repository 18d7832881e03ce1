package spec

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Each pair of cases stands on either side of a bound.
func TestSanity(t *testing.T) {
	joint := func(x float64) func(s *Spec) {
		return func(s *Spec) {
			p := AtX(x)
			s.Heel.Start, s.Heel.Full, s.Depth[1].At = AtX(240), AtX(250), AtFret(8)
			s.Profile[1].At = AtFret(8)
			s.Strings.Joint = &p
		}
	}
	for _, c := range []struct {
		change func(s *Spec)
		want   string
	}{
		// Thinner towards the body: 20.6 at fret 1.
		{func(s *Spec) { s.Depth[1].Total = 20.4 }, ""},
		{func(s *Spec) { s.Depth[1].Total = 20.39 }, "warning: depth[2].total: the neck gets thinner towards the body, from 20.6 mm at fret 1 to 20.39 mm at fret 12"},
		{func(s *Spec) {
			s.Units = Inch
			s.Depth = append(s.Depth, DepthTarget{AtX(340), 21})
		}, "warning: depth[3].total: the neck gets thinner towards the body, from 0.8819 in at fret 12 to 0.8268 in at x = 13.3858 in"},

		// A heel thinner than the neck: 22.4 at fret 12.
		{func(s *Spec) { s.Heel.Total = 22.4 }, ""},
		{func(s *Spec) { s.Heel.Total = 22.39 }, "warning: heel.total: the heel is thinner, 22.39 mm, than the neck that it joins, 22.4 mm at fret 12"},

		// A total that no neck has.
		{func(s *Spec) { s.Depth[0].Total = 14; s.Rod.Depth = 4 }, ""},
		{func(s *Spec) { s.Depth[0].Total = 13.99; s.Rod.Depth = 4 }, "warning: depth[1].total: 13.99 mm is outside what necks have, 14 mm to 32 mm, board included; it is measured over the board too"},
		{func(s *Spec) { s.Depth[1].Total, s.Heel.Total = 32, 40 }, ""},
		{func(s *Spec) { s.Depth[1].Total, s.Heel.Total = 32.01, 40 }, "warning: depth[2].total: 32.01 mm is outside what necks have, 14 mm to 32 mm, board included"},

		// A heel where the hand plays, or past the joint.
		{joint(240.1), "warning: heel.start: the heel begins at x = 240 mm, before fret 9 at x = 257.832 mm, where the hand plays"},
		{joint(240), ""},
		{func(s *Spec) { s.Heel.Start = AtFret(9); s.Depth[1].At = AtFret(8) }, ""},
		{func(s *Spec) { s.Heel.Start = AtFret(8.99); s.Depth[1].At = AtFret(8) }, "warning: heel.start: the heel begins at fret 8.99 (x = 257.614 mm), before fret 9 at x = 257.832 mm, where the hand plays"},
	} {
		s := Demo()
		s.Source = nil
		c.change(s)
		assert.Equal(t, c.want, strings.ReplaceAll(s.Validate().Error(), "\n", ";"))
	}

	// The neck of a toy may be thin: 300 mm of scale is no toy's. That of a small
	// instrument, of less than 500 mm, may be 10 mm thick.
	for scale, warned := range map[float64]bool{299.9: false, 300: true, 499.9: true, 500: true} {
		s, err := readText("[scale]\nlength = 300\nfrets = 12\n[width]\nnut = 20\nend = 24\n[board]\nthickness = 3\n[[depth]]\nfret = 1\ntotal = 9.99\n")
		require.NoError(t, err)
		s.Scale.Length = scale
		assert.Equal(t, warned, len(s.Validate().Warnings()) == 1, scale)
		assert.Empty(t, s.Validate().Errors())
		s.Depth[0].Total = 10
		assert.Equal(t, scale >= 500, len(s.Validate().Warnings()) == 1, scale)
	}
}

// A file in the other unit is told so, beside what each length is then.
func TestSanityOfUnit(t *testing.T) {
	about := func(unit string, scale, nut string) string {
		s, err := readText("units = \"" + unit + "\"\n[scale]\nlength = " + scale + "\nfrets = 12\n[width]\nnut = " + nut + "\nend = " + nut + "\n[board]\nthickness = 0.5\n[[depth]]\nfret = 1\ntotal = 2\n")
		require.NoError(t, err)
		for _, p := range s.Validate().Errors() {
			if p.Key == "units" {
				require.Equal(t, 1, p.Line)
				return p.Message
			}
		}
		return ""
	}
	assert.Equal(t, `the lengths look like inches and the file says mm: a scale of 25.5 mm and 1.7 mm at the nut are of no instrument, and 25.5 in and 1.7 in are; write units = "in", or every length in millimetres`,
		about("mm", "25.5", "1.7"))
	assert.Equal(t, `the lengths look like millimetres and the file says in: a scale of 648 in and 43 in at the nut are of no instrument, and 648 mm and 43 mm are; write units = "mm", or every length in inches`,
		about("in", "648", "43"))
	// A file that leaves the unit out is told on the line of its scale, first.
	s, err := readText("[scale]\nlength = 25.5\nfrets = 12\n[width]\nnut = 1.7\nend = 2.2\n[board]\nthickness = 0.25\n[[depth]]\nfret = 1\ntotal = 0.8\n")
	require.NoError(t, err)
	assert.Regexp(t, "^f:2: scale.length: the lengths look like inches ", s.Validate().Error())
	assert.Empty(t, about("mm", "648", "43"))
	assert.Empty(t, about("in", "25.5", "1.7"))
	// 150 mm to 1300 mm and 15 mm to 120 mm in the other unit, as they stand.
	for _, c := range [][3]string{{"5.9", "1.7"}, {"51.2", "1.7"}, {"25.5", "0.59"}, {"25.5", "4.73"}} {
		assert.Empty(t, about("mm", c[0], c[1]), c)
	}
	for _, c := range [][3]string{{"5.91", "1.7"}, {"51.1", "1.7"}, {"25.5", "0.6"}, {"25.5", "4.72"}} {
		assert.NotEmpty(t, about("mm", c[0], c[1]), c)
	}
}
