// Package spectest has specs for tests: the test specs, random ones, and the
// edge cases that a random draw seldom meets.
package spectest

import (
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"neckloft/neck/spec"
)

// Draw draws a spec that may or may not be buildable: necks of every size that a
// builder may bring, from a toy 10 mm wide to a scale of 1200 mm, with frets or
// without, with features left out at random. One in four has channels besides its
// rod's.
func Draw(t *rapid.T) *spec.Spec {
	s := draw(t)
	if rapid.IntRange(0, 3).Draw(t, "channels at all") == 0 {
		addChannels(t, s)
	}
	return s
}

// draw is Draw without channels. Long, since it draws every part of a spec once.
func draw(t *rapid.T) *spec.Spec {
	f := func(lo, hi float64, label string) float64 { return rapid.Float64Range(lo, hi).Draw(t, label) }
	yes := func(label string) bool { return rapid.Bool().Draw(t, label) }

	s := &spec.Spec{Name: "drawn", Limits: spec.Limits{Cover: 2}, Wood: spec.Wood{Species: "sugar maple"}}
	if yes("inches") {
		s.Units = spec.Inch
	}
	if yes("left-handed") {
		s.Hand = spec.LeftHand
	}
	kind := rapid.SampledFrom([]string{"guitar", "bass", "toy", "small", "wide", "long"}).Draw(t, "kind")
	size := 1.0
	switch kind {
	case "guitar":
		s.Scale = spec.Scale{Length: f(600, 680, "scale"), Frets: rapid.IntRange(19, 24).Draw(t, "frets")}
		s.Width = spec.Width{Nut: f(40, 54, "nut"), PastLastFret: f(1, 15, "past")}
	case "bass":
		s.Scale = spec.Scale{Length: f(760, 900, "scale"), Frets: rapid.IntRange(20, 24).Draw(t, "frets")}
		s.Width = spec.Width{Nut: f(38, 60, "nut"), PastLastFret: f(1, 15, "past")}
	case "wide":
		s.Scale = spec.Scale{Length: f(580, 660, "scale"), Frets: rapid.IntRange(12, 36).Draw(t, "frets")}
		s.Width = spec.Width{Nut: f(50, 90, "nut"), PastLastFret: f(1, 15, "past")}
	case "long":
		size = 1.4
		s.Scale = spec.Scale{Length: f(900, 1200, "scale"), Frets: rapid.IntRange(12, 30).Draw(t, "frets")}
		s.Width = spec.Width{Nut: f(44, 70, "nut"), PastLastFret: f(1, 30, "past")}
	case "toy":
		size = 0.25
		s.Scale = spec.Scale{Length: f(150, 200, "scale"), Frets: rapid.IntRange(8, 16).Draw(t, "frets")}
		s.Width = spec.Width{Nut: f(8, 12, "nut"), PastLastFret: f(1, 4, "past")}
	case "small":
		size = 0.7
		s.Scale = spec.Scale{Length: f(330, 450, "scale"), Frets: rapid.IntRange(12, 18).Draw(t, "frets")}
		s.Width = spec.Width{Nut: f(28, 38, "nut"), PastLastFret: f(1, 8, "past")}
	}
	s.Width.End = s.Width.Nut * f(1.0, 1.45, "taper")
	s.Board.Thickness = f(4, 7, "board") * math.Sqrt(size)
	if yes("radiused") {
		s.Board.RadiusNut = s.Width.Nut * f(4, 9, "radius nut")
		s.Board.RadiusEnd = s.Width.End * f(4, 12, "radius end")
	}
	if yes("wall") {
		s.Wall = f(0, 2.5, "wall height") * size
	}
	total := func(label string) float64 { return s.Board.Thickness + f(9, 20, label)*math.Sqrt(size) }
	first := f(0.5, 2, "first")
	s.Depth = []spec.DepthTarget{{At: spec.AtFret(first), Total: total("total 1")}}
	if yes("more depths") {
		for i, fr := range []float64{4.5, 7}[:rapid.IntRange(1, 2).Draw(t, "targets")] {
			s.Depth = append(s.Depth, spec.DepthTarget{At: spec.AtFret(fr), Total: s.Depth[i].Total + f(-0.8, 1.2, "rise")*size})
		}
	}
	for _, fr := range []float64{0, 5, 8}[:rapid.IntRange(1, 3).Draw(t, "profiles")] {
		a := s.Width.Nut / 2
		p := spec.ProfileStation{At: spec.AtFret(fr), Bass: drawFullness(t), Treble: drawFullness(t)}
		if yes("lopsided") {
			p.Apex = a * f(-0.5, 0.5, "apex")
		}
		s.Profile = append(s.Profile, p)
	}
	if rapid.IntRange(0, 5).Draw(t, "fretless") == 0 {
		s.Board.Length, s.Scale.Frets, s.Width.PastLastFret = s.BoardEnd(), 0, 0
	}
	end := s.BoardEnd()
	if yes("heel") {
		h := &spec.Heel{
			Start:  spec.AtX(end * f(0.72, 0.8, "heel start")),
			Full:   spec.AtX(end * f(0.86, 0.93, "heel full")),
			End:    spec.AtX(end * f(0.95, 1.06, "heel end")),
			Total:  s.Board.Thickness + f(12, 26, "heel total")*math.Sqrt(size),
			Width:  s.Width.End * f(0.85, 1.2, "heel width"),
			Corner: f(0.5, 6, "heel corner") * size,
		}
		if yes("heel as wide as the board") {
			h.Width = s.Width.End
		}
		if yes("heel ends with the board") {
			h.End = spec.AtX(end)
		}
		s.Heel = h
		drawHeelKind(t, s, size)
	}
	if yes("headstock") {
		h := &spec.Headstock{
			Thickness: f(11, 18, "headstock thickness") * math.Sqrt(size),
			Length:    f(90, 220, "headstock length") * math.Sqrt(size),
			Width:     s.Width.Nut * f(0.9, 2.2, "headstock width"),
			Shelf:     f(2, 8, "shelf"),
			Corner:    f(0.3, 2.5, "headstock corner") * size,
		}
		if yes("flat") {
			h.Step = f(3, 9, "step") * size
			h.Cove = h.Step * f(1, 4, "cove")
		} else {
			h.Angle = f(3, 17, "angle") * math.Pi / 180
		}
		s.Headstock = h
		if yes("volute") {
			s.Volute = &spec.Volute{Rise: f(0.5, 6, "rise") * size, Centre: spec.AtX(f(-25, -8, "crest")), Length: f(10, 45, "volute length")}
		}
	}
	if yes("rod") {
		r := &spec.Rod{
			Width: s.Width.Nut * f(0.08, 0.2, "rod width"),
			From:  spec.AtX(f(0, 10, "rod from")),
			To:    spec.AtX(end * f(0.6, 1, "rod to")),
		}
		r.Depth = (s.Depth[0].Total - s.Board.Thickness) * f(0.3, 0.75, "rod depth")
		if yes("round floor") {
			r.Floor = spec.FloorRound
		}
		s.Rod = r
	}
	if s.Headstock != nil {
		drawHead(t, s)
	}
	drawSticks(t, s)
	return s
}

// drawFullness favours the shapes that builders name, and reaches to the
// extremes.
func drawFullness(t *rapid.T) float64 {
	if rapid.Bool().Draw(t, "named shape") {
		return rapid.SampledFrom(spec.Shapes()).Draw(t, "shape").Fullness
	}
	return rapid.Float64Range(1.15, 6).Draw(t, "fullness")
}

// Straight returns a straight, untapered spec without volute, heel, headstock or
// channel: half an elliptic cylinder under a flat board.
func Straight() *spec.Spec {
	return &spec.Spec{
		Name:    "plain",
		Scale:   spec.Scale{Length: 600, Frets: 12},
		Width:   spec.Width{Nut: 44, End: 44, PastLastFret: 20},
		Board:   spec.Board{Thickness: 6},
		Depth:   []spec.DepthTarget{{At: spec.AtFret(1), Total: 21}},
		Profile: []spec.ProfileStation{{At: spec.AtFret(0), Bass: 2, Treble: 2}},
		Wood:    spec.Wood{Species: "sugar maple"},
	}
}

// Texts returns the starter and every spec of testdata.
func Texts(t testing.TB) []string {
	paths, err := filepath.Glob(filepath.Join(root(t), "testdata", "specs", "*.toml"))
	require.NoError(t, err)
	require.NotEmpty(t, paths)
	texts := []string{spec.Starter()}
	for _, p := range paths {
		b, err := os.ReadFile(p)
		require.NoError(t, err)
		texts = append(texts, string(b))
	}
	return texts
}

// root returns the folder of the module, whichever package is tested.
func root(t testing.TB) string {
	dir, err := os.Getwd()
	require.NoError(t, err)
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir
		}
		up := filepath.Dir(dir)
		require.NotEqual(t, dir, up, "no go.mod above the test")
		dir = up
	}
}

// EdgeCases are specs that a random draw meets seldom.
func EdgeCases() map[string]*spec.Spec {
	change := func(f func(s *spec.Spec)) *spec.Spec {
		s := spec.Demo()
		f(s)
		return s
	}
	return map[string]*spec.Spec{
		"demo":               spec.Demo(),
		"straight":           Straight(),
		"no headstock":       change(func(s *spec.Spec) { s.Headstock, s.Volute = nil, nil }),
		"no heel":            change(func(s *spec.Spec) { s.Heel = nil }),
		"no rod":             change(func(s *spec.Spec) { s.Rod = nil }),
		"channel from shelf": change(func(s *spec.Spec) { s.Rod.From = spec.AtX(-5) }),
		"channel through":    change(func(s *spec.Spec) { s.Rod.To = s.Heel.End }),
		"channel at nut":     change(func(s *spec.Spec) { s.Rod.From = spec.AtX(0) }),
		"channel to board":   change(func(s *spec.Spec) { s.Rod.To = spec.AtX(s.BoardEnd()) }),
		"round floor":        change(func(s *spec.Spec) { s.Rod.Floor = spec.FloorRound }),
		"heel under board":   change(func(s *spec.Spec) { s.Heel.End = spec.AtX(450) }),
		"heel at board end":  change(func(s *spec.Spec) { s.Heel.End = spec.AtX(s.BoardEnd()) }),
		"narrow heel":        change(func(s *spec.Spec) { s.Heel.Width = 50 }),
		"wide heel":          change(func(s *spec.Spec) { s.Heel.Width = 64 }),
		"heel width crosses": change(func(s *spec.Spec) { s.Heel.Width = 55.5 }),
		"long heel":          change(func(s *spec.Spec) { s.Heel.End = spec.AtX(520) }),
		"shape flips": change(func(s *spec.Spec) {
			s.Profile = []spec.ProfileStation{
				{At: spec.AtFret(3), Bass: 24, Treble: 1.06, Apex: -9},
				{At: spec.AtFret(5), Bass: 1.06, Treble: 24, Apex: 9},
			}
		}),
		"no wall": change(func(s *spec.Spec) { s.Wall = 0 }),
		"flat headstock": change(func(s *spec.Spec) {
			s.Headstock.Angle, s.Headstock.Step, s.Headstock.Cove = 0, 6.5, 15
		}),
		"no rod, open end, no headstock": change(func(s *spec.Spec) {
			s.Headstock, s.Volute, s.Heel = nil, nil, nil
			s.Rod.From, s.Rod.To = spec.AtX(0), spec.AtX(s.BoardEnd())
		}),
	}
}
